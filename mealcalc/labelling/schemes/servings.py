"""Words for servings and their size, shared by the schemes."""

from mealcalc.labelling.panel_input import PanelInput
from mealcalc.labelling.rounding import round_by_rule, to_decimal
from mealcalc.reference.label_rounding import RoundingRule

MASS_UNKNOWN = "weight not known: weigh the cooked dish"


def about(count: float, rule: RoundingRule) -> str:
    """A number of servings by the scheme's rule, with 'about' where it was rounded (21 CFR 101.9(b)(8); B.01.402)."""
    printed = round_by_rule(count, rule)
    if not printed.value:
        return "1"
    return printed.text if printed.value == to_decimal(count) else f"about {printed.text}"


def mass_text(dish: PanelInput, rule: RoundingRule) -> str:
    """The weight of one serving by the scheme's rule, or that it is not known."""
    if dish.serving_mass_g is None:
        return MASS_UNKNOWN
    text = round_by_rule(dish.serving_mass_g, rule).text
    if dish.volume_ml is not None:
        return f"{round_by_rule(dish.volume_ml / dish.servings, rule).text.removesuffix(' g')} ml, {text}"
    return text


def plain_number(number: float) -> str:
    """A count without needless decimals."""
    return f"{number:g}"
