"""Records of foods: composition, measures, energy factors."""

from dataclasses import dataclass

from mealcalc.values import Composition


@dataclass(frozen=True, slots=True)
class HouseholdMeasure:
    """A published measure of a food: `amount` `description` weighs `mass_g` (edible portion)."""

    amount: float
    description: str
    mass_g: float


@dataclass(frozen=True, slots=True)
class EnergyFactors:
    """Specific energy factors of a food, kcal per g of protein, fat and carbohydrate; None where not published."""

    protein: float | None = None
    fat: float | None = None
    carbohydrate: float | None = None


@dataclass(frozen=True, slots=True)
class Food:
    """A food of a published table, or the cook's own, with its composition per 100 g edible portion.

    refuse_percent: inedible share of the food as purchased, percent. nitrogen_factor: g protein per g nitrogen.
    names: other names by which the food is known.
    """

    table: str
    edition: str
    code: str
    description: str
    group: str
    composition: Composition
    measures: tuple[HouseholdMeasure, ...] = ()
    names: tuple[str, ...] = ()
    scientific_name: str = ""
    refuse_percent: float | None = None
    refuse_description: str = ""
    nitrogen_factor: float | None = None
    energy_factors: EnergyFactors = EnergyFactors()
