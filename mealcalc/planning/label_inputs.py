"""From a calculated batch to what its allergens and its ingredient statement are made from."""

import re

from mealcalc.calculation.line_cooking import is_water
from mealcalc.labelling.allergen_matching import find_in_words
from mealcalc.labelling.allergens import COMPOSITE_GROUPS, OWN_FOOD, AllergenLine, allergens_of
from mealcalc.labelling.statement_records import StatementInput, StatementLine
from mealcalc.planning.label import panel_input
from mealcalc.records import BatchResult, Contribution, LineStatus, RecipeLine
from mealcalc.reference.allergen_tables import WordKind
from mealcalc.units import MASS_G

# What a cook says of the moment, no part of a trade name: 'hot vegetable stock', 'packed brown sugar'.
_OF_THE_MOMENT = frozenset(
    "hot cold warm lukewarm tepid boiling boiled chilled packed heaped heaping level scant generous rounded fresh "
    "freshly good quality leftover about roughly additional extra some few".split()
)

_SETTINGS = re.compile(r"(?:\[[^\[\]]*\]\s*)+\Z")


def allergen_lines(result: BatchResult) -> tuple[AllergenLine, ...]:
    """Every food line of a batch for `allergens_of_batch`: optional, to-taste, unmatched and uncounted ones too."""
    return tuple(_allergen_line(c) for c in result.contributions if _is_food(c))


def statement_input(result: BatchResult, *, emphasised: tuple[str, ...] = ()) -> StatementInput:
    """What `ingredient_statement` is made from, of a calculated batch.

    Parameters
    ----------
    result : BatchResult
        A calculated batch. Its cooked mass counts as the mass of the finished food where it is known.
    emphasised : tuple of str
        Words of ingredients that pictures or words beside the title emphasise.
    """
    return StatementInput(
        title=result.batch.title,
        lines=tuple(_statement_line(c) for c in result.contributions if _is_food(c)),
        finished_mass_g=panel_input(result).cooked_mass_g,
        emphasised=emphasised,
    )


def _allergen_line(contribution: Contribution) -> AllergenLine:
    matched = contribution.ingredient.matched
    line, food = matched.line, matched.food
    own = food is not None and food.table == OWN_FOOD
    names = (food.description, *food.names) if own and food is not None else ()
    group = "" if food is None else food.group
    return AllergenLine(
        number=line.span.line,
        text=_SETTINGS.sub("", line.text),
        name=line.name,
        second_name=line.aside,
        preparation=line.preparation,
        # The name of the food that the words mean; what stands in for it in the table says nothing of allergens.
        food_names=tuple(name for name in (matched.default_food, *names) if name),
        alternatives=line.alternatives,
        food_group=OWN_FOOD if own else group,
        known=food is not None or bool(matched.default_food),
        sure=matched.status is not LineStatus.UNSURE,
        optional=line.optional,
    )


def _statement_line(contribution: Contribution) -> StatementLine:
    matched = contribution.ingredient.matched
    line, food = matched.line, matched.food
    allergens = _allergen_line(contribution)
    return StatementLine(
        number=line.span.line,
        name=_trade_name(line.name) or allergens.text,
        mass_g=_mass_g(contribution),
        is_water=food is not None and is_water(food),
        poured_off=contribution.cooking.poured_off,
        optional=line.optional,
        matched=food is not None,
        is_product=_is_product(allergens),
        findings=allergens_of(allergens),
    )


def _is_product(line: AllergenLine) -> bool:
    """Whether a line names a product made of several foods, by its words or by the group of its food."""
    if line.food_group == OWN_FOOD:
        return True
    found = [find_in_words(name) for name in (line.name, *line.food_names)]
    if any(words.product for words in found):
        return True
    plain = any(words.reviewed for words in found) and all(words.kinds <= {WordKind.UNLIKE} for words in found)
    return line.food_group[:4] in COMPOSITE_GROUPS and not plain


def _trade_name(name: str) -> str:
    words = name.split()
    while len(words) > 1 and words[0].lower() in _OF_THE_MOMENT:
        words = words[1:]
    return " ".join(words)


def _mass_g(contribution: Contribution) -> float | None:
    """Mass that goes into the bowl in g: as calculated, or as written where no table holds the food."""
    ingredient = contribution.ingredient
    if ingredient.matched.status is LineStatus.NOT_COUNTED:
        return None
    if ingredient.eaten_mass_g is not None:
        return ingredient.eaten_mass_g
    written_g = _written_mass_g(ingredient.matched.line)
    return None if written_g is None else written_g * ingredient.used_share


def _written_mass_g(line: RecipeLine) -> float | None:
    if line.settings.mass_g is not None:
        return line.settings.mass_g
    for amount in (line.measured, line.amount):
        if amount is not None and amount.unit in MASS_G:
            return amount.middle * MASS_G[amount.unit]
    return None


def _is_food(contribution: Contribution) -> bool:
    return contribution.ingredient.matched.status is not LineStatus.NOT_FOOD
