"""How far a food may differ from what its label declares, by scheme; schemes without a row publish no figure.

Australia and New Zealand declare average quantities and set no tolerance (Food Standards Code 1.1.1-6 and 1.2.8, from
memory). No scheme of ours sets one for energy but the United States and Canada.
"""

from dataclasses import dataclass
from functools import cache

from mealcalc.reference.tables import optional_number, read_table

SCHEMES = ("us", "eu", "uk", "anz", "ca")

SCHEME_OF_REGION = {"us": "us", "ca": "ca", "eu": "eu", "ie": "eu", "uk": "uk", "au": "anz", "nz": "anz"}
"""The labelling law of a region; India and recipes without a region have none here."""

COUNTS_FIBRE = {"us": True, "ca": True, "eu": False, "uk": False, "anz": False}
"""Whether the carbohydrate of a label includes fibre: total in the US and Canada, available elsewhere."""


@dataclass(frozen=True, slots=True)
class LabelTolerance:
    """What may lie between a declared value and the food.

    schemes: labelling laws that have the row. keys: food components. per_100g_from, per_100g_below: declared amounts
    per 100 g for which the row holds, None for no upper end. minus, plus: how far the food may lie below and above,
    None for no limit. unit: `percent` of the declared value, or the unit of the component, per 100 g.
    """

    schemes: frozenset[str]
    name: str
    keys: tuple[str, ...]
    per_100g_from: float
    per_100g_below: float | None
    minus: float | None
    plus: float | None
    unit: str
    clause: str
    mark: str

    @property
    def needs_mass(self) -> bool:
        """Whether the row speaks of amounts per 100 g, so that the weight of a container must be known."""
        return self.unit != "percent" or self.per_100g_from > 0 or self.per_100g_below is not None

    def limits(self, declared: float, mass_g: float | None) -> tuple[float | None, float | None]:
        """Least and most that the food may hold, in the unit of `declared`; None for no limit.

        Parameters
        ----------
        declared : float
            Declared amount of the container.
        mass_g : float, optional
            Weight of the container in g, which limits per 100 g need.
        """
        per_unit = declared / 100.0 if self.unit == "percent" else (mass_g or 0.0) / 100.0
        low = None if self.minus is None else max(0.0, declared - self.minus * per_unit)
        return low, None if self.plus is None else declared + self.plus * per_unit


@cache
def label_tolerances() -> tuple[LabelTolerance, ...]:
    """Every row of the table."""
    return read_table(
        "label_tolerances.csv",
        lambda r: LabelTolerance(
            schemes=frozenset(r["scheme"].split()),
            name=r["name"],
            keys=tuple(r["keys"].split()),
            per_100g_from=float(r["per_100g_from"]),
            per_100g_below=optional_number(r["per_100g_below"]),
            minus=optional_number(r["minus"]),
            plus=optional_number(r["plus"]),
            unit=r["unit"],
            clause=r["clause"],
            mark=r["mark"],
        ),
    )


def tolerance_for(scheme: str, key: str, declared: float, mass_g: float | None) -> LabelTolerance | None:
    """The row for a declared amount of a container, or None where the scheme publishes none or the mass is lacking.

    Parameters
    ----------
    scheme : str
        One of `SCHEMES`.
    key : str
        Food component.
    declared : float
        Declared amount of the container, in the component's unit.
    mass_g : float, optional
        Weight of the container in g.
    """
    for row in label_tolerances():
        if scheme not in row.schemes or key not in row.keys:
            continue
        if not row.needs_mass:
            return row
        if not mass_g:
            return None
        per_100g = declared / mass_g * 100.0
        if row.per_100g_from <= per_100g and (row.per_100g_below is None or per_100g < row.per_100g_below):
            return row
    return None
