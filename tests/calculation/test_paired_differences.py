"""Differences of batches: what they have in common cancels, what they do not have in common adds up."""

import math
from collections.abc import Mapping
from dataclasses import replace

import pytest

from mealcalc.calculation.uncertainty import COMPARED_KEYS, Compared, Interval, PairedSureness, how_different, how_sure
from mealcalc.components import MACRO_KEYS
from mealcalc.diagnostics import Span
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import Batch, BatchComponent, BatchResult, Food, RecipeLine
from mealcalc.values import Value

STEW = ("500 g beef mince, 15% fat", "300 g carrots", "2 tbsp olive oil", "1 tin chopped tomatoes")


def batch(*lines: str, containers: int = 1, cooking: str = "") -> Batch:
    parsed = tuple(
        parse_line(text, Span("batch", number, 1, len(text) + 1, text), "uk", "all")
        for number, text in enumerate(lines, start=1)
    )
    return Batch("a batch", (BatchComponent("all", parsed, cooking=cooking),), "uk", containers)


def one(database: FoodDatabase, *lines: str, containers: int = 1, cooking: str = "") -> BatchResult:
    return calculate(batch(*lines, containers=containers, cooking=cooking), database)


def replaced(result: BatchResult, number: int, text: str, database: FoodDatabase) -> Compared:
    """The batch with another line in the place of line `number`, measured as that one where the amount is the same."""
    (component,) = result.batch.components
    old = component.lines[number - 1]
    new = parse_line(text, Span("other", number, 1, len(text) + 1, text), "uk", "all")
    lines = tuple(new if line == old else line for line in component.lines)
    changed = replace(result.batch, components=(replace(component, lines=lines),))
    return Compared(calculate(changed, database), measured_as={new: old})


def left_out(result: BatchResult, number: int, database: FoodDatabase) -> Compared:
    (component,) = result.batch.components
    lines = tuple(line for line in component.lines if line.span.line != number)
    return Compared(calculate(replace(result.batch, components=(replace(component, lines=lines),)), database))


def width(interval: Interval | None) -> float:
    assert interval is not None
    return interval.high - interval.low


def of(found: PairedSureness, key: str) -> Interval:
    interval = found.difference[key]
    assert interval is not None
    return interval


def test_a_batch_does_not_differ_from_itself(database: FoodDatabase) -> None:
    result = one(database, *STEW, cooking="browned, then simmered 40 min")
    first, second = how_different([Compared(result), Compared(result)])
    for key in COMPARED_KEYS:
        assert of(first, key) == of(second, key) == Interval(0.0, 0.0)
    assert second.ratio_difference == Interval(0.0, 0.0)


def test_intervals_agree_with_those_of_one_batch(database: FoodDatabase) -> None:
    """Drawn food by food here and as one sum there: the same distribution, to the noise of 10,000 draws."""
    result = one(database, *STEW, containers=3, cooking="browned, then simmered 40 min")
    (paired,) = how_different([Compared(result)])
    alone = how_sure(result)
    for key in COMPARED_KEYS:
        assert width(paired.per_container[key]) == pytest.approx(width(alone.per_container[key]), rel=0.04), key


def test_leaving_out_a_line_is_as_sure_as_that_line(database: FoodDatabase) -> None:
    result = one(database, *STEW)
    _, without = how_different([Compared(result), left_out(result, 3, database)])
    alone = how_sure(one(database, STEW[2]))
    for key in ("ENERC_KCAL", "FAT_G"):
        lost = alone.per_container[key]
        assert lost is not None
        assert of(without, key).low == pytest.approx(-lost.high, rel=0.03)
        assert of(without, key).high == pytest.approx(-lost.low, rel=0.03)
    assert of(without, "PROCNT_G") == Interval(0.0, 0.0)


def test_what_is_not_common_adds_up(database: FoodDatabase) -> None:
    """Two foods by weight, nothing else: variances of independent errors add up (GUM, JCGM 100:2008, 5.1.2)."""
    result = one(database, "500 g beef mince, 15% fat")
    other = replaced(result, 1, "500 g pork mince, 16% fat", database)
    _, pork = how_different([Compared(result), other])
    a, b = how_sure(result).per_container, how_sure(other.result).per_container
    for key in ("PROCNT_G", "FAT_G"):
        assert width(of(pork, key)) == pytest.approx(math.hypot(width(a[key]), width(b[key])), rel=0.06), key


def test_the_same_spoon_errs_alike(database: FoodDatabase) -> None:
    """Sunflower oil for olive oil: both are pure fat, and the spoon is the same."""
    result = one(database, "4 tbsp olive oil")
    same = replaced(result, 1, "4 tbsp sunflower oil", database)
    _, paired = how_different([Compared(result), same])
    _, apart = how_different([Compared(result), replace(same, measured_as={})])
    assert width(of(paired, "FAT_G")) < 0.3 * width(of(apart, "FAT_G"))
    more = replaced(result, 1, "5 tbsp sunflower oil", database)
    _, another_amount = how_different([Compared(result), more])
    assert width(of(another_amount, "FAT_G")) > 0.8 * width(of(apart, "FAT_G"))


def test_two_blends_of_the_same_foods_are_two_products(database: FoodDatabase) -> None:
    result = one(database, "500 g beef mince, 16% fat")
    other = replaced(result, 1, "500 g beef mince, 17% fat", database)
    one_mince, other_mince = (of.contributions[0].ingredient.matched for of in (result, other.result))
    assert one_mince.food is not None
    assert other_mince.food is not None
    assert one_mince.food.code == other_mince.food.code
    assert one_mince.blend != other_mince.blend
    _, paired = how_different([Compared(result), other])
    assert width(of(paired, "FAT_G")) > width(how_sure(result).per_container["FAT_G"])


def test_another_number_of_containers_is_sure_to_differ(database: FoodDatabase) -> None:
    result = one(database, *STEW, containers=2)
    more = replace(result, batch=replace(result.batch, containers=4))
    first, halved = how_different([Compared(result), Compared(more)])
    for key in MACRO_KEYS:
        whole = first.per_container[key]
        assert whole is not None
        assert of(halved, key).low == pytest.approx(-whole.high / 2, rel=1e-3)
        assert of(halved, key).high == pytest.approx(-whole.low / 2, rel=1e-3)
    assert halved.ratio_difference is not None
    assert abs(halved.ratio_difference.low) < 1e-4


def test_what_is_unknown_in_both_cancels(database: FoodDatabase) -> None:
    lines = (*STEW, "300 g unobtainium berries zzyzx")
    result = one(database, *lines)
    first, without = how_different([Compared(result), left_out(result, 3, database)])
    assert set(first.per_container.values()) == set(without.per_container.values()) == {None}
    assert of(without, "FAT_G").high < 0.0
    assert without.ratio_difference is None


def test_what_is_unknown_in_one_leaves_the_difference_unknown(database: FoodDatabase) -> None:
    result = one(database, *STEW)
    unknown = replaced(result, 2, "300 g unobtainium berries zzyzx", database)
    _, paired = how_different([Compared(result), unknown])
    assert set(paired.difference.values()) == {None}
    both = one(database, *STEW[:2], "300 g unobtainium berries zzyzx", containers=2)
    fewer = replace(both, batch=replace(both.batch, containers=1))
    _, other = how_different([Compared(both), Compared(fewer)])
    assert set(other.difference.values()) == {None}


def test_an_unsure_line_is_the_same_food_in_both(database: FoodDatabase) -> None:
    result = one(database, *STEW)
    food = result.contributions[0].ingredient.matched.food
    assert food is not None
    other = Food("sr28", "", "x", "another food", "", {"FAT_G": Value(60.0), "ENERC_KCAL": Value(600.0)})
    unsure: Mapping[int, list[tuple[Food, float]]] = {0: [(food, 0.6), (other, 0.4)]}
    without = replace(left_out(result, 3, database), alternatives=unsure)
    first, changed = how_different([Compared(result, unsure), without])
    sure = how_different([Compared(result), left_out(result, 3, database)])[1]
    assert width(of(changed, "FAT_G")) == pytest.approx(width(of(sure, "FAT_G")), rel=0.02)
    low_high = first.per_container["FAT_G"]
    assert low_high is not None
    assert low_high.high > 250.0  # 40 % of the draws take the food of 60 % fat


def test_the_same_seed_gives_the_same_differences(database: FoodDatabase) -> None:
    result = one(database, *STEW)
    other = left_out(result, 1, database)
    assert how_different([Compared(result), other]) == how_different([Compared(result), other])
    assert how_different([Compared(result), other], seed=1) != how_different([Compared(result), other])


def test_lines_that_do_not_count_are_left_out(database: FoodDatabase) -> None:
    result = one(database, "salt to taste")
    (paired,) = how_different([Compared(result)])
    assert paired.per_container["PROCNT_G"] == Interval(0.0, 0.0)
    assert isinstance(result.batch.lines[0], RecipeLine)
