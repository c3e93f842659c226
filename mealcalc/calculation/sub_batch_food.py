"""A cooked batch as a food of another one: its composition per 100 g cooked.

c_j = N'_j / cooked mass x 100 (the recipe method: Greenfield & Southgate, Food composition data, FAO 2003). What is
unknown on any line stays unknown; what is a zero by rule on every line stays marked as one.
"""

from pathlib import PurePath

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import BatchResult, Food, SubBatch
from mealcalc.values import MISSING, Composition, Value, ValueStatus

OWN_TABLE = "own"


def food_of(sub_batch: SubBatch, result: BatchResult | None) -> Food:
    """The food that a batch of its own is.

    Parameters
    ----------
    sub_batch : SubBatch
        Gives names, code and measures.
    result : BatchResult or None
        The calculated batch; None where it could not be calculated: then nothing of the food is known, and the lines
        that use it are counted as unknown, not as a stranger.
    """
    return Food(
        table=OWN_TABLE,
        edition=f"{PurePath(sub_batch.path).name}, a batch of its own",
        code=sub_batch.code,
        description=sub_batch.name,
        group="",
        composition={} if result is None else composition_per_100g(result),
        measures=sub_batch.measures,
        names=sub_batch.names,
    )


def composition_per_100g(result: BatchResult) -> Composition:
    """Composition per 100 g of all components of a batch together as cooked; empty where their mass is not known."""
    mass_g = sum(component.cooked_mass_g for component in result.components)
    if not mass_g or not all(component.cooked_mass_known for component in result.components):
        return {}
    return {key: _value(result, key, mass_g) for key in FOOD_COMPONENTS}


def _value(result: BatchResult, key: str, mass_g: float) -> Value:
    total = result.totals[key]
    if not total.complete:
        return MISSING
    counted = [c.ingredient for c in result.contributions if c.ingredient.eaten_mass_g]
    values = [i.matched.food.composition.get(key, MISSING) for i in counted if i.matched.food is not None]
    by_rule = bool(values) and all(value.status is ValueStatus.LOGICAL_ZERO for value in values)
    return Value(total.amount / mass_g * 100.0, ValueStatus.LOGICAL_ZERO if by_rule else ValueStatus.CALCULATED)
