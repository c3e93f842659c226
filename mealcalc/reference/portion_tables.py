"""Readers of the tables of weighing out and scaling: headspace, what volumes rest on, what is not scaled blindly."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mealcalc.reference.assumptions import Assumption, read_assumptions
from mealcalc.reference.tables import read_table

MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Headspace:
    """Room to leave below the closure of a container of `capacity_ml` for freezing: gap_in inches, as published."""

    pack: str
    mouth: str
    capacity_ml: float
    gap_in: float
    source: str
    edition: str
    mark: str

    @property
    def gap_mm(self) -> float:
        """The gap in mm."""
        return self.gap_in * MM_PER_INCH


@cache
def headspaces() -> tuple[Headspace, ...]:
    """Published headspace, by pack, mouth and capacity."""
    return read_table(
        "headspace.csv",
        lambda r: Headspace(
            r["pack"], r["mouth"], float(r["capacity_ml"]), float(r["gap_in"]), r["source"], r["edition"], r["mark"]
        ),
    )


@cache
def portion_assumptions() -> Mapping[str, Assumption]:
    """What volumes and headspace rest on, by quantity."""
    return read_assumptions("portion_assumptions.csv")


@dataclass(frozen=True, slots=True)
class ScalingCaution:
    """What must not be scaled blindly, and which lines it concerns.

    By default foods (the name, or its last words), by groups of SR28, or by words of lines that no default food names.
    """

    kind: str
    what: str
    default_foods: tuple[str, ...]
    food_groups: tuple[str, ...]
    words: tuple[str, ...]
    advice: str
    source: str
    mark: str


@cache
def scaling_cautions() -> tuple[ScalingCaution, ...]:
    """Kinds of food that must not be scaled blindly; of several that fit a line the first counts."""
    return read_table(
        "scaling_cautions.csv",
        lambda r: ScalingCaution(
            r["kind"],
            r["what"],
            _listed(r["default_foods"]),
            _listed(r["food_groups"]),
            _listed(r["words"]),
            r["advice"],
            r["source"],
            r["mark"],
        ),
    )


def _listed(cell: str) -> tuple[str, ...]:
    return tuple(filter(None, cell.split("|")))
