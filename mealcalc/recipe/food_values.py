"""Figures of a pack label as written by the cook: `80 g`, `480 mg`, `<0.5 g`, `trace`, `1640 kJ / 392 kcal`.

A figure holds for the basis of the label (100 g, 100 ml, a serving); scaling to 100 g is the caller's.
"""

import re
from dataclasses import dataclass

from mealcalc.components import FoodComponent
from mealcalc.recipe.quantities import Fault, read_quantity
from mealcalc.values import Value, ValueStatus

_BELOW = re.compile(r"(?:<|less than|under)\s*(.+)", re.IGNORECASE)
_TRACE = frozenset(("trace", "traces", "tr"))

_GRAMS = {"g": 1.0, "mg": 1e-3, "µg": 1e-6, "μg": 1e-6, "ug": 1e-6, "mcg": 1e-6}
_GRAM_WORDS = {"gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "milligram": "mg", "milligrams": "mg"}

_ENERGY_UNITS = {
    "kj": "kJ", "kilojoule": "kJ", "kilojoules": "kJ", "kcal": "kcal", "kcals": "kcal", "kilocalories": "kcal",
    "calories": "kcal", "calorie": "kcal",
}  # fmt: skip
_ENERGY_PARTS = re.compile(r"[/;|()=]|,(?![0-9])")

BELOW_LIMIT_SHARE = 0.5
"""Share of a stated limit (`<0.5 g`) that counts as the value: half of it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Energy:
    """Energy as stated, for the basis of the label; None in a unit that is not stated."""

    kj: float | None = None
    kcal: float | None = None


def read_component_value(text: str, component: FoodComponent) -> Value | Fault:
    """The amount of a food component in its own unit, as stated for the basis of the label."""
    return read_value(text, component.unit, 80 if component.unit == "g" else 480)


def read_value(text: str, unit: str, example_number: float) -> Value | Fault:
    """The amount written in `text`, in `unit` (g, mg, µg or IU), as stated for the basis of the label."""
    example = f"{example_number:g} {unit}"
    if text.casefold() in _TRACE:
        return Value(0.0, ValueStatus.TRACE)
    below = _BELOW.fullmatch(text)
    quantity = read_quantity(below[1] if below else text, example)
    if isinstance(quantity, Fault):
        return quantity
    if quantity.number < 0:
        return Fault("is below zero", f"write it like {example}")
    amount = _in_unit(quantity.number, quantity.unit, unit)
    if amount is None:
        if not quantity.unit:
            return Fault("has no unit", f"write it like {example}")
        return Fault(f"is not an amount in {unit}: '{quantity.unit[:40]}' is no such unit", f"write it like {example}")
    if below:
        return Value(amount * BELOW_LIMIT_SHARE, ValueStatus.BELOW_LIMIT)
    return Value(amount, ValueStatus.PUBLISHED)


def read_energy(text: str) -> Energy | Fault:
    """Energy in kJ, in kcal, or in both parted by a slash or brackets."""
    kj = kcal = None
    example = "1640 kJ, 392 kcal, or 1640 kJ / 392 kcal"
    for part in (part for part in _ENERGY_PARTS.split(text) if part.strip()):
        quantity = read_quantity(part, example)
        if isinstance(quantity, Fault):
            return quantity
        if quantity.number < 0:
            return Fault("is below zero", f"write it like {example}")
        unit = "kcal" if quantity.unit == "Cal" else _ENERGY_UNITS.get(quantity.unit.casefold())
        if quantity.unit == "cal":
            return Fault("is in 'cal', which may mean kcal or a thousandth of it", f"write it like {example}")
        if unit is None:
            reason = f"is no energy: '{quantity.unit[:40]}' is no unit of it" if quantity.unit else "has no unit"
            return Fault(reason, f"write it like {example}")
        if (kj if unit == "kJ" else kcal) is not None:
            return Fault(f"states {unit} twice", f"write it like {example}")
        if unit == "kJ":
            kj = quantity.number
        else:
            kcal = quantity.number
    if kj is None and kcal is None:
        return Fault("is no energy", f"write it like {example}")
    return Energy(kj, kcal)


def _in_unit(number: float, written: str, unit: str) -> float | None:
    if number == 0 and not written:
        return 0.0  # nothing is nothing in every unit
    word = written.casefold()
    word = _GRAM_WORDS.get(word, word)
    if unit not in _GRAMS:
        return number if word == unit.casefold() else None
    if word not in _GRAMS:
        return None
    return number if word == unit else number * _GRAMS[word] / _GRAMS[unit]
