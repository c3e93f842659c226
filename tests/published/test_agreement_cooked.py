"""Cooked foods predicted from raw ones, and blends: the document is up to date, and the bars hold."""

from collections import Counter

import pytest

from mealcalc.records import Food
from tests.published.agreement_cooked import (
    DOCUMENT,
    Prediction,
    blend_checks,
    errors_of,
    independent,
    left_out,
    spread,
)
from tests.published.agreement_cooked_report import document, failing
from tests.published.cooked_pairs import CLASSES, CookedPair, cooked_pairs

Foods = dict[str, Food]


@pytest.fixture(scope="module")
def pairs(all_foods: Foods) -> list[CookedPair]:
    return cooked_pairs(all_foods)


@pytest.fixture(scope="module")
def without_pair(pairs: list[CookedPair]) -> list[Prediction]:
    return left_out(pairs)


def test_the_document_is_what_the_generator_writes(all_foods: Foods) -> None:
    assert DOCUMENT.read_text(encoding="utf-8") == document(all_foods), "python -m tests.published.agreement_cooked"


def test_all_minces_and_many_other_pairs_are_checked(pairs: list[CookedPair]) -> None:
    counts = Counter(pair.kind for pair in pairs)
    assert counts["minced meat"] == 58
    assert set(counts) == set(CLASSES)
    assert sum(counts.values()) - counts["minced meat"] > 900
    assert len({pair.codes for pair in pairs}) == len(pairs)


def test_a_factor_derived_from_a_pair_never_checks_that_pair(without_pair: list[Prediction]) -> None:
    for prediction in without_pair:
        (contribution,) = prediction.result.contributions
        own = "sr28-{}-{}".format(*prediction.pair.codes)
        assert own not in contribution.cooking.yield_ground
        assert own not in contribution.cooking.fat_ground


def test_independent_means_that_nothing_comes_from_sr28(pairs: list[CookedPair]) -> None:
    for prediction in independent(pairs):
        (contribution,) = prediction.result.contributions
        assert "derived by this project" not in contribution.cooking.yield_ground
        assert "derived by this project" not in contribution.cooking.fat_ground


def test_the_bar_of_cooked_minces(without_pair: list[Prediction]) -> None:
    minced = [p for p in without_pair if p.pair.kind == "minced meat"]
    assert len(minced) == 58
    count, protein, _ = spread(errors_of(minced, "PROCNT_G"))
    assert (count, protein < 5.0) == (58, True)
    count, fat, _ = spread(errors_of(minced, "FAT_G"))
    assert count >= 57
    assert fat < 15.0


def test_retention_brings_vitamins_nearer(without_pair: list[Prediction]) -> None:
    for key in ("THIA_MG", "VITB6A_MG", "NIA_MG", "FOL_UG", "VITC_MG", "K_MG"):
        _, with_retention, _ = spread(errors_of(without_pair, key))
        without = [p.errors_without_retention[key] for p in without_pair if key in p.errors_without_retention]
        assert with_retention < spread(without)[1], key


def test_blends_of_raw_food_hold_the_bar(all_foods: Foods) -> None:
    # Beef within 2 %, others within 5 %, for protein, fat and energy.
    raw = [check for check in blend_checks(all_foods) if check.state != "cooked"]
    assert len(raw) == 9
    assert [(check.series, check.fat_percent) for check in raw if failing(check)] == []


def test_blends_of_cooked_food_that_miss_the_bar_are_these_and_no_more(all_foods: Foods) -> None:
    # The fat left in cooked meat bends with the level of the raw meat; the document says why and by how much.
    cooked = [check for check in blend_checks(all_foods) if check.state == "cooked"]
    missed = {(check.series.removeprefix("beef mince, "), check.fat_percent) for check in cooked if failing(check)}
    assert missed == {
        *(("pan-browned crumbles", level) for level in (10, 15, 20, 25)),
        *(("broiled patty", level) for level in (10, 15, 20, 25)),
        *(("pan-broiled patty", level) for level in (7, 10, 15, 20, 25)),
        *(("baked loaf", level) for level in (10, 15, 20, 25)),
        ("pork mince, pan-broiled", 16),
        ("turkey mince, pan-broiled crumbles", 7),
        ("turkey mince, broiled patty", 7),
    }
    beef = [check for check in cooked if check.species == "beef"]
    assert max(abs(check.errors["PROCNT_G"]) for check in beef) < 0.001
    assert max(abs(check.errors["FAT_G"]) for check in beef) < 0.052
    assert max(abs(check.errors["ENERC_KCAL"]) for check in beef) < 0.031


def test_a_spread_is_the_median_and_the_ninetieth_percentile() -> None:
    count, median, ninetieth = spread([0.01 * n for n in range(-5, 6)])
    assert count == 11
    assert median == pytest.approx(3.0)
    assert ninetieth == pytest.approx(5.0)
    assert spread([])[0] == 0
