"""Ways to make a batch: which there are, what they change, how their figures compare."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decision, Decisions
from mealcalc.pipeline import calculate, calculate_all
from mealcalc.planning.comparison import compare
from mealcalc.planning.options import MOST_OPTIONS, options_of
from mealcalc.planning.variants import apply_variant
from mealcalc.records import Batch, BatchResult, RecipeLine
from mealcalc.records.comparison import ALL_MEASURES, COST, PROTEIN_FOR_MONEY, SHOWN, OptionKind, Verdict

Calculated = Callable[[str], BatchResult]

STEW = """\
title: Stew
region: uk
containers: 4
components:
  - name: Stew
    ingredients: |
      800 g beef mince, 12% fat
      2 onions
      1 tbsp olive oil (optional)
      50 g parmesan (optional)
      400 g tin chopped tomatoes
"""


@pytest.fixture
def stew(calculated: Calculated) -> BatchResult:
    return calculated(STEW)


def names(result: BatchResult, **asked: object) -> list[str]:
    return [option.name for option in options_of(result, **asked)]  # type: ignore[arg-type]


def test_the_batch_as_written_then_its_variants(smoky: BatchResult) -> None:
    found = options_of(smoky)
    assert [option.name for option in found] == ["as written", "leaner mince", "fuller mince", "no yoghurt"]
    assert found[0].batch == smoky.batch
    assert found[1].batch == apply_variant(smoky.batch, "leaner mince")
    assert {new.text: old.text for new, old in found[1].measured_as.items()} == {
        "1 kg turkey mince, 2% fat": "1 kg turkey mince, 7% fat"
    }
    assert names(smoky, variants=False) == ["as written"]


def test_every_published_fat_level_but_the_one_that_is_counted(smoky: BatchResult, stew: BatchResult) -> None:
    levels = options_of(smoky, variants=False, fat_levels=True)[1:]
    assert [option.name for option in levels] == ["turkey mince, 2 % fat", "turkey mince, 15 % fat"]
    assert {option.kind for option in levels} == {OptionKind.FAT_LEVEL}
    # SR28 publishes raw beef mince of 3, 5, 7, 10, 15, 20, 25 and 30 % fat; 12 % is a blend of two of them.
    levels = options_of(stew, fat_levels=True)[1:]
    assert [option.name.partition(", ")[2] for option in levels] == [
        f"{fat} % fat" for fat in (3, 5, 7, 10, 15, 20, 25, 30)
    ]


def test_a_fat_level_is_the_published_food(stew: BatchResult, database: FoodDatabase) -> None:
    found = compare(stew, database, fat_levels=True)
    codes = [option.result.contributions[0].ingredient.matched.food for option in found.options[1:]]
    assert [food.code for food in codes if food] == [
        "23477", "23557", "23472", "23562", "23567", "23572", "23577", "13498",
    ]  # fmt: skip
    fat = [option.figures["FAT_G"].amount or 0.0 for option in found.options[1:]]
    assert fat == sorted(fat)


def test_a_food_that_the_cook_chose_has_no_other_fat_levels(
    calculated: Calculated, database: FoodDatabase, stew: BatchResult
) -> None:
    chosen = calculated(STEW.replace("12% fat", "12% fat [food sr28:23562]"))
    with pytest.raises(UsageError, match="no line is minced meat"):
        options_of(chosen, fat_levels=True)
    decision = Decision("beef mince", "sr28", "23562", region="uk")
    decided = calculate(stew.batch, database, Decisions([decision]))
    assert decided.contributions[0].ingredient.matched.strategy == "saved decision"
    with pytest.raises(UsageError, match="no line is minced meat"):
        options_of(decided, fat_levels=True)


def test_milk_is_no_mince(calculated: Calculated) -> None:
    result = calculated(STEW.replace("800 g beef mince, 12% fat", "1 l milk, 2% fat"))
    with pytest.raises(UsageError) as caught:
        options_of(result, fat_levels=True)
    assert "beef mince, pork mince, turkey mince" in caught.value.hint


def test_without_each_optional_line_and_without_all(stew: BatchResult) -> None:
    found = options_of(stew, optional=True)[1:]
    assert [o.name for o in found] == ["without olive oil", "without parmesan", "without all that is optional"]
    assert [len(o.batch.lines) for o in found] == [4, 4, 3]


def test_what_a_variant_leaves_out_already_is_not_repeated(smoky: BatchResult) -> None:
    assert names(smoky, optional=True) == names(smoky)


def test_a_swap_stands_in_the_place_of_its_line(stew: BatchResult) -> None:
    option = options_of(stew, swaps=["beef mince=500 g lentils, dry"])[1]
    assert option.name == "lentils for beef mince"
    lines = option.batch.lines
    assert [line.name for line in lines][:2] == ["lentils", stew.batch.lines[1].name]
    assert lines[0].amount is not None
    assert (lines[0].amount.low, lines[0].amount.unit, lines[0].component) == (500.0, "g", "Stew")


def test_a_swap_without_an_amount_takes_that_of_its_line(stew: BatchResult, database: FoodDatabase) -> None:
    option = compare(stew, database, swaps=["beef mince=turkey mince"]).options[1]
    swapped = option.result.contributions[0]
    assert swapped.ingredient.mass_g == 800.0
    assert "amount-taken" in {d.code for d in option.result.diagnostics}
    (seasoned,) = options_of(stew, swaps=["parmesan=salt to taste"])[1:]
    assert seasoned.batch.lines[3].amount is None


@pytest.mark.parametrize(
    ("swap", "message"),
    [
        ("beef mince", "is not 'words of a line=new line'"),
        ("=500 g lentils", "is not 'words of a line=new line'"),
        ("beef mince=", "is not 'words of a line=new line'"),
        ("tofu=500 g lentils", "no line contains 'tofu'"),
        ("g=500 g lentils", "3 lines contain 'g'"),
    ],
)
def test_a_swap_that_means_no_line_is_refused(stew: BatchResult, swap: str, message: str) -> None:
    with pytest.raises(UsageError) as caught:
        options_of(stew, swaps=[swap])
    assert message in caught.value.message
    assert caught.value.hint


def test_other_numbers_of_containers_once_each(stew: BatchResult) -> None:
    found = options_of(stew, containers=[1, 4, 8, 8])[1:]
    assert [(o.name, o.batch.containers) for o in found] == [("1 container", 1), ("8 containers", 8)]
    for number in (0, -1, 1001):
        with pytest.raises(UsageError, match="containers cannot be filled"):
            options_of(stew, containers=[number])


def test_too_many_ways_are_refused(stew: BatchResult) -> None:
    with pytest.raises(UsageError, match="too many to compare"):
        options_of(stew, containers=range(5, 5 + MOST_OPTIONS))


def test_nothing_optional_is_said(calculated: Calculated) -> None:
    with pytest.raises(UsageError, match="no line of the batch is optional"):
        options_of(calculated(STEW.replace(" (optional)", "")), optional=True)


def test_names_stay_apart(stew: BatchResult) -> None:
    swaps = ["onions=2 leeks", "onions=3 leeks"]
    assert names(stew, swaps=swaps) == ["as written", "leeks for onions", "leeks for onions (2)"]


def test_batches_calculated_together_are_as_calculated_alone(smoky: BatchResult, database: FoodDatabase) -> None:
    batches = [smoky.batch, *(apply_variant(smoky.batch, v.name) for v in smoky.batch.variants)]
    assert calculate_all(batches, database) == [calculate(batch, database) for batch in batches]
    assert calculate_all([], database) == []


@settings(max_examples=15)
@given(levels=st.lists(st.sampled_from([2.0, 5.0, 7.0, 11.0, 15.0]), min_size=1, max_size=4))
def test_lines_in_common_are_matched_alike_in_any_company(
    smoky: BatchResult, database: FoodDatabase, levels: list[float]
) -> None:
    (mince,) = [line for line in smoky.batch.lines if "mince" in line.name]

    def at(fat_percent: float) -> Batch:
        def changed(line: RecipeLine) -> RecipeLine:
            return replace(line, fat_percent=fat_percent) if line == mince else line

        parts = (replace(part, lines=tuple(map(changed, part.lines))) for part in smoky.batch.components)
        return replace(smoky.batch, components=tuple(parts))

    batches = [at(level) for level in levels]
    together = calculate_all(batches, database)
    for batch, result in zip(batches, together, strict=True):
        assert result.totals == calculate(batch, database).totals


def test_figures_are_those_of_macros(smoky: BatchResult, database: FoodDatabase) -> None:
    found = compare(smoky, database, containers=[3])
    for option in found.options:
        for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "CHOAVLDF_G", "FIBTG_G"):
            figure = option.figures[key]
            assert figure.amount == option.result.per_container[key].amount
            assert figure.low is not None
            assert figure.high is not None
            assert figure.low <= figure.amount <= figure.high
    assert {m.key for m in ALL_MEASURES} == set(found.options[0].figures)
    assert found.measures == SHOWN


def test_leaner_mince_is_sure_to_be_leaner(smoky: BatchResult, database: FoodDatabase) -> None:
    _, leaner, fuller, _ = compare(smoky, database).options
    assert leaner.figures["FAT_G"].verdict is Verdict.LESS
    assert fuller.figures["FAT_G"].verdict is Verdict.MORE
    assert leaner.figures["PROTEIN_G_PER_100_KCAL"].verdict is Verdict.MORE
    assert leaner.figures["CHOCDF_G"].verdict is Verdict.SAME


def test_a_difference_within_its_uncertainty_is_called_so(stew: BatchResult, database: FoodDatabase) -> None:
    other = compare(stew, database, swaps=["beef mince=beef mince, 13% fat"]).options[1]
    fat = other.figures["FAT_G"]
    assert fat.verdict is Verdict.UNSURE
    assert fat.difference is not None
    assert fat.difference_low is not None
    assert fat.difference_high is not None
    assert fat.difference_low < 0.0 < fat.difference < fat.difference_high


def test_what_is_incomplete_has_no_verdict(calculated: Calculated, database: FoodDatabase) -> None:
    result = calculated(STEW)
    other = compare(result, database, swaps=["beef mince=500 g unobtainium zzyzx"]).options[1]
    figure = other.figures["PROCNT_G"]
    assert (figure.complete, figure.low, figure.difference, figure.verdict) == (False, None, None, Verdict.UNKNOWN)
    assert other.figures["PROTEIN_G_PER_100_KCAL"].amount is None


def test_costs_are_compared_where_they_are_given(smoky: BatchResult, database: FoodDatabase) -> None:
    costs = {
        "Smoky bean and turkey pots": Decimal("24.00"),
        "Smoky bean and turkey pots (no yoghurt)": Decimal("22.20"),
    }

    def cost(result: BatchResult) -> Decimal | None:
        return costs.get(result.batch.title)

    found = compare(smoky, database, cost=cost, currency="AUD", containers=[12])
    assert found.measures == (*SHOWN, COST, PROTEIN_FOR_MONEY)
    first, leaner, _, without, twelve = found.options
    assert first.figures["COST"].amount == pytest.approx(4.0)
    assert first.figures["COST"].verdict is Verdict.REFERENCE
    assert leaner.figures["COST"].amount is None
    assert leaner.figures["PROTEIN_G_PER_MONEY"].verdict is Verdict.UNKNOWN
    assert without.figures["COST"].difference == pytest.approx(-0.3)
    assert without.figures["COST"].verdict is Verdict.LESS
    assert twelve.figures["COST"].amount == pytest.approx(2.0)
    protein = smoky.per_container["PROCNT_G"].amount
    assert first.figures["PROTEIN_G_PER_MONEY"].amount == pytest.approx(protein / 4.0)
