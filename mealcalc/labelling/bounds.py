"""What a line can hold of a food component where its table is silent: from nothing up to what leaves room for it.

A missing value is never zero, but it is not without limits either: sugars are part of the carbohydrate, saturated fatty
acids part of the fat. Where the limits are so close that the label prints the same for both, the gap does not matter.
Minerals, vitamins and cholesterol have no limit: a pinch can hold much of them.
"""

import math
from dataclasses import dataclass

from mealcalc.labelling.panel_input import PanelLine, SugarKind

_PARTS_OF_FAT = ("FASAT_G", "FAMS_G", "FAPU_G")


@dataclass(frozen=True, slots=True)
class Bounds:
    """An amount that lies between `low` and `high`; infinity where nothing limits it."""

    low: float
    high: float

    @property
    def known(self) -> bool:
        """Whether both are the same."""
        return self.low == self.high

    def __add__(self, other: "Bounds") -> "Bounds":
        return Bounds(self.low + other.low, self.high + other.high)

    def times(self, factor: float) -> "Bounds":
        """The amount multiplied by a factor of zero or more."""
        # Nothing times no limit is nothing: a component without energy adds none, however much there is of it.
        return Bounds(0.0, 0.0) if factor == 0 else Bounds(self.low * factor, self.high * factor)


NOTHING = Bounds(0.0, 0.0)
ANYTHING = Bounds(0.0, math.inf)


def exactly(amount: float) -> Bounds:
    """A known amount."""
    return Bounds(amount, amount)


def protein(line: PanelLine, factor: float | None) -> Bounds:
    """Protein of a line in g.

    Parameters
    ----------
    line : PanelLine
        A counted line.
    factor : float or None
        Grams of protein per gram of nitrogen that the scheme prescribes; None to leave the table's figure.
    """
    amount = line.amounts.get("PROCNT_G")
    if amount is None:
        return _up_to(line.mass_g)
    return exactly(amount * _protein_share(line, factor))


def total_carbohydrate(line: PanelLine, factor: float | None) -> Bounds:
    """Carbohydrate by difference in g, fibre included; what protein gains by another factor, carbohydrate loses."""
    amount = line.amounts.get("CHOCDF_G")
    if amount is None:
        return _up_to(line.mass_g)
    gained = (line.amounts.get("PROCNT_G") or 0.0) * (_protein_share(line, factor) - 1.0)
    # A food without carbohydrate has none to lose: its table states 0, not a difference.
    return exactly(max(0.0, amount - gained))


def fibre(line: PanelLine) -> Bounds:
    """Dietary fibre of a line in g: at most its carbohydrate."""
    amount = line.amounts.get("FIBTG_G")
    return exactly(amount) if amount is not None else _up_to(_first(line, "CHOCDF_G"))


def available_carbohydrate(line: PanelLine, factor: float | None) -> Bounds:
    """Carbohydrate by difference less fibre, in g."""
    total, rest = total_carbohydrate(line, factor), fibre(line)
    return Bounds(max(0.0, total.low - rest.high), max(0.0, total.high - rest.low))


def added_sugars(line: PanelLine) -> Bounds:
    """Added sugars of a line in g: all of its sugars, none of them, or up to all of them."""
    sugars = amount(line, "SUGAR_G")
    if line.sugars is SugarKind.ADDED:
        return sugars
    return NOTHING if line.sugars is SugarKind.NATURAL else Bounds(0.0, sugars.high)


def amount(line: PanelLine, key: str) -> Bounds:
    """A component that every scheme takes as the food table gives it, in the component's unit."""
    found = line.amounts.get(key)
    return exactly(found) if found is not None else Bounds(0.0, _most(line, key))


def _most(line: PanelLine, key: str) -> float:
    if key in _PARTS_OF_FAT:
        return _first(line, "FAT_G")
    if key == "FATRN_G":
        return max(0.0, _first(line, "FAT_G") - (line.amounts.get("FASAT_G") or 0.0))
    if key in ("SUGAR_G", "STARCH_G", "POLYL_G"):
        # Not the available carbohydrate: analysed sugars and a difference of four analyses do not agree so closely.
        return _first(line, "CHOCDF_G")
    if key == "ALC_G":
        return _room_for_alcohol(line)
    return _first(line) if key.endswith("_G") else math.inf


def _first(line: PanelLine, *keys: str) -> float:
    """The first of the amounts that is known, else the mass of the line, else no limit."""
    found = next((line.amounts[key] for key in keys if line.amounts.get(key) is not None), line.mass_g)
    return math.inf if found is None else found


def _room_for_alcohol(line: PanelLine) -> float:
    others = [line.amounts.get(key) for key in ("WATER_G", "PROCNT_G", "FAT_G", "ASH_G", "CHOCDF_G")]
    if line.mass_g is None:
        return math.inf
    return max(0.0, line.mass_g - sum(a for a in others if a is not None))


def _up_to(most: float | None) -> Bounds:
    return ANYTHING if most is None else Bounds(0.0, most)


def _protein_share(line: PanelLine, factor: float | None) -> float:
    if factor is None or line.nitrogen_factor is None:
        return 1.0
    return factor / line.nitrogen_factor
