"""Settings, diagnostics with their carets, and lines that stand for several foods."""

import pytest

from mealcalc.diagnostics import Severity, Span
from mealcalc.errors import UsageError
from mealcalc.recipe.line_parser import parse_line, split_foods
from mealcalc.recipe.tokens import LONGEST_LINE
from mealcalc.records import FoodState, LineSettings
from tests.recipe.lines import read, shown, told

SETTINGS = [
    ("1 l oil, for deep frying [used 20%]", LineSettings(used_share=0.2)),
    ("1 l oil [used 12.5 %]", LineSettings(used_share=0.125)),
    ("300 g beef stew [food sr28:23562]", LineSettings(food=("sr28", "23562"))),
    ("1 onion [grams 150]", LineSettings(mass_g=150.0)),
    ("1 cup rice [state cooked]", LineSettings(state=FoodState.COOKED)),
    ("1 kg chicken thighs [as bought]", LineSettings(as_bought=True)),
    ("1 kg chicken thighs [edible]", LineSettings(as_bought=False)),
    ("salt [count no]", LineSettings(counted=False)),
    ("1 kg ribs [as bought] [used 80%]", LineSettings(as_bought=True, used_share=0.8)),
    ("1 kg ribs [AS BOUGHT]", LineSettings(as_bought=True)),
]


@pytest.mark.parametrize(("text", "settings"), SETTINGS)
def test_settings_at_the_end_of_a_line(text: str, settings: LineSettings) -> None:
    line = read(text)
    assert (line.settings, line.diagnostics) == (settings, ())
    assert "[" not in line.name + line.preparation


def test_settled_grams_leave_nothing_to_taste() -> None:
    assert not read("parsley [grams 10]").to_taste


def test_an_unknown_setting_is_an_error_under_its_brackets() -> None:
    assert told(read("1 onion [gramz 150]")) == (
        "pot.txt:3:9: error: 'gramz 150' is not a line setting [unknown-setting]\n"
        "    1 onion [gramz 150]\n"
        "            ^^^^^^^^^^^\n"
        "  hint: did you mean 'grams'? known settings: [used 20%], [food sr28:23562], [grams 150], [state cooked], "
        "[as bought], [edible], [count no]"
    )


BAD_VALUES = ["[used 200%]", "[used lots]", "[food 23562]", "[grams -5]", "[grams]", "[state soggy]", "[count maybe]"]


@pytest.mark.parametrize("setting", BAD_VALUES)
def test_a_value_that_cannot_be_read_is_an_error(setting: str) -> None:
    line = read(f"1 onion {setting}")
    assert [(d.code, d.severity) for d in line.diagnostics] == [("bad-setting", Severity.ERROR)]
    assert (shown(line.amount), line.name, line.settings) == ("1 piece", "onion", LineSettings())


def test_settings_that_contradict_each_other_are_an_error() -> None:
    assert [d.code for d in read("1 onion [edible] [as bought]").diagnostics] == ["repeated-setting"]


def test_an_unknown_unit_names_one_that_is_near() -> None:
    line = read("3 blorps of sugar")
    assert told(line) == (
        "pot.txt:3:3: error: 'blorps' is not a unit we know [unknown-unit]\n"
        "    3 blorps of sugar\n"
        "      ^^^^^^\n"
        "  hint: did you mean 'blocks'? write a known unit, or leave 'of' out if it is part of the food"
    )
    assert (line.amount, line.to_taste, line.name) == (None, False, "sugar")


@pytest.mark.parametrize("text", ["1 glass wine", "2 spoons of sugar", "2 ladles stock"])
def test_measures_of_no_known_size_are_told(text: str) -> None:
    assert [d.code for d in read(text).diagnostics] == ["unknown-unit"]


def test_a_misspelt_unit_is_read_and_told() -> None:
    line = read("2 tabelspoons sugar")
    assert told(line) == (
        "pot.txt:3:3: warning: 'tabelspoons' is read as 'tablespoons' [unit-spelling]\n"
        "    2 tabelspoons sugar\n"
        "      ^^^^^^^^^^^\n"
        "  hint: correct the spelling to be sure"
    )
    assert (shown(line.amount), line.name) == ("2 tbsp", "sugar")


def test_a_negative_amount_is_an_error_and_is_not_used() -> None:
    line = read("-2 eggs")
    assert told(line) == (
        "pot.txt:3:1: error: the amount '-2' is negative [negative-amount]\n"
        "    -2 eggs\n"
        "    ^^\n"
        "  hint: write the amount without the sign; put a space after a list dash"
    )
    assert (line.amount, line.to_taste, line.name) == (None, False, "eggs")


@pytest.mark.parametrize(("text", "word"), [("nan g butter", "nan"), ("inf kg butter", "inf"), ("1/0 g butter", "1/0")])
def test_a_number_that_is_none_is_an_error_and_nothing_is_to_taste(text: str, word: str) -> None:
    line = read(text)
    assert told(line) == (
        f"pot.txt:3:1: error: '{word}' is no number [unreadable-number]\n"
        f"    {text}\n"
        f"    {'^' * len(word)}\n"
        "  hint: write the amount as a whole number, a decimal or a fraction"
    )
    assert (line.amount, line.to_taste, line.name) == (None, False, "butter")


def test_nan_is_a_bread_too() -> None:
    line = read("2 nan breads")
    assert (shown(line.amount), line.name, line.diagnostics) == ("2 piece", "nan breads", ())


def test_a_food_without_an_amount_is_told() -> None:
    line = read("butter")
    assert told(line) == (
        "pot.txt:3:1: warning: 'butter' has no amount: it is not counted [no-amount]\n"
        "    butter\n"
        "    ^^^^^^\n"
        "  hint: write an amount, or [grams N], or 'to taste'"
    )
    assert line.to_taste


@pytest.mark.parametrize(
    "text",
    ["butter, to taste", "parsley, for garnish", "oil for frying", "salt", "freshly ground black pepper", "cold water",
     "cheese (optional)", "butter [count no]", "butter [grams 20]"],
)  # fmt: skip
def test_a_food_that_says_why_it_has_no_amount_is_not_told(text: str) -> None:
    assert read(text).diagnostics == ()


def test_an_amount_of_zero_is_an_error() -> None:
    assert told(read("0 g salt")) == (
        "pot.txt:3:1: error: the amount is zero [zero-amount]\n"
        "    0 g salt\n"
        "    ^\n"
        "  hint: write the amount, or delete the line"
    )


ABSURD = [
    ("60 kg rice", "this is more than 50 kg of anything"),
    ("60 l stock", "this is more than 50 l of anything"),
    ("2 kg salt", "this is more than 1 kg of a seasoning"),
    ("600 eggs", "this is more than 500 of anything"),
]


@pytest.mark.parametrize(("text", "message"), ABSURD)
def test_amounts_beyond_any_kitchen_are_doubted(text: str, message: str) -> None:
    line = read(text)
    assert [(d.code, d.severity, d.message) for d in line.diagnostics] == [("absurd-amount", Severity.WARNING, message)]
    assert line.amount is not None


@pytest.mark.parametrize("text", ["50 kg rice", "1 kg salt", "500 eggs", "2 kg salt cod", "2 kg unsalted butter"])
def test_large_amounts_that_can_be_meant_pass(text: str) -> None:
    assert read(text).diagnostics == ()


def test_states_that_exclude_each_other_are_doubted_and_the_first_counts() -> None:
    line = read("500 g raw cooked prawns")
    assert told(line) == (
        "pot.txt:3:11: warning: 'cooked' contradicts 'raw', which stands first and counts [contradictory-states]\n"
        "    500 g raw cooked prawns\n"
        "              ^^^^^^\n"
        "  hint: say one state only, or add [state raw], [state cooked], ..."
    )
    assert line.state is FoodState.RAW


def test_a_second_amount_with_a_purpose_is_noted() -> None:
    line = read("3 tbsp olive oil, plus 1 tbsp for frying")
    assert told(line) == (
        "pot.txt:3:19: note: a second amount stands on this line and is not counted [extra-amount]\n"
        "    3 tbsp olive oil, plus 1 tbsp for frying\n"
        "                      ^^^^^^^^^^^\n"
        "  hint: give it a line of its own if it is eaten"
    )


def test_a_weight_and_a_volume_do_not_add_up() -> None:
    line = read("14 ounces, plus 4 cups, chicken stock")
    assert [d.code for d in line.diagnostics] == ["unlike-sum"]
    assert shown(line.amount) == "14 oz"


@pytest.mark.parametrize(
    ("text", "code"), [("400 g", "no-food"), ("½", "no-food"), ("1/0 cup flour", "unreadable-number")]
)
def test_lines_that_lack_a_part(text: str, code: str) -> None:
    assert code in [d.code for d in read(text).diagnostics]


def test_a_very_long_line_is_cut_and_told() -> None:
    line = read("200 g flour, " + "sifted " * 1500)
    assert [d.code for d in line.diagnostics] == ["long-line"]
    assert (shown(line.amount), line.name) == ("200 g", "flour")
    assert len(line.preparation) < LONGEST_LINE


def test_carets_count_from_the_place_of_the_text_in_its_line() -> None:
    whole = "  - 3 blorps of sugar"
    line = parse_line(whole[4:], Span("pot.batch.yaml", 12, 5, len(whole) + 1, whole), "us")
    place = line.diagnostics[0].span
    assert place is not None
    assert whole[place.column - 1 : place.end_column - 1] == "blorps"


def test_a_list_mark_does_not_move_the_caret() -> None:
    assert told(read("• 3 blorps of sugar")).splitlines()[2] == "        ^^^^^^"


def test_an_unknown_region_is_a_wrong_call() -> None:
    with pytest.raises(UsageError, match="unknown region 'xx'"):
        read("1 cup rice", "xx")


SPLITS = [
    ("1 tsp each ground cumin and coriander", ("1 tsp ground cumin", "1 tsp ground coriander")),
    ("½ tsp each salt and pepper", ("½ tsp salt", "½ tsp pepper")),
    ("1/2 cup each: onion, celery, carrot", ("1/2 cup onion", "1/2 cup celery", "1/2 cup carrot")),
    ("1 each red and green bell pepper", ("1 red bell pepper", "1 green bell pepper")),
    ("1 tbsp each of dried oregano and dried basil", ("1 tbsp dried oregano", "1 tbsp dried basil")),
    ("2 tsp each salt and paprika [used 50%]", ("2 tsp salt [used 50%]", "2 tsp paprika [used 50%]")),
    ("1 tbsp each parsley and mint, finely chopped", ("1 tbsp parsley, finely chopped", "1 tbsp mint, finely chopped")),
    ("1 tablespoon each soy sauce", ("1 tablespoon each soy sauce",)),
    ("2 chicken breasts, about 6 oz each", ("2 chicken breasts, about 6 oz each",)),
    ("salt and pepper", ("salt and pepper",)),
    ("1 cup rice", ("1 cup rice",)),
    ("", ("",)),
]  # fmt: skip


@pytest.mark.parametrize(("text", "lines"), SPLITS)
def test_foods_that_share_an_amount(text: str, lines: tuple[str, ...]) -> None:
    assert split_foods(text) == lines
