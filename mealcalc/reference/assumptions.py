"""Figures that a model takes for granted: one record and one reader for every table of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from mealcalc.reference.tables import read_table


@dataclass(frozen=True, slots=True)
class Assumption:
    """A figure that a model takes for granted, in `unit`, with its ground."""

    quantity: str
    value: float
    unit: str
    ground: str
    mark: str


def read_assumptions(file_name: str) -> Mapping[str, Assumption]:
    """The assumptions of a reference table, by quantity.

    Raises
    ------
    ReferenceDataError
        If the table is damaged; the message names file and line.
    """
    rows = read_table(
        file_name, lambda r: Assumption(r["quantity"], float(r["value"]), r["unit"], r["ground"], r["mark"])
    )
    return MappingProxyType({row.quantity: row for row in rows})
