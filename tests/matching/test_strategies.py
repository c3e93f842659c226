"""The matcher: which strategy speaks first, and what becomes of a line. A literal shelf, the real table of names."""

from dataclasses import replace
from typing import Any

import pytest

from mealcalc.diagnostics import Severity
from mealcalc.matching.decisions import Decision, Decisions
from mealcalc.matching.matcher import Matcher
from mealcalc.records import Food, FoodState, LineKind, LineSettings, LineStatus, MatchedFood, RecipeLine
from mealcalc.reference.tables import default_foods
from tests.matching.shelf import Shelf, food, line


def code_of(name: str) -> str:
    """The code of the first row of a default food: the table may change, the rules may not."""
    return next(row.code for row in default_foods() if row.food == name)


SALT = food(code_of("salt"), "Salt, table", "0200", NA_MG=38758.0)
GARLIC = food(code_of("garlic"), "Garlic, raw", FAT_G=0.5)
GIZZARD = food("05173", "Turkey, gizzard, all classes, raw", "0500", FAT_G=3.4)
SHELF = Shelf(SALT, GARLIC, GIZZARD)
POWDER = Food("own", "the batch", "own-1", "vanilla protein powder", "", {})


def match(asked: RecipeLine, *decisions: Decision, own: tuple[Food, ...] = (), shelf: Shelf = SHELF) -> MatchedFood:
    return Matcher(shelf, "uk", Decisions(decisions), own).match([asked])[0]


def codes(found: MatchedFood) -> list[str]:
    return [diagnostic.code for diagnostic in found.diagnostics]


# --- the order of belief ----------------------------------------------------------------------------------------------


def test_a_default_food() -> None:
    found = match(line("garlic cloves"))
    assert found == MatchedFood(
        line("garlic cloves"),
        GARLIC,
        LineStatus.MATCHED,
        "default food",
        1.0,
        default_food="garlic",
        food_state="raw",
        runners_up=found.runners_up,
    )


def test_a_saved_decision_comes_first() -> None:
    decision = Decision("garlic cloves", "sr28", "05173")
    with_code = line("garlic cloves", settings=LineSettings(food=("sr28", SALT.code)))
    found = match(with_code, decision)
    assert (found.food, found.strategy, found.score) == (GIZZARD, "saved decision", 1.0)


def test_a_food_code_in_the_line_comes_second() -> None:
    found = match(
        line("garlic", settings=LineSettings(food=("sr28", "05173"))), own=(replace(POWDER, names=("garlic",)),)
    )
    assert (found.food, found.strategy, found.score) == (GIZZARD, "food code in the line", 1.0)


def test_a_food_chosen_by_code_keeps_the_weights_of_the_name() -> None:
    assert match(line("garlic", settings=LineSettings(food=("sr28", "05173")))).default_food == "garlic"


def test_the_state_of_a_food_chosen_by_code_is_that_of_the_table() -> None:
    assert match(line("garlic", settings=LineSettings(food=("sr28", GARLIC.code)))).food_state == "raw"


def test_the_batchs_own_foods_come_third() -> None:
    found = match(line("garlic"), own=(replace(POWDER, names=("garlic",)),))
    assert (found.strategy, found.score) == ("own food of the batch", 1.0)


@pytest.mark.parametrize(
    ("name", "own"),
    [
        ("vanilla protein powder", True),
        ("best vanilla PROTEIN powders", True),  # empty words may be added
        ("protein powder", False),
        ("light vanilla protein powder", False),  # words of fat never
    ],
)
def test_how_an_own_food_is_named(name: str, own: bool) -> None:
    assert (match(line(name), own=(POWDER,)).strategy == "own food of the batch") is own


def test_a_copied_description_comes_before_everyday_names() -> None:
    found = match(line("Turkey, gizzard, all classes, raw"))
    assert (found.food, found.strategy, found.score) == (GIZZARD, "exact description", 0.95)


def test_the_ranked_search_comes_last() -> None:
    shelf = Shelf(food("x", "Zedoary, raw"))
    found = match(line("peeled zedoary"), shelf=shelf)
    assert (found.strategy, found.status, found.default_food) == ("ranked search", LineStatus.MATCHED, "")


# --- decisions --------------------------------------------------------------------------------------------------------


def test_a_decision_that_no_table_holds_the_food() -> None:
    found = match(line("garlic"), Decision("garlic", "sr28", "none"))
    assert (found.food, found.status, found.strategy) == (None, LineStatus.UNMATCHED, "saved decision")
    assert codes(found) == ["food-not-in-tables"]


def test_a_decision_for_one_fat_is_not_one_for_another() -> None:
    lean = Decision("mince, 5% fat", "sr28", "05173")
    assert match(line("mince", fat_percent=5.0), lean).strategy == "saved decision"
    assert match(line("mince", fat_percent=20.0), lean).strategy != "saved decision"


def test_a_decision_without_fat_serves_all_and_a_contradiction_is_told() -> None:
    found = match(line("mince", fat_percent=20.0), Decision("mince", "sr28", "05173"))
    assert (found.food, found.status) == (GIZZARD, LineStatus.MATCHED)
    assert codes(found) == ["fat-differs"]


def test_the_state_that_a_setting_says_chooses_the_decision() -> None:
    cooked = Decision("garlic", "sr28", "05173", state="cooked")
    assert match(line("garlic", settings=LineSettings(state=FoodState.COOKED)), cooked).strategy == "saved decision"
    assert match(line("garlic"), cooked).strategy == "default food"


# --- what becomes of a line -------------------------------------------------------------------------------------------


def test_an_unknown_food_is_unmatched() -> None:
    found = match(line("zzyzxwort"))
    assert (found.food, found.status, found.strategy, found.score) == (None, LineStatus.UNMATCHED, "", 0.0)
    (told,) = found.diagnostics
    assert (told.code, told.severity, told.span) == ("unmatched-food", Severity.ERROR, found.line.span)
    assert "not counted in any total" in told.message
    assert "[food TABLE:CODE]" in told.hint


def test_a_declined_food_is_unmatched_and_named_as_a_candidate() -> None:
    found = match(line("garlic zyx pudding"))
    assert (found.food, found.status) == (None, LineStatus.UNMATCHED)
    assert found.runners_up[0].code == GARLIC.code
    assert f"nearest: sr28:{GARLIC.code}" in found.diagnostics[0].hint


def test_a_food_known_to_be_in_no_table() -> None:
    absent = next(row for row in default_foods() if row.code == "none" and not row.regions)
    found = match(line(absent.names[0]))
    assert (found.food, found.status) == (None, LineStatus.UNMATCHED)
    assert codes(found) == ["food-not-in-tables"]


def test_a_food_that_only_might_be_one_of_no_table_is_simply_not_found() -> None:
    assert code_of("chilli jam") == "none"
    found = match(line("zyx chilli jam"))
    assert (found.food, found.status) == (None, LineStatus.UNMATCHED)
    assert codes(found) == ["unmatched-food"]
    assert "sr28:none" not in found.diagnostics[0].hint


def test_an_unknown_code_is_told() -> None:
    found = match(line("garlic", settings=LineSettings(food=("sr28", "99999"))))
    assert (found.food, found.status) == (None, LineStatus.UNMATCHED)
    assert codes(found) == ["unknown-food-code"]


def test_an_unsure_food_is_counted_and_told() -> None:
    found = match(line("zyx garlic"))
    assert (found.food, found.status, found.score) == (GARLIC, LineStatus.UNSURE, 0.7)
    (told,) = found.diagnostics
    assert (told.code, told.severity) == ("unsure-food", Severity.WARNING)
    assert "(0.70)" in told.message


def test_two_strategies_that_agree_confirm_each_other() -> None:
    shelf = Shelf(food(GARLIC.code, "Garlic zyx, raw"))
    found = match(line("fresh zyx garlic"), shelf=shelf)
    assert (found.status, found.strategy, found.default_food) == (LineStatus.MATCHED, "default food", "garlic")


def test_a_line_without_amount_is_not_counted() -> None:
    found = match(line("salt", amount=None, to_taste=True))
    assert (found.food, found.status, found.diagnostics) == (SALT, LineStatus.NOT_COUNTED, ())


def test_grams_settled_on_a_line_to_taste_count() -> None:
    found = match(line("salt", amount=None, to_taste=True, settings=LineSettings(mass_g=4.0)))
    assert found.status is LineStatus.MATCHED


def test_count_no() -> None:
    assert match(line("salt", settings=LineSettings(counted=False))).status is LineStatus.NOT_COUNTED


@pytest.mark.parametrize(
    "fields",
    [{"amount": None, "to_taste": True}, {"settings": LineSettings(counted=False)}],
    ids=["to taste", "count no"],
)
def test_an_unknown_food_that_was_not_to_be_counted_is_no_error(fields: dict[str, Any]) -> None:
    found = match(line("zzyzxwort", **fields))
    assert (found.food, found.status) == (None, LineStatus.NOT_COUNTED)
    assert [diagnostic.severity for diagnostic in found.diagnostics] == [Severity.NOTE]


def test_what_is_no_food_is_left_alone() -> None:
    found = match(line("garlic press", kind=LineKind.NOT_FOOD))
    assert (found.food, found.status, found.diagnostics) == (None, LineStatus.NOT_FOOD, ())


def test_a_repaired_word_is_told() -> None:
    found = match(line("garlci"))
    assert (found.food, found.status) == (GARLIC, LineStatus.MATCHED)
    assert [(d.code, d.severity, d.message) for d in found.diagnostics] == [
        ("spelling", Severity.NOTE, "'garlci' read as 'garlic'")
    ]


def test_another_state_is_marked_for_the_conversion() -> None:
    assert match(line("garlic", state=FoodState.COOKED)).other_state
    assert not match(line("garlic")).other_state


def test_two_foods_on_one_line() -> None:
    """To taste, the first stands for the line; with an amount it is a guess how much of it is meant."""
    assert match(line("salt and ground zyx", amount=None, to_taste=True)).food == SALT
    with_amount = match(line("garlic and ground zyx"))
    assert (with_amount.food, with_amount.status) == (GARLIC, LineStatus.UNSURE)


def test_lines_keep_their_order() -> None:
    lines = [line("garlic"), line("zzyzxwort"), line("salt"), line("garlic")]
    assert [found.line.name for found in Matcher(SHELF, "uk").match(lines)] == ["garlic", "zzyzxwort", "salt", "garlic"]
