"""Scaling: exact behind, there and back the identity, the factor of a line, files written and read again."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.planning.scaled_batch import scale
from mealcalc.planning.scaled_file import scaled_file
from mealcalc.planning.scaling import Scaling, by_containers, by_factor, by_line, scale_batch
from mealcalc.recipe.reader import read_batch, read_text
from mealcalc.recipe.source import make_source
from mealcalc.records import Amount, Batch
from mealcalc.records.scaling import ScaledBatch
from tests.command import EXAMPLES, write
from tests.planning.portions import TEXT, batch

LINES = """\
title: Lines of every kind
region: uk
containers: 4
2 x 400 g cans chickpeas, drained
1½ tsp salt
1 tbsp harissa or 2 tbsp tomato puree
3 eggs
1 aubergine (about 450 g)
a handful of parsley, chopped
250 g yoghurt [grams 240]
Sauce:
1 cup plus 2 tbsp stock
1 tsp each cumin and coriander
2 tsp cornflour
1 tsp baking powder
"""

factors = st.fractions(min_value=Fraction(1, 100), max_value=100, max_denominator=1000)
amounts = st.floats(1e-3, 1e5, allow_nan=False)


def lines() -> Batch:
    return batch_of(LINES, "lines.txt")


def batch_of(text: str, name: str) -> Batch:
    read = read_text(text, name).batch
    assert read is not None
    return read


def scaled(text: str, factor: Fraction, database: FoodDatabase, name: str = "stew.batch.yaml") -> ScaledBatch:
    read = batch_of(text, name)
    return scale(by_factor(read, str(factor)), calculate(read, database), database)


@given(first=factors, second=factors)
def test_there_and_back_is_the_identity(first: Fraction, second: Fraction) -> None:
    for read in (lines(), batch()):
        scaling = Scaling(read).by(first)
        assert scaling.by(1 / first).scaled == read
        assert scaling.by(second).by(1 / second).scaled == scaling.scaled
        assert scaling.by(second).by(1 / first).by(1 / second).scaled == read


@given(low=amounts, factor=factors)
def test_each_amount_is_rounded_once(low: float, factor: Fraction) -> None:
    (line, *_) = batch().lines
    one = replace(line, amount=Amount(low, 2 * low, "g"))
    part = replace(batch().components[0], lines=(one,))
    (again,) = scale_batch(replace(batch(), components=(part,)), factor).lines
    assert again.amount is not None
    assert again.amount.low == float(Fraction(low) * factor)
    assert again.amount.high == float(2 * Fraction(low) * factor)


@settings(max_examples=10)
@given(factor=st.fractions(min_value=Fraction(1, 10), max_value=10, max_denominator=10))
def test_exact_amounts_scale_every_figure(database: FoodDatabase, factor: Fraction) -> None:
    before = calculate(batch(), database)
    after = calculate(scale_batch(batch(), factor), database)
    for key in FOOD_COMPONENTS:
        assert after.totals[key].amount == pytest.approx(float(factor) * before.totals[key].amount, rel=1e-9, abs=1e-9)
    assert after.components[1].cooked_mass_g == pytest.approx(1000 * float(factor))


@settings(max_examples=20)
@given(factor=st.fractions(min_value=Fraction(1, 10), max_value=10, max_denominator=12))
@pytest.mark.parametrize(("text", "name"), [(TEXT, "stew.batch.yaml"), (LINES, "lines.txt")])
def test_an_exact_file_read_again_and_scaled_back_is_the_recipe(
    database: FoodDatabase, text: str, name: str, factor: Fraction
) -> None:
    there = scaled(text, factor, database, name)
    written = scaled_file(make_source(text, name), there, exact=True)
    read = batch_of(written, name)
    again = scale(Scaling(read, 1 / factor, there.batch.containers), calculate(read, database), database)
    back = batch_of(scaled_file(make_source(written, name), again, exact=True), name)
    assert back.containers == there.batch.containers
    for one, other in zip(there.batch.lines, back.lines, strict=True):
        assert (one.name, one.preparation, one.optional) == (other.name, other.preparation, other.optional)
        for before, after in ((one.amount, other.amount), (one.measured, other.measured)):
            assert (before is None) == (after is None)
            if before is not None and after is not None:
                assert after.unit == before.unit
                assert after.low == pytest.approx(before.low, rel=1e-5)


def test_containers_of_the_same_size() -> None:
    scaling = by_containers(batch(), 5)
    assert (scaling.factor, scaling.scaled.containers) == (Fraction(5, 3), 5)


@pytest.mark.parametrize(
    ("text", "factor"),
    [("1.5", Fraction(3, 2)), ("3/2", Fraction(3, 2)), ("150%", Fraction(3, 2)), ("0,5", Fraction(1, 2))],
)
def test_factors(text: str, factor: Fraction) -> None:
    assert by_factor(batch(), text).factor == factor


@pytest.mark.parametrize("text", ["", "much", "1/0", "0", "-2", "1e9", "nan", "inf", "1 1/2"])
def test_factors_that_cannot_be(text: str) -> None:
    with pytest.raises(UsageError, match="--factor"):
        by_factor(batch(), text)


def test_the_number_of_containers_follows_the_factor_or_stays() -> None:
    assert by_factor(batch(), "1.5").containers == 5  # 4.5, to the nearest
    assert by_factor(batch(), "0.1").containers == 1
    assert by_factor(batch(), "1.5", keep_containers=True).containers == 3


@pytest.mark.parametrize(
    ("text", "factor"),
    [
        ("beef mince=1.3 kg", Fraction(13, 5)),
        ("mince=250 g", Fraction(1, 2)),
        ("mince=1 lb", Fraction(45359237, 50000000)),
        ("onions, chopped=300 g", Fraction(3, 2)),
        ("water=1.2 l", Fraction(2)),
    ],
)
def test_to_what_there_is_of_a_line(database: FoodDatabase, text: str, factor: Fraction) -> None:
    scaling = by_line(batch(), text, calculate(batch(), database).contributions)
    assert float(scaling.factor) == pytest.approx(float(factor), rel=1e-9)
    assert "instead of" in scaling.reason


@pytest.mark.parametrize(
    ("text", "factor"),
    [
        ("eggs=9", 3.0),
        ("chickpeas=1.2 kg", 1.5),
        ("aubergine=900 g", 2.0),  # by the weight that the line gives beside the count
        ("aubergine=3", 3.0),
        ("salt=3 tsp", 2.0),
        ("salt=1 tbsp", 2.0),
        ("stock=540 ml", 540 / 280),  # a cup of 250 ml and two tablespoons of 15 ml
        ("parsley=2 handful", 2.0),
    ],
)
def test_counts_and_measures_are_compared_in_their_kind(database: FoodDatabase, text: str, factor: float) -> None:
    scaling = by_line(lines(), text, calculate(lines(), database).contributions)
    assert float(scaling.factor) == pytest.approx(factor, rel=1e-6)


def test_a_weight_of_what_is_counted_goes_by_its_edible_grams(database: FoodDatabase) -> None:
    contributions = calculate(lines(), database).contributions
    eggs = next(c for c in contributions if c.line.name == "eggs")
    assert eggs.ingredient.mass_g is not None
    scaling = by_line(lines(), "eggs=300 g", contributions)
    assert float(scaling.factor) == pytest.approx(300 / eggs.ingredient.mass_g, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("turkey=1 kg", "no line contains 'turkey'"),
        ("mince", "is not LINE=AMOUNT"),
        ("=1 kg", "is not LINE=AMOUNT"),
        ("mince=lots", "is no amount above 0"),
        ("mince=0 g", "is no amount above 0"),
        ("mince=-1 kg", "is no amount above 0"),
        ("mince=2", "is written in g, not in bare numbers"),
        ("mince=2 cups", "is written in g, not in cups"),
        ("g=2 kg", "means 4 lines"),
        ("mince=900 kg", "would multiply the batch by 1800"),
    ],
)
def test_lines_that_cannot_be_scaled_to(database: FoodDatabase, text: str, message: str) -> None:
    with pytest.raises(UsageError, match=message) as error:
        by_line(batch(), text, calculate(batch(), database).contributions)
    assert error.value.hint


def test_a_line_without_an_amount(database: FoodDatabase) -> None:
    read = batch_of(LINES + "pepper to taste\n", "lines.txt")
    with pytest.raises(UsageError, match="'pepper' has no amount"):
        by_line(read, "pepper=2 g", calculate(read, database).contributions)


def test_lines_are_written_for_the_kitchen_with_what_it_costs(database: FoodDatabase) -> None:
    answer = scaled(LINES, Fraction(7, 5), database, "lines.txt")
    texts = {line.line.name: (line.text, line.notes) for line in answer.lines}
    assert texts["eggs"] == ("4 eggs", ("exactly 4.2; beat one and weigh a part of it if it matters",))
    assert texts["salt"] == ("2 tsp salt", ())
    assert texts["chickpeas"] == ("3 x 400 g cans chickpeas, drained", ())
    assert [effect.key for effect in answer.effects] == ["ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G"]
    assert all(abs(effect.change) < 0.1 for effect in answer.effects)
    assert answer.containers == 6
    assert answer.portion_factor == pytest.approx(1.4 * 4 / 6)


def test_rounding_that_changes_much_is_told(database: FoodDatabase) -> None:
    answer = scaled(LINES, Fraction(1, 2), database, "lines.txt")
    notes = {line.line.name: line.notes for line in answer.lines if line.notes}
    assert "exactly 1.5: 33% more; beat one and weigh a part of it if it matters" in notes["eggs"]


def test_what_must_not_be_scaled_blindly_is_named(database: FoodDatabase) -> None:
    cautions = {c.kind: c for c in scaled(LINES, Fraction(3), database, "lines.txt").cautions}
    assert cautions["salt"].foods == ("salt",)
    assert cautions["leavening"].foods == ("baking powder",)
    assert cautions["gelling"].foods == ("cornflour",)
    assert set(cautions["spice"].foods) >= {"harissa", "cumin"}
    assert "cooking" not in cautions  # nothing is said of cooking
    cautions = {c.kind: c for c in scaled(TEXT, Fraction(3), database).cautions}
    assert cautions["cooking"].foods == ("boiled, all water absorbed", "browned, then simmered 30 min")
    assert cautions["weight"].foods == ("Stew",)
    assert all(c.advice and c.source for c in cautions.values())


def test_a_small_change_needs_no_caution(database: FoodDatabase) -> None:
    assert scaled(LINES, Fraction(11, 10), database, "lines.txt").cautions == ()


def test_more_of_a_sub_batch_than_it_makes_is_told(tmp_path: Path, database: FoodDatabase) -> None:
    write(tmp_path, "stock.txt", "region: uk\n1 l water\n100 g carrots\n")
    text = (
        "region: uk\ncontainers: 2\ncomponents: [{name: a, ingredients: [500 g stock]}]\n"
        "foods: [{name: stock, batch: stock.txt}]\n"
    )
    path = write(tmp_path, "soup.batch.yaml", text)
    read = read_batch(path).batch
    assert read is not None
    result = calculate(read, database)
    (caution,) = [c for c in scale(by_factor(read, "3"), result, database).cautions if c.kind == "sub-batch"]
    assert caution.advice == "1500 g are needed, and stock.txt makes 1100 g: scale that, too"
    assert not [c for c in scale(by_factor(read, "2"), result, database).cautions if c.kind == "sub-batch"]


# --- files ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.batch.yaml")), ids=lambda path: path.name)
@pytest.mark.parametrize("factor", [Fraction(1, 2), Fraction(5, 3), Fraction(4)])
def test_every_example_is_written_scaled_and_reads_clean(database: FoodDatabase, path: Path, factor: Fraction) -> None:
    text = path.read_text(encoding="utf-8")
    answer = scaled(text, factor, database, path.name)
    assert all(line.written for line in answer.lines)
    new = scaled_file(make_source(text, path.name), answer)
    read = read_text(new, path.name)
    assert read.batch is not None
    assert [d for d in read.diagnostics if d.severity == "error"] == []
    assert [v.name for v in read.batch.variants] == [v.name for v in answer.batch.variants]
    kept = [line for line in text.splitlines() if line.lstrip().startswith(("#", "title", "cooking", "- name"))]
    assert all(line in new.splitlines() for line in kept)


def test_comments_and_layout_stay_and_the_rest_changes(database: FoodDatabase) -> None:
    text = TEXT.replace(
        "      500 g beef mince",
        "      500 g beef mince  # from the market\n      # or 500 g lamb\n      1 g beef mince",
    )
    new = scaled_file(make_source(text, "stew.batch.yaml"), scaled(text, Fraction(2), database))
    assert new.splitlines()[0] == "# Scaled by 2: amounts rounded for the kitchen."
    assert "      1000 g beef mince  # from the market\n      # or 500 g lamb\n" in new
    assert "containers: {count: 6, volume: 700 ml}" in new
    assert "    cooked_weight: 2000 g\n" in new


def test_containers_are_written_where_there_were_none(database: FoodDatabase) -> None:
    text = "components: [{name: a, ingredients: ['1 kg rice']}]\n"
    new = scaled_file(make_source(text, "a.batch.yaml"), scaled(text, Fraction(3), database, "a.batch.yaml"))
    assert "containers: 3\ncomponents: [{name: a, ingredients: ['3 kg rice']}]\n" in new
    new = scaled_file(make_source("1 kg rice\n", "a.txt"), scaled("1 kg rice\n", Fraction(3), database, "a.txt"))
    assert batch_of(new, "a.txt").containers == 3


def test_words_that_the_file_spells_otherwise(database: FoodDatabase) -> None:
    text = (
        'components: [{name: a, ingredients: ["1 kg cr\\u00e8me fra\\u00eeche, 30% fat", "2 onions\\u002c diced"]}]\n'
    )
    new = scaled_file(make_source(text, "a.batch.yaml"), scaled(text, Fraction(3), database, "a.batch.yaml"))
    assert [line.text for line in batch_of(new, "a.batch.yaml").lines] == [
        "3 kg crème fraîche, 30% fat", "6 onions, diced",
    ]  # fmt: skip


def test_a_recipe_of_a_web_page_becomes_a_batch_file(database: FoodDatabase) -> None:
    text = '{"@type": "Recipe", "name": "Rice", "recipeYield": "2", "recipeIngredient": ["400 g rice", "1 tsp salt"]}'
    new = scaled_file(make_source(text, "a.json"), scaled(text, Fraction(2), database, "a.json"))
    read = batch_of(new, "a.batch.yaml")
    assert (read.title, read.containers) == ("Rice", 4)
    assert [line.text for line in read.lines] == ["800 g rice", "2 tsp salt"]


def test_a_variant_that_names_its_line_by_the_amount_is_refused(database: FoodDatabase) -> None:
    text = TEXT + 'variants:\n  - {name: v, replace: {"500 g beef": "400 g beef mince, 5% fat"}}\n'
    with pytest.raises(UsageError, match="no line contains '500 g beef'"):
        scaled_file(make_source(text, "stew.batch.yaml"), scaled(text, Fraction(2), database))
