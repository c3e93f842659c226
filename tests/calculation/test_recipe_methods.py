"""The recipe methods: sums, what is missing, what leaves, and input that no dish can have."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.calculation.recipe_methods import (
    FAO_ENERGY_FACTORS,
    DishComposition,
    FatChange,
    MethodIngredient,
    RecipeMethodError,
    ingredient_method,
    mixed_method,
    raw_sum,
    survey_method,
    weighed_dish,
)
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.values import MISSING, Value, ValueStatus, amount_of


def composition(**amounts: float) -> dict[str, Value]:
    """Per 100 g; every food component that is not named is 0."""
    return {key: Value(amounts.get(key, 0.0)) for key in FOOD_COMPONENTS}


MEAT = composition(
    ENERC_KCAL=254, ENERC_KJ=1063, WATER_G=62, PROCNT_G=17, FAT_G=20, FASAT_G=8, CHOLE_MG=70, THIA_MG=0.05, FE_MG=2
)
WINE = composition(ENERC_KCAL=80, ENERC_KJ=335, WATER_G=86, CHOCDF_G=3, CHOAVLDF_G=3, ALC_G=10)
WATER = composition(WATER_G=100)
LARD = composition(ENERC_KCAL=902, ENERC_KJ=3774, FAT_G=100, FASAT_G=40, CHOLE_MG=95)

ANY_METHOD: tuple[Callable[[list[MethodIngredient]], DishComposition], ...] = (
    raw_sum,
    lambda parts: weighed_dish(parts, 1.0),
    lambda parts: ingredient_method(parts, [1.0] * len(parts)),
    lambda parts: mixed_method(parts, 1.0),
    survey_method,
)

masses = st.floats(0.001, 1e5)
contents = st.one_of(st.none(), st.floats(0, 100))


def test_raw_sum_adds_up() -> None:
    dish = raw_sum([MethodIngredient(200, MEAT), MethodIngredient(300, WATER)])
    assert dish.mass_g == 500
    assert dish.amount("PROCNT_G") == pytest.approx(34)
    assert dish.amount("WATER_G") == pytest.approx(424)
    assert dish.per_100g["FAT_G"].amount == pytest.approx(8.0)
    assert dish.per_100g["FAT_G"].status is ValueStatus.CALCULATED


def test_raw_sum_looks_at_no_retention() -> None:
    assert raw_sum([MethodIngredient(200, MEAT, {"THIA_MG": 0.5})]).amount("THIA_MG") == pytest.approx(0.1)


@given(st.lists(st.tuples(masses, contents), min_size=1, max_size=6))
def test_a_total_is_known_exactly_where_every_ingredient_has_a_value(rows: list[tuple[float, float | None]]) -> None:
    parts = [
        MethodIngredient(mass_g, {**MEAT, "VITC_MG": MISSING if mg is None else Value(mg)}, label=str(n))
        for n, (mass_g, mg) in enumerate(rows)
    ]
    dish = raw_sum(parts)
    lacking = tuple(str(n) for n, (_, mg) in enumerate(rows) if mg is None)
    assert dish.missing == ({"VITC_MG": lacking} if lacking else {})
    assert (dish.amount("VITC_MG") is None) == bool(lacking)
    assert (dish.per_100g["VITC_MG"] == MISSING) == bool(lacking)
    assert dish.amounts["VITC_MG"] == pytest.approx(sum(m * mg / 100 for m, mg in rows if mg is not None))


@given(st.lists(st.tuples(masses, st.floats(0, 1)), min_size=1, max_size=6), st.floats(0.5, 4))
def test_the_mixed_method_keeps_its_balances(rows: list[tuple[float, float]], dish_yield: float) -> None:
    parts = [MethodIngredient(mass_g, MEAT, {"THIA_MG": share}) for mass_g, share in rows]
    dish, raw = mixed_method(parts, dish_yield), raw_sum(parts)
    assert dish.mass_g == pytest.approx(raw.mass_g * dish_yield)
    assert dish.amounts["PROCNT_G"] == pytest.approx(raw.amounts["PROCNT_G"])
    assert dish.amounts["THIA_MG"] == pytest.approx(sum(m * 0.0005 * share for m, share in rows))
    gained_g = dish.amounts["WATER_G"] - raw.amounts["WATER_G"]
    assert gained_g == pytest.approx(dish.mass_g - raw.mass_g, abs=1e-6 * raw.mass_g)


def test_one_pot_in_two_steps_is_one_pot_in_one_step() -> None:
    parts = [MethodIngredient(200, MEAT), MethodIngredient(300, WATER)]
    part = raw_sum(parts).as_ingredient(label="broth")
    assert weighed_dish([part], 400).per_100g["FAT_G"].amount == pytest.approx(
        weighed_dish(parts, 400).per_100g["FAT_G"].amount
    )


def test_a_part_of_a_dish_brings_its_share_and_what_it_lacks() -> None:
    lacking = {key: value for key, value in MEAT.items() if key != "SUGAR_G"}
    sauce = raw_sum([MethodIngredient(100, lacking, label="meat"), MethodIngredient(300, WATER, label="water")])
    dish = raw_sum([sauce.as_ingredient(40, label="sauce"), MethodIngredient(60, WATER)])
    assert dish.amount("FAT_G") == pytest.approx(2.0)
    assert dish.missing == {"SUGAR_G": ("sauce",)}


def test_an_ingredient_of_no_mass_adds_nothing_and_lacks_nothing() -> None:
    dish = raw_sum([MethodIngredient(100, MEAT), MethodIngredient(0, {}, label="salt")])
    assert dish.amount("FAT_G") == pytest.approx(20)
    assert not dish.missing


def test_ingredient_method_weighs_each_ingredient() -> None:
    dish = ingredient_method([MethodIngredient(100, MEAT), MethodIngredient(100, WATER)], [0.7, 0.5])
    assert dish.mass_g == pytest.approx(120)
    assert dish.amount("WATER_G") == pytest.approx(162 - 80)
    assert amount_of(dish.per_100g, "PROCNT_G") == pytest.approx(17 / 1.2)


def test_retinol_and_folate_equivalents_follow_vitamin_a_and_folate() -> None:
    food = composition(RETOL_UG=100, VITA_RAE_UG=100, FOLDFE_UG=50, FOL_UG=50)
    dish = survey_method([MethodIngredient(100, food, {"VITA_RAE_UG": 0.8, "FOL_UG": 0.6})])
    assert [dish.amount(k) for k in ("RETOL_UG", "VITA_RAE_UG", "FOLDFE_UG", "FOL_UG")] == pytest.approx(
        [80, 80, 30, 30]
    )


def test_drained_fat_takes_its_fatty_acids_and_energy_but_no_cholesterol() -> None:
    dish = weighed_dish([MethodIngredient(100, MEAT)], 70, fat_drained_g=10)
    assert dish.mass_g == 70
    assert dish.amount("FAT_G") == pytest.approx(10)
    assert dish.amount("FASAT_G") == pytest.approx(4)
    assert dish.amount("CHOLE_MG") == pytest.approx(70)
    assert dish.amount("WATER_G") == pytest.approx(62 - 20)
    assert dish.amount("ENERC_KCAL") == pytest.approx(254 - 90.2)


def test_lost_alcohol_takes_its_energy_and_leaves_the_water_its_own() -> None:
    dish = mixed_method([MethodIngredient(100, WINE, {"ALC_G": 0.35})], 0.8)
    assert dish.amount("ALC_G") == pytest.approx(3.5)
    assert dish.amount("ENERC_KCAL") == pytest.approx(80 - 6.5 * 6.93)
    assert dish.amount("WATER_G") == pytest.approx(86 - (20 - 6.5))


def test_energy_is_unknown_where_lost_alcohol_is() -> None:
    wine = {key: value for key, value in WINE.items() if key != "ALC_G"}
    dish = mixed_method([MethodIngredient(100, wine, {"ALC_G": 0.35}, "wine")], 0.8)
    assert dish.missing == dict.fromkeys(("ENERC_KCAL", "ENERC_KJ", "ALC_G"), ("wine",))


def test_survey_energy_is_not_reduced_for_alcohol() -> None:
    dish = survey_method([MethodIngredient(100, WINE, {"ALC_G": 0.35})])
    assert (dish.amount("ENERC_KCAL"), dish.amount("ALC_G")) == pytest.approx((80, 3.5))


def test_energy_is_recomputed_where_factors_are_given() -> None:
    dish = mixed_method([MethodIngredient(200, WINE, {"ALC_G": 0.35})], 0.8, energy=FAO_ENERGY_FACTORS)
    assert dish.amount("ENERC_KCAL") == pytest.approx(4 * 6 + 7 * 7)
    assert dish.amount("ENERC_KJ") == pytest.approx(17 * 6 + 29 * 7)


def test_recomputed_energy_needs_its_parts_only() -> None:
    food = {key: value for key, value in WINE.items() if key not in ("ENERC_KCAL", "ENERC_KJ", "FIBTG_G")}
    with_fibre = mixed_method([MethodIngredient(1, {**food, "FIBTG_G": Value(0.0)})], 1, energy=FAO_ENERGY_FACTORS)
    without = mixed_method([MethodIngredient(1, food, label="wine")], 1, energy=FAO_ENERGY_FACTORS)
    assert with_fibre.amount("ENERC_KCAL") is not None
    assert without.missing["ENERC_KCAL"] == ("wine",)


def test_survey_fat_is_a_named_food() -> None:
    dish = survey_method([MethodIngredient(200, MEAT)], -20, FatChange(5, LARD, "lard"))
    assert dish.mass_g == pytest.approx(200 - 40 + 10)
    assert dish.amount("FAT_G") == pytest.approx(40 + 10)
    assert dish.amount("FASAT_G") == pytest.approx(16 + 4)
    assert dish.amount("CHOLE_MG") == pytest.approx(140 + 9.5)
    assert dish.amount("WATER_G") == pytest.approx(124 - 40)


def test_survey_fat_cannot_take_more_of_a_vitamin_than_there_is() -> None:
    fat = {**LARD, "VITD_UG": Value(2.5)}
    dish = survey_method([MethodIngredient(100, MEAT)], 0, FatChange(-5, fat, "lard"))
    assert dish.amount("FAT_G") == pytest.approx(15)
    assert (dish.amount("VITD_UG"), dish.emptied) == (0.0, ("VITD_UG",))


def test_survey_fat_without_a_value_leaves_the_dish_without_it() -> None:
    fat = {key: value for key, value in LARD.items() if key != "VITK1_UG"}
    dish = survey_method([MethodIngredient(100, MEAT)], 0, FatChange(5, fat, "lard"))
    assert dish.missing == {"VITK1_UG": ("lard",)}


@pytest.mark.parametrize("method", ANY_METHOD)
def test_nothing_is_no_dish(method: Callable[[list[MethodIngredient]], DishComposition]) -> None:
    with pytest.raises(RecipeMethodError, match="no mass"):
        method([MethodIngredient(0, MEAT)])


@pytest.mark.parametrize("mass_g", [-1.0, math.nan, math.inf])
def test_no_such_mass(mass_g: float) -> None:
    with pytest.raises(RecipeMethodError, match="'mince' weighs"):
        MethodIngredient(mass_g, MEAT, label="mince")


@pytest.mark.parametrize("share", [-0.1, 95.0, math.nan])
def test_no_such_retention(share: float) -> None:
    with pytest.raises(RecipeMethodError, match=r"'mince' keeps .* of THIA_MG") as caught:
        MethodIngredient(1, MEAT, {"THIA_MG": share}, "mince")
    assert "fraction" in caught.value.hint


@pytest.mark.parametrize(
    ("attempt", "message"),
    [
        (lambda part: weighed_dish([part], 0), "weighs 0 g"),
        (lambda part: weighed_dish([part], 120), "more than the 100 g that went in"),
        (lambda part: weighed_dish([part], 20), "80 g of water leave a dish that holds 62 g"),
        (
            lambda part: weighed_dish([part], 70, fat_drained_g=21),
            "21 g of fat are drained from a dish that holds 20 g",
        ),
        (lambda part: weighed_dish([part], 70, fat_drained_g=-1), "-1 g of fat"),
        (lambda part: mixed_method([part], 0), "a yield of 0"),
        (lambda part: mixed_method([part], math.nan), "a yield of nan"),
        (lambda part: ingredient_method([part], [-0.5]), "'mince' has a yield of -0.5"),
        (lambda part: ingredient_method([part], []), "0 yields for 1 ingredients"),
        (lambda part: survey_method([part], -100), "leaves nothing"),
        (lambda part: survey_method([part], -70), "70 g of water leave"),
        (
            lambda part: survey_method([part], 0, FatChange(-25, LARD, "lard")),
            "25 g of fat leave a dish that holds 20 g",
        ),
        (lambda part: survey_method([part], math.nan), "leaves nothing"),
    ],
)
def test_input_that_no_dish_can_have(attempt: Callable[[MethodIngredient], DishComposition], message: str) -> None:
    with pytest.raises(RecipeMethodError) as caught:
        attempt(MethodIngredient(100, MEAT, label="mince"))
    assert message in caught.value.message
    assert caught.value.hint


def test_fat_cannot_be_drained_where_it_is_unknown() -> None:
    food = {key: value for key, value in MEAT.items() if key != "FAT_G"}
    with pytest.raises(RecipeMethodError, match="unknown \\(mince\\)"):
        weighed_dish([MethodIngredient(100, food, label="mince")], 70, fat_drained_g=5)


def test_water_from_outside_may_be_taken_up() -> None:
    dish = weighed_dish([MethodIngredient(100, MEAT)], 120, water_from_outside=True)
    assert dish.amount("WATER_G") == pytest.approx(82)
