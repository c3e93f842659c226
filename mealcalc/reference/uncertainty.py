"""Relative standard deviations of what goes into a figure, each with its ground; most are this project's judgement."""

from dataclasses import dataclass
from functools import cache

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.reference.tables import read_table

_MINERALS = frozenset(["CA_MG", "FE_MG", "MG_MG", "P_MG", "K_MG", "ZN_MG", "CU_MG", "MN_MG", "SE_UG", "ASH_G"])


@dataclass(frozen=True, slots=True)
class Spread:
    """Relative standard deviation (0.05 is 5 %) of an input about the figure used, and why we believe it."""

    name: str
    relative_sd: float
    ground: str
    mark: str


@cache
def spreads() -> dict[str, Spread]:
    """Every spread by its name: a source of mass, a step of cooking, or a food component."""
    rows = read_table(
        "uncertainty.csv",
        lambda r: Spread(r["input"], float(r["relative_sd_percent"]) / 100.0, r["ground"], r["mark"]),
    )
    return {row.name: row for row in rows}


def composition_spread(key: str) -> Spread:
    """The spread of a food component about the table's value: its own row, else that of minerals or vitamins."""
    if key not in FOOD_COMPONENTS:
        raise KeyError(key)
    found = spreads().get(key)
    return found if found is not None else spreads()["mineral" if key in _MINERALS else "vitamin"]
