"""The block of `macros --sure`: figures, advice in sentences, what is covered."""

from pathlib import Path

import pytest

from mealcalc.calculation.uncertainty_drivers import Driver
from mealcalc.components import FOOD_COMPONENTS, MACRO_KEYS
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import how_sure, run
from mealcalc.reports.screen import Screen
from mealcalc.reports.sureness import SURE_ROWS, advice, coverage, sureness_blocks

RECIPE = """\
title: Two parts
region: uk
containers: 4
components:
  - name: Grain
    cooking: boiled, all water absorbed
    ingredients: |
      400 g brown rice
      900 ml water
  - name: Stew
    cooking: simmered 40 min
    ingredients: |
      600 g beef mince, 15% fat
      4 tbsp olive oil
      2 onions
"""


def text(database: FoodDatabase, folder: Path, recipe: str, width: int = 100) -> str:
    path = folder / "two.batch.yaml"
    path.write_text(recipe, encoding="utf-8")
    result = run(path, database=database)
    screen = Screen(width)
    return screen.render(*sureness_blocks(result, how_sure(result, database), screen))


def test_each_macro_stands_with_its_interval(database: FoodDatabase, tmp_path: Path) -> None:
    path = tmp_path / "two.batch.yaml"
    path.write_text(RECIPE, encoding="utf-8")
    result = run(path, database=database)
    sureness = how_sure(result, database)
    rows = [row.split() for row in text(database, tmp_path, RECIPE).splitlines()]
    for key, label, decimals in SURE_ROWS:
        interval = sureness.per_container[key]
        assert interval is not None
        figures = [f"{x:.{decimals}f}" for x in (result.per_container[key].amount, interval.low, interval.high)]
        expected = [label.strip(), FOOD_COMPONENTS[key].unit, figures[0], figures[1], "and", figures[2]]
        assert expected in rows, label


def test_components_stand_side_by_side_where_there_is_room(database: FoodDatabase, tmp_path: Path) -> None:
    def headings(width: int) -> list[str]:
        return [row for row in text(database, tmp_path, RECIPE, width).splitlines() if row.startswith("in 100 g of")]

    assert [row.split()[-2:] for row in headings(100)] == [["Grain", "Stew"]]
    assert [row.split()[-1] for row in headings(50)] == ["Grain", "Stew"]


def test_a_total_that_lacks_a_line_names_it_instead_of_an_interval(database: FoodDatabase, tmp_path: Path) -> None:
    shown = text(database, tmp_path, RECIPE.replace("2 onions", "300 g unobtainium zzyzx"))
    rows = [row for row in shown.splitlines() if row.startswith(("energy", "protein", "fat"))]
    container, per_100g = rows[:3], rows[3:]
    assert all("≥" in row and "unknown: line 15 not known" in row for row in container)
    # Of the stew not even the mass is known; the grain is what it was.
    assert all(row.count("(") == 1 for row in per_100g)
    assert "Stew" not in shown.split("in 100 g of")[1].splitlines()[0]


def test_coverage_says_what_is_in_and_what_is_not(database: FoodDatabase, tmp_path: Path) -> None:
    path = tmp_path / "two.batch.yaml"
    path.write_text(RECIPE, encoding="utf-8")
    result = run(path, database=database)
    covered, left_out, grounds = coverage(result, how_sure(result, database))
    assert "90 % intervals from 10,000 draws (seed 20250101)" in covered
    assert left_out.startswith("They do not cover")
    assert "our own judgement" in grounds


def driver(line: int, name: str, words: str, width: float, key: str = "FAT_G", what: str = "mass") -> Driver:
    return Driver(key, line, name, what, 1.0 - width, width, words)


def test_advice_names_the_line_and_what_it_gains() -> None:
    found = advice([driver(7, "olive oil", "weigh it", 0.5)])
    assert found == ["Line 7, olive oil: weigh it; it halves the interval of fat."]


def test_advice_says_by_how_much_where_it_is_not_half() -> None:
    found = advice([driver(7, "olive oil", "weigh it", 0.5), driver(7, "olive oil", "weigh it", 0.8, "ENERC_KCAL")])
    assert found == ["Line 7, olive oil: weigh it; it halves the interval of fat and narrows that of energy by 20 %."]


def test_equal_advice_is_merged_and_its_gains_add_up() -> None:
    # Two inputs that carry 36 % of the variance each: settled, 28 % is left, and the width is the root of it.
    found = advice([driver(7, "olive oil", "weigh it", 0.8), driver(9, "tahini", "weigh it", 0.8)])
    assert found == ["Lines 7 (olive oil) and 9 (tahini): weigh them; it halves the interval of fat."]


@pytest.mark.parametrize(
    ("words", "of_several"),
    [
        (
            "take its values from the pack label, under 'foods:'",
            "take their values from the pack label, under 'foods:'",
        ),
        ("decide which food it is with `mealcalc match`", "decide which foods they are with `mealcalc match`"),
        ("weigh it drained", "weigh them drained"),
        ("weigh what is left over", "weigh what is left over"),
    ],
)
def test_advice_for_several_lines_is_in_the_plural(words: str, of_several: str) -> None:
    (found,) = advice([driver(7, "a", words, 0.8), driver(9, "b", words, 0.8)])
    assert f": {of_several}; it" in found


def test_advice_that_gains_little_is_not_given() -> None:
    assert advice([driver(7, "olive oil", "weigh it", 0.95), driver(8, "onions", "", 0.2)]) == []
    named = advice([driver(7, "olive oil", "weigh it", 0.5), driver(9, "pepper", "weigh it", 0.99)])
    assert "pepper" not in named[0]


def test_at_most_three_sentences_the_best_first() -> None:
    sentences = advice([driver(n, f"food {n}", f"do {n}", 1.0 - n / 10) for n in range(2, 7)])
    assert [sentence.split(",")[0] for sentence in sentences] == ["Line 6", "Line 5", "Line 4"]


def test_nothing_to_advise_is_said(database: FoodDatabase, tmp_path: Path) -> None:
    recipe = "title: Oil\nregion: uk\ncontainers: 1\ncomponents:\n  - name: Oil\n    ingredients: 100 g carrots\n"
    assert "No single line drives these intervals" in text(database, tmp_path, recipe)


def test_macros_all_have_a_label() -> None:
    assert set(MACRO_KEYS) <= {key for key, _, _ in SURE_ROWS}
