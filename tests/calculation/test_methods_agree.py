"""What the cook gets is what the published recipe methods give: the same foods, losses and masses, through both."""

from collections.abc import Mapping, Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.calculation.recipe_methods import (
    DishComposition,
    MethodIngredient,
    ingredient_method,
    mixed_method,
    raw_sum,
    weighed_dish,
)
from mealcalc.fooddb import FoodDatabase
from mealcalc.records import ComponentResult, Food
from tests.calculation.kitchen import cooked_dish, weighed

MINCE, ONION, WATER, TOMATO, WINE, CARROT, CHICKEN = "23567", "11282", "14411", "11531", "14096", "11124", "05062"

masses = st.lists(st.floats(5.0, 3000.0), min_size=4, max_size=4)


@pytest.fixture(scope="module")
def shelf(database: FoodDatabase) -> Mapping[str, Food]:
    codes = [MINCE, ONION, WATER, TOMATO, WINE, CARROT, CHICKEN]
    return {code: food for (_, code), food in database.foods([("sr28", code) for code in codes]).items()}


def parts_of(result: ComponentResult) -> list[MethodIngredient]:
    """The lines as the methods see them: what went in, and the retention that the pipeline chose."""
    found = []
    for c in result.contributions:
        food, mass_g = c.ingredient.matched.food, c.ingredient.eaten_mass_g
        assert food is not None
        assert mass_g is not None
        found.append(MethodIngredient(mass_g, food.composition, c.cooking.retention, label=c.line.name))
    return found


def same(result: ComponentResult, dish: DishComposition) -> None:
    assert result.cooked_mass_g == pytest.approx(dish.mass_g)
    for key, total in result.totals.items():
        assert total.complete == (key not in dish.missing), key
        if total.complete:
            assert total.amount == pytest.approx(dish.amounts[key], rel=1e-9, abs=1e-6), key


def cook_all(shelf: Mapping[str, Food], codes: Sequence[str], masses_g: Sequence[float], words: str) -> ComponentResult:
    return cooked_dish(words, *(weighed(shelf[code], mass_g) for code, mass_g in zip(codes, masses_g, strict=True)))


@given(masses)
def test_what_is_not_cooked_is_the_sum_of_the_raw(shelf: Mapping[str, Food], masses_g: list[float]) -> None:
    result = cook_all(shelf, (TOMATO, ONION, CARROT, CHICKEN), masses_g, "")
    same(result, raw_sum(parts_of(result)))


@given(masses)
def test_one_pot_is_the_mixed_method(shelf: Mapping[str, Food], masses_g: list[float]) -> None:
    result = cook_all(shelf, (MINCE, ONION, WATER, WINE), masses_g, "simmered 40 min")
    assert any(c.cooking.retention for c in result.contributions)
    assert result.cooked_mass_g is not None
    same(result, mixed_method(parts_of(result), result.cooked_mass_g / sum(masses_g)))


@given(masses, st.floats(0.7, 0.99))
def test_a_pot_on_the_scale_is_the_mixed_method_with_its_yield(
    shelf: Mapping[str, Food], masses_g: list[float], dish_yield: float
) -> None:
    codes = (TOMATO, ONION, WATER, CARROT)
    scale_g = sum(masses_g) * dish_yield
    lines = [weighed(shelf[code], mass_g) for code, mass_g in zip(codes, masses_g, strict=True)]
    result = cooked_dish("stewed 40 min", *lines, cooked_mass_g=scale_g)
    same(result, mixed_method(parts_of(result), dish_yield))
    # Without losses of vitamins the same pot is the weighed dish, as far as energy, macros and water go.
    plain = weighed_dish(parts_of(result), scale_g)
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "WATER_G"):
        assert result.totals[key].amount == pytest.approx(plain.amounts[key]), key


@given(masses)
def test_parts_cooked_apart_are_the_ingredient_method(shelf: Mapping[str, Food], masses_g: list[float]) -> None:
    result = cook_all(shelf, (CHICKEN, ONION, CARROT, TOMATO), masses_g, "roasted")
    yields = [1.0 if c.cooking.yield_share is None else c.cooking.yield_share for c in result.contributions]
    assert min(yields) < 1.0
    same(result, ingredient_method(parts_of(result), yields))


@given(st.floats(100.0, 2000.0), st.floats(50.0, 1000.0))
def test_drained_fat_leaves_as_the_mixed_method_says(shelf: Mapping[str, Food], meat_g: float, water_g: float) -> None:
    """One food with fat: the method takes fatty acids off the dish, the pipeline off the line."""
    result = cooked_dish("pan-browned", weighed(shelf[MINCE], meat_g), weighed(shelf[WATER], water_g), fat="drained")
    lost_g = sum(c.cooking.fat_lost_g for c in result.contributions)
    assert lost_g > 0.0
    assert result.cooked_mass_g is not None
    dish = mixed_method(parts_of(result), result.cooked_mass_g / (meat_g + water_g), fat_drained_g=lost_g)
    same(result, dish)
