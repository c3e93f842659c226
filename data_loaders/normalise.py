"""Cells of published tables become values with a status, and values that follow by definition are added.

Marks differ by table and stand in its mapping. Trace is stored as 0 and below a limit as half the limit, each with its
status: presence too small to be stated must not count, nor vanish (common practice, no source; the same rule as for
pack labels). An empty cell and the table's mark for 'not known' are missing and never 0.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from mealcalc.components import KJ_PER_KCAL
from mealcalc.values import MISSING, Value, ValueStatus

BELOW_LIMIT_SHARE = 0.5
"""Share of a stated limit that counts as the value (common practice, no source)."""

SODIUM_SHARE_OF_SALT = 1 / 2.5
"""Regulation (EU) No 1169/2011, Annex I, point 11: salt = sodium x 2.5."""

_PLAIN = re.compile(r"[0-9]+(\.[0-9]+)?|\.[0-9]+")
_BLANKS = str.maketrans("", "", "\u00a0\u202f\u2009 ")


class CellError(ValueError):
    """A cell holds neither a number nor a mark of its table."""


@dataclass(frozen=True, slots=True)
class Marks:
    """How a table writes what is no plain number; texts in lower case.

    missing: besides the empty cell. below: what stands before a limit. borrowed: pair of brackets around a figure that
    was taken from elsewhere or estimated, '' for none. decimal: '.' or ','. status: of a plain number.
    """

    missing: tuple[str, ...] = ()
    trace: tuple[str, ...] = ()
    logical_zero: tuple[str, ...] = ()
    below: tuple[str, ...] = ("<",)
    borrowed: str = ""
    decimal: str = "."
    status: ValueStatus = ValueStatus.PUBLISHED


def read_cell(cell: str | float, marks: Marks) -> Value:
    """The value of a cell in the unit of its column.

    Raises
    ------
    CellError
        If it is neither a number, a mark of the table, nor empty; or below zero.
    """
    if not isinstance(cell, str):
        return Value(_not_negative(float(cell), repr(cell)), marks.status)
    text = cell.strip()
    word = text.lower()
    if not text or word in marks.missing:
        return MISSING
    if word in marks.trace:
        return Value(0.0, ValueStatus.TRACE)
    if word in marks.logical_zero:
        return Value(0.0, ValueStatus.LOGICAL_ZERO)
    for mark in marks.below:
        if text.startswith(mark):
            return Value(
                read_number(text.removeprefix(mark), marks.decimal) * BELOW_LIMIT_SHARE, ValueStatus.BELOW_LIMIT
            )
    if marks.borrowed and text[0] == marks.borrowed[0] and text[-1] == marks.borrowed[1]:
        return Value(read_number(text[1:-1], marks.decimal), ValueStatus.BORROWED)
    return Value(read_number(text, marks.decimal), marks.status)


def read_number(text: str, decimal: str) -> float:
    """A number that is not below zero, with the given decimal mark and without separators of thousands.

    Raises
    ------
    CellError
        If it is anything else. '1.234' with a decimal comma is refused: it may mean 1234.
    """
    bare = text.translate(_BLANKS)
    plain = bare.replace(",", ".") if decimal == "," and "." not in bare else bare
    if not _PLAIN.fullmatch(plain) or (decimal == "," and "." in bare):
        shown = text.strip()[:40]
        raise CellError(f"'{shown}' is no number with a decimal {'comma' if decimal == ',' else 'point'}")
    return float(plain)


def _not_negative(number: float, text: str) -> float:
    if not math.isfinite(number) or number < 0:
        raise CellError(f"{text} is no amount")
    return number


def with_conversions(values: Mapping[str, Value]) -> dict[str, Value]:
    """The values with those added that follow by definition and that totals ask for, each marked as calculated.

    NA_MG from salt by the EU rule; ENERC_KCAL from ENERC_KJ; CHOCDF_G as CHOAVLDF_G + FIBTG_G, which is how the latter
    are defined. What the table gives is never replaced, and nothing follows from a carbohydrate by another definition.
    """
    found = dict(values)
    _add(found, "NA_MG", _times(found.get("NACL_G"), SODIUM_SHARE_OF_SALT * 1000))
    _add(found, "ENERC_KCAL", _times(found.get("ENERC_KJ"), 1 / KJ_PER_KCAL))
    available, fibre = _amount(found.get("CHOAVLDF_G")), _amount(found.get("FIBTG_G"))
    _add(found, "CHOCDF_G", None if available is None or fibre is None else available + fibre)
    return found


def _amount(value: Value | None) -> float | None:
    return None if value is None else value.amount


def _times(value: Value | None, factor: float) -> float | None:
    amount = _amount(value)
    return None if amount is None else amount * factor


def _add(values: dict[str, Value], key: str, amount: float | None) -> None:
    if amount is not None and _amount(values.get(key)) is None:
        values[key] = Value(amount, ValueStatus.CALCULATED)
