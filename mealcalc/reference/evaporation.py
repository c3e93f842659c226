"""How much water a pot gives off: set by this project, since no published evaporation figure for home pots was found.

It moves only the cooked mass and figures per 100 g, never the totals of a container. A weighed pot overrules it.
"""

from dataclasses import dataclass
from functools import cache

from mealcalc.reference.cooking_vocabulary import broader_methods
from mealcalc.reference.tables import read_table


@dataclass(frozen=True, slots=True)
class Evaporation:
    """Water given off by a pot, in percent of all that is in it per hour; minutes to assume where none are said."""

    method: str
    covered: bool
    percent_per_hour: float
    minutes_if_unsaid: float
    ground: str
    mark: str


@cache
def evaporation() -> tuple[Evaporation, ...]:
    """Rates of evaporation by method and lid."""
    return read_table(
        "evaporation.csv",
        lambda r: Evaporation(
            r["method"],
            r["covered"] == "yes",
            float(r["percent_per_hour"]),
            float(r["minutes_if_unsaid"]),
            r["ground"],
            r["mark"],
        ),
    )


def evaporation_for(method: str, covered: bool | None) -> Evaporation | None:
    """The rate for a method or the nearest broader one, and a lid if one is said; None where nothing evaporates."""
    for name in broader_methods(method):
        rows = [row for row in evaporation() if row.method == name]
        for row in rows:
            if row.covered == covered:
                return row
        if rows:
            return rows[0]
    return None
