"""What must hold for every batch: scaling, order, merging, adding up, round trips."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL, MACRO_KEYS
from mealcalc.diagnostics import Span
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate, weigh_lines
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import Batch, BatchComponent, BatchResult, LineStatus, RecipeLine
from mealcalc.units import MASS_G, METRIC, REGIONS, VOLUME_ML, measure

FOODS = (
    "brown rice", "olive oil", "skinless chicken breast", "carrot", "salt", "red lentils", "whole milk", "water",
    "honey", "beef mince, 12% fat", "red wine", "spinach",
)  # fmt: skip
COOKING = ("", "raw", "simmered 40 min", "roasted", "boiled and drained", "all water absorbed", "pan-fried")

amounts_g = st.integers(min_value=1, max_value=5000)
line_lists = st.lists(st.tuples(amounts_g, st.sampled_from(FOODS)), min_size=1, max_size=6)

Lines = list[tuple[float, str]]


def read(text: str, number: int = 1, region: str = "uk", component: str = "") -> RecipeLine:
    return parse_line(text, Span("batch", number, 1, len(text) + 1, text), region, component)


def part(name: str, lines: Lines, cooking: str = "") -> BatchComponent:
    parsed = tuple(read(f"{grams:g} g {food}", n, component=name) for n, (grams, food) in enumerate(lines, start=1))
    return BatchComponent(name, parsed, cooking=cooking)


def run(database: FoodDatabase, *components: BatchComponent, containers: int = 1) -> BatchResult:
    return calculate(Batch("a batch", components, "uk", containers), database)


def assert_same(a: BatchResult, b: BatchResult, factor: float = 1.0) -> None:
    """Every total of `b` is `factor` times that of `a`, and as complete."""
    for key in FOOD_COMPONENTS:
        assert b.totals[key].amount == pytest.approx(factor * a.totals[key].amount, rel=1e-6, abs=1e-9), key
        assert len(b.totals[key].unknown_lines) == len(a.totals[key].unknown_lines), key


@settings(max_examples=25)
@given(lines=line_lists, k=st.integers(2, 9), cooking=st.sampled_from(COOKING))
def test_scaling_a_batch_scales_its_totals(database: FoodDatabase, lines: Lines, k: int, cooking: str) -> None:
    once = run(database, part("all", lines, cooking))
    scaled = run(database, part("all", [(grams * k, food) for grams, food in lines], cooking))
    assert_same(once, scaled, k)
    masses_g = [one.components[0].cooked_mass_g for one in (once, scaled)]
    assert masses_g[1] == pytest.approx(k * masses_g[0], rel=1e-6)


@settings(max_examples=25)
@given(lines=line_lists, seed=st.integers(), cooking=st.sampled_from(COOKING))
def test_the_order_of_lines_does_not_matter(database: FoodDatabase, lines: Lines, seed: int, cooking: str) -> None:
    shuffled = list(lines)
    random.Random(seed).shuffle(shuffled)
    assert_same(run(database, part("all", lines, cooking)), run(database, part("all", shuffled, cooking)))


@settings(max_examples=25)
@given(
    first=amounts_g, second=amounts_g, food=st.sampled_from(FOODS), others=line_lists, cooking=st.sampled_from(COOKING)
)
def test_two_lines_of_a_food_equal_one(
    database: FoodDatabase, first: int, second: int, food: str, others: Lines, cooking: str
) -> None:
    two = run(database, part("all", [(first, food), (second, food), *others], cooking))
    one = run(database, part("all", [(first + second, food), *others], cooking))
    for key in FOOD_COMPONENTS:
        assert two.totals[key].amount == pytest.approx(one.totals[key].amount, rel=1e-6, abs=1e-9), key
        assert two.totals[key].complete is one.totals[key].complete, key


@settings(max_examples=25)
@given(base=line_lists, main=line_lists, containers=st.integers(1, 12), cooking=st.sampled_from(COOKING))
def test_components_add_up_to_the_container(
    database: FoodDatabase, base: Lines, main: Lines, containers: int, cooking: str
) -> None:
    result = run(database, part("base", base, cooking), part("main", main), containers=containers)
    for key in FOOD_COMPONENTS:
        of_parts = sum(component.totals[key].amount for component in result.components)
        assert result.totals[key].amount == pytest.approx(of_parts, rel=1e-9)
        assert result.per_container[key].amount == pytest.approx(of_parts / containers, rel=1e-9)
        assert result.totals[key].complete is all(c.totals[key].complete for c in result.components)


@settings(max_examples=25)
@given(base=line_lists, main=line_lists)
def test_the_order_of_components_does_not_matter(database: FoodDatabase, base: Lines, main: Lines) -> None:
    one, other = part("base", base, "roasted"), part("main", main)
    assert_same(run(database, one, other), run(database, other, one))


@settings(max_examples=25)
@given(lines=line_lists, cooking=st.sampled_from(COOKING))
def test_contributions_add_up_to_the_totals(database: FoodDatabase, lines: Lines, cooking: str) -> None:
    result = run(database, part("all", lines, cooking))
    for key in MACRO_KEYS:
        amounts = [c.amounts[key] for c in result.contributions]
        assert result.totals[key].complete
        assert result.totals[key].amount == pytest.approx(sum(a for a in amounts if a is not None), rel=1e-9)


@settings(max_examples=25)
@given(lines=line_lists)
def test_uncooked_water_and_all_else_make_up_the_mass(database: FoodDatabase, lines: Lines) -> None:
    """Proximates are published to sum to 100 g; meat misses up to 1 g, and acids of wine are in its remainder."""
    result = run(database, part("all", lines))
    proximates = sum(
        result.totals[key].amount for key in ("WATER_G", "PROCNT_G", "FAT_G", "CHOCDF_G", "ASH_G", "ALC_G")
    )
    assert proximates == pytest.approx(sum(grams for grams, _ in lines), rel=0.015)


@settings(max_examples=25)
@given(lines=line_lists)
def test_energy_in_kilojoules_is_that_in_kilocalories(database: FoodDatabase, lines: Lines) -> None:
    totals = run(database, part("all", lines)).totals
    # SR28 prints both, each rounded to a whole number per 100 g.
    off = sum(grams for grams, _ in lines) / 100.0 * (0.5 + 0.5 * KJ_PER_KCAL)
    assert totals["ENERC_KJ"].amount == pytest.approx(totals["ENERC_KCAL"].amount * KJ_PER_KCAL, abs=off + 1e-6)


@settings(max_examples=25)
@given(grams=amounts_g, percent=st.integers(0, 100), food=st.sampled_from(FOODS))
def test_a_share_that_is_eaten_is_that_share(database: FoodDatabase, grams: int, percent: int, food: str) -> None:
    whole, eaten = (
        calculate(Batch("a batch", (BatchComponent("all", (read(text),)),), "uk"), database)
        for text in (f"{grams} g {food}", f"{grams} g {food} [used {percent}%]")
    )
    for key in MACRO_KEYS:
        assert eaten.totals[key].amount == pytest.approx(whole.totals[key].amount * percent / 100.0, rel=1e-9, abs=1e-9)


@settings(max_examples=25)
@given(lines=line_lists, containers=st.integers(1, 12))
def test_the_number_of_containers_changes_nothing_but_the_division(
    database: FoodDatabase, lines: Lines, containers: int
) -> None:
    assert_same(run(database, part("all", lines)), run(database, part("all", lines), containers=containers))


# --- units ------------------------------------------------------------------------------------------------------------

masses = sorted(MASS_G)
regions = (*REGIONS, METRIC)


@given(st.floats(1e-3, 1e6), st.sampled_from(masses), st.sampled_from(masses))
def test_masses_round_trip(number: float, unit: str, other: str) -> None:
    there = number * MASS_G[unit] / MASS_G[other]
    assert there * MASS_G[other] / MASS_G[unit] == pytest.approx(number)


@given(st.floats(1e-3, 1e6), st.sampled_from(regions), st.data())
def test_volumes_round_trip_in_every_region(number: float, region: str, data: st.DataObject) -> None:
    units = st.sampled_from(sorted(VOLUME_ML[region]))
    one, other = (measure(data.draw(units), region).ml for _ in range(2))
    assert one is not None
    assert other is not None
    assert number * one / other * other / one == pytest.approx(number)


@settings(max_examples=25)
@given(number=st.integers(1, 50), region=st.sampled_from(REGIONS))
def test_the_same_amount_in_another_unit_is_the_same_food(database: FoodDatabase, number: int, region: str) -> None:
    texts = (f"{number} kg brown rice", f"{1000 * number} g brown rice", f"{number} l milk", f"{1000 * number} ml milk")
    kilos, grams, litres, millilitres = (
        found.mass_g for found in weigh_lines([read(text, region=region) for text in texts], database, region)
    )
    assert kilos == pytest.approx(grams)
    assert litres == pytest.approx(millilitres)


# --- incomplete batches -----------------------------------------------------------------------------------------------


def test_an_unmatched_line_makes_the_totals_incomplete(database: FoodDatabase) -> None:
    result = run(database, part("all", [(100, "brown rice"), (100, "zzyzxwort")]))
    assert not result.complete
    assert result.incomplete["PROCNT_G"] == (2,)
    assert result.totals["PROCNT_G"].known_share == pytest.approx(0.5)
    assert [d.code for d in result.diagnostics if d.severity == "error"] == ["unmatched-food"]


def test_every_other_line_is_still_counted(database: FoodDatabase) -> None:
    alone = run(database, part("all", [(100, "brown rice")]))
    beside = run(database, part("all", [(100, "brown rice"), (100, "zzyzxwort")]))
    for key in MACRO_KEYS:
        assert beside.totals[key].amount == alone.totals[key].amount


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("salt to taste", {"NA_MG"}),
        ("vegetable oil, for frying", {"ENERC_KCAL", "FAT_G"}),
        ("100 g salt [count no]", set()),
    ],
)
def test_foods_without_amount_leave_incomplete_what_they_may_change(
    database: FoodDatabase, text: str, keys: set[str]
) -> None:
    lines = (read("500 g carrots"), read("500 g skinless chicken breast", 2), read(text, 3))
    result = calculate(Batch("a batch", (BatchComponent("all", lines),), "uk"), database)
    assert result.contributions[2].ingredient.matched.status is LineStatus.NOT_COUNTED
    assert {key for key in (*MACRO_KEYS, "NA_MG") if not result.totals[key].complete} == keys
    assert result.complete is not bool(keys & set(MACRO_KEYS))


def test_optional_lines_count_unless_they_are_left_out(database: FoodDatabase) -> None:
    lines = (read("500 g carrots"), read("100 g honey (optional)", 2))
    batch = Batch("a batch", (BatchComponent("all", lines),), "uk")
    with_it, without = calculate(batch, database), calculate(batch, database, without_optional=True)
    alone = run(database, part("all", [(500, "carrots")]))
    assert with_it.totals["ENERC_KCAL"].amount > without.totals["ENERC_KCAL"].amount
    assert_same(alone, without)
