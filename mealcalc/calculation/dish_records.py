"""What the recipe methods take and give: an ingredient with its losses, a change of fat, the composition of a dish."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from mealcalc.components import KJ_PER_KCAL
from mealcalc.errors import MealcalcError
from mealcalc.values import MISSING, Composition, Value, ValueStatus, amount_of

RETENTION_FOLLOWS: Mapping[str, str] = MappingProxyType({"RETOL_UG": "VITA_RAE_UG", "FOLDFE_UG": "FOL_UG"})
"""Food components without a retention factor of their own, and the component whose factor they take. Measured on USDA's
2017-18 survey dishes: see docs/agreement-survey-dishes.md.
"""

ENERGY_UNIT_PER_KCAL: Mapping[str, float] = MappingProxyType({"ENERC_KCAL": 1.0, "ENERC_KJ": KJ_PER_KCAL})
"""The keys of energy, and how many of their unit make 1 kcal."""

ALCOHOL_KCAL_PER_G = 6.93
"""Specific factor of alcohol: USDA Agriculture Handbook 74 (1955, revised 1973), table 13; from memory."""

FAT_KCAL_PER_G = 9.02
"""Specific factor of the fat of meat and fish, which is what drains: food descriptions of USDA SR28."""

FATTY_ACIDS = ("FASAT_G", "FAMS_G", "FAPU_G")
"""Parts of the fat that leave in proportion to it."""


class RecipeMethodError(MealcalcError):
    """Masses, yields or changes that no dish can have."""


@dataclass(frozen=True, slots=True)
class MethodIngredient:
    """An ingredient as the methods see it.

    mass_g: edible mass, in the state in which `composition` is published. composition: per 100 g. retention: share (0
    to 1) that cooking leaves, by food component key; absent means all. label: names the ingredient in `missing`.

    Raises RecipeMethodError for a mass that is negative or no number, and for a share outside 0 to 1.
    """

    mass_g: float
    composition: Composition
    retention: Mapping[str, float] = field(default_factory=dict)
    label: str = ""

    def __post_init__(self) -> None:
        require(not_negative(self.mass_g), f"'{self.label}' weighs {self.mass_g} g", "give a mass of 0 g or more")
        for key, share in self.retention.items():
            if not 0.0 <= share <= 1.0:
                raise RecipeMethodError(
                    f"'{self.label}' keeps {share} of {key}", "give retention as a fraction from 0 to 1, not in percent"
                )

    def raw_amount(self, key: str) -> float | None:
        """What the ingredient holds of a food component before cooking; None where unknown."""
        if not self.mass_g:
            return 0.0
        per_100g = amount_of(self.composition, key)
        return None if per_100g is None else self.mass_g * per_100g / 100.0

    def kept_amount(self, key: str) -> float | None:
        """What cooking leaves of it: raw amount times retention; None where unknown.

        Energy has no retention of its own, see `energy_kept`.
        """
        amount = self.raw_amount(key)
        share = self.retention_of(key)
        return amount if amount is None or share == 1.0 else amount * share

    def retention_of(self, key: str) -> float:
        """The share of a food component that cooking leaves (0 to 1); 1 where nothing is tabulated."""
        share = self.retention.get(key)
        if share is None and key in RETENTION_FOLLOWS:
            share = self.retention.get(RETENTION_FOLLOWS[key])
        return 1.0 if share is None else share

    def energy_kept(self, key: str) -> float | None:
        """Energy (ENERC_KCAL or ENERC_KJ) less that of the alcohol that leaves, 6.93 kcal/g; None where unknown.

        Alcohol is the only source of energy for which retention is tabulated.
        """
        energy = self.raw_amount(key)
        if energy is None or self.retention_of("ALC_G") == 1.0:
            return energy
        lost_g = self.alcohol_lost_g()
        return None if lost_g is None else energy - lost_g * ALCOHOL_KCAL_PER_G * ENERGY_UNIT_PER_KCAL[key]

    def alcohol_lost_g(self) -> float | None:
        """Alcohol that cooking drives off, in g; None where unknown."""
        lost_share = 1.0 - self.retention_of("ALC_G")
        alcohol_g = self.raw_amount("ALC_G") if lost_share else 0.0
        return None if alcohol_g is None else lost_share * alcohol_g


@dataclass(frozen=True, slots=True)
class FatChange:
    """Fat that a dish takes up (positive) or gives off (negative), in percent of the mass of its ingredients.

    composition: of the named fat, per 100 g. label: its name.
    """

    percent: float
    composition: Composition
    label: str = ""


@dataclass(frozen=True, slots=True)
class DishComposition:
    """What a whole dish holds.

    amounts: food component key -> amount in the whole dish, summed over the ingredients that have a value.
    mass_g: mass of the dish as served. missing: key -> labels of the ingredients without a value, only where there are
    any. emptied: components of which a named fat that left would have taken more than the dish held; they are 0.
    """

    amounts: Mapping[str, float]
    mass_g: float
    missing: Mapping[str, tuple[str, ...]]
    emptied: tuple[str, ...] = ()

    def amount(self, key: str) -> float | None:
        """Amount in the whole dish, None where any ingredient lacks a value."""
        return None if key in self.missing else self.amounts[key]

    @property
    def per_100g(self) -> Composition:
        """The composition of 100 g; values are `ValueStatus.CALCULATED`, or MISSING where any ingredient lacks one."""
        per_gram = 100.0 / self.mass_g
        return {
            key: MISSING if key in self.missing else Value(amount * per_gram, ValueStatus.CALCULATED)
            for key, amount in self.amounts.items()
        }

    def as_ingredient(
        self, mass_g: float | None = None, *, label: str = "", retention: Mapping[str, float] | None = None
    ) -> MethodIngredient:
        """The dish as an ingredient of another dish: `mass_g` of it, the whole by default."""
        return MethodIngredient(self.mass_g if mass_g is None else mass_g, self.per_100g, retention or {}, label)


def require(holds: bool, message: str, hint: str) -> None:
    """Raise RecipeMethodError unless the condition holds."""
    if not holds:
        raise RecipeMethodError(message, hint)


def positive(number: float) -> bool:
    """Whether it is a finite number above 0."""
    return math.isfinite(number) and number > 0.0


def not_negative(number: float) -> bool:
    """Whether it is a finite number of 0 or more."""
    return math.isfinite(number) and number >= 0.0
