"""What a pinch, a glug, a knob or a handful of a food is: grams of that food where the table has it, else millilitres.

A size before the measure scales it: by the row of that size (`large pinch`), else by our own factor.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mealcalc.reference.tables import PieceWeight, SmallMeasure, small_measures

SIZE_FACTORS: Mapping[str, float] = {
    "small": 2 / 3,
    "good": 1.5,
    "large": 1.5,
    "generous": 1.5,
    "extra large": 2.0,
}
"""What a size word makes of a small measure for which the table has no row of that size (our judgement); any other
word leaves it as it is."""


@dataclass(frozen=True, slots=True)
class SmallMass:
    """Grams of one small measure of a food, and why."""

    mass_g: float
    ground: str


@dataclass(frozen=True, slots=True)
class SmallVolume:
    """Millilitres of one small measure, and why."""

    volume_ml: float
    ground: str


def is_small_measure(measure: str) -> bool:
    """Whether a canonical unit is a small measure."""
    return (measure, "") in _rows()


def of_food(measure: str, size: str, default_food: str) -> SmallMass | None:
    """Grams of one `measure` of a food by the table of small measures, None where it has no row for this food.

    Parameters
    ----------
    measure : str
        Canonical unit, such as pinch.
    size : str
        Size word of the line, '' if none.
    default_food : str
        Name of the food in the tables of weights, '' if none.
    """
    sized = _rows().get((f"{size} {measure}", default_food)) if size else None
    row = sized or _rows().get((measure, default_food))
    if not default_food or row is None or row.mass_g is None:
        return None
    return _scaled(row.mass_g, row.source, measure, "" if sized is not None else size)


def of_piece(row: PieceWeight, size: str) -> SmallMass:
    """Grams of one small measure of a food by its row among the piece weights, scaled where the row has no size."""
    return _scaled(row.mass_g, row.source, row.unit, "" if row.size == size else size)


def of_any_food(measure: str, size: str) -> SmallVolume | None:
    """Millilitres of one `measure` of a size ('' if none), None where it is no small measure."""
    row = _rows().get((measure, ""))
    if row is None or row.volume_ml is None:
        return None
    factor, said = _size_factor(measure, size)
    return SmallVolume(row.volume_ml * factor, f"{row.volume_ml * factor:.3g} ml each ({row.source}{said})")


def _scaled(mass_g: float, source: str, measure: str, size: str) -> SmallMass:
    factor, said = _size_factor(measure, size)
    return SmallMass(mass_g * factor, f"{mass_g * factor:.3g} g each ({source}{said})")


def _size_factor(measure: str, size: str) -> tuple[float, str]:
    """The factor for a size, and how to say so: the ratio of the table's own rows where it has that size."""
    plain, sized = _rows().get((measure, "")), _rows().get((f"{size} {measure}", ""))
    if plain is not None and sized is not None and plain.volume_ml and sized.volume_ml:
        factor = sized.volume_ml / plain.volume_ml
    else:
        factor = SIZE_FACTORS.get(size, 1.0)
    return factor, "" if factor == 1.0 else f"; {size}: x {factor:.2g}, our judgement"


@cache
def _rows() -> Mapping[tuple[str, str], SmallMeasure]:
    return {(row.measure, row.food): row for row in small_measures()}
