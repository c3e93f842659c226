"""Tables for the terminal: what stands in them, whatever the layout."""

import pytest

from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.recipe.reader import read_text
from mealcalc.records import BatchResult, Total
from mealcalc.reports.screen import Screen
from mealcalc.reports.text import figure, lines_text, macros_text


@pytest.mark.parametrize(
    ("total", "decimals", "shown"),
    [
        (Total(41.24), 1, "41.2"),
        (Total(0.0), 0, "0"),
        (Total(41.24, (3,), 0.9), 1, "≥ 41.2"),
        (Total(0.0, (3,), 0.0), 1, "?"),
        (Total(0.0, (3,), 0.5), 1, "?"),
    ],
)
def test_a_figure_says_when_it_is_a_lower_bound(total: Total, decimals: int, shown: str) -> None:
    assert figure(total, decimals) == shown


def _result(database: FoodDatabase, text: str) -> BatchResult:
    found = read_text(text, "pots.txt", "uk")
    assert found.batch is not None
    return calculate(found.batch, database, diagnostics=found.diagnostics)


def test_a_batch_of_one_component_has_one_column(database: FoodDatabase) -> None:
    shown = macros_text(_result(database, "containers: 2\n100 g butter\n"), Screen(80))
    # SR28 01001 Butter, salted: 717 kcal and 643 mg sodium in 100 g (711 mg in older editions).
    assert "energy        kcal        358" in shown or "energy        kcal        359" in shown
    assert "pots" in shown.splitlines()[0]


def test_incomplete_macros_are_told_with_their_lines(database: FoodDatabase) -> None:
    shown = macros_text(_result(database, "100 g butter\n100 g zorgles\n100 g flimps\n"), Screen(200))
    shown = " ".join(shown.split())
    assert "INCOMPLETE: energy" in shown
    assert "not known of lines 2 (zorgles), 3 (flimps); known for 33% of the mass" in shown
    assert "≥ 717" in shown
    assert "≥ 100" in shown  # the mass, too


def test_long_lists_of_unknown_lines_are_cut(database: FoodDatabase) -> None:
    shown = macros_text(_result(database, "100 g butter\n" + "100 g zorgles\n" * 30), Screen(140))
    assert "and 18 more" in " ".join(shown.split())


def test_a_wide_screen_has_the_food_beside_the_line(database: FoodDatabase) -> None:
    result = _result(database, "400 g butter\n")
    wide = lines_text(result.contributions, Screen(130)).splitlines()
    assert wide[-1].split("400 g butter")[1].strip() == "sr28:01001 Butter, salted"
    narrow = lines_text(result.contributions, Screen(80)).splitlines()
    assert narrow[-1].strip() == "sr28:01001 Butter, salted"
    assert "protein" in narrow[3]
    assert "protein" not in lines_text(result.contributions, Screen(60))


def test_marks_of_lines(database: FoodDatabase) -> None:
    text = "2 tbsp olive oil [used 40%]\n30 g almonds (optional)\nsalt to taste\n5 g honey [count no]\n100 g zorgles\n"
    shown = lines_text(_result(database, text).contributions, Screen(130))
    for mark in ("(40% eaten)", "(optional)", "no amount: not counted", "not counted, as the line says"):
        assert shown.count(mark) >= 1, mark
    assert shown.count("NOT COUNTED: no food found") == 1


def test_colour_only_where_wanted(database: FoodDatabase) -> None:
    result = _result(database, "100 g zorgles\n")
    assert "\x1b[" in macros_text(result, Screen(80, colour=True))
    assert "\x1b" not in macros_text(result, Screen(80))
