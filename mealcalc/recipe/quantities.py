"""Quantities in the fields of a batch file: one number and one unit, such as `650 ml`, `2.14 kg`, `1640 kJ`.

Stricter than an ingredient line: a field means one thing, so ranges, sums and bare numbers are faults to be told.
"""

import re
from dataclasses import dataclass

from mealcalc.units import MASS_G, canonical_unit, measure

_QUANTITY = re.compile(r"([-+−]?)\s*([0-9][0-9.,]*|[.,][0-9]+)\s*(.*)", re.DOTALL)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?")
_DECIMAL = re.compile(r"[0-9]*([.,][0-9]+)?")
MOST_DIGITS = 12


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number and the unit as written ('' if none)."""

    number: float
    unit: str


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a text is not the quantity wanted, as the end of a sentence, and what to write instead."""

    reason: str
    hint: str


def read_quantity(text: str, example: str) -> Quantity | Fault:
    """The number and unit that `text` consists of; a comma before three digits parts thousands, as in ingredients."""
    match = _QUANTITY.fullmatch(text.strip())
    number = _number(match[2]) if match else None
    if match is None or number is None:
        return Fault("is not a number with a unit", f"write it like {example}")
    return Quantity(-number if match[1] in ("-", "−") and number else number, " ".join(match[3].split()))


def read_mass_g(text: str, example: str) -> float | Fault:
    """The grams written in `text`, above zero."""
    quantity = read_quantity(text, example)
    if isinstance(quantity, Fault):
        return quantity
    unit = canonical_unit(quantity.unit)
    if unit is None or unit not in MASS_G:
        return _wrong_unit(quantity.unit, "weight", "g, kg, oz or lb", example)
    if quantity.number <= 0:
        return Fault("is not above zero", f"write it like {example}")
    return quantity.number * MASS_G[unit]


def read_volume_ml(text: str, region: str, example: str) -> float | Fault:
    """The millilitres written in `text`, above zero, by the measures of `region`."""
    quantity = read_quantity(text, example)
    if isinstance(quantity, Fault):
        return quantity
    unit = canonical_unit(quantity.unit)
    volume_ml = None if unit is None else measure(unit, region).ml
    if volume_ml is None:
        return _wrong_unit(quantity.unit, "volume", "ml, l, fl oz or cups", example)
    if quantity.number <= 0:
        return Fault("is not above zero", f"write it like {example}")
    return quantity.number * volume_ml


def _wrong_unit(unit: str, wanted: str, units: str, example: str) -> Fault:
    if not unit:
        return Fault("has no unit", f"write it like {example}")
    return Fault(f"is not a {wanted}: '{unit[:40]}' is no unit of it", f"use {units}, like {example}")


def _number(digits: str) -> float | None:
    if len(digits) > MOST_DIGITS:
        return None
    if _THOUSANDS.fullmatch(digits):
        return float(digits.replace(",", ""))
    if _DECIMAL.fullmatch(digits):
        return float(digits.replace(",", "."))
    return None
