"""The figures that nutrition claims are tested on: amounts, shares of energy, shares of reference values."""

import math
from dataclasses import dataclass
from decimal import Decimal

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.labelling.panel_input import PanelInput
from mealcalc.labelling.printing import print_quantity
from mealcalc.labelling.quantities import SUM_OF_KEYS, Quantity, quantity
from mealcalc.labelling.rounding import to_decimal
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.reference.label_tables import ClaimCondition, ReferenceValue

NO_MASS = "the cooked weight of the batch is not known"
NO_REFERENCE_AMOUNT = "the reference amount of the law for this food has to be looked up and given"
NO_REFERENCE_VALUE = "the reference value is not held here"
PROTEIN_QUALITY = "protein counts corrected for its quality, which is not known here"

_NAMES = {"SUGAD_G": "added sugars", "FATRN_G": "trans fatty acids", "NACL_G": "salt"}
_GENERAL_KCAL = {"PROCNT_G": 4.0, "FAT_G": 9.0}
_FATS = ("FAT_G", "FASAT_G", "FATRN_G")


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure between `low` and `high` (both None where it is not known at all), in words, and what it lacks."""

    low: Decimal | None
    high: Decimal | None
    text: str
    missing: str = ""


@dataclass(frozen=True)
class Figures:
    """Figures of one dish by one scheme; printed: from what the label prints instead of the unrounded amounts."""

    dish: PanelInput
    law: Scheme
    method: str
    printed: bool = False

    def figure(self, condition: ClaimCondition, reference: ReferenceValue | None) -> Figure:
        """The figure that a condition speaks of, with `reference` where it is a share of a reference value."""
        if condition.measure == "energy share":
            return self._energy_share(condition.key)
        if condition.measure == "amount":
            return self._figure(condition.key, condition.basis, 1.0, condition.unit)
        if reference is None:
            return _unknown(condition.key, NO_REFERENCE_VALUE)
        if self.law.name == "us" and reference.key == "PROCNT_G":
            return _unknown(reference.key, PROTEIN_QUALITY)
        # A symbol asks for one nutrient of a value that is shared by two.
        key = condition.key if condition.key.endswith(("_G", "_MG", "_UG")) else reference.key
        return self._figure(key, condition.basis, float(reference.amount) / 100.0, "% of the reference value")

    def _figure(self, key: str, basis: str, divisor: float, unit: str) -> Figure:
        found = self._per(key, basis)
        if isinstance(found, str):
            return _unknown(key, found)
        amount = found.per(divisor)
        name = {"100": self.dish.hundred_name, "portion": self.dish.portion_name}.get(basis, basis)
        missing = "" if amount.complete else _missing(key, amount)
        return _figure(key, amount, f" {unit} per {name}", missing)

    def _per(self, key: str, basis: str) -> Quantity | str:
        """A quantity per basis, or what it lacks."""
        dish = self.dish
        whole = quantity(dish, self.law, key, self.method)
        if basis == "portion":
            return self._as_printed(key, whole.per(dish.servings))
        if basis == "100":
            return NO_MASS if not dish.hundreds else self._as_printed(key, whole.per(dish.hundreds))
        if basis == "100 kcal":
            energy = quantity(dish, self.law, "ENERC_KCAL", self.method)
            return _ratio(whole, energy.per(100.0))
        if dish.cooked_mass_g is None:
            return NO_MASS
        if basis == "portion or reference amount":
            serving = self._as_printed(key, whole.per(dish.servings))
            if dish.reference_amount_g is None:
                # At least what a serving holds; a larger reference amount would hold more.
                return Quantity(serving.low, math.inf, serving.determined, serving.known_share, serving.unknown_lines)
            largest_g = max(dish.reference_amount_g, dish.cooked_mass_g / dish.servings)
            return self._as_printed(key, whole.per(dish.cooked_mass_g / largest_g))
        if dish.reference_amount_g is None:
            return NO_REFERENCE_AMOUNT
        return self._as_printed(key, whole.per(dish.cooked_mass_g / dish.reference_amount_g))

    def _energy_share(self, key: str) -> Figure:
        factors = {f.key: f for f in self.law.energy_factors if f.method == self.method}
        component = "FAT_G" if key.split(SUM_OF_KEYS)[0] in _FATS else key
        found = factors.get(component)
        if found is not None and found.kj_per_g is not None:
            energy_key, factor = "ENERC_KJ", found.kj_per_g
        else:
            energy_key, factor = "ENERC_KCAL", _GENERAL_KCAL[component]
        per = self.dish.hundreds if self.law.per_hundred and self.dish.hundreds else self.dish.servings
        part = self._as_printed(key, quantity(self.dish, self.law, key, self.method).per(per))
        energy = self._as_printed(energy_key, quantity(self.dish, self.law, energy_key, self.method).per(per))
        share = _ratio(part, energy).per(1.0 / (100.0 * factor))
        capped = Quantity(share.low, min(share.high, 100.0), share.determined, share.known_share, share.unknown_lines)
        missing = "" if capped.complete else _missing(key, capped)
        return _figure(key, capped, " % of energy", missing)

    def _as_printed(self, key: str, known: Quantity) -> Quantity:
        if not self.printed:
            return known
        parts = [self._printed_part(part, known) for part in key.split(SUM_OF_KEYS)]
        return parts[0] if len(parts) == 1 else known

    def _printed_part(self, key: str, known: Quantity) -> Quantity:
        row = next((r for r in self.law.rows if r.key == key), None)
        if row is None:
            return known
        printed = print_quantity(known, self.law.rounding[row.rounding])
        # A statement of less has no number: what is known stands for it.
        if printed.value is None or printed.minimum:
            return known
        return Quantity(float(printed.value), float(printed.value))


def _ratio(part: Quantity, whole: Quantity) -> Quantity:
    """A share of two quantities of the same dish, per unit of the whole."""
    low = part.low / whole.high if whole.high > 0 and math.isfinite(whole.high) else 0.0
    high = part.high / whole.low if whole.low > 0 else (math.inf if part.high > 0 else 0.0)
    determined = part.determined and whole.determined
    lines = {id(line): line for line in (*part.unknown_lines, *whole.unknown_lines)}
    return Quantity(low, high, determined, min(part.known_share, whole.known_share), tuple(lines.values()))


def _figure(key: str, amount: Quantity, unit: str, missing: str) -> Figure:
    if not amount.determined:
        return _unknown(key, missing)
    low = to_decimal(amount.low)
    high = to_decimal(amount.high) if math.isfinite(amount.high) else Decimal("Infinity")
    if f"{float(low):.3g}" == f"{float(high):.3g}":
        text = f"{float(low):.3g}"
    elif high.is_infinite():
        text = f"at least {float(low):.3g}"
    else:
        text = f"{float(low):.3g} to {float(high):.3g}"
    return Figure(low, high, f"{_name(key)} {text}{unit}", missing)


def _unknown(key: str, missing: str) -> Figure:
    return Figure(None, None, f"{_name(key)} not known", missing)


def _missing(key: str, amount: Quantity) -> str:
    if amount.unknown_lines:
        numbers = ", ".join(str(line.number) for line in amount.unknown_lines[:6])
        return f"{_name(key)} is not known on line {numbers}"
    return NO_REFERENCE_AMOUNT if amount.determined else f"the food table holds no {_name(key)}"


def _name(key: str) -> str:
    parts = key.split(SUM_OF_KEYS)
    if any(part not in _NAMES and part not in FOOD_COMPONENTS for part in parts):
        return "share of the reference value"
    return " and ".join(_NAMES.get(part) or FOOD_COMPONENTS[part].name for part in parts)
