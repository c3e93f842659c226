"""Energy factors against published figures."""

import pytest

from mealcalc.calculation.energy import (
    carbohydrate_by_difference_g,
    general_energy_kcal,
    kilojoules,
    specific_energy_kcal,
)
from mealcalc.records import EnergyFactors

# USDA SR28, ABBREV and FOOD_DES: proximates per 100 g, specific factors, published energy and carbohydrate.
# code, water, protein, fat, ash, carbohydrate published, factors (protein, fat, carbohydrate), energy published
SR28_FOODS = [
    ("11282 onions", 89.11, 1.10, 0.10, 0.35, 9.34, (2.78, 8.37, 3.84), 40),
    ("11215 garlic", 58.58, 6.36, 0.50, 1.50, 33.06, (2.78, 8.37, 3.84), 149),
    ("11352 potatoes", 79.25, 2.05, 0.09, 1.11, 17.49, (2.78, 8.37, 4.03), 77),
]


@pytest.mark.parametrize("row", SR28_FOODS, ids=lambda row: f"SR28 {row[0]}")
def test_specific_factors_give_the_published_energy(row: tuple[object, ...]) -> None:
    _, _, protein, fat, _, carbohydrate, factors, published_kcal = row
    found = specific_energy_kcal(EnergyFactors(*factors), protein, fat, carbohydrate)  # type: ignore[misc, arg-type]
    assert found is not None
    assert round(found) == published_kcal


@pytest.mark.parametrize("row", SR28_FOODS, ids=lambda row: f"SR28 {row[0]}")
def test_carbohydrate_by_difference_gives_the_published_figure(row: tuple[object, ...]) -> None:
    _, water, protein, fat, ash, published_g, _, _ = row
    found = carbohydrate_by_difference_g(water, protein, fat, ash)  # type: ignore[arg-type]
    # Four published figures, each rounded to 0.01, stand behind the difference.
    assert found == pytest.approx(published_g, abs=0.02)


def test_no_factors_no_energy() -> None:
    assert specific_energy_kcal(EnergyFactors(protein=4.0), 1, 1, 1) is None


def test_general_factors() -> None:
    # Merrill & Watt 1973: 4, 9 and 4 kcal per g; alcohol 7 (6.93 rounded).
    assert general_energy_kcal(10, 10, 10, 10) == 40 + 90 + 40 + 70


def test_one_kilocalorie_is_4_184_kilojoules() -> None:
    # Thermochemical calorie, exact (NIST SP 811, appendix B.8).
    assert kilojoules(1) == 4.184
