"""Alcohol, available carbohydrate and energy in kJ, which follow from published figures."""

import pytest

from mealcalc.fooddb import with_derived_values
from mealcalc.records import Food
from mealcalc.values import LOGICAL_ZERO, Value, ValueStatus, amount_of

CALCULATED = ValueStatus.CALCULATED


def food(description: str = "x", group: str = "1100", **amounts: float) -> Food:
    composition = {key: Value(amount) for key, amount in amounts.items()}
    return Food("sr28", "edition", "00000", description, group, composition)


def test_energy_in_kj() -> None:
    assert with_derived_values(food(ENERC_KCAL=40.0)).composition["ENERC_KJ"] == Value(167.36, CALCULATED)
    assert "ENERC_KJ" not in with_derived_values(food()).composition


def test_available_carbohydrate() -> None:
    derived = with_derived_values(food(CHOCDF_G=9.34, FIBTG_G=1.7)).composition["CHOAVLDF_G"]
    assert derived.amount == pytest.approx(7.64)
    assert derived.status is CALCULATED


def test_available_carbohydrate_is_missing_without_fibre() -> None:
    assert "CHOAVLDF_G" not in with_derived_values(food(CHOCDF_G=9.34)).composition
    assert "CHOAVLDF_G" not in with_derived_values(food(FIBTG_G=1.7)).composition


def test_available_carbohydrate_takes_a_logical_zero_of_fibre() -> None:
    composition = with_derived_values(food("Chicken, giblets", "0500", CHOCDF_G=0.1)).composition
    assert composition["FIBTG_G"] == LOGICAL_ZERO
    assert composition["CHOAVLDF_G"] == Value(0.1, CALCULATED)


def test_available_carbohydrate_is_never_below_zero() -> None:
    assert with_derived_values(food(CHOCDF_G=53.1, FIBTG_G=53.2)).composition["CHOAVLDF_G"] == Value(0.0, CALCULATED)


def test_a_published_value_stays() -> None:
    composition = with_derived_values(food(ENERC_KCAL=100.0, ENERC_KJ=420.0, CHOCDF_G=9.0, FIBTG_G=1.0, CHOAVLDF_G=7.0))
    assert composition.composition["ENERC_KJ"] == Value(420.0)
    assert composition.composition["CHOAVLDF_G"] == Value(7.0)


@pytest.mark.parametrize(
    ("code", "alcohol_g"),
    [
        # 100 - (water + protein + fat + ash + carbohydrate) of the printed record.
        ("14084", 10.39),  # wine: 100 - (86.58 + 0.07 + 0.00 + 0.24 + 2.72)
        ("14037", 33.39),  # spirits of 80 proof, which is 33.4 % by mass
        ("14003", 3.87),  # beer
        ("43479", 16.10),  # rice wine
        ("02050", 34.39),  # vanilla extract: 100 - (52.58 + 0.06 + 0.06 + 0.26 + 12.65)
        ("14305", 0.35),  # malt beverage, includes non-alcoholic beer
    ],
)
def test_alcohol_of_drinks_and_extracts(all_foods: dict[str, Food], code: str, alcohol_g: float) -> None:
    value = all_foods[code].composition["ALC_G"]
    assert (value.amount, value.status) == (alcohol_g, CALCULATED)


@pytest.mark.parametrize("code", ["02048", "02030", "14209", "14553", "02052", "11282", "18064", "23572"])
def test_no_alcohol_in_vinegar_pepper_coffee_and_the_rest(all_foods: dict[str, Food], code: str) -> None:
    assert all_foods[code].composition["ALC_G"] == LOGICAL_ZERO


def test_alcohol_closes_the_energy_of_every_drink(all_foods: dict[str, Food]) -> None:
    """6.93 kcal per g of alcohol (Agriculture Handbook 74, table 13, from memory); 4, 9, 4 without printed factors."""
    drinks = [one for one in all_foods.values() if one.composition.get("ALC_G", LOGICAL_ZERO).status is CALCULATED]
    assert len(drinks) == 73
    for one in drinks:
        factors = one.energy_factors
        expected = 6.93 * (amount_of(one.composition, "ALC_G") or 0.0)
        for key, factor in (
            ("PROCNT_G", factors.protein or 4.0),
            ("FAT_G", factors.fat or 9.0),
            ("CHOCDF_G", factors.carbohydrate or 4.0),
        ):
            expected += factor * (amount_of(one.composition, key) or 0.0)
        assert amount_of(one.composition, "ENERC_KCAL") == pytest.approx(expected, abs=7.0), one.description


def test_alcohol_is_missing_where_a_proximate_is() -> None:
    wine = food("Alcoholic beverage, wine", "1400", WATER_G=86.0, PROCNT_G=0.1, FAT_G=0.0, CHOCDF_G=2.7)
    assert "ALC_G" not in with_derived_values(wine).composition
