"""Intervals: reproducible, right in simple cases, narrower for what is surer, absent for what is unknown."""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.calculation.composition import counts
from mealcalc.calculation.energy import KCAL_PER_G
from mealcalc.calculation.spreads import composition_sd, mass_sd
from mealcalc.calculation.uncertainty import Interval, Sureness, how_sure
from mealcalc.calculation.uncertainty_drivers import drivers, probabilities
from mealcalc.components import FOOD_COMPONENTS, MACRO_KEYS
from mealcalc.diagnostics import Span
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.pipeline import how_sure as how_sure_of_batch
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import Batch, BatchComponent, BatchResult, Candidate, Food, LineStatus
from mealcalc.values import Value

Z_95 = 1.6449
"""95 % quantile of the normal distribution: half the width of a 90 % interval, in standard deviations."""


def component(name: str, lines: Sequence[str], *, first: int = 1, **given_by_cook: Any) -> BatchComponent:
    parsed = tuple(
        parse_line(text, Span("batch", number, 1, len(text) + 1, text), "uk", name)
        for number, text in enumerate(lines, start=first)
    )
    return BatchComponent(name, parsed, **given_by_cook)


def batch(database: FoodDatabase, *components: BatchComponent, containers: int = 1) -> BatchResult:
    return calculate(Batch("a batch", components, "uk", containers), database)


def one(database: FoodDatabase, *lines: str, containers: int = 1, **given_by_cook: Any) -> BatchResult:
    return batch(database, component("all", lines, **given_by_cook), containers=containers)


def interval(sureness: Sureness, key: str) -> Interval:
    found = sureness.per_container[key]
    assert found is not None
    return found


def width(result: BatchResult, key: str) -> float:
    found = interval(how_sure(result), key)
    return found.high - found.low


STEW = ("500 g beef mince, 15% fat", "300 g carrots", "2 tbsp olive oil", "1 tin chopped tomatoes", "1 tsp salt")


def test_the_same_seed_gives_the_same_intervals(database: FoodDatabase) -> None:
    result = one(database, *STEW, cooking="browned, then simmered 40 min")
    assert how_sure(result) == how_sure(result)
    assert how_sure(result, seed=1).per_container != how_sure(result).per_container


def test_intervals_contain_the_figures(database: FoodDatabase) -> None:
    result = one(database, *STEW, containers=3, cooking="browned, then simmered 40 min")
    sureness = how_sure(result)
    per_100g = result.components[0].per_100g
    assert per_100g is not None
    for key in FOOD_COMPONENTS:
        assert interval(sureness, key).low <= result.per_container[key].amount <= interval(sureness, key).high, key
        found = sureness.per_100g[0][key]
        assert found is not None
        assert found.low <= per_100g[key].amount <= found.high, key


def test_monte_carlo_agrees_with_the_first_order_result(database: FoodDatabase) -> None:
    # GUM (JCGM 100:2008) 5.1.2: variances of independent inputs add up. Masses here are weighed, so that first order
    # holds well; 10,000 draws give the width of the interval to about 1 %.
    result = one(database, "500 g beef mince, 15% fat", "300 g carrots", "200 g white rice", "20 g olive oil")
    sureness = how_sure(result)
    for key in ("PROCNT_G", "FAT_G", "CHOCDF_G", "FIBTG_G", "NA_MG"):
        assert interval(sureness, key).sd == pytest.approx(math.sqrt(_variance(result, key)), rel=0.04), key
    energy = _variance(result, "ENERC_KCAL", composition_only=False)
    energy += sum(factor**2 * _variance(result, key, composition_only=True) for key, factor in KCAL_PER_G.items())
    assert interval(sureness, "ENERC_KCAL").sd == pytest.approx(math.sqrt(energy), rel=0.04)


def _variance(result: BatchResult, key: str, *, composition_only: bool = False) -> float:
    variance = 0.0
    for c in result.contributions:
        food = c.ingredient.matched.food
        assert food is not None
        amount = c.amounts[key] or 0.0
        mass = 0.0 if composition_only else mass_sd(c.ingredient)
        variance += amount**2 * (mass**2 + composition_sd(food, key) ** 2)
    return variance


def test_a_food_in_two_lines_errs_once(database: FoodDatabase) -> None:
    # By weight, so that hardly any of the error is one of mass: lines in one component, or in two.
    whole = one(database, "600 g beef mince, 15% fat")
    halves = one(database, "300 g beef mince, 15% fat", "300 g beef mince, 15% fat")
    apart = batch(
        database,
        component("a", ["300 g beef mince, 15% fat"]),
        component("b", ["300 g beef mince, 15% fat"], first=9),
    )
    unlike = one(database, "300 g beef mince, 15% fat", "300 g beef mince, 20% fat")
    for key in ("FAT_G", "PROCNT_G", "FE_MG"):
        assert width(halves, key) == pytest.approx(width(whole, key), rel=0.05), key
        assert width(apart, key) == pytest.approx(width(whole, key), rel=0.05), key
        assert width(unlike, key) < 0.85 * width(whole, key), key


def test_weighing_narrows(database: FoodDatabase) -> None:
    spooned = one(database, "1 kg carrots", "4 tbsp olive oil")
    weighed = one(database, "1 kg carrots", "55 g olive oil")
    assert spooned.totals["FAT_G"].amount == pytest.approx(weighed.totals["FAT_G"].amount, rel=0.05)
    assert width(weighed, "FAT_G") < 0.3 * width(spooned, "FAT_G")


def test_the_fat_of_oil_is_surer_than_that_of_mince(database: FoodDatabase) -> None:
    oil = one(database, "100 g olive oil")
    mince = one(database, "500 g beef mince, 20% fat")
    assert width(oil, "FAT_G") / oil.totals["FAT_G"].amount < 0.04
    assert width(mince, "FAT_G") / mince.totals["FAT_G"].amount > 0.25


def test_what_is_unknown_has_no_interval(database: FoodDatabase) -> None:
    result = one(database, "500 g carrots", "300 g unobtainium berries zzyzx")
    assert result.contributions[1].ingredient.matched.status is LineStatus.UNMATCHED
    sureness = how_sure(result)
    assert set(sureness.per_container.values()) == {None}
    assert set(sureness.per_100g[0].values()) == {None}
    assert result.components[0].per_100g is None


def test_salt_to_taste_leaves_all_but_sodium_bounded(database: FoodDatabase) -> None:
    sureness = how_sure(one(database, "500 g carrots", "salt to taste"))
    assert sureness.per_container["NA_MG"] is None
    assert all(sureness.per_container[key] is not None for key in MACRO_KEYS)


def test_a_component_without_mass_keeps_its_place(database: FoodDatabase) -> None:
    result = batch(database, component("nothing", ["salt to taste"]), component("all", ["500 g carrots"], first=5))
    sureness = how_sure(result)
    assert len(sureness.per_100g) == 2
    assert set(sureness.per_100g[0].values()) == {None}
    found = sureness.per_100g[1]["CHOCDF_G"]
    assert found is not None
    assert found.low < 9.58 < found.high  # SR28 11124, carrots: 9.58 g carbohydrate in 100 g


def _food(code: str, fat_g: float) -> Food:
    composition = {"FAT_G": Value(fat_g), "ENERC_KCAL": Value(9.0 * fat_g)}
    return Food("sr28", "", code, f"food {code}", "", composition)


def test_the_risk_of_a_wrong_food_widens(database: FoodDatabase) -> None:
    result = one(database, "500 g beef mince, 15% fat")
    food = result.contributions[0].ingredient.matched.food
    assert food is not None
    sure, unsure = how_sure(result), how_sure(result, {0: [(food, 0.6), (_food("x", 40.0), 0.5)]})
    # 40 % of the draws take the fatter food: 200 g fat.
    assert interval(unsure, "FAT_G").high > 190 > interval(sure, "FAT_G").high
    assert interval(unsure, "FAT_G").low == pytest.approx(interval(sure, "FAT_G").low, rel=0.05)
    assert "food" in {d.what for d in unsure.drivers}
    assert "food" not in {d.what for d in sure.drivers}
    # Protein is unknown of the other food: it stays that of the chosen one.
    assert interval(unsure, "PROCNT_G").low == pytest.approx(interval(sure, "PROCNT_G").low, rel=0.02)


def test_a_food_that_the_chosen_one_lacks_counts_too(database: FoodDatabase) -> None:
    result = one(database, "100 g white sugar")  # no fat at all
    food = result.contributions[0].ingredient.matched.food
    assert food is not None
    assert result.totals["FAT_G"].amount == 0.0
    unsure = how_sure(result, {0: [(food, 0.5), (_food("x", 40.0), 0.5)]})
    assert interval(unsure, "FAT_G").high == pytest.approx(40.0, rel=0.15)


@pytest.mark.parametrize(
    ("scores", "expected"),
    [
        ([0.7], [1.0]),
        ([0.6, 0.5], [0.6, 0.4]),
        ([0.6, 0.3, 0.1], [0.6, 0.3, 0.1]),
        ([0.5, 0.0], [1.0, 0.0]),
        ([0.0, 0.2], [0.0, 1.0]),
    ],
)
def test_the_score_is_the_probability_of_the_chosen_food(scores: list[float], expected: list[float]) -> None:
    foods = [(_food(str(number), 1.0), score) for number, score in enumerate(scores)]
    assert probabilities(foods) == pytest.approx(expected)


def test_the_batch_looks_up_the_runners_up_of_unsure_lines(database: FoodDatabase) -> None:
    result = one(database, "300 g carrots", "200 g olive oil")
    part = result.components[0]
    first = part.contributions[0]
    # SR28 11125, carrots, cooked, boiled; 'no such code' was imported once and is gone.
    runners_up = (Candidate("sr28", "11125", "", 0.4), Candidate("gone", "no such code", "", 0.3))
    matched = replace(first.ingredient.matched, status=LineStatus.UNSURE, score=0.5, runners_up=runners_up)
    doubtful = replace(first, ingredient=replace(first.ingredient, matched=matched))
    unsure = replace(result, components=(replace(part, contributions=(doubtful, part.contributions[1])),))
    by_food = [d for d in how_sure_of_batch(unsure, database).drivers if d.what == "food"]
    assert {d.line for d in by_food} == {1}
    assert not [d for d in how_sure_of_batch(result, database).drivers if d.what == "food"]


def test_weighing_the_pot_narrows_per_100_g_and_changes_no_container(database: FoodDatabase) -> None:
    lines = ("500 g beef mince, 15% fat", "800 g chopped tomatoes", "300 ml water")
    cooking = "simmered 90 min"
    guessed = one(database, *lines, cooking=cooking)
    weighed = one(database, *lines, cooking=cooking, cooked_mass_g=guessed.components[0].cooked_mass_g)
    a, b = how_sure(guessed), how_sure(weighed)
    for key in MACRO_KEYS:
        assert interval(a, key).low == pytest.approx(interval(b, key).low, rel=0.02)
        left, right = a.per_100g[0][key], b.per_100g[0][key]
        assert left is not None
        assert right is not None
        assert right.sd < left.sd, key


def test_a_cup_more_or_less_hardly_moves_what_is_in_100_g(database: FoodDatabase) -> None:
    # All is rice: more of it is more mass too, when the mass is estimated from what went in.
    result = one(database, "2 cups white rice")
    sureness = how_sure(result)
    whole, share = interval(sureness, "CHOCDF_G"), sureness.per_100g[0]["CHOCDF_G"]
    assert share is not None
    relative = (whole.high - whole.low) / result.totals["CHOCDF_G"].amount
    per_100g = result.components[0].per_100g
    assert per_100g is not None
    assert (share.high - share.low) / per_100g["CHOCDF_G"].amount < 0.2 * relative


def test_fat_that_is_poured_off_widens_fat_and_energy(database: FoodDatabase) -> None:
    lines = ("1 kg beef mince, 20% fat", "400 g chopped tomatoes")
    kept = one(database, *lines, cooking="pan-browned")
    drained = one(database, *lines, cooking="pan-browned", fat="drained")
    assert drained.totals["FAT_G"].amount < kept.totals["FAT_G"].amount

    def relative(result: BatchResult, key: str) -> float:
        return width(result, key) / result.totals[key].amount

    assert relative(drained, "FAT_G") > relative(kept, "FAT_G")
    assert "weigh the fat that you pour off" in {d.advice for d in drivers(drained) if d.key == "FAT_G"}


def test_only_what_cooking_takes_has_an_error_of_retention(database: FoodDatabase) -> None:
    raw, boiled = one(database, "500 g broccoli"), one(database, "500 g broccoli", cooking="boiled and drained")
    retention = boiled.contributions[0].cooking.retention
    assert retention["VITC_MG"] < 1.0

    def relative(result: BatchResult, key: str) -> float:
        return width(result, key) / result.totals[key].amount

    assert relative(boiled, "VITC_MG") > 1.02 * relative(raw, "VITC_MG")
    assert relative(boiled, "PROCNT_G") == pytest.approx(relative(raw, "PROCNT_G"), rel=0.03)


@settings(max_examples=10)
@given(k=st.integers(min_value=2, max_value=9))
def test_scaling_the_batch_scales_the_intervals(database: FoodDatabase, k: int) -> None:
    once = how_sure(one(database, "300 g beef mince, 15% fat", "200 g carrots", "50 g olive oil"))
    scaled = how_sure(
        one(database, f"{300 * k} g beef mince, 15% fat", f"{200 * k} g carrots", f"{50 * k} g olive oil")
    )
    for key in MACRO_KEYS:
        assert interval(scaled, key).low == pytest.approx(k * interval(once, key).low, rel=1e-4)
        assert interval(scaled, key).high == pytest.approx(k * interval(once, key).high, rel=1e-4)


@settings(max_examples=10)
@given(containers=st.integers(min_value=1, max_value=20))
def test_a_container_has_its_share_of_the_interval(database: FoodDatabase, containers: int) -> None:
    lines = ("300 g beef mince, 15% fat", "2 onions", "2 tbsp olive oil")
    whole, part = how_sure(one(database, *lines)), how_sure(one(database, *lines, containers=containers))
    for key in MACRO_KEYS:
        assert interval(part, key).high * containers == pytest.approx(interval(whole, key).high, rel=1e-4)


# --- what drives it ---------------------------------------------------------------------------------------------------


def test_drivers_stand_in_order_and_share_the_variance(database: FoodDatabase) -> None:
    result = one(database, *STEW)
    for key in MACRO_KEYS:
        found = [d for d in drivers(result) if d.key == key]
        shares = [d.share for d in found]
        assert found
        assert shares == sorted(shares, reverse=True)
        assert sum(shares) <= 1.0 + 1e-9
        assert all(0.0 <= d.width_if_settled <= 1.0 for d in found)


def test_settling_a_driver_narrows_the_interval_as_promised(database: FoodDatabase) -> None:
    spooned = one(database, "100 g cottage cheese", "4 tbsp olive oil")
    driver = next(d for d in drivers(spooned) if d.key == "FAT_G" and d.what == "mass")
    assert driver.advice == "weigh it"
    grams = spooned.contributions[1].ingredient.mass_g
    weighed = one(database, "100 g cottage cheese", f"{grams} g olive oil")
    assert width(weighed, "FAT_G") / width(spooned, "FAT_G") == pytest.approx(driver.width_if_settled, rel=0.05)


def test_lines_that_do_not_count_drive_nothing(database: FoodDatabase) -> None:
    result = one(database, "500 g carrots", "oil for frying")
    assert not counts(result.contributions[1].ingredient) or result.contributions[1].ingredient.mass_g is None
    assert {d.line for d in drivers(result)} == {1}


def test_an_empty_batch_has_no_drivers(database: FoodDatabase) -> None:
    assert drivers(one(database, "salt to taste")) == ()


def test_standard_deviation_of_an_interval() -> None:
    assert Interval(10.0 - Z_95, 10.0 + Z_95).sd == pytest.approx(1.0, abs=1e-4)
