"""Energy by general factors, beside the energy that the food table publishes.

General (Atwater) factors: 4 kcal per g protein and carbohydrate, 9 per g fat, 7 per g alcohol (Merrill & Watt, Energy
Value of Foods, USDA Agriculture Handbook 74, 1955, revised 1973). Applied to total carbohydrate by difference, fibre
included.
"""

from collections.abc import Mapping

from mealcalc.components import KJ_PER_KCAL
from mealcalc.records import EnergyFactors, Total

KCAL_PER_G: Mapping[str, float] = {"PROCNT_G": 4.0, "FAT_G": 9.0, "CHOCDF_G": 4.0, "ALC_G": 7.0}
"""General factors, kcal per g."""


def general_energy_kcal(protein_g: float, fat_g: float, carbohydrate_g: float, alcohol_g: float = 0.0) -> float:
    """Energy in kcal by general factors from grams of protein, fat, total carbohydrate and alcohol."""
    return (
        KCAL_PER_G["PROCNT_G"] * protein_g
        + KCAL_PER_G["FAT_G"] * fat_g
        + KCAL_PER_G["CHOCDF_G"] * carbohydrate_g
        + KCAL_PER_G["ALC_G"] * alcohol_g
    )


def specific_energy_kcal(factors: EnergyFactors, protein_g: float, fat_g: float, carbohydrate_g: float) -> float | None:
    """Energy in kcal by a food's own factors from grams per 100 g; None where the food has no factors.

    Source of the method: Merrill & Watt (1973); the factors stand in the food descriptions of USDA SR28.
    """
    if factors.protein is None or factors.fat is None or factors.carbohydrate is None:
        return None
    return factors.protein * protein_g + factors.fat * fat_g + factors.carbohydrate * carbohydrate_g


def general_energy(totals: Mapping[str, Total]) -> Total:
    """Energy in kcal by general factors from totals; unknown on every line on which one of its parts is unknown."""
    amount = sum(factor * totals[key].amount for key, factor in KCAL_PER_G.items())
    unknown = sorted({line for key in KCAL_PER_G for line in totals[key].unknown_lines})
    return Total(amount, tuple(unknown), min(totals[key].known_share for key in KCAL_PER_G))


def kilojoules(energy_kcal: float) -> float:
    """Energy in kJ: 1 kcal is 4.184 kJ (thermochemical calorie)."""
    return energy_kcal * KJ_PER_KCAL


def carbohydrate_by_difference_g(
    water_g: float, protein_g: float, fat_g: float, ash_g: float, alcohol_g: float = 0.0
) -> float:
    """Total carbohydrate of 100 g by difference, in g (USDA SR28 documentation; Merrill & Watt 1973)."""
    return 100.0 - water_g - protein_g - fat_g - ash_g - alcohol_g
