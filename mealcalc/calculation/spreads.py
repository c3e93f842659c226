"""The relative standard deviation of a line's mass, from the steps by which it came about, and what would shrink it."""

import math

from mealcalc.records import MassSource, WeighedIngredient
from mealcalc.reference.uncertainty import spreads

_ADVICE = (
    (MassSource.USED_SHARE, "weigh what is left over"),
    (MassSource.SMALL_MEASURE, "weigh it"),
    (MassSource.COUNT, "weigh it"),
    (MassSource.VOLUME_BULK, "weigh it"),
    (MassSource.VOLUME_LIQUID, "weigh it"),
    (MassSource.CONVERSION, "weigh it in the state of the table"),
    (MassSource.SHARE, "weigh the edible part"),
    (MassSource.PACK, "read the net weight off the pack"),
)


def mass_sd(ingredient: WeighedIngredient) -> float:
    """Relative standard deviation of the eaten mass of a line (0.15 is 15 %).

    The steps are independent and multiply, so their squares add up; a written range adds that of a uniform
    distribution.
    """
    squares = sum(spreads()[source.value].relative_sd ** 2 for source in ingredient.sources)
    amount = ingredient.matched.line.amount
    if amount is not None and amount.high > amount.low and amount.middle > 0:
        squares += ((amount.high - amount.low) / amount.middle) ** 2 / 12.0
    return math.sqrt(squares)


def mass_words(ingredient: WeighedIngredient) -> str:
    """What the cook can do to make the mass surer."""
    for source, advice in _ADVICE:
        if source in ingredient.sources:
            return advice
    return "weigh it once more"
