"""Worked examples of recipe calculation, step by step, to the digits printed; source and place beside each.

`read (secondary)` in a comment: the figure of the named source was read in another publication that quotes it.
"""

from collections.abc import Mapping

import pytest

from mealcalc.calculation.recipe_methods import MethodIngredient, mixed_method, weighed_dish
from mealcalc.calculation.weights import weigh
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Span
from mealcalc.fooddb import BUNDLED_TABLE, FoodDatabase
from mealcalc.records import Amount, Food, LineSettings, LineStatus, MatchedFood, RecipeLine
from mealcalc.reference.cooking_factors import retention_factors
from mealcalc.values import Value, amount_of


def food_of(**amounts: float) -> dict[str, Value]:
    """Composition per 100 g of a food of which only these are known to the example."""
    return {key: Value(amount) for key, amount in amounts.items()}


def retention(code: str) -> dict[str, float]:
    return {key: percent / 100.0 for key, percent in retention_factors()[code].percent.items()}


def sr28(database: FoodDatabase, code: str) -> Food:
    food = database.food(BUNDLED_TABLE, code)
    assert food is not None
    return food


# --- fish: raw, retention and yield give the cooked record ------------------------------------------------------------

# USDA SR28, NDB 15076 and 15209, 15015 and 15016: cooked by dry heat; USDA Retention Factors Release 6, codes 2455 and
# 2305 (broiled, without drippings); yield 0.78.
FISH = (("15076", "15209", "2455"), ("15015", "15016", "2305"))
FISH_KEYS = (
    *("ENERC_KCAL", "WATER_G", "PROCNT_G", "FAT_G", "THIA_MG", "RIBF_MG", "NIA_MG", "VITB6A_MG"),
    *("FOL_UG", "VITB12_UG", "VITA_RAE_UG", "FE_MG", "ZN_MG"),
)
PRINTED_DECIMALS = {"FOL_UG": 0, "VITA_RAE_UG": 0, "ENERC_KCAL": 0}
FISH_YIELD = 0.78


@pytest.mark.parametrize("key", FISH_KEYS)
@pytest.mark.parametrize(
    ("raw_code", "cooked_code", "retention_code"),
    FISH,
    ids=["SR28 15076 to 15209 R6 code 2455", "SR28 15015 to 15016 R6 code 2305"],
)
def test_cooked_fish(raw_code: str, cooked_code: str, retention_code: str, key: str, database: FoodDatabase) -> None:
    raw = MethodIngredient(100.0, sr28(database, raw_code).composition, retention(retention_code), raw_code)
    computed = amount_of(mixed_method([raw], FISH_YIELD).per_100g, key)
    half_digit = 10.0 ** -PRINTED_DECIMALS.get(key, FOOD_COMPONENTS[key].decimals) / 2
    # Wider by what half a digit of the raw value, itself printed rounded, becomes on the way.
    tolerance = half_digit * (1 + raw.retention_of(key) / FISH_YIELD)
    assert computed == pytest.approx(amount_of(sr28(database, cooked_code).composition, key), abs=tolerance)


# --- retention and yield ----------------------------------------------------------------------------------------------


def test_contribution_of_an_ingredient_by_the_mixed_method() -> None:
    """EuroFIR D2.2.12 (Reinivuo & Laitinen 2007): 1000 g cabbage, 30 µg/100 g, retention 0.70, dish 2255 g: 9 µg/100 g.

    read (secondary)
    """
    cabbage = MethodIngredient(1000.0, food_of(FOL_UG=30.0, WATER_G=92.0), {"FOL_UG": 0.70}, "cabbage")
    others = MethodIngredient(2000.0, food_of(FOL_UG=0.0, WATER_G=80.0), label="all other ingredients")
    dish = mixed_method([cabbage, others], 2255.0 / 3000.0)
    assert dish.mass_g == pytest.approx(2255.0)
    assert amount_of(dish.per_100g, "FOL_UG") == pytest.approx(9.0, abs=0.5)


def test_retention_without_a_change_of_mass() -> None:
    """USDA Retention Factors Release 6, example of the documentation: 28 mg x 0.85 = 23.8 mg. read (secondary)"""
    spinach = MethodIngredient(100.0, food_of(VITC_MG=28.0, WATER_G=91.0), {"VITC_MG": 0.85}, "spinach")
    assert amount_of(mixed_method([spinach], 1.0).per_100g, "VITC_MG") == pytest.approx(23.8, abs=0.05)


def test_retention_with_a_change_of_mass() -> None:
    """The same food cooked to 0.8 of its mass: 23.8 / 0.8, the correction that the example leaves out."""
    spinach = MethodIngredient(100.0, food_of(VITC_MG=28.0, WATER_G=91.0), {"VITC_MG": 0.85}, "spinach")
    assert amount_of(mixed_method([spinach], 0.8).per_100g, "VITC_MG") == pytest.approx(29.75)


# --- water ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cooked_water_share", "water_taken_up_g"),
    [(0.58, 109.5), (0.64, 144.4)],
    ids=["rice to 58 % water takes up 109.5 g", "rice to 64 % water takes up 144.4 g"],
)
def test_rice_takes_up_water(cooked_water_share: float, water_taken_up_g: float) -> None:
    """Mass balance of 100 g rice with 12 % water: w = r (p - s) / (1 - p), printed to 0.1 g. read (secondary)"""
    rice = MethodIngredient(100.0, food_of(WATER_G=12.0), label="rice")
    dish = weighed_dish([rice], 100.0 + water_taken_up_g, water_from_outside=True)
    # 0.05 g of water in some 210 g of cooked rice, per 100 g.
    assert amount_of(dish.per_100g, "WATER_G") == pytest.approx(100 * cooked_water_share, abs=0.02)


# --- fat --------------------------------------------------------------------------------------------------------------

# Sheard et al. 1998, Meat Science 49:175, abstract. Per 100 g raw: fat raw, energy raw (kJ), cooked mass, fat cooked,
# energy cooked (kJ). Grams are printed whole.
RENDERED = (
    pytest.param(19.0, 1009.0, 70.0, 7.0, 544.0, id="Sheard 1998 abstract, standard mince"),
    pytest.param(25.0, 1244.0, 72.0, 16.0, 906.0, id="Sheard 1998 abstract, burger"),
    pytest.param(22.0, 1215.0, 78.0, 17.0, 1016.0, id="Sheard 1998 abstract, sausage"),
)


@pytest.mark.parametrize(("fat_raw_g", "energy_raw_kj", "cooked_g", "fat_cooked_g", "energy_cooked_kj"), RENDERED)
def test_fat_that_drains_explains_the_fall_of_energy(
    fat_raw_g: float, energy_raw_kj: float, cooked_g: float, fat_cooked_g: float, energy_cooked_kj: float
) -> None:
    raw = food_of(FAT_G=fat_raw_g, FASAT_G=8.0, ENERC_KJ=energy_raw_kj, ENERC_KCAL=energy_raw_kj / 4.184, WATER_G=60.0)
    dish = weighed_dish([MethodIngredient(100.0, raw, label="meat")], cooked_g, fat_drained_g=fat_raw_g - fat_cooked_g)
    assert dish.amount("FAT_G") == pytest.approx(fat_cooked_g)
    assert dish.amount("FASAT_G") == pytest.approx(8.0 * fat_cooked_g / fat_raw_g)
    assert dish.amount("WATER_G") == pytest.approx(60.0 - (100.0 - cooked_g) + (fat_raw_g - fat_cooked_g))
    energy_kj = dish.amount("ENERC_KJ")
    assert energy_kj is not None
    # Fats are printed to 1 g, so their loss to 1 g or 38 kJ; a little protein drips out too, at most 1 g or 17 kJ.
    assert -38.0 <= energy_kj - energy_cooked_kj <= 38.0 + 17.0


def test_frying_fat_taken_up() -> None:
    """Bognár 2002: French fries take up 5.00 g per 100 g ready to cook, yield 0.54: 9.26 g per 100 g cooked.

    read (secondary)
    """
    potatoes = MethodIngredient(100.0, food_of(FAT_G=0.0, WATER_G=78.0), label="potatoes")
    oil = MethodIngredient(5.0, food_of(FAT_G=100.0, WATER_G=0.0), label="frying fat")
    # The yield is on the potatoes alone and its cooked mass holds the fat: 54 g.
    dish = weighed_dish([potatoes, oil], 54.0)
    assert amount_of(dish.per_100g, "FAT_G") == pytest.approx(9.26, abs=0.005)


# --- as purchased and edible ------------------------------------------------------------------------------------------

# USDA SR28, field Refuse of FOOD_DES.txt.
AS_BOUGHT = (
    pytest.param("11282", 1000.0, 900.0, 0.5, id="SR28 11282 onions, refuse 10 %"),
    pytest.param("11246", 1136.4, 500.0, 0.05, id="SR28 11246 leeks, refuse 56 %: 500 g edible"),
    pytest.param("09040", 100.0, 64.0, 0.5, id="SR28 09040 bananas, refuse 36 %"),
    pytest.param("01123", 100.0, 88.0, 0.5, id="SR28 01123 egg in shell, refuse 12 %"),
    pytest.param("09326", 453.592, 0.52 * 453.592, 0.005 * 453.592, id="SR28 09326 watermelon, 1 lb gives 0.52 lb"),
)


@pytest.mark.parametrize(("code", "as_purchased_g", "edible_g", "half_digit_g"), AS_BOUGHT)
def test_edible_part_of_what_was_bought(
    code: str, as_purchased_g: float, edible_g: float, half_digit_g: float, all_foods: Mapping[str, Food]
) -> None:
    amount = Amount(as_purchased_g, as_purchased_g, "g")
    line = RecipeLine("", Span("", 1), amount=amount, settings=LineSettings(as_bought=True))
    weighed = weigh(MatchedFood(line, all_foods[code], LineStatus.MATCHED, "", 1.0), "eu")
    assert weighed.mass_g == pytest.approx(edible_g, abs=half_digit_g)
