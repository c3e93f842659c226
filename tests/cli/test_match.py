"""`mealcalc match` without a terminal."""

import csv
import io
from pathlib import Path

import pytest
import yaml

from tests.command import EXAMPLES, mealcalc, write

LINES = "\n400 g brown rice, raw\n\n3 smoked zorgles\n# a note\nsalt to taste\n1 kg beef mince, 12% fat, raw\n"


def test_each_line_of_standard_input_answers_in_order() -> None:
    answer = mealcalc("match", "-", "--region", "uk", "--json", given=LINES)
    assert answer.status == 0
    lines = answer.json_lines
    assert [line["file_line"] for line in lines] == [2, 4, 5, 6, 7]
    assert [line["status"] for line in lines] == ["matched", "unmatched", "not_food", "not_counted", "matched"]
    assert [line["text"] for line in lines] == [line for line in LINES.splitlines() if line]


def test_standard_input_is_fine_whatever_the_lines() -> None:
    for given in ("", "\n\n", "3 zorgles\n", "- 1\n", "[used\n", "100 g\n", "1e999 kg salt\n"):
        answer = mealcalc("match", "-", given=given)
        assert answer.status == 0, given


def test_a_file_with_a_line_unmatched_is_not_fine(kitchen: Path) -> None:
    write(kitchen, "list.txt", "region: uk\n3 smoked zorgles\n100 g rice, raw\n")
    answer = mealcalc("match", "list.txt")
    assert answer.status == 1
    assert "NOT COUNTED: no food found" in answer.out
    assert "sr28:20444" in answer.out
    assert "list.txt:2:1: error: no food found for 'smoked zorgles'" in answer.err


def test_figures_are_those_of_the_whole_lines() -> None:
    row = next(
        row.split()
        for row in mealcalc("match", EXAMPLES / "smoky-bean-turkey.batch.yaml").out.splitlines()
        if "400 g brown rice" in row
    )
    # SR28 20036, 100 g: 367 kcal, 7.54 g protein, 3.20 g fat, 76.25 g carbohydrate.
    assert row[:6] == ["9", "400", "1468", "30.2", "12.8", "305.0"]


def test_csv_has_a_row_for_each_line() -> None:
    rows = list(csv.DictReader(io.StringIO(mealcalc("match", "-", "--region", "uk", "--csv", given=LINES).out)))
    assert [row["status"] for row in rows] == ["matched", "unmatched", "not_food", "not_counted", "matched"]
    assert rows[0]["code"] == "20036"
    assert (rows[0]["mass_g"], rows[0]["energy_kcal"]) == ("400.0", "1468.0")
    assert rows[1]["code"] == rows[1]["mass_g"] == rows[1]["energy_kcal"] == ""


@pytest.fixture
def recipe(kitchen: Path) -> Path:
    return write(kitchen, "pots.batch.yaml", "components:\n  - name: All\n    ingredients: 100 g zorgles\nregion: uk\n")


def _decisions(kitchen: Path) -> list[dict[str, str]]:
    content = yaml.safe_load((kitchen / "pots.decisions.yaml").read_text(encoding="utf-8"))
    entries: list[dict[str, str]] = content["decisions"]
    return entries


def test_a_choice_is_saved_beside_the_recipe_and_counts_from_then_on(kitchen: Path, recipe: Path) -> None:
    assert mealcalc("macros", recipe).status == 1
    answer = mealcalc("match", recipe, "--choose", "3=sr28:16069")
    assert answer.status == 0
    assert "saved 1 choice in" in answer.err
    assert "sr28:16069" in answer.out
    (entry,) = _decisions(kitchen)
    assert (entry["food"], entry["region"], entry["table"], entry["code"]) == ("zorgles", "uk", "sr28", "16069")
    line = mealcalc("macros", recipe, "--json").json["lines"][0]
    assert (line["food"]["code"], line["strategy"], line["status"]) == ("16069", "saved decision", "matched")


def test_a_choice_can_be_revised_and_several_be_saved_at_once(kitchen: Path) -> None:
    write(kitchen, "pots.txt", "region: uk\n100 g zorgles\n100 g flimps\n")
    assert mealcalc("match", "pots.txt", "--choose", "2=16069", "--choose", "3=sr28:20036").status == 0
    assert mealcalc("match", "pots.txt", "--choose", "2=01123").status == 0
    assert {entry["food"]: entry["code"] for entry in _decisions(kitchen)} == {"zorgles": "01123", "flimps": "20036"}


def test_none_says_that_no_table_holds_it(kitchen: Path, recipe: Path) -> None:
    recipe.write_text(recipe.read_text(encoding="utf-8").replace("zorgles", "brown rice"), encoding="utf-8")
    answer = mealcalc("match", recipe, "--choose", "3=none")
    assert answer.status == 1
    assert "no loaded food table holds 'brown rice'" in answer.err
    assert _decisions(kitchen)[0]["code"] == "none"


def test_choices_for_standard_input_are_saved_for_all_recipes(tmp_path: Path, recipe: Path) -> None:
    assert mealcalc("match", "-", "--region", "uk", "--choose", "1=16069", given="5 g zorgles\n").status == 0
    assert (tmp_path / "configuration" / "decisions.yaml").exists()
    assert mealcalc("macros", recipe).status == 0


def test_what_stands_beside_the_recipe_wins_over_what_counts_for_all(recipe: Path) -> None:
    mealcalc("match", "-", "--region", "uk", "--choose", "1=16069", given="5 g zorgles\n")
    mealcalc("match", recipe, "--choose", "3=20036")
    assert mealcalc("match", recipe, "--json").json_lines[0]["food"]["code"] == "20036"


@pytest.mark.parametrize(
    "choice", ["3", "3=", "=16069", "three=16069", "3=99999", "3=1123", "99=16069", "3=x:16069", "²=1"]
)
def test_a_choice_that_cannot_be_made_is_wrong_usage_and_saves_nothing(
    kitchen: Path, recipe: Path, choice: str
) -> None:
    answer = mealcalc("match", recipe, "--choose", "3=20036", "--choose", choice)
    assert answer.status == 2
    assert "hint:" in answer.err
    assert not (kitchen / "pots.decisions.yaml").exists()


def test_an_own_food_can_be_chosen(kitchen: Path) -> None:
    write(
        kitchen,
        "pots.batch.yaml",
        "region: uk\ncomponents:\n  - name: All\n    ingredients: |\n      50 g zorgle flour\n"
        "foods:\n  - name: pea protein powder\n    per: 100 g\n    energy: 1640 kJ\n    PROCNT: 80 g\n    FAT: 6 g\n"
        "    CHOCDF: 5 g\n",
    )
    assert mealcalc("match", "pots.batch.yaml", "--choose", "5=own:pea-protein-powder").status == 0
    line = mealcalc("match", "pots.batch.yaml", "--json").json_lines[0]
    assert line["food"]["description"] == "pea protein powder"


def test_the_lines_of_a_variant() -> None:
    smoky = EXAMPLES / "smoky-bean-turkey.batch.yaml"
    texts = [line["text"] for line in mealcalc("match", smoky, "--variant", "leaner mince", "--json").json_lines]
    assert "1 kg turkey mince, 2% fat" in texts
    assert "1 kg turkey mince, 7% fat" not in texts
    assert mealcalc("match", "-", "--variant", "leaner mince", given="100 g rice\n").status == 2
