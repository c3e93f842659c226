"""A cooked component: its mass with its ground, the water balance, what is told."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.calculation.cooked import cook
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Severity
from mealcalc.records import ComponentResult, CookedMassSource, Food, LineStatus, WeighedIngredient
from tests.calculation.kitchen import codes, component, cooked_dish, weighed

Foods = dict[str, Food]
RICE, WATER, OIL, BEEF_20, TOMATOES, CARROTS, STOCK = "20444", "14411", "04053", "23572", "11531", "11124", "06172"


def lost_g(result: ComponentResult) -> float:
    """Fat and alcohol that left."""
    alcohol = sum((c.raw.get("ALC_G") or 0.0) - (c.amounts.get("ALC_G") or 0.0) for c in result.contributions if c.raw)
    return sum(c.cooking.fat_lost_g for c in result.contributions) + alcohol


def in_dish_g(result: ComponentResult) -> float:
    return sum(c.ingredient.eaten_mass_g or 0.0 for c in result.contributions if not c.cooking.poured_off)


# --- the mass and its ground ------------------------------------------------------------------------------------------


def test_without_words_all_counts_as_weighed_in(all_foods: Foods) -> None:
    result = cooked_dish("", weighed(all_foods[RICE], 400), weighed(all_foods[WATER], 800))
    assert result.cooked_mass_g == 1200
    assert result.cooked_mass_ground == "as weighed in: nothing is said of cooking"
    assert result.water_change_g == 0
    assert cooked_dish("raw", weighed(all_foods[CARROTS], 400)).cooked_mass_ground == "as weighed in: not heated"


def test_the_scale_overrules_every_estimate(all_foods: Foods) -> None:
    result = cooked_dish("roasted", weighed(all_foods["05062"], 1000), cooked_mass_g=710)
    assert result.cooked_mass_g == 710
    assert result.cooked_mass_ground == "weighed"
    assert result.cooked_mass_source is CookedMassSource.WEIGHED_POT
    assert result.water_change_g == pytest.approx(-290)
    assert result.totals["WATER_G"].amount == pytest.approx(738.6 - 290, abs=1)


def test_parts_weigh_what_their_yields_say(all_foods: Foods) -> None:
    result = cooked_dish("roasted", weighed(all_foods["05062"], 1000, name="breast"), weighed(all_foods[OIL], 20))
    assert result.cooked_mass_g == pytest.approx(0.67 * 1000 + 20)  # row cnf-842; oil stays with the food
    assert result.cooked_mass_source is CookedMassSource.YIELD
    assert "breast x 0.67" in result.cooked_mass_ground


def test_an_absorbed_yield_holds_its_water_already(all_foods: Foods) -> None:
    with_water = cooked_dish("absorbed", weighed(all_foods[RICE], 400), weighed(all_foods[WATER], 900))
    without = cooked_dish("absorbed", weighed(all_foods[RICE], 400))
    assert with_water.cooked_mass_g == without.cooked_mass_g == pytest.approx(1120)  # row sr28-20044-20045: 280
    assert "water taken up" in with_water.cooked_mass_ground
    assert with_water.water_change_g == pytest.approx(1120 - 1300)
    assert without.water_change_g == pytest.approx(1120 - 400)


def test_no_pot_holds_more_than_went_in(all_foods: Foods) -> None:
    little = cooked_dish("absorbed", weighed(all_foods[RICE], 400), weighed(all_foods[WATER], 500))
    assert little.cooked_mass_g == 900
    assert "all that went in" in little.cooked_mass_ground
    in_stock = cooked_dish("absorbed", weighed(all_foods[RICE], 300), weighed(all_foods[STOCK], 400))
    assert in_stock.cooked_mass_g == 700


def test_stock_is_taken_up_as_water_is_and_leaves_its_solids(all_foods: Foods) -> None:
    stock = all_foods[STOCK]
    solids = 1 - (stock.composition["WATER_G"].amount or 0) / 100
    result = cooked_dish("absorbed", weighed(all_foods[RICE], 400), weighed(stock, 1000))
    assert result.cooked_mass_g == pytest.approx(1120 + 1000 * solids)


def test_one_pot_is_a_balance_of_all_that_went_in(all_foods: Foods) -> None:
    parts = [
        weighed(all_foods[code], mass) for code, mass in ((CARROTS, 500), (TOMATOES, 400), (OIL, 30), (WATER, 300))
    ]
    result = cooked_dish("simmered 30 min", *parts)
    assert result.cooked_mass_source is CookedMassSource.STEAM
    assert result.raw_mass_g == 1230
    # 12 % an hour uncovered, our own judgement in evaporation.csv.
    assert result.cooked_mass_g == pytest.approx(1230 * (1 - 0.06))
    assert "steam" in result.cooked_mass_ground
    covered = cooked_dish("simmered 30 min, lid on", *parts)
    assert result.cooked_mass_g < covered.cooked_mass_g < 1230
    longer = cooked_dish("simmered 90 min", *parts)
    assert longer.cooked_mass_g < result.cooked_mass_g


def test_fat_poured_off_leaves_the_pot(all_foods: Foods) -> None:
    parts = [weighed(all_foods[BEEF_20], 500), weighed(all_foods[TOMATOES], 400)]
    kept = cooked_dish("browned, then simmered 30 min", *parts)
    drained = cooked_dish("browned, then simmered 30 min", *parts, fat="drained")
    assert kept.cooked_mass_g - drained.cooked_mass_g == pytest.approx(45)
    assert kept.totals["FAT_G"].amount - drained.totals["FAT_G"].amount == pytest.approx(45)
    assert kept.totals["WATER_G"].amount == pytest.approx(drained.totals["WATER_G"].amount)
    assert "45 g fat poured off" in drained.cooked_mass_ground


def test_water_that_is_poured_off_is_not_in_the_dish(all_foods: Foods) -> None:
    result = cooked_dish("boiled and drained", weighed(all_foods["20420"], 500), weighed(all_foods[WATER], 4000))
    assert result.raw_mass_g == 4500
    assert result.cooked_mass_g == pytest.approx(5 * 237.9)  # row sr28-20120-20121
    water = 500 * 0.099 + 5 * 137.9
    assert result.totals["WATER_G"].amount == pytest.approx(water, abs=1)


def test_boiled_without_listed_water_weighs_what_the_yield_says(all_foods: Foods) -> None:
    potatoes = cooked_dish("boiled 20 min", weighed(all_foods["11352"], 1000))
    assert potatoes.cooked_mass_g == pytest.approx(1000)  # row bognar-potatoes-boiled: 100
    soup = cooked_dish("boiled 20 min", weighed(all_foods["11352"], 1000), weighed(all_foods[WATER], 500))
    assert soup.cooked_mass_source is CookedMassSource.STEAM


def test_lentils_without_listed_water_are_not_left_dry(all_foods: Foods) -> None:
    result = cooked_dish("simmered 30 min", weighed(all_foods["16069"], 300), weighed(all_foods[CARROTS], 100))
    assert result.cooked_mass_g == pytest.approx(3 * 273 + 100)  # row bognar-lentils-boiled
    assert "water not listed" in result.cooked_mass_ground


def test_what_is_left_is_never_less_than_the_dry_matter(all_foods: Foods) -> None:
    # Dehydrated onion flakes, cooked as if they were fresh: their row would leave 35 g of 100.
    flakes = all_foods["11284"]
    result = cooked_dish("caramelised", weighed(flakes, 100))
    assert result.cooked_mass_g == pytest.approx(100 - (flakes.composition["WATER_G"].amount or 0))
    assert result.totals["WATER_G"].amount == pytest.approx(0.0, abs=1e-9)
    assert "dry matter" in result.cooked_mass_ground


# --- what is told -----------------------------------------------------------------------------------------------------


def test_words_that_no_table_knows_are_told_and_it_goes_on(all_foods: Foods) -> None:
    result = cooked_dish("enchanted", weighed(all_foods[CARROTS], 400))
    assert codes(result) == ["unknown-cooking"]
    assert result.diagnostics[0].severity is Severity.WARNING
    assert "enchanted" in result.diagnostics[0].message
    assert result.cooked_mass_g == 400


def test_contradictions_are_told_with_what_counts(all_foods: Foods) -> None:
    result = cooked_dish("all water absorbed, drained", weighed(all_foods[RICE], 400), weighed(all_foods[WATER], 900))
    assert "contradictory-cooking" in codes(result)
    message = next(d.message for d in result.diagnostics if d.code == "contradictory-cooking")
    assert "'all water absorbed' counts" in message
    assert result.cooked_mass_g == pytest.approx(1120)


def test_an_unknown_mass_leaves_the_rest_counted(all_foods: Foods) -> None:
    result = cooked_dish("simmered 30 min", weighed(all_foods[CARROTS], 400), weighed(all_foods[TOMATOES], None))
    assert result.raw_mass_g == 400
    assert not result.totals["PROCNT_G"].complete
    heavy = cooked_dish(
        "simmered", weighed(all_foods[CARROTS], 400), weighed(all_foods[TOMATOES], None), cooked_mass_g=900
    )
    assert codes(heavy) == []  # more than went in, but not all of it is known


def test_what_does_not_count_has_no_mass(all_foods: Foods) -> None:
    salt = weighed(all_foods["02047"], 5, status=LineStatus.NOT_COUNTED)
    result = cooked_dish("simmered 30 min", weighed(all_foods[CARROTS], 400), salt)
    assert result.raw_mass_g == 400


def test_nothing_in_the_pot(all_foods: Foods) -> None:
    result = cook(component("simmered 30 min"), [], 1)
    assert result.cooked_mass_g == 0
    assert all(total.amount == 0 for total in result.totals.values())
    assert all_foods


# --- balances ---------------------------------------------------------------------------------------------------------

POTS = st.lists(
    st.tuples(
        st.sampled_from(
            [RICE, WATER, OIL, BEEF_20, TOMATOES, CARROTS, STOCK, "16069", "05062", "01123", "14096", "10123"]
        ),
        st.floats(min_value=1, max_value=3000),
    ),
    min_size=1,
    max_size=6,
)
WORDS = st.sampled_from(
    [
        "",
        "raw",
        "boiled",
        "boiled and drained",
        "absorbed",
        "risotto",
        "simmered 4 h",
        "browned, then simmered 35 min",
        "roasted",
        "pan-fried",
        "steamed",
        "caramelised",
        "braised 3 h",
        "boiled, then roasted",
        "pressure cooked",
        "microwaved",
    ]
)


def _ingredients(foods: Foods, pot: list[tuple[str, float]]) -> list[WeighedIngredient]:
    return [weighed(foods[code], mass_g) for code, mass_g in pot]


@settings(max_examples=150)
@given(pot=POTS, words=WORDS, fat=st.sampled_from(["kept", "drained"]))
def test_mass_and_water_balance(all_foods: Foods, pot: list[tuple[str, float]], words: str, fat: str) -> None:
    result = cooked_dish(words, *_ingredients(all_foods, pot), fat=fat)
    went_in, lost = in_dish_g(result), lost_g(result)
    # What is there is what went in, and the water that came or went, less fat and alcohol that left.
    assert result.cooked_mass_g == pytest.approx(went_in + result.water_change_g - lost, abs=1e-6)
    # Water is what went in and its change, and never less than none.
    water_in = sum(c.amounts["WATER_G"] or 0.0 for c in result.contributions)
    water = result.totals["WATER_G"].amount
    assert water == pytest.approx(water_in + result.water_change_g, abs=1e-6)
    assert water >= 0
    assert 0 <= water <= result.cooked_mass_g + 1e-6
    # All that is known adds up to the mass, but for what tables round and leave out.
    assert result.cooked_mass_g >= went_in - lost - water_in - 1e-6


@settings(max_examples=60)
@given(pot=POTS, words=WORDS, k=st.integers(min_value=2, max_value=9))
def test_a_larger_pot_scales(all_foods: Foods, pot: list[tuple[str, float]], words: str, k: int) -> None:
    once = cooked_dish(words, *_ingredients(all_foods, pot))
    scaled = cooked_dish(words, *_ingredients(all_foods, [(code, k * mass_g) for code, mass_g in pot]))
    assert scaled.cooked_mass_g == pytest.approx(k * once.cooked_mass_g, rel=1e-9)
    for key in FOOD_COMPONENTS:
        assert scaled.totals[key].amount == pytest.approx(k * once.totals[key].amount, rel=1e-9, abs=1e-9)


@settings(max_examples=60)
@given(pot=POTS, words=WORDS, weight=st.floats(min_value=1, max_value=20000))
def test_a_weighed_pot_keeps_its_weight_and_its_macros(
    all_foods: Foods, pot: list[tuple[str, float]], words: str, weight: float
) -> None:
    estimated = cooked_dish(words, *_ingredients(all_foods, pot))
    measured = cooked_dish(words, *_ingredients(all_foods, pot), cooked_mass_g=weight)
    assert measured.cooked_mass_g == weight
    assert measured.totals["WATER_G"].amount >= 0
    for key in ("PROCNT_G", "FAT_G", "CHOCDF_G", "ENERC_KCAL"):
        assert measured.totals[key] == estimated.totals[key]
