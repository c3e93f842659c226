"""Ingredient statements: order, water, class names, quantities, allergens, bad input. Figures constructed by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.errors import UsageError
from mealcalc.examples import read_example
from mealcalc.fooddb import FoodDatabase
from mealcalc.labelling.allergens import SCHEMES, allergens_of
from mealcalc.labelling.ingredient_statement import ingredient_statement
from mealcalc.labelling.statement_records import (
    MOST_CHARACTERS,
    IngredientStatement,
    StatementInput,
    StatementLine,
    clean,
)
from mealcalc.pipeline import calculate
from mealcalc.planning.label_inputs import statement_input
from mealcalc.recipe.reader import read_text
from mealcalc.reference.ingredient_rules import herb_or_spice, ingredient_rules

EU, US, ANZ, CA = "eu", "us", "anz", "ca"


def line(number: int, name: str, mass_g: float | None, **more: bool | str) -> StatementLine:
    return StatementLine(number, name, mass_g, findings=allergens_of(name), **more)  # type: ignore[arg-type]


def statement(
    title: str, *lines: StatementLine, finished_g: float | None = None, scheme: str = EU, **more: bool
) -> IngredientStatement:
    return ingredient_statement(StatementInput(title, lines, finished_g), scheme, **more)


def names(result: IngredientStatement) -> list[str]:
    return [item.name for item in result.items]


def quids(result: IngredientStatement) -> dict[str, str]:
    return {item.name: item.quid for item in result.items if item.quid}


RICE = line(1, "rice", 400)
WATER = StatementLine(2, "water", 900, is_water=True)
CHICKEN = line(3, "chicken thighs", 600)
SALT = line(4, "salt", 5)


# --- order and water --------------------------------------------------------------------------------------------------


def test_water_counts_with_what_is_left_of_it() -> None:
    # 1700 g finished less 1005 g of all others leaves 695 g of the 900 g of water.
    result = statement("Pots", RICE, WATER, CHICKEN, SALT, finished_g=1700)
    assert names(result) == ["water", "chicken thighs", "rice", "salt"]
    assert result.items[0].mass_g == pytest.approx(695)
    assert result.text == "Ingredients: water, chicken thighs, rice, salt."


def test_without_a_finished_mass_water_counts_in_full() -> None:
    result = statement("Pots", RICE, WATER, CHICKEN)
    assert result.items[0].mass_g == 900
    assert any("mass of the finished food is not known" in note.text for note in result.notes)


@pytest.mark.parametrize(
    ("scheme", "left_g", "listed"),
    [
        (EU, 50.0, False),  # at most 5 %
        (EU, 50.1, True),
        ("uk", 50.0, False),
        (ANZ, 50.0, True),  # less than 5 %
        (ANZ, 49.9, False),
        (US, 0.1, True),
        (US, 0.0, False),
        (CA, 0.1, True),
    ],
)
def test_little_water_is_left_out_by_the_clause_of_the_scheme(scheme: str, left_g: float, listed: bool) -> None:
    flour = line(1, "rice flour", 1000 - left_g)
    result = statement("Pots", flour, StatementLine(2, "water", 300, is_water=True), finished_g=1000, scheme=scheme)
    assert ("water" in names(result)) is listed
    assert bool(result.left_out) is not listed
    if not listed:
        assert result.left_out[0].lines == (2,)
        assert result.left_out[0].cited is not None


def test_water_poured_off_or_reconstituting_is_left_out() -> None:
    boiling = StatementLine(2, "water", 2000, is_water=True, poured_off=True)
    for_milk = StatementLine(3, "water", 400, is_water=True, reconstitutes=True)
    result = statement("Pots", RICE, boiling, for_milk, finished_g=800)
    assert names(result) == ["rice"]
    assert {out.lines for out in result.left_out} == {(2,), (3,)}


def test_equal_names_are_added_up() -> None:
    result = statement("Pots", line(1, "olive oil", 10), RICE, line(7, "Olive oils", 15))
    oil = result.items[1]
    assert (oil.mass_g, oil.lines) == (25, (1, 7))


def test_lines_without_a_mass_stand_at_the_end() -> None:
    result = statement("Pots", line(1, "salt", None), RICE, line(3, "moon dust", None, matched=False))
    assert result.text == "Ingredients: rice; weight not known: salt, moon dust."
    assert any("no food table holds it" in note.text for note in result.notes)


def test_no_lines_at_all() -> None:
    assert statement("Pots").text == "Ingredients: none."


# --- small amounts and class names ------------------------------------------------------------------------------------


def test_united_states_small_amounts_stand_behind_their_words() -> None:
    result = statement(
        "Pots", line(1, "rice", 960), line(2, "onion", 20.1), line(3, "salt", 19.9), finished_g=1000, scheme=US
    )
    assert result.text == "Ingredients: rice, onion; contains 2% or less of: salt."


@pytest.mark.parametrize(("grams", "small"), [(20.0, True), (20.1, False)])
def test_two_percent_itself_is_small_in_the_united_states(grams: float, small: bool) -> None:
    result = statement("Pots", line(1, "rice", 980), line(2, "onion", grams), finished_g=1000, scheme=US)
    assert result.items[1].small is small


def test_spices_share_a_class_name_up_to_two_percent() -> None:
    spices = (line(2, "ground cumin", 9), line(3, "smoked paprika", 11))
    result = statement("Pots", line(1, "rice", 980), *spices)
    assert result.items[1].text == "spices (smoked paprika, ground cumin)"
    assert result.items[1].lines == (3, 2)
    more = statement("Pots", line(1, "rice", 979), *spices, line(4, "ground cumin", 1))
    assert names(more) == ["rice", "smoked paprika", "ground cumin"]


def test_spices_with_allergens_optional_ones_and_single_ones_keep_their_names() -> None:
    result = statement(
        "Pots",
        line(1, "rice", 980),
        line(2, "ground cumin", 3),
        line(3, "mustard seeds", 4),
        line(4, "celery seed", 2),
        line(5, "turmeric", 1, optional=True),
    )
    assert names(result) == ["rice", "mustard seeds", "ground cumin", "celery seed", "turmeric"]
    assert "turmeric (optional)" in result.text


def test_class_names_may_be_declined() -> None:
    lines = (line(1, "rice", 980), line(2, "ground cumin", 9), line(3, "smoked paprika", 11))
    assert names(statement("Pots", *lines, class_names=False)) == ["rice", "smoked paprika", "ground cumin"]


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("ground cumin", "spice"),
        ("freshly ground black pepper", "spice"),
        ("dried thyme", "herb"),
        ("coriander leaves", "herb"),
        ("red peppers", ""),
        ("rice", ""),
        ("", ""),
    ],
)
def test_herbs_and_spices(name: str, kind: str) -> None:
    assert herb_or_spice(name) == kind


# --- quantities -------------------------------------------------------------------------------------------------------


def test_quantities_of_what_the_title_names_on_the_finished_food() -> None:
    # 1905 g go in, 1700 g come out: 600 / 1700 = 35.3 %, 400 / 1700 = 23.5 %.
    result = statement("Chicken rice", RICE, WATER, CHICKEN, SALT, finished_g=1700)
    assert quids(result) == {"chicken thighs": "35 %", "rice": "24 %"}
    assert "chicken thighs (35 %)" in result.text


def test_quantities_on_the_mixing_bowl_where_nothing_is_lost() -> None:
    # 600 of 1905 g, 400 of 1905 g.
    result = statement("Chicken rice", RICE, WATER, CHICKEN, SALT, finished_g=1905)
    assert quids(result) == {"chicken thighs": "31 %", "rice": "21 %"}


def test_beyond_one_hundred_percent_the_weight_for_100_g_stands() -> None:
    tomatoes = line(1, "tomatoes", 1500)
    result = statement("Tomato sauce", tomatoes, line(2, "olive oil", 50), finished_g=1000)
    assert quids(result) == {"tomatoes": "150 g per 100 g"}
    both = statement("Tomato and pepper", line(1, "tomatoes", 700), line(2, "red peppers", 500), finished_g=1000)
    assert quids(both) == {"tomatoes": "70 g per 100 g", "red peppers": "50 g per 100 g"}


@pytest.mark.parametrize(
    ("grams", "printed"),
    [(47.4, "4.5 %"), (47.5, "5 %"), (50.0, "5 %"), (54.9, "5 %"), (55.0, "6 %"), (2.4, "less than 0.5 %")],
)
def test_quantities_are_rounded_half_up_to_halves_below_five(grams: float, printed: str) -> None:
    result = statement("Beef pots", line(1, "rice", 1000 - grams), line(2, "beef mince", grams), finished_g=1000)
    assert quids(result) == {"beef mince": printed}


def test_spices_of_a_title_are_flavourings_and_emphasis_overrules_that() -> None:
    lines = (RICE, line(2, "black pepper", 4), line(3, "red peppers", 200))
    assert set(quids(statement("Pepper rice", *lines))) == {"rice", "red peppers"}
    shown = ingredient_statement(StatementInput("Rice", lines, emphasised=("black pepper",)), EU)
    assert "black pepper" in quids(shown)


def test_a_named_ingredient_without_a_mass_is_told() -> None:
    result = statement("Saffron beef", line(1, "beef", None), RICE)
    assert quids(result) == {}
    assert any("no percentage for beef: no known weight" in note.text for note in result.notes)


@pytest.mark.parametrize("scheme", [US, CA])
def test_north_america_wants_no_quantities(scheme: str) -> None:
    assert quids(statement("Chicken rice", RICE, CHICKEN, scheme=scheme)) == {}


# --- allergens and compound ingredients -------------------------------------------------------------------------------


def test_allergens_stand_out_in_the_way_of_the_scheme() -> None:
    lines = (line(1, "bulgur wheat", 300), line(2, "mozzarella", 200), line(3, "salmon", 100))
    assert statement("x", *lines).text == "Ingredients: bulgur WHEAT, mozzarella (MILK), salmon (FISH)."
    assert statement("x", *lines, scheme=US).text == (
        "Ingredients: bulgur wheat, mozzarella, salmon.\nContains: milk, fish (salmon), wheat."
    )
    assert statement("x", *lines, scheme=CA).text == (
        "Ingredients: bulgur wheat, mozzarella, salmon.\nContains: wheat, milk, fish (salmon)."
    )
    assert statement("x", *lines, scheme=ANZ).text == (
        "Ingredients: bulgur **wheat**, mozzarella (**milk**), salmon (**fish**).\n"
        "**Contains: wheat, gluten, fish, milk.**"
    )


def test_what_depends_on_the_product_is_a_note_and_no_statement() -> None:
    result = statement("x", line(1, "vegetable stock", 500, is_product=True))
    assert result.text == "Ingredients: vegetable stock."
    assert any("may hold" in note.text and "celery" in note.text for note in result.notes)
    assert any("copy the list of ingredients" in note.text for note in result.notes)


def test_a_list_copied_from_the_pack_stands_in_brackets() -> None:
    sauce = line(1, "soy sauce", 50, is_product=True, pack_ingredients="water, soya beans, wheat, salt")
    result = statement("x", sauce)
    assert result.text == "Ingredients: SOY sauce (water, SOYA beans, WHEAT, salt)."
    assert not any("copy the list" in note.text for note in result.notes)


def test_optional_ingredients_are_marked() -> None:
    result = statement("x", RICE, line(2, "flaked almonds", 30, optional=True))
    assert result.text == "Ingredients: rice, flaked ALMONDS (optional)."
    assert any("optional ingredients are listed" in note.text for note in result.notes)


def test_every_rule_names_its_clause_and_how_surely_it_is_known() -> None:
    for scheme in SCHEMES:
        rules = ingredient_rules(scheme)
        assert {"heading", "order", "added water", "reconstitution", "compound", "herbs", "spices"} <= set(rules)
        assert all(rule.cited.clause and rule.cited.source for rule in rules.values())
        assert statement("x", RICE, scheme=scheme).rules
    assert {scheme for scheme in SCHEMES if "quid" in ingredient_rules(scheme)} == {"eu", "uk", "anz"}
    assert ingredient_rules("mars") == {}


# --- batches ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("example", "first", "quantities"),
    [
        ("smoky-bean-turkey", ["turkey mince", "diced tomatoes"], {"turkey mince", "black beans"}),
        ("rajma-keema", ["water", "mutton keema"], {"mutton keema", "foxtail millet", "rajma"}),
        ("braised-pork-grits", ["bone-in pork spareribs", "water"], {"yellow corn grits"}),
        (
            "yoghurt-chicken-bulgur",
            ["boneless skinless chicken thighs", "vegetable stock"],
            {"boneless skinless chicken thighs", "red peppers", "bulgur wheat", "natural yoghurt"},
        ),
    ],
)
def test_examples(example: str, first: list[str], quantities: set[str], database: FoodDatabase) -> None:
    found = read_text(read_example(example), "example.batch.yaml", None)
    assert found.batch is not None
    given_ = statement_input(calculate(found.batch, database))
    result = ingredient_statement(given_, EU)
    assert names(result)[: len(first)] == first
    assert set(quids(result)) == quantities
    listed = {number for item in result.items for number in item.lines}
    left_out = {number for out in result.left_out for number in out.lines}
    assert listed | left_out == {entry.number for entry in given_.lines}


def test_a_line_that_no_table_holds_is_listed_with_its_written_weight(database: FoodDatabase) -> None:
    text = "title: x\nregion: uk\ncontainers: 1\ncomponents:\n  - name: a\n    ingredients: |\n"
    text += "      100 g rice\n      300 g zzyzx wobble\n      pinch of salt\n      5 g bay [count no]\n"
    found = read_text(text, "x.batch.yaml", None)
    assert found.batch is not None
    given_ = statement_input(calculate(found.batch, database))
    result = ingredient_statement(given_, EU)
    assert names(result)[:2] == ["zzyzx wobble", "rice"]
    assert result.items[0].mass_g == 300
    assert next(entry.mass_g for entry in given_.lines if entry.name == "bay") is None
    assert given_.finished_mass_g is None


# --- bad input --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("grams", [-1.0, float("nan"), float("inf")])
def test_impossible_masses_are_refused(grams: float) -> None:
    with pytest.raises(UsageError, match="line 3: 'rice' weighs"):
        StatementLine(3, "rice", grams)


def test_unknown_scheme_is_refused() -> None:
    with pytest.raises(UsageError, match="unknown scheme"):
        statement("x", RICE, scheme="mars")


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ('<b>rice</b> & "beans"', '<b>rice</b> & "beans"'),
        ("rice\n\tand\x00 beans\r", "rice and beans"),
        ("**rice**", "rice"),
        ("‮ecir", "ecir"),
        ("🍚 rice", "🍚 rice"),
        ("a" * 10_000, "a" * (MOST_CHARACTERS - 1) + "…"),
    ],
)
def test_names_and_titles_are_one_plain_line(written: str, shown: str) -> None:
    assert clean(written) == shown
    result = statement(written, StatementLine(1, written, 10))
    assert result.title == shown
    assert names(result) == [shown]
    assert len(result.text) < 2 * MOST_CHARACTERS


def test_a_name_of_nothing_but_space_is_still_listed() -> None:
    assert names(statement("", StatementLine(4, " \n", 10))) == ["ingredient of line 4"]


# --- properties -------------------------------------------------------------------------------------------------------

MASSES = st.one_of(st.none(), st.floats(min_value=0, max_value=1e6, allow_nan=False))
LINES = st.builds(
    StatementLine,
    number=st.integers(1, 10**6),
    name=st.one_of(
        st.sampled_from(["rice", "ground cumin", "paprika", "thyme", "butter", "beans"]), st.text(max_size=40)
    ),
    mass_g=MASSES,
    is_water=st.booleans(),
    poured_off=st.booleans(),
    optional=st.booleans(),
    matched=st.booleans(),
    is_product=st.booleans(),
)
GIVEN = st.builds(
    StatementInput,
    title=st.text(max_size=60),
    lines=st.lists(LINES, max_size=12, unique_by=lambda entry: entry.number).map(tuple),
    finished_mass_g=st.one_of(st.none(), st.floats(min_value=0.1, max_value=1e7)),
    emphasised=st.lists(st.sampled_from(["rice", "butter", "beans"]), max_size=2).map(tuple),
)


@given(GIVEN, st.sampled_from(SCHEMES))
def test_order_falls_every_line_appears_and_shares_add_up(given_: StatementInput, scheme: str) -> None:
    result = ingredient_statement(given_, scheme)
    main = [item.mass_g for item in result.items if item.mass_g is not None and not item.small]
    small = [item.mass_g for item in result.items if item.mass_g is not None and item.small]
    assert main == sorted(main, reverse=True)
    assert small == sorted(small, reverse=True)
    numbers = [number for item in result.items for number in item.lines]
    numbers += [number for out in result.left_out for number in out.lines]
    assert sorted(numbers) == sorted(entry.number for entry in given_.lines)
    shares = [item.share_percent for item in result.items if item.share_percent is not None]
    if sum(main) + sum(small) > 0:
        assert sum(shares) == pytest.approx(100, rel=1e-6)
    assert len(result.text.splitlines()) <= 2


@given(GIVEN, st.sampled_from(["eu", "uk", "anz"]))
def test_a_percentage_is_at_most_one_hundred_or_a_weight(given_: StatementInput, scheme: str) -> None:
    percents = []
    for quid in quids(ingredient_statement(given_, scheme)).values():
        number, _, unit = quid.removeprefix("less than ").partition(" ")
        assert float(number) > 0
        assert unit in ("%", "g per 100 g")
        percents += [float(number)] if unit == "%" else []
    assert all(number <= 100 for number in percents)


@given(st.floats(min_value=0, max_value=3000), st.floats(min_value=0, max_value=3000), st.floats(1, 6000))
def test_listed_water_is_never_more_than_went_in_nor_than_the_food_holds(
    water_g: float, rice_g: float, finished_g: float
) -> None:
    water = StatementLine(1, "water", water_g, is_water=True)
    result = statement("x", water, line(2, "rice", rice_g), finished_g=finished_g, scheme=US)
    for item in result.items:
        if item.name == "water":
            assert item.mass_g is not None
            assert item.mass_g <= water_g
            assert item.mass_g <= finished_g - rice_g + 1e-6
