"""What cooking does to one line: retention, alcohol, fat poured off, own yield, state."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.calculation.composition import contribution
from mealcalc.calculation.line_cooking import (
    alcohol_left,
    cook_line,
    cooked,
    is_liquid,
    is_water,
    state_of,
)
from mealcalc.records import Contribution, Food, FoodState, LineCooking, LineSettings, WeighedIngredient
from mealcalc.values import MISSING, amount_of
from tests.calculation.kitchen import plan, weighed

Foods = dict[str, Food]
BEEF_20 = "23572"  # minced beef, 20 % fat, raw
RICE = "20444"  # white rice, raw
WINE = "14096"  # red wine
TAP_WATER = "14411"


def line(foods: Foods, code: str, words: str, mass_g: float = 100.0, *, fat: str = "kept") -> Contribution:
    """The contribution of a line after cooking."""
    ingredient = weighed(foods[code], mass_g)
    return cooked(contribution(ingredient), cook_line(ingredient, plan(words, fat=fat)))


# --- nothing to do ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("words", ["", "raw", "soaked overnight", "enchanted"])
def test_without_heat_nothing_changes(all_foods: Foods, words: str) -> None:
    result = line(all_foods, BEEF_20, words)
    assert result.cooking == LineCooking()
    assert result.amounts == result.raw


def test_a_line_without_food_or_mass_is_left_alone(all_foods: Foods) -> None:
    assert cook_line(weighed(None), plan("boiled")) == LineCooking()
    assert cook_line(weighed(all_foods[RICE], None), plan("boiled")) == LineCooking()


# --- state ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "state"),
    [
        ("20444", FoodState.DRY),  # rice, raw
        ("16069", FoodState.DRY),  # lentils, raw
        ("09298", FoodState.DRY),  # raisins
        ("20045", FoodState.COOKED),  # rice, cooked
        ("16426", FoodState.RAW),  # tofu, raw
        ("05064", FoodState.COOKED),  # chicken breast, cooked, roasted
        ("11531", FoodState.CANNED),  # tomatoes
        ("11312", FoodState.FROZEN),  # peas
        ("17264", FoodState.RAW),  # lamb, imported, frozen: once thawed it is raw
        ("20035", FoodState.DRY),  # quinoa, uncooked
        ("05062", FoodState.RAW),
    ],
)
def test_a_food_says_its_state(all_foods: Foods, code: str, state: FoodState) -> None:
    assert state_of(weighed(all_foods[code])) is state


def test_the_default_food_and_the_line_say_it_better(all_foods: Foods) -> None:
    assert state_of(weighed(all_foods["05062"], food_state="cooked")) is FoodState.COOKED
    assert state_of(weighed(all_foods["05062"], food_state="drained")) is FoodState.CANNED
    ingredient = weighed(all_foods["05062"])
    frozen = replace(
        ingredient, matched=replace(ingredient.matched, line=replace(ingredient.matched.line, state=FoodState.FROZEN))
    )
    assert state_of(frozen) is FoodState.FROZEN


@pytest.mark.parametrize("code", ["14411", "14429", "06172", "01077", "14096", "12118", "11540"])
def test_liquids(all_foods: Foods, code: str) -> None:
    assert is_liquid(all_foods[code]), all_foods[code].description


@pytest.mark.parametrize("code", ["11529", "11531", "01091", "04053", "20444", "01116", "06076"])
def test_no_liquids_to_cook_in(all_foods: Foods, code: str) -> None:
    assert not is_liquid(all_foods[code]), all_foods[code].description
    assert not is_water(all_foods[code])


# --- retention --------------------------------------------------------------------------------------------------------


def test_vitamins_and_minerals_go_by_the_row_and_macros_stay(all_foods: Foods) -> None:
    # USDA retention, release 6, code 3774, vegetables boiled in little water, drained: vitamin C 80, potassium 90.
    result = line(all_foods, "11090", "boiled and drained")
    assert result.amounts["VITC_MG"] == pytest.approx(0.80 * 89.2)
    assert result.amounts["K_MG"] == pytest.approx(0.90 * 316)
    for key in ("PROCNT_G", "FAT_G", "CHOCDF_G", "FIBTG_G", "ENERC_KCAL", "WATER_G"):
        assert result.amounts[key] == result.raw[key]
    assert "retention 3774" in result.cooking.retention_ground


def test_what_has_no_factor_of_its_own_follows_its_kin(all_foods: Foods) -> None:
    shares = line(all_foods, "11090", "boiled and drained").cooking.retention
    assert shares["FOLDFE_UG"] == shares["FOL_UG"] < 1
    assert shares["RETOL_UG"] == shares["VITA_RAE_UG"]


def test_food_cooked_before_loses_no_more_unless_reheated(all_foods: Foods) -> None:
    simmered = line(all_foods, "11531", "simmered 20 min")
    assert simmered.cooking.retention == {}
    assert "cooked already" in simmered.cooking.retention_ground
    for words in ("reheated", "warmed through"):
        result = line(all_foods, "11125", words)  # carrots, cooked; code 3468: vitamin C 95
        assert result.amounts["VITC_MG"] == pytest.approx(0.95 * 3.6)
        assert "retention 3468" in result.cooking.retention_ground


def test_where_the_table_says_nothing_that_is_said(all_foods: Foods) -> None:
    result = line(all_foods, "04053", "pan-fried")  # olive oil
    assert result.cooking.retention == {}
    assert "counted in full" in result.cooking.retention_ground


def test_unknown_stays_unknown(all_foods: Foods) -> None:
    food = all_foods["11090"]
    lacking = replace(food, composition={**food.composition, "VITC_MG": MISSING, "ENERC_KCAL": MISSING})
    ingredient = weighed(lacking)
    result = cooked(contribution(ingredient), cook_line(ingredient, plan("boiled and drained")))
    assert result.amounts["VITC_MG"] is None
    assert result.amounts["ENERC_KCAL"] is None


# --- alcohol ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("method", "minutes", "share"),
    [
        # USDA retention, release 6, codes 5002 to 5009.
        ("simmered", 15, 0.40),
        ("simmered", 30, 0.35),
        ("simmered", 60, 0.25),
        ("baked", 90, 0.20),
        ("baked", 120, 0.10),
        ("simmered", 150, 0.05),
        ("flamed", None, 0.75),
        ("stirred_in_hot", None, 0.85),
        ("simmered", 400, 0.05),
        ("simmered", None, 0.35),
        ("braised", 60, 0.25),
        ("baked", 25, 0.35),  # not the row of drinks that are not stirred in, though it has this time
    ],
)
def test_alcohol_left_by_method_and_time(method: str, minutes: float | None, share: float) -> None:
    assert alcohol_left(method, minutes).share == share


def test_alcohol_takes_its_energy_along(all_foods: Foods) -> None:
    result = line(all_foods, WINE, "simmered 1 h")
    before, after = result.raw["ALC_G"], result.amounts["ALC_G"]
    assert before is not None
    assert after == pytest.approx(0.25 * before)
    kcal, raw_kcal = result.amounts["ENERC_KCAL"], result.raw["ENERC_KCAL"]
    assert kcal is not None
    assert raw_kcal is not None
    assert raw_kcal - kcal == pytest.approx(0.75 * before * 6.93)
    assert "5006" in result.cooking.retention_ground


def test_a_time_that_is_not_said_is_said_to_be_taken(all_foods: Foods) -> None:
    assert "30 min taken" in line(all_foods, WINE, "simmered").cooking.retention_ground
    assert "taken" not in line(all_foods, WINE, "simmered 1 h").cooking.retention_ground


def test_alcohol_goes_by_overnight_too(all_foods: Foods) -> None:
    result = line(all_foods, WINE, "stored overnight")
    assert result.cooking.retention == {"ALC_G": 0.70}
    assert line(all_foods, WINE, "raw").cooking.retention == {}


# --- fat poured off ---------------------------------------------------------------------------------------------------


def test_drained_mince_loses_the_fat_of_its_row(all_foods: Foods) -> None:
    result = line(all_foods, BEEF_20, "browned", 500, fat="drained")
    assert result.cooking.fat_lost_g == pytest.approx(5 * 9.0)  # row sr28-23572-23575: -9.0 g per 100 g raw
    assert "sr28-23572-23575" in result.cooking.fat_ground
    assert result.amounts["FAT_G"] == pytest.approx(100.0 - 45.0)
    for key in ("FASAT_G", "FAMS_G", "FAPU_G"):
        raw = result.raw[key]
        assert raw is not None
        assert result.amounts[key] == pytest.approx(raw * 0.55)
    assert result.amounts["PROCNT_G"] == result.raw["PROCNT_G"]


def test_drained_fat_takes_its_energy_by_the_factor_of_the_food(all_foods: Foods) -> None:
    result = line(all_foods, BEEF_20, "browned", 500, fat="drained")
    factor = all_foods[BEEF_20].energy_factors.fat
    for key, per_kcal in (("ENERC_KCAL", 1.0), ("ENERC_KJ", 4.184)):
        before, after = result.raw[key], result.amounts[key]
        assert before is not None
        assert after is not None
        assert before - after == pytest.approx(45.0 * (factor or 9.02) * per_kcal)


def test_cholesterol_has_its_own_retention(all_foods: Foods) -> None:
    result = line(all_foods, BEEF_20, "browned", fat="drained")
    # 80 % of 71 mg stay although 45 % of the fat is gone (row sr28-23572-23575).
    assert result.amounts["CHOLE_MG"] == pytest.approx(0.80 * 71)
    assert "cholesterol x 0.80" in result.cooking.fat_ground
    kept = line(all_foods, BEEF_20, "browned")
    assert kept.amounts["CHOLE_MG"] == kept.raw["CHOLE_MG"]


def test_kept_fat_stays_in_composition_and_mass(all_foods: Foods) -> None:
    kept, drained = line(all_foods, BEEF_20, "browned"), line(all_foods, BEEF_20, "browned", fat="drained")
    assert kept.cooking.fat_lost_g == 0
    assert kept.amounts["FAT_G"] == kept.raw["FAT_G"]
    assert kept.cooking.yield_share is not None
    assert drained.cooking.yield_share is not None
    assert kept.cooking.yield_share - drained.cooking.yield_share == pytest.approx(0.090)
    assert "9.0 g fat per 100 g runs out and stays" in kept.cooking.yield_ground


def test_mince_loses_its_fat_in_the_pan_before_the_sauce_is_there(all_foods: Foods) -> None:
    result = line(all_foods, BEEF_20, "browned, then simmered 40 min", fat="drained")
    assert "sr28-23572-23575" in result.cooking.fat_ground


def test_frying_fat_taken_up_is_not_counted_twice(all_foods: Foods) -> None:
    # Eggs fried: 92.3 g per 100 g raw, of which 4.2 g is frying fat (row sr28-01123-01128).
    result = line(all_foods, "01123", "fried")
    assert result.cooking.yield_share == pytest.approx(0.923 - 0.042)
    assert "frying fat" in result.cooking.yield_ground


def test_apparent_gains_of_fat_without_frying_are_noise(all_foods: Foods) -> None:
    lean = line(all_foods, "23477", "browned")  # minced beef, 3 % fat: +1.1 g in its row
    assert lean.cooking.yield_share == pytest.approx(0.746)


def test_a_fatty_meat_without_a_known_loss_is_told(all_foods: Foods) -> None:
    result = line(all_foods, "15046", "baked", fat="drained")  # mackerel
    assert [d.code for d in result.cooking.diagnostics] == ["no-fat-change"]
    assert result.amounts["FAT_G"] == result.raw["FAT_G"]
    lean = line(all_foods, "05062", "roasted", fat="drained")
    assert [d.code for d in lean.cooking.diagnostics] == []


def test_other_foods_of_a_drained_part_keep_their_fat(all_foods: Foods) -> None:
    for code in ("04053", "11282", "01009"):
        result = line(all_foods, code, "browned", fat="drained")
        assert result.amounts["FAT_G"] == result.raw["FAT_G"]
        assert "no-fat-change" not in [d.code for d in result.cooking.diagnostics]


def test_more_fat_than_there_is_cannot_be_lost(all_foods: Foods) -> None:
    ingredient = weighed(all_foods["23557"], fat_percent=20)  # 5 g fat, told to be 20 %
    cooking = cook_line(ingredient, plan("browned", fat="drained"))
    assert [d.code for d in cooking.diagnostics] == ["fat-above-present"]
    assert cooking.fat_lost_g == pytest.approx(5.0)
    result = cooked(contribution(ingredient), cooking)
    assert result.amounts["FAT_G"] == 0
    assert (result.amounts["ENERC_KCAL"] or 0) > 0


# --- own yield --------------------------------------------------------------------------------------------------------


def test_in_one_pot_only_what_swells_has_a_yield(all_foods: Foods) -> None:
    assert line(all_foods, "11124", "simmered 20 min").cooking.yield_share is None
    assert line(all_foods, RICE, "simmered 20 min").cooking.yield_share is not None
    assert line(all_foods, "20081", "simmered 20 min").cooking.yield_share is None  # flour


@pytest.mark.parametrize(
    ("code", "words", "share"),
    [
        ("04053", "pan-fried", 1.0),  # oil
        ("02047", "roasted", 1.0),  # salt
        ("11531", "roasted", 1.0),  # canned tomatoes
        ("05062", "roasted", 0.67),
        ("11352", "boiled and drained", 1.00),
    ],
)
def test_yields_of_parts(all_foods: Foods, code: str, words: str, share: float) -> None:
    assert line(all_foods, code, words).cooking.yield_share == pytest.approx(share)


def test_a_part_without_a_yield_keeps_its_weight_and_that_is_told(all_foods: Foods) -> None:
    result = line(all_foods, "08120", "baked")  # rolled oats
    assert result.cooking.yield_share == 1.0
    assert "NO YIELD KNOWN" in result.cooking.yield_ground
    assert [d.code for d in result.cooking.diagnostics] == ["no-yield"]


def test_water_is_poured_off_or_stays(all_foods: Foods) -> None:
    drained = line(all_foods, TAP_WATER, "boiled and drained", 1000)
    assert drained.cooking.poured_off
    assert set(drained.amounts.values()) == {0.0}
    kept = line(all_foods, TAP_WATER, "simmered", 1000)
    assert kept.amounts == kept.raw


def test_poaching_liquid_is_left_out_and_told(all_foods: Foods) -> None:
    stock = line(all_foods, "06172", "poached", 500)
    assert stock.cooking.poured_off
    assert [d.code for d in stock.cooking.diagnostics] == ["poaching-liquid"]
    assert [d.code for d in line(all_foods, TAP_WATER, "poached").cooking.diagnostics] == []
    assert not line(all_foods, "06172", "poached in the sauce", 500).cooking.poured_off
    # Milk of a sauce goes with the pasta, not with its water.
    assert not line(all_foods, "01077", "boiled, drained, then baked", 500).cooking.poured_off
    ingredient = weighed(all_foods["06172"], 500)
    eaten = replace(ingredient.matched.line, settings=LineSettings(used_share=1.0))
    said = replace(ingredient, matched=replace(ingredient.matched, line=eaten))
    assert not cook_line(said, plan("poached")).poured_off


def test_frying_fat_poured_off_is_told_to_be_counted(all_foods: Foods) -> None:
    assert [d.code for d in line(all_foods, "04053", "browned", fat="drained").cooking.diagnostics] == [
        "frying-fat-counted"
    ]
    assert line(all_foods, "04053", "browned").cooking.diagnostics == ()
    share = replace(weighed(all_foods["04053"]), used_share=0.5)
    assert cook_line(share, plan("browned", fat="drained")).diagnostics == ()


# --- properties -------------------------------------------------------------------------------------------------------

COOKED_WORDS = (
    "roasted",
    "browned",
    "simmered 1 h",
    "boiled and drained",
    "absorbed",
    "pan-fried",
    "risotto",
    "steamed",
)


@settings(max_examples=60)
@given(
    code=st.sampled_from([BEEF_20, RICE, WINE, "11090", "01123", "05062", "13803", "16056", "15236"]),
    words=st.sampled_from(COOKED_WORDS),
    fat=st.sampled_from(["kept", "drained"]),
    mass_g=st.floats(min_value=0.1, max_value=5000),
)
def test_cooking_takes_away_and_never_adds(all_foods: Foods, code: str, words: str, fat: str, mass_g: float) -> None:
    result = line(all_foods, code, words, mass_g, fat=fat)
    for key, before in result.raw.items():
        after = result.amounts[key]
        if before is None:
            assert after is None
        else:
            assert after is not None
            assert -1e-9 <= after <= before * (1 + 1e-9)
    assert 0 <= result.cooking.fat_lost_g <= (result.raw["FAT_G"] or 0) * (1 + 1e-9)
    assert result.cooking.yield_share is None or result.cooking.yield_share >= 0


def test_a_share_that_is_eaten_scales_all(all_foods: Foods) -> None:
    whole = weighed(all_foods[BEEF_20], 400)
    half = WeighedIngredient(whole.matched, 400, used_share=0.5)
    cooking = cook_line(half, plan("browned", fat="drained"))
    assert cooking.fat_lost_g == pytest.approx(200 / 100 * 9.0)
    assert amount_of(all_foods[BEEF_20].composition, "FAT_G") == 20
