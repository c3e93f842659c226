"""European Union: Regulation (EU) No 1169/2011. Per 100 g or 100 ml; per portion may be added."""

from mealcalc.labelling.panel_input import PanelInput
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.labelling.schemes.servings import mass_text, plain_number


def serving_statement(dish: PanelInput) -> tuple[str, ...]:
    """Size of the portion and number of portions in the pack (Art 33: both are needed for a column per portion)."""
    count = plain_number(dish.servings_per_package)
    word = "portion" if count == "1" else "portions"
    mass = mass_text(dish, EUROPEAN_UNION.rounding["portion"])
    share = f"1 {dish.portion_name}" if dish.servings_per_package == 1 else f"1/{count} {dish.portion_name}"
    return (f"Portion: {share} ({mass})", f"This pack contains {count} {word}")


EUROPEAN_UNION = Scheme("eu", "European Union: nutrition declaration", "% RI", serving_statement)
