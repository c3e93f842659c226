"""`mealcalc explain` through the real command."""

from pathlib import Path

import pytest

from tests.command import EXAMPLES, mealcalc, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"


def test_one_figure_is_explained_line_by_line() -> None:
    answer = mealcalc("explain", SMOKY, "--of", "protein")
    assert answer.status == 0
    protein_g = mealcalc("macros", SMOKY, "--json").json["per_container"]["PROCNT_G"]
    assert f"protein in one container: {protein_g:.2f} g" in answer.out
    assert "line 20: 1 kg turkey mince, 7% fat" in answer.out
    assert "sr28:05665" in answer.out


def test_energy_is_explained_unless_something_else_is_asked() -> None:
    assert "energy in one container" in mealcalc("explain", SMOKY).out


def test_json_agrees_with_macros() -> None:
    macros = mealcalc("macros", SMOKY, "--json").json
    shape = mealcalc("explain", SMOKY, "--of", "VITC_MG", "--json").json
    assert shape["key"] == "VITC_MG"
    assert shape["per_container"] == macros["per_container"]["VITC_MG"]
    amounts = {line["file_line"]: line["amount"] for part in shape["components"] for line in part["lines"]}
    assert amounts[19] == next(line for line in macros["lines"] if line["file_line"] == 19)["contribution"]["VITC_MG"]


def test_a_component_and_a_line_can_be_picked() -> None:
    answer = mealcalc("explain", SMOKY, "--of", "fat", "--component", "beans and turkey", "--line", "16")
    assert answer.status == 0
    assert "line 16: 1 tbsp olive oil" in answer.out
    assert "line 20" not in answer.out
    assert "other lines" in answer.out


def test_a_variant_is_explained() -> None:
    answer = mealcalc("explain", SMOKY, "--of", "fat", "--variant", "no yoghurt")
    assert "(no yoghurt)" in answer.out
    assert "Greek yoghurt" not in answer.out


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (("--of", "protien"), "did you mean 'protein'?"),
        (("--component", "Brown rise"), "did you mean 'Brown rice'?"),
        (("--line", "3"), "ingredients stand on lines 9, 10"),
        (("--line", "0"), "Invalid value for '--line'"),
        (("--variant", "bigger"), "no variant 'bigger'"),
    ],
)
def test_what_is_not_there_is_wrong_usage(options: tuple[str, str], message: str) -> None:
    answer = mealcalc("explain", SMOKY, *options)
    assert answer.status == 2
    assert message in answer.err
    assert answer.out == ""


def test_an_incomplete_figure_is_told_and_fails(kitchen: Path) -> None:
    write(kitchen, "list.txt", "400 g carrots\n300 g unobtainium zzyzx\n")
    answer = mealcalc("explain", "list.txt", "--of", "fat", "--region", "uk")
    assert answer.status == 1
    assert "NOT COUNTED: no table holds this food" in answer.out
    assert "not known of line 2" in answer.out


def test_a_list_on_standard_input_is_explained() -> None:
    answer = mealcalc("explain", "-", "--of", "fat", "--region", "uk", given="40 g olive oil\n")
    assert answer.status == 0
    assert "fat in the whole batch: 40.00 g" in answer.out


def test_a_file_without_a_recipe_fails(kitchen: Path) -> None:
    write(kitchen, "empty.txt", "")
    assert mealcalc("explain", "empty.txt").status == 1
