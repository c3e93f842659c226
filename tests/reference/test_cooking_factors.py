"""Integrity of the factor tables of cooking: whole, closed, sourced, plausible."""

from collections import Counter

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import Food, FoodState
from mealcalc.reference.cooking_factors import (
    YieldBasis,
    YieldFactor,
    alcohol_retention,
    oil_uptake,
    retention_factors,
    student_t_97_5,
    yield_factors,
    yield_limit_for,
    yield_limits,
)
from mealcalc.reference.cooking_vocabulary import cooking_methods, food_groups
from mealcalc.reference.tables import rows_of

MARKS = {"read", "read (secondary)", "read (derived)", "memory", "judgement"}
RETENTION_KEYS = (
    "CA_MG FE_MG MG_MG P_MG K_MG NA_MG ZN_MG CU_MG VITC_MG THIA_MG RIBF_MG NIA_MG VITB6A_MG FOLFD_UG FOLAC_UG FOL_UG "
    "CHOLN_MG VITB12_UG VITA_IU VITA_RAE_UG ALC_G CARTB_UG CARTA_UG CRYPX_UG LYCPN_UG LUT+ZEA_UG"
).split()
TABLES = {
    "yield_factors.csv": 457,
    "retention_factors.csv": 270,
    "alcohol_retention.csv": 16,
    "oil_uptake.csv": 36,
    "yield_limits.csv": 49,
}


@pytest.mark.parametrize(("file_name", "count"), TABLES.items())
def test_every_row_is_there_and_has_a_mark(file_name: str, count: int) -> None:
    rows = [cells for _, cells in rows_of(file_name)]
    assert len(rows) == count
    assert {row["mark"] for row in rows} <= MARKS
    for row in rows:
        assert row.get("source") or row.get("ground"), row
        assert row["food_group"] in food_groups() if "food_group" in row else True
        assert {row["method"], *row.get("other_methods", "").split()} <= set(cooking_methods()), row


def test_marks_agree_with_sources() -> None:
    for row in yield_factors():
        assert ("second-hand" in row.source) == (row.mark == "read (secondary)"), row.row_id
        assert (row.source == "common practice, no source") == (row.mark == "memory"), row.row_id
        assert ("derived by this project" in row.source) == bool(row.derived_from), row.row_id
        assert not row.derived_from or row.mark == "read (derived)", row.row_id


def test_no_figure_stands_on_a_table_of_fao_alone() -> None:
    # Those have terms of use; what they quote from other publications is a fact of those.
    for row in yield_factors():
        if "FAO" in row.source:
            assert row.source.startswith(
                ("Bognár 2002", "Bergström 1994", "Matthews and Garrison 1975", "USDA food yields")
            )
        assert "uPulses" not in row.source
        assert "uFish" not in row.source


def test_yield_rows_are_named_once() -> None:
    assert [name for name, count in Counter(row.row_id for row in yield_factors()).items() if count > 1] == []


def test_each_yield_row_says_something_and_says_of_what() -> None:
    for row in yield_factors():
        assert row.yield_percent is not None, row.row_id
        assert row.state_after in {"cooked", "drained"}, row.row_id
        assert row.food, row.row_id
        assert row.edition, row.row_id
        assert (row.basis is YieldBasis.DRY) <= (row.state_before is FoodState.DRY), row.row_id


def test_yields_lie_within_what_their_food_allows() -> None:
    for row in yield_factors():
        assert row.yield_percent is not None
        if row.basis in (YieldBasis.EDIBLE_RAW, YieldBasis.DRY):
            limit = yield_limit_for(row.food_group, row.method, row.state_before)
            assert limit is not None, row.row_id
            assert limit.lowest_percent <= row.yield_percent <= limit.highest_percent, row.row_id
        elif row.basis is not YieldBasis.WITHOUT_COOKING_WATER:
            assert row.yield_percent <= 100, row.row_id


def test_changes_do_not_exceed_what_goes_in() -> None:
    for row in yield_factors():
        if row.fat_change_g is not None:
            assert row.fat_change_g >= -(row.fat_level_percent or 100), row.row_id
        if row.moisture_change_g is not None and row.basis is YieldBasis.EDIBLE_RAW:
            assert -90 < row.moisture_change_g <= 0.05, row.row_id


def test_fat_levels_belong_to_meat_that_differs_by_fat() -> None:
    assert {row.food.split()[0] for row in yield_factors() if row.fat_level_percent is not None} == {
        "minced",
        "beef",  # burgers
        "sausages",
        "restructured",
        "bacon",  # streaky
        "duck",  # with skin
    }


def test_cholesterol_has_its_own_retention_where_minced_meat_loses_fat() -> None:
    with_retention = [row for row in yield_factors() if row.cholesterol_retention_percent is not None]
    minced = {row.row_id for row in yield_factors() if row.food.startswith("minced") and row.derived_from}
    # Cholesterol of the free-range elk of SR28 is not published.
    assert {row.row_id for row in with_retention} == minced - {"sr28-35173-35172"}
    for row in with_retention:
        assert row.cholesterol_retention_percent is not None
        assert row.fat_change_g is not None
        assert row.fat_level_percent is not None
        fat_kept_percent = 100 + 100 * row.fat_change_g / row.fat_level_percent
        assert (row.cholesterol_retention_percent > 110) == ("% of the cholesterol" in row.note), row.row_id
        # Where a third of the fat and more runs out, most of the cholesterol stays.
        if fat_kept_percent < 67:
            assert fat_kept_percent + 15 < row.cholesterol_retention_percent, row.row_id


def test_derived_pairs_are_in_the_bundled_table(all_foods: dict[str, Food]) -> None:
    pairs = [pair for row in yield_factors() for pair in row.derived_from]
    assert len(pairs) == 159
    assert len(set(pairs)) == len(pairs)
    assert {code for pair in pairs for code in pair} <= set(all_foods)


def test_an_interval_of_the_mean_becomes_a_standard_deviation() -> None:
    # Student's t 0.975 as any table of it prints: 3.182, 2.571, 2.179, 1.977 for 3, 5, 12, 139 degrees of freedom.
    for degrees, quantile in ((3, 3.182), (5, 2.571), (12, 2.179), (139, 1.977)):
        assert student_t_97_5(degrees) == pytest.approx(quantile, rel=0.01)
    assert _row("usda-13806-braised").standard_deviation_percent == 3.0
    fries = _row("bognar-french-fries-deep-fried")  # 0.54 +/- 0.04, n = 13
    assert fries.standard_deviation_percent == pytest.approx(4 * 13**0.5 / 2.179, rel=0.01)
    assert _row("practice-carrots-roasted").standard_deviation_percent is None


def test_retention_has_all_codes_components_and_percentages() -> None:
    for code, row in retention_factors().items():
        assert code == row.code
        assert list(row.percent) == RETENTION_KEYS
        assert set(row.percent) <= set(FOOD_COMPONENTS)
        for key, percent in row.percent.items():
            assert 5 <= percent <= 100, (code, key)
            assert percent % 5 == 0, (code, key)


def test_retention_rows_are_told_apart_by_their_columns() -> None:
    told = Counter(
        (r.food_group, r.form, r.state_before, r.methods, r.coating, r.drippings, r.drained, r.minutes)
        for r in retention_factors().values()
    )
    assert [columns for columns, count in told.items() if count > 1] == []


def test_flags_of_retention_agree_with_the_words_of_the_source() -> None:
    for code, row in retention_factors().items():
        words = row.description
        if row.drippings is not None:
            assert row.drippings == ("WO/DR" not in words and "WO/ DR" not in words), code
        if row.method == "boiled_drained":
            assert row.drained is True, code
        if row.drained is False and row.food_group not in ("breakfast_cereal", "pulse", "rice"):
            assert "USED" in words or "NOT DRAINED" in words, code
        assert (row.method == "reheated") == ("REHEATED" in words), code


def test_alcohol_is_that_of_the_release_and_falls_with_time() -> None:
    for row in alcohol_retention():
        assert row.share == retention_factors()[row.retention_code].percent["ALC_G"] / 100
    for method in ("simmered", "baked"):
        shares = {row.minutes or 0: row.share for row in alcohol_retention() if row.method == method and row.stirred_in}
        assert list(shares) == [15, 30, 60, 90, 120, 150]
        assert list(shares.values()) == [0.40, 0.35, 0.25, 0.20, 0.10, 0.05]


def test_oil_uptake_is_a_share_of_the_food() -> None:
    for row in oil_uptake():
        assert 0 < row.fat_g_per_100g <= 25, row


def test_limits_are_told_apart_and_ordered() -> None:
    keys = Counter((row.food_group, row.method, row.state_before) for row in yield_limits())
    assert [key for key, count in keys.items() if count > 1] == []
    for row in yield_limits():
        assert 0 < row.lowest_percent < row.highest_percent
        assert row.ground


def test_congee_may_take_up_ten_times_its_weight_and_meat_may_not_gain() -> None:
    congee = yield_limit_for("rice", "simmered", FoodState.DRY)
    assert congee is not None
    assert congee.highest_percent >= 1100
    braised = yield_limit_for("beef", "braised", FoodState.RAW)
    assert braised is not None
    assert braised.highest_percent <= 105
    assert yield_limit_for("beef", "raw", FoodState.RAW) is None


def _row(row_id: str) -> YieldFactor:
    return next(row for row in yield_factors() if row.row_id == row_id)
