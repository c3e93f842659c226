"""Amounts that may be unknown.

A published value is a number with a status. Missing is not zero: a total over a missing value says which part of it is
unknown. A logical zero is a value that the table leaves blank but that can only be zero (fibre in an oil); it is filled
in by a stated rule and stays marked as such.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class ValueStatus(StrEnum):
    """How a value came to be."""

    PUBLISHED = "published"
    ANALYSED = "analysed"
    CALCULATED = "calculated"
    BORROWED = "borrowed"
    LOGICAL_ZERO = "logical zero"
    TRACE = "trace"
    BELOW_LIMIT = "below limit"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Value:
    """An amount per 100 g with its status; `amount` is None exactly when the status is MISSING."""

    amount: float | None
    status: ValueStatus = ValueStatus.PUBLISHED

    def __post_init__(self) -> None:
        if (self.amount is None) != (self.status is ValueStatus.MISSING):
            raise ValueError(f"amount {self.amount} contradicts status '{self.status}'")


MISSING = Value(None, ValueStatus.MISSING)
LOGICAL_ZERO = Value(0.0, ValueStatus.LOGICAL_ZERO)

Composition = Mapping[str, Value]
"""Food component key -> value per 100 g edible portion. A key that is absent is missing."""


def amount_of(composition: Composition, key: str) -> float | None:
    """The amount per 100 g of `key`, or None where it is missing."""
    value = composition.get(key)
    return None if value is None else value.amount
