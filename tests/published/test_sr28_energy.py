"""Energy by specific factors and carbohydrate by difference, as USDA SR28 prints them.

Figures: FOOD_DES.txt and ABBREV.txt of the USDA National Nutrient Database for Standard Reference, Release 28, one food
per row. The energy is printed in whole kcal, carbohydrate to 0.01 g with every term rounded.
"""

from typing import NamedTuple

import pytest

from mealcalc.fooddb import FoodDatabase
from mealcalc.records import EnergyFactors
from mealcalc.values import amount_of

# code, water, protein, fat, ash, carbohydrate (g per 100 g), nitrogen factor, kcal per g of protein, fat, carbohydrate,
# energy as printed (kcal)
FOODS = [
    ("11282", 89.11, 1.10, 0.10, 0.35, 9.34, 6.25, 2.78, 8.37, 3.84, 40),  # onions, raw
    ("11124", 88.29, 0.93, 0.24, 0.97, 9.58, 6.25, 2.78, 8.37, 3.84, 41),  # carrots, raw
    ("11215", 58.58, 6.36, 0.50, 1.50, 33.06, 6.25, 2.78, 8.37, 3.84, 149),  # garlic, raw
    ("11352", 79.25, 2.05, 0.09, 1.11, 17.49, 6.25, 2.78, 8.37, 4.03, 77),  # potatoes, flesh and skin, raw
    ("11529", 94.52, 0.88, 0.20, 0.50, 3.89, 6.25, 2.44, 8.37, 3.57, 18),  # tomatoes, red, ripe, raw
    ("11457", 91.40, 2.86, 0.39, 1.72, 3.63, 6.25, 2.44, 8.37, 3.57, 23),  # spinach, raw
    ("20044", 11.62, 7.13, 0.66, 0.64, 79.95, 5.95, 3.82, 8.37, 4.16, 365),  # rice, white, long-grain, raw
    ("20036", 11.80, 7.54, 3.20, 1.21, 76.25, 5.95, 3.41, 8.37, 4.12, 367),  # rice, brown, long-grain, raw
    ("20120", 9.90, 13.04, 1.51, 0.88, 74.67, 5.70, 3.91, 8.37, 4.12, 371),  # pasta, dry, enriched
    ("16069", 8.26, 24.63, 1.06, 2.71, 63.35, 6.25, 3.47, 8.37, 4.07, 352),  # lentils, raw
    ("16057", 60.21, 8.86, 2.59, 0.92, 27.42, 6.25, 3.47, 8.37, 4.07, 164),  # chickpeas, boiled, without salt
    ("01123", 76.15, 12.56, 9.51, 1.06, 0.72, 6.25, 4.36, 9.02, 3.68, 143),  # egg, whole, raw, fresh
    ("01077", 88.13, 3.15, 3.25, 0.67, 4.80, 6.38, 4.27, 8.79, 3.87, 61),  # milk, whole, 3.25 % milkfat
    ("01001", 15.87, 0.85, 81.11, 2.11, 0.06, 6.38, 4.27, 8.79, 3.87, 717),  # butter, salted
    ("23572", 61.87, 17.17, 20.00, 0.84, 0.00, 6.25, 4.27, 9.02, 3.87, 254),  # beef, ground, 20 % fat, raw
    ("23562", 69.45, 20.00, 10.00, 0.98, 0.00, 6.25, 4.27, 9.02, 3.87, 176),  # beef, ground, 10 % fat, raw
    ("05062", 73.90, 22.50, 2.62, 1.13, 0.00, 6.25, 4.27, 9.02, 3.87, 120),  # chicken, breast, meat only, raw
    ("15076", 68.50, 19.84, 6.34, 2.54, 0.00, 6.25, 4.27, 9.02, 3.87, 142),  # salmon, Atlantic, wild, raw
    ("09003", 85.56, 0.26, 0.17, 0.19, 13.81, 6.25, 3.36, 8.37, 3.60, 52),  # apples, raw, with skin
    ("09040", 74.91, 1.09, 0.33, 0.82, 22.84, 6.25, 3.36, 8.37, 3.60, 89),  # bananas, raw
    ("11333", 93.89, 0.86, 0.17, 0.43, 4.64, 6.25, 2.44, 8.37, 3.57, 20),  # peppers, sweet, green, raw
    ("20081", 11.92, 10.33, 0.98, 0.47, 76.31, 5.70, 4.05, 8.37, 4.12, 364),  # wheat flour, white, enriched
    ("19296", 17.10, 0.30, 0.00, 0.20, 82.40, 6.25, 3.36, 8.37, 3.68, 304),  # honey
    ("12061", 4.41, 21.15, 49.93, 2.97, 21.55, 5.18, 3.47, 8.37, 4.07, 579),  # almonds
    ("16098", 1.23, 22.21, 51.36, 2.89, 22.31, 5.46, 3.47, 8.37, 4.07, 598),  # peanut butter, smooth, with salt
    ("16123", 71.15, 8.14, 0.57, 15.21, 4.93, 6.25, 3.50, 8.40, 4.00, 53),  # soy sauce
    ("11260", 92.45, 3.09, 0.34, 0.85, 3.26, 6.25, 2.62, 8.37, 3.48, 22),  # mushrooms, white, raw
    ("15015", 81.22, 17.81, 0.67, 1.16, 0.00, 6.25, 4.27, 9.02, 3.87, 82),  # cod, Atlantic, raw
]


class Printed(NamedTuple):
    """One row of `FOODS`."""

    code: str
    water_g: float
    protein_g: float
    fat_g: float
    ash_g: float
    carbohydrate_g: float
    nitrogen_factor: float
    protein_kcal_per_g: float
    fat_kcal_per_g: float
    carbohydrate_kcal_per_g: float
    energy_kcal: float


def amounts(database: FoodDatabase, code: str, *keys: str) -> list[float]:
    food = database.food("sr28", code)
    assert food is not None
    found = [amount_of(food.composition, key) for key in keys]
    return [amount for amount in found if amount is not None]


@pytest.mark.parametrize("row", [Printed(*row) for row in FOODS], ids=[f"SR28 {row[0]}" for row in FOODS])
def test_figures_as_printed(database: FoodDatabase, row: Printed) -> None:
    food = database.food("sr28", row.code)
    assert food is not None
    assert amounts(database, row.code, "WATER_G", "PROCNT_G", "FAT_G", "ASH_G", "CHOCDF_G", "ENERC_KCAL") == [
        row.water_g,
        row.protein_g,
        row.fat_g,
        row.ash_g,
        row.carbohydrate_g,
        row.energy_kcal,
    ]
    assert food.nitrogen_factor == row.nitrogen_factor
    factors = (row.protein_kcal_per_g, row.fat_kcal_per_g, row.carbohydrate_kcal_per_g)
    assert food.energy_factors == EnergyFactors(*factors)


@pytest.mark.parametrize("row", [Printed(*row) for row in FOODS], ids=[f"SR28 {row[0]}" for row in FOODS])
def test_energy_by_specific_factors(database: FoodDatabase, row: Printed) -> None:
    food = database.food("sr28", row.code)
    assert food is not None
    protein_g, fat_g, carbohydrate_g = amounts(database, row.code, "PROCNT_G", "FAT_G", "CHOCDF_G")
    factors = food.energy_factors
    computed = protein_g * (factors.protein or 0) + fat_g * (factors.fat or 0)
    computed += carbohydrate_g * (factors.carbohydrate or 0)
    assert computed == pytest.approx(row.energy_kcal, abs=0.5)


WITH_CARBOHYDRATE = [Printed(*row) for row in FOODS if row[5]]


@pytest.mark.parametrize("row", WITH_CARBOHYDRATE, ids=[f"SR28 {row.code}" for row in WITH_CARBOHYDRATE])
def test_carbohydrate_by_difference(database: FoodDatabase, row: Printed) -> None:
    others = amounts(database, row.code, "WATER_G", "PROCNT_G", "FAT_G", "ASH_G", "ALC_G")
    # The printed terms and the result are rounded to 0.01 g each.
    assert 100 - sum(others) == pytest.approx(row.carbohydrate_g, abs=0.025)
