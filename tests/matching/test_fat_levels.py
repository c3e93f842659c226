"""Foods published at several fat levels: the published one, a blend, or the nearest food."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.diagnostics import Severity
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.fat_levels import FatChoice, at_fat_level, blend, mix_of, series_by_name, series_of, stated_fat
from mealcalc.matching.matcher import Matcher
from mealcalc.matching.query import build_query
from mealcalc.matching.spelling import Speller
from mealcalc.records import BlendPart, Food, FoodState, LineStatus, MatchedFood
from mealcalc.reference.tables import FatLevel
from mealcalc.values import LOGICAL_ZERO, MISSING, Value, ValueStatus, amount_of
from tests.matching.shelf import food, line

LEVELS = tuple(FatLevel("mince", "beef", "raw", code, fat, "") for code, fat in (("a", 5.0), ("b", 10.0), ("c", 20.0)))


def stated(name: str, region: str, species: str | None, **fields: Any) -> float | None:
    found = stated_fat(build_query(line(name, **fields), region, Speller(frozenset(), frozenset)), species)
    return None if found is None else found[0]


# --- shares -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fat_percent", "mix"),
    [
        (5.0, (("a", 1.0),)),
        (10.2, (("b", 1.0),)),  # printed levels are whole or half percents
        (12.5, (("b", 0.75), ("c", 0.25))),
        (6.0, (("a", 0.8), ("b", 0.2))),
        (4.0, ()),
        (21.0, ()),
    ],
)
def test_mix_of(fat_percent: float, mix: tuple[tuple[str, float], ...]) -> None:
    found = mix_of(LEVELS, fat_percent)
    assert [code for code, _ in found] == [code for code, _ in mix]
    assert [share for _, share in found] == pytest.approx([share for _, share in mix])


def test_no_series_no_mix() -> None:
    assert mix_of((), 10.0) == ()


@given(
    st.sampled_from(sorted(series_by_name())).flatmap(
        lambda name: st.tuples(
            st.just(series_by_name()[name]),
            st.floats(series_by_name()[name][0].fat_percent, series_by_name()[name][-1].fat_percent),
        )
    )
)
def test_shares_sum_to_one_and_give_the_stated_fat(case: tuple[tuple[FatLevel, ...], float]) -> None:
    levels, fat_percent = case
    mix = mix_of(levels, fat_percent)
    fat_of = {level.code: level.fat_percent for level in levels}
    assert sum(share for _, share in mix) == pytest.approx(1.0)
    assert all(0.0 <= share <= 1.0 for _, share in mix)
    assert sum(share * fat_of[code] for code, share in mix) == pytest.approx(fat_percent, abs=0.25)


def test_a_blend_in_full() -> None:
    lean = Food(
        "sr28", "e", "a", "Mince, lean", "1300", {"FAT_G": Value(10.0), "FIBTG_G": LOGICAL_ZERO, "NA_MG": MISSING}
    )
    fat = Food(
        "sr28", "e", "b", "Mince, fat", "1300", {"FAT_G": Value(20.0), "FIBTG_G": LOGICAL_ZERO, "NA_MG": Value(70.0)}
    )
    mixed, parts = blend(lean, 0.75, fat, 0.25)
    assert (mixed.code, mixed.description) == ("a", "Mince, lean")
    assert mixed.composition == {
        "FAT_G": Value(12.5),
        "FIBTG_G": Value(0.0, ValueStatus.LOGICAL_ZERO),
        "NA_MG": MISSING,  # what one of the two lacks, the blend lacks
    }
    assert parts == (BlendPart("sr28", "a", "Mince, lean", 0.75), BlendPart("sr28", "b", "Mince, fat", 0.25))


def test_the_code_of_a_blend_is_that_of_the_larger_share() -> None:
    assert blend(food("a", "A"), 0.4, food("b", "B"), 0.6)[0].code == "b"


def test_a_level_that_the_database_lacks_is_passed_over() -> None:
    plain = food("p", "Mince", FAT_G=8.0)
    choice = FatChoice(12.0, "as the line states", (("a", 0.6), ("b", 0.4)), ("a", "b"))
    near = food("b", "Mince, fat", FAT_G=15.0)
    assert at_fat_level(plain, choice, {("sr28", "b"): near}) == (near, ())
    assert at_fat_level(plain, choice, {}) == (plain, ())


def test_a_blend_of_raw_food_holds_the_stated_fat_whatever_the_labels_say() -> None:
    # Turkey labelled 7 and 15 % was analysed to hold 8.34 and 12.54 g of fat (USDA SR28: 05665, 05668).
    lean, fat = food("05665", "Turkey", FAT_G=8.34), food("05668", "Turkey", FAT_G=12.54)
    choice = FatChoice(10.0, "as the line states", (("05665", 0.625), ("05668", 0.375)), ())
    mixed, parts = at_fat_level(lean, choice, {("sr28", "05665"): lean, ("sr28", "05668"): fat})
    assert mixed.composition["FAT_G"].amount == pytest.approx(10.0)
    assert parts[1].share == pytest.approx((10 - 8.34) / (12.54 - 8.34), abs=1e-4)


def test_cooked_food_goes_by_the_label_which_says_what_the_raw_meat_was() -> None:
    lean, fat = food("23565", "Crumbles", FAT_G=12.04), food("23570", "Crumbles", FAT_G=15.3)
    choice = FatChoice(12.5, "as the line states", (("23565", 0.5), ("23570", 0.5)), ())
    mixed, _ = at_fat_level(lean, choice, {("sr28", "23565"): lean, ("sr28", "23570"): fat})
    assert mixed.composition["FAT_G"].amount == pytest.approx(13.67)


# --- words of the trade -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("region", "fat_percent"), [("us", 5.0), ("ca", 10.0), ("uk", 5.0), ("au", 5.0), ("eu", 5.0)])
def test_extra_lean_beef_by_region(region: str, fat_percent: float) -> None:
    # The ground of each figure stands in lean_words.csv.
    assert stated("extra lean beef mince", region, "beef") == fat_percent


def test_the_longer_word_wins() -> None:
    assert stated("extra lean mince", "uk", "beef") != stated("lean mince", "uk", "beef")


def test_a_number_wins_over_a_word() -> None:
    assert stated("lean mince", "uk", "beef", fat_percent=7.0) == 7.0


def test_no_word_no_fat() -> None:
    assert stated("mince", "uk", "beef") is None


def test_lean_says_no_number_of_a_food_without_fat_levels() -> None:
    assert stated("lean chuck", "us", None) is None
    assert stated("chuck", "us", None, fat_percent=12.0) == 12.0


# --- series -----------------------------------------------------------------------------------------------------------


def test_a_series_by_name_and_state() -> None:
    assert [level.code for level in series_of((), "turkey mince", "raw")] == ["05662", "05665", "05668"]
    assert series_of((), "turkey mince", "cooked") == ()
    assert series_of(("nothing", "05666"), "turkey mince", "cooked")[0].state == "cooked"


# --- on the real table ------------------------------------------------------------------------------------------------


def match(database: FoodDatabase, name: str, region: str = "uk", **fields: Any) -> MatchedFood:
    return Matcher(database, region).match([line(name, **fields)])[0]


@pytest.mark.parametrize(
    ("name", "fat_percent", "code"),
    [
        ("beef mince", 5.0, "23557"),
        ("ground beef", 20.0, "23572"),
        ("beef mince", 2.0, "23477"),  # below the leanest, near enough
        ("turkey mince", 7.0, "05665"),
        ("pork mince", 4.0, "10973"),
        ("milk", 2.0, "01079"),
        ("milk", 0.0, "01085"),
    ],
)
def test_a_published_level(database: FoodDatabase, name: str, fat_percent: float, code: str) -> None:
    found = match(database, name, fat_percent=fat_percent)
    assert found.food is not None
    assert (found.food.code, found.blend, found.status) == (code, (), LineStatus.MATCHED)
    assert found.diagnostics == ()


@pytest.mark.parametrize(
    ("name", "fat_percent", "state", "lower", "upper"),
    [
        ("beef mince", 12.0, None, "23562", "23567"),
        ("beef mince", 12.0, FoodState.COOKED, "23565", "23570"),
        ("turkey mince", 10.0, None, "05665", "05668"),
        ("turkey mince", 10.0, FoodState.COOKED, "05666", "05669"),
        ("pork mince", 10.0, None, "10973", "10972"),
        ("milk", 1.5, None, "01082", "01079"),
    ],
)
def test_between_two_levels(
    database: FoodDatabase, name: str, fat_percent: float, state: FoodState | None, lower: str, upper: str
) -> None:
    found = match(database, name, fat_percent=fat_percent, state=state)
    assert [part.code for part in found.blend] == [lower, upper]
    assert sum(part.share for part in found.blend) == pytest.approx(1.0, abs=1e-4)
    assert found.status is LineStatus.MATCHED
    assert [d.code for d in found.diagnostics] == ["blend"]
    assert lower in found.diagnostics[0].message
    parts = [database.food("sr28", code) for code in (lower, upper)]
    for key in ("FAT_G", "PROCNT_G", "ENERC_KCAL"):
        pure = [amount_of(one.composition, key) for one in parts if one is not None]
        mixed = sum(part.share * (amount or 0.0) for part, amount in zip(found.blend, pure, strict=True))
        assert found.food is not None
        # Shares are rounded to four digits for show; the composition is not.
        assert amount_of(found.food.composition, key) == pytest.approx(mixed, rel=1e-3)


def test_a_word_of_the_trade_chooses_the_level(database: FoodDatabase) -> None:
    assert match(database, "extra lean beef mince", "us").food.code == "23557"  # type: ignore[union-attr]
    assert match(database, "extra lean ground beef", "ca").food.code == "23562"  # type: ignore[union-attr]


def test_far_outside_the_levels_is_a_guess(database: FoodDatabase) -> None:
    found = match(database, "beef mince", fat_percent=50.0)
    assert (found.food.code, found.status) == ("13498", LineStatus.UNSURE)  # type: ignore[union-attr]
    assert [(d.code, d.severity) for d in found.diagnostics] == [
        ("fat-differs", Severity.WARNING),
        ("unsure-food", Severity.WARNING),
    ]


@pytest.mark.parametrize(
    ("name", "fat_percent", "low", "high"),
    [
        ("greek yoghurt", 0.0, 0.0, 1.0),
        ("greek yoghurt", 5.0, 3.0, 7.0),
        ("yoghurt", 0.1, 0.0, 1.0),
        ("cottage cheese", 4.0, 3.0, 5.0),
        ("cream", 18.0, 15.0, 22.0),
        ("lamb mince", 20.0, 16.0, 25.0),
    ],
)
def test_the_nearest_of_a_family(
    database: FoodDatabase, name: str, fat_percent: float, low: float, high: float
) -> None:
    found = match(database, name, fat_percent=fat_percent)
    assert found.food is not None
    fat_g = amount_of(found.food.composition, "FAT_G")
    assert fat_g is not None
    assert low <= fat_g <= high
    assert (found.blend, found.status) == ((), LineStatus.MATCHED)


def test_unlike_products_are_not_blended(database: FoodDatabase) -> None:
    """Strained and plain yoghurt differ in more than fat: no blend reaches the figure, a warning says so."""
    found = match(database, "greek yoghurt", fat_percent=15.0)
    assert found.blend == ()
    assert "fat-differs" in [d.code for d in found.diagnostics]
