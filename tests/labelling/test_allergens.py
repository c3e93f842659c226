"""Allergens of lines and batches: by words and kind of product, in three states, never by the stand-in food."""

import ast
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import mealcalc.labelling.allergens as module
from mealcalc.errors import UsageError
from mealcalc.examples import read_example
from mealcalc.fooddb import FoodDatabase
from mealcalc.labelling.allergen_matching import AllergenState, FoundIn, find_in_words, merged
from mealcalc.labelling.allergen_text import allergen_text
from mealcalc.labelling.allergens import SCHEMES, AllergenLine, BatchAllergens, allergens_of, allergens_of_batch
from mealcalc.pipeline import calculate
from mealcalc.planning.label_inputs import allergen_lines
from mealcalc.recipe.reader import read_text
from mealcalc.records import BatchResult
from mealcalc.reference.allergen_tables import words_by_phrase


def contains(words: str) -> set[str]:
    return {f.allergen for f in allergens_of(words) if f.state is AllergenState.CONTAINS}


def may_depend(words: str) -> set[str]:
    return {f.allergen for f in allergens_of(words) if f.state is AllergenState.MAY_DEPEND}


def not_known(words: str) -> bool:
    return any(f.state is AllergenState.NOT_KNOWN for f in allergens_of(words))


def batch_of(text: str, database: FoodDatabase, name: str = "pot.batch.yaml") -> BatchResult:
    found = read_text(text, name, None)
    assert found.batch is not None
    return calculate(found.batch, database)


def recipe(*lines: str, foods: str = "") -> str:
    listed = "\n".join(f"      {line}" for line in lines)
    return f"title: Pots\nregion: uk\ncontainers: 2\n{foods}components:\n  - name: pot\n    ingredients: |\n{listed}\n"


def of_line(allergens: BatchAllergens, name: str) -> set[tuple[str, str]]:
    line = next(line for line in allergens.lines if line.line.name == name)
    return {(finding.allergen, finding.state.value) for finding in line.findings}


@pytest.mark.parametrize(
    ("words", "certain"),
    [
        ("200 g Greek yoghurt", {"milk"}),
        ("mozzarella", {"milk"}),
        ("ghee", {"milk"}),
        ("paneer", {"milk"}),
        ("2 eggs, beaten", {"egg"}),
        ("lemon curd", {"egg", "milk"}),
        ("smoked salmon", {"fish"}),
        ("king prawns", {"crustaceans"}),
        ("mussels in shell", {"molluscs"}),
        ("plain flour", {"wheat"}),
        ("bulgur wheat", {"wheat"}),
        ("freekeh", {"wheat"}),
        ("filo pastry", {"wheat"}),
        ("panko", {"wheat"}),
        ("seitan", {"wheat"}),
        ("spelt flour", {"wheat"}),
        ("rye flour", {"rye"}),
        ("pearl barley", {"barley"}),
        ("rolled oats", {"oats"}),
        ("peanut butter", {"peanut"}),
        ("tofu", {"soy"}),
        ("tempeh", {"soy"}),
        ("miso", {"soy"}),
        ("ground almonds", {"almond"}),
        ("pine nuts", {"pine_nut"}),
        ("mixed nuts", {"nuts"}),
        ("tahini", {"sesame"}),
        ("hummus", {"sesame"}),
        ("celeriac", {"celery"}),
        ("dijon mustard", {"mustard"}),
        ("lupin flour", {"lupin"}),
        ("mayonnaise", {"egg"}),
        ("pesto", {"milk"}),
        ("crab sticks", {"fish"}),
        ("milk chocolate", {"milk"}),
        ("oat milk", {"oats"}),
        ("almond milk", {"almond"}),
        ("egg noodles", {"egg", "wheat"}),
        ("oyster sauce", {"molluscs"}),
        ("walnut oil", {"walnut"}),
        ("fermented shrimp paste (belacan)", {"crustaceans"}),
        ("curd, whisked", {"milk"}),
        ("sodium metabisulphite", {"sulphites"}),
    ],
)
def test_words_name_what_is_certain(words: str, certain: set[str]) -> None:
    assert contains(words) == certain


@pytest.mark.parametrize(
    ("words", "open_ones"),
    [
        ("soy sauce", {"wheat"}),
        ("vegetable stock cube", {"celery", "wheat", "milk"}),
        ("Worcestershire sauce", {"fish"}),
        ("pork sausages", {"wheat", "sulphites"}),
        ("thai red curry paste", {"crustaceans", "fish"}),
        ("rolled oats", {"wheat", "barley"}),
        ("dark chocolate", {"milk", "soy"}),
        ("cajun seasoning", {"mustard", "celery"}),
        ("red wine vinegar", {"sulphites"}),
        ("red wine", {"sulphites"}),
        ("dried apricots", {"sulphites"}),
        ("miso", {"barley"}),
        ("pesto", {"pine_nut", "cashew"}),
        ("mayonnaise", {"mustard"}),
        ("crab sticks", {"crustaceans", "egg", "wheat"}),
        ("asafoetida", {"wheat"}),
        ("soybean oil", {"soy"}),
        ("kimchi", {"fish", "crustaceans"}),
        ("coconut milk powder", {"milk"}),
        ("non-dairy creamer", {"milk"}),
        ("naan", {"milk"}),
    ],
)
def test_products_leave_open_what_depends_on_the_pack(words: str, open_ones: set[str]) -> None:
    assert open_ones <= may_depend(words)
    assert not open_ones & contains(words)


@pytest.mark.parametrize(
    ("words", "open_one"),
    [
        ("gluten-free bread", "wheat"),
        ("bread, gluten free", "wheat"),
        ("dairy free custard", "milk"),
        ("vegan parmesan", "milk"),
        ("egg-free mayonnaise", "egg"),
        ("milk, coconut", "milk"),
        ("butter, peanut", "milk"),
    ],
)
def test_claims_and_index_names_leave_it_to_the_product(words: str, open_one: str) -> None:
    assert open_one in may_depend(words)
    assert open_one not in contains(words)


@pytest.mark.parametrize(
    ("words", "certain"),
    [
        ("vegan or regular parmesan", "milk"),
        ("gluten free pasta with bread", "wheat"),
        ("lactose free milk", "milk"),
        ("almond milk chocolate", "milk"),
        ("gluten free oats", "oats"),
        ("coconut cream or milk", "milk"),
    ],
)
def test_a_claim_reaches_no_further_than_its_food(words: str, certain: str) -> None:
    assert certain in contains(words)


def test_sauces_that_no_rule_knows_are_not_known() -> None:
    assert not_known("jar of moonlight sauce")
    assert not not_known("soy sauce")
    assert not not_known("chicken thighs")


def test_species_are_named() -> None:
    assert {f.name for f in allergens_of("smoked salmon")} == {"salmon"}
    assert {f.name for f in allergens_of("fish fillets")} == {""}
    assert {f.name for f in allergens_of("einkorn flour") if f.allergen == "wheat"} == {"einkorn"}


def test_each_finding_says_why() -> None:
    for words in ("soy sauce", "mystery dip", "bulgur"):
        for finding in allergens_of(words):
            assert finding.reason
            assert finding.source
            assert finding.mark


# --- lines ------------------------------------------------------------------------------------------------------------


def test_second_name_food_and_alternative_count() -> None:
    line = AllergenLine(3, "yoghurt (dahi) or silken tofu", "yoghurt", "dahi", alternatives=("silken tofu",))
    found = {(f.allergen, f.found_in) for f in allergens_of(line)}
    assert found == {("milk", FoundIn.LINE), ("soy", FoundIn.ALTERNATIVE)}
    by_food = AllergenLine(3, "thermidor bits", "thermidor bits", food_names=("lobster",))
    assert {(f.allergen, f.found_in) for f in allergens_of(by_food)} == {("crustaceans", FoundIn.FOOD)}


def test_words_that_reading_put_aside_count() -> None:
    line = AllergenLine(1, "chicken tossed in wheat flour", "chicken")
    assert {f.allergen for f in allergens_of(line) if f.state is AllergenState.CONTAINS} == {"wheat"}


def test_what_a_pack_lists_counts() -> None:
    line = AllergenLine(1, "zing sauce", "zing sauce", food_group="own", pack_ingredients="water, soya, wheat, salt")
    found = {(f.allergen, f.found_in) for f in allergens_of(line) if f.state is AllergenState.CONTAINS}
    assert found == {("soy", FoundIn.PACK), ("wheat", FoundIn.PACK)}


def test_own_foods_unknown_foods_and_guesses_are_not_known() -> None:
    for line in (
        AllergenLine(1, "moon dust", "moon dust", known=False),
        AllergenLine(1, "moon dust", "moon dust", food_group="own"),
        AllergenLine(1, "moon dust", "moon dust", food_group="0600 Soups, Sauces, and Gravies"),
        AllergenLine(1, "moon dust", "moon dust", sure=False),
    ):
        assert [f.state for f in allergens_of(line)] == [AllergenState.NOT_KNOWN]
    assert not allergens_of(AllergenLine(1, "rice", "rice", food_group="2000 Cereal Grains and Pasta"))


def test_an_unknown_food_with_a_known_word_is_both() -> None:
    states = {f.state for f in allergens_of(AllergenLine(1, "buttery moon dust", "butter moon dust", known=False))}
    assert states == {AllergenState.CONTAINS, AllergenState.NOT_KNOWN}


# --- batches ----------------------------------------------------------------------------------------------------------


def test_optional_to_taste_unmatched_and_uncounted_lines_count(database: FoodDatabase) -> None:
    result = batch_of(
        recipe(
            "500 g rice",
            "30 g flaked almonds (optional)",
            "cheddar to taste",
            "200 g zzyzx wheat wobble",
            "1 tbsp mustard seeds [count no]",
            "2 tbsp butter or sesame oil",
        ),
        database,
    )
    allergens = allergens_of_batch(allergen_lines(result), "uk")
    found = {declared.listed.allergen: declared for declared in allergens.contains}
    assert set(found) == {"almond", "milk", "wheat", "mustard", "sesame"}
    assert found["sesame"].only_by_alternative
    assert not found["milk"].only_by_alternative
    assert [line.line.name for line in allergens.not_known] == ["zzyzx wheat wobble"]


def test_the_stand_in_food_says_nothing(database: FoodDatabase) -> None:
    # No table holds oat milk: rice milk stands in for it, and egg noodles are counted as rice noodles by the cook.
    result = batch_of(recipe("500 ml oat milk", "200 g egg noodles [food sr28:20134]"), database)
    foods = [c.ingredient.matched.food for c in result.contributions]
    assert foods[0] is not None
    assert "rice" in foods[0].description.lower()
    allergens = allergens_of_batch(allergen_lines(result), "eu")
    assert ("oats", "contains") in of_line(allergens, "oat milk")
    assert {("wheat", "contains"), ("egg", "contains")} <= of_line(allergens, "egg noodles")


def test_misspelt_words_are_read_as_their_food(database: FoodDatabase) -> None:
    result = batch_of(recipe("200 g panneer"), database)
    assert ("milk", "contains") in of_line(allergens_of_batch(allergen_lines(result), "us"), "panneer")


def test_each_scheme_has_its_own_list() -> None:
    line = AllergenLine(1, "celery, rye bread, lupin flour, mussels, pine nuts, mustard, sesame", "x")
    lists = {s: {d.listed.allergen for d in allergens_of_batch([line], s).contains} for s in SCHEMES}
    assert lists["us"] == {"pine_nut", "sesame"}
    assert lists["eu"] == {"celery", "rye", "lupin", "molluscs", "mustard", "sesame"}
    assert lists["uk"] == lists["eu"]
    assert lists["ca"] == {"rye", "molluscs", "pine_nut", "mustard", "sesame"}
    assert lists["anz"] == {"rye", "lupin", "molluscs", "pine_nut", "sesame"}


def test_what_only_an_optional_line_contains_may_still_depend_elsewhere() -> None:
    wheat = AllergenLine(1, "bulgur", "bulgur", optional=True)
    sauce = AllergenLine(2, "soy sauce", "soy sauce")
    assert "wheat" in {d.listed.allergen for d in allergens_of_batch([wheat, sauce], "us").may_depend}
    certain = replace(wheat, optional=False)
    assert "wheat" not in {d.listed.allergen for d in allergens_of_batch([certain, sauce], "us").may_depend}


def test_united_states_names_species() -> None:
    lines = [AllergenLine(1, "salmon", "salmon"), AllergenLine(2, "cod", "cod"), AllergenLine(3, "prawns", "prawns")]
    assert [d.label for d in allergens_of_batch(lines, "us").contains] == [
        "fish (salmon, cod)",
        "crustacean shellfish (prawn)",
    ]


def test_unknown_scheme_is_refused_with_the_way_out() -> None:
    with pytest.raises(UsageError, match="unknown scheme 'mars'") as error:
        allergens_of_batch([], "mars")
    assert "anz" in error.value.hint


@pytest.mark.parametrize(
    ("example", "certain"),
    [
        ("braised-pork-grits", {"milk"}),
        ("rajma-keema", {"milk", "mustard"}),
        ("smoky-bean-turkey", {"milk"}),
        ("yoghurt-chicken-bulgur", {"wheat", "almond", "milk"}),
    ],
)
def test_examples(example: str, certain: set[str], database: FoodDatabase) -> None:
    allergens = allergens_of_batch(allergen_lines(batch_of(read_example(example), database)), "eu")
    assert {declared.listed.allergen for declared in allergens.contains} == certain
    assert not allergens.not_known


# --- text -------------------------------------------------------------------------------------------------------------


def test_text_names_lines_reasons_and_authorities(database: FoodDatabase) -> None:
    result = batch_of(recipe("200 g bulgur", "1 tbsp soy sauce (optional)", "100 g zzyzx wobble"), database)
    text = allergen_text(allergens_of_batch(allergen_lines(result), "uk"))
    assert "wheat" in text
    assert "soy sauce (optional)" in text
    assert "Food Standards Agency" in text
    assert "no table holds this food" in text


def test_nothing_found_is_not_said_to_be_absent() -> None:
    text = allergen_text(allergens_of_batch([AllergenLine(1, "rice", "rice")], "us"))
    assert "nothing of the list was found in the words of the recipe" in text
    assert "may still be present" in text
    assert "free from" not in text.lower()


def test_no_module_of_allergens_says_free_from() -> None:
    folder = Path(module.__file__).parent
    for path in (*folder.glob("allergen*.py"), *folder.glob("ingredient*.py"), folder / "statement_records.py"):
        strings = [
            node.value
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        ]
        assert not [string for string in strings if "free from" in string.lower()], path


# --- properties -------------------------------------------------------------------------------------------------------

PHRASES = st.sampled_from(sorted(" ".join(phrase) for phrase in words_by_phrase()))


@given(st.text(max_size=300))
def test_any_text_is_read(text: str) -> None:
    for finding in allergens_of(text):
        assert finding.state in AllergenState
        assert finding.reason


@given(st.lists(PHRASES, min_size=1, max_size=4), st.sampled_from([", ", "; ", " or ", " (", "/"]))
def test_foods_parted_by_marks_lose_nothing(phrases: list[str], mark: str) -> None:
    together = {f.allergen for f in find_in_words(mark.join(phrases)).findings}
    alone = {f.allergen for phrase in phrases for f in find_in_words(phrase).findings}
    assert alone <= together


@given(PHRASES)
def test_case_and_space_change_nothing(phrase: str) -> None:
    assert find_in_words(phrase.upper().replace(" ", "  ")).findings == find_in_words(phrase).findings


@given(PHRASES, PHRASES)
def test_merging_keeps_every_allergen_at_its_strongest(first: str, second: str) -> None:
    findings = (*find_in_words(first).findings, *find_in_words(second).findings)
    kept = merged(findings)
    assert {f.allergen for f in kept} == {f.allergen for f in findings}
    certain = {f.allergen for f in findings if f.state is AllergenState.CONTAINS}
    assert {f.allergen for f in kept if f.state is AllergenState.CONTAINS} == certain
    assert not certain & {f.allergen for f in kept if f.state is AllergenState.MAY_DEPEND}


def test_ten_thousand_characters_and_markup() -> None:
    long = "<b>butter</b> " * 800
    assert contains(long) == {"milk"}
    assert contains("<script>alert('cheese')</script>") == {"milk"}
    assert contains("‮egg‬ 🥚") == {"egg"}
