"""The stable machine shapes, key by key, through the real command; docs/machine-shapes.md says what they promise."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import FoodDatabase
from mealcalc.reports.machine import number
from tests.command import EXAMPLES, ROOT, mealcalc

RECIPE = """\
title: Every kind of line
region: uk
containers: 4
components:
  - name: Base
    ingredients: |
      400-500 g brown rice, raw
      salt to taste
      1 kg beef mince, 12% fat, raw
  - name: Rest
    cooked_weight: 300 g
    ingredients: |
      300 g zorgles
      100 g butter or margarine (optional)
      2 tbsp olive oil [used 50%]
      100 g honey [count no]
      1 tsp ground coriander
"""
NAMES = ("brown rice", "salt", "beef mince", "zorgles", "butter", "olive oil", "honey", "coriander")

BATCH_KEYS = {"batch", "region", "containers", "complete", "incomplete", "per_container", "components", "lines"}
COMPONENT_KEYS = {"name", "per_container", "cooked_mass_g", "cooked_mass_ground"}
LINE_KEYS = {
    "file_line", "text", "component", "status", "food", "quantity_low", "quantity_high", "unit", "name", "mass_g",
    "used_share", "energy_kcal", "strategy", "score", "runners_up", "choices", "diagnostics",
}  # fmt: skip
MACROS = (
    "ENERC_KCAL", "ENERC_KJ", "PROCNT_G", "FAT_G", "FASAT_G", "CHOCDF_G", "CHOAVLDF_G", "FIBTG_G", "SUGAR_G", "NA_MG",
    "WATER_G",
)  # fmt: skip


@pytest.fixture(scope="module")
def shape(database: FoodDatabase, tmp_path_factory: pytest.TempPathFactory) -> Any:  # noqa: ARG001
    path = tmp_path_factory.mktemp("recipe") / "every.batch.yaml"
    path.write_text(RECIPE, encoding="utf-8")
    answer = mealcalc("macros", path, "--json")
    assert answer.status == 1  # the zorgles
    return answer.json


def _line(shape: Any, name: str) -> Any:
    return shape["lines"][NAMES.index(name)]


def test_the_batch(shape: Any) -> None:
    assert set(shape) >= BATCH_KEYS
    assert (shape["batch"], shape["region"], shape["containers"]) == ("Every kind of line", "uk", 4)
    assert shape["complete"] is False
    assert [component["name"] for component in shape["components"]] == ["Base", "Rest"]
    assert all(set(component) >= COMPONENT_KEYS for component in shape["components"])
    assert all(set(line) >= LINE_KEYS for line in shape["lines"])
    assert [line["file_line"] for line in shape["lines"]] == [7, 8, 9, 13, 14, 15, 16, 17]
    assert [line["component"] for line in shape["lines"]] == ["Base"] * 3 + ["Rest"] * 5


def test_per_container_has_every_food_component_as_a_number_or_null(shape: Any) -> None:
    for totals in (shape["per_container"], *(component["per_container"] for component in shape["components"])):
        assert list(totals) == list(FOOD_COMPONENTS)
        assert set(totals) >= set(MACROS)
        assert all(amount is None or isinstance(amount, float) for amount in totals.values())


def test_incomplete_names_the_lines_by_food_component(shape: Any) -> None:
    assert 13 in shape["incomplete"]["ENERC_KCAL"]
    assert shape["incomplete"]["NA_MG"] == [8, 13]
    assert shape["incomplete"]["SUGAR_G"] == [13, 17]  # SR28 leaves the sugars of coriander seed blank
    assert set(shape["incomplete"]) <= set(FOOD_COMPONENTS)


def test_components_add_up_to_the_container(shape: Any) -> None:
    for key in MACROS:
        parts = [component["per_container"][key] for component in shape["components"]]
        assert shape["per_container"][key] == pytest.approx(sum(parts), abs=2e-4)


def test_the_scale_overrules_the_mass(shape: Any) -> None:
    rest = shape["components"][1]
    assert rest["cooked_mass_g"] == 300.0
    assert "weighed" in rest["cooked_mass_ground"]


def test_a_matched_line_with_a_range_counts_at_its_middle(shape: Any) -> None:
    line = _line(shape, "brown rice")
    assert line["status"] == "matched"
    assert line["text"] == "400-500 g brown rice, raw"
    assert (line["quantity_low"], line["quantity_high"], line["unit"], line["name"]) == (
        400.0,
        500.0,
        "g",
        "brown rice",
    )
    assert set(line["food"]) >= {"table", "code", "description", "blend"}
    assert (line["food"]["table"], line["food"]["code"], line["food"]["blend"]) == ("sr28", "20036", None)
    assert line["food"]["description"] == "Rice, brown, long-grain, raw"
    assert line["mass_g"] == 450.0
    assert line["energy_kcal"] == pytest.approx(4.5 * 367)  # SR28 20036: 367 kcal in 100 g
    assert line["used_share"] == 1.0
    assert 0.0 < line["score"] <= 1.0
    assert isinstance(line["strategy"], str)
    assert (line["choices"], line["diagnostics"]) == ([], [])


def test_an_unmatched_line_is_unknown_and_not_zero(shape: Any) -> None:
    line = _line(shape, "zorgles")
    assert (line["status"], line["food"], line["mass_g"], line["energy_kcal"]) == ("unmatched", None, None, None)
    assert (line["quantity_low"], line["unit"], line["name"]) == (300.0, "g", "zorgles")
    (finding,) = line["diagnostics"]
    assert set(finding) >= {"code", "severity", "message", "hint", "file", "line", "column"}
    assert (finding["code"], finding["severity"], finding["line"]) == ("unmatched-food", "error", 13)
    assert all(amount is None for amount in line["contribution"].values())


@pytest.mark.parametrize("name", ["salt", "honey"])
def test_a_line_that_is_not_counted_contributes_nothing(shape: Any, name: str) -> None:
    line = _line(shape, name)
    assert line["status"] == "not_counted"
    assert line["energy_kcal"] == 0.0
    assert set(line["contribution"].values()) == {0.0}
    assert line["food"]["table"] == "sr28"


def test_a_line_without_an_amount_has_no_quantity(shape: Any) -> None:
    line = _line(shape, "salt")
    assert (line["quantity_low"], line["quantity_high"], line["unit"], line["mass_g"]) == (None, None, None, None)


def test_a_blend_names_both_foods_and_the_code_of_the_nearer(shape: Any) -> None:
    food = _line(shape, "beef mince")["food"]
    assert [part["code"] for part in food["blend"]] == ["23562", "23567"]  # SR28: 10 % and 15 % fat
    assert [part["share"] for part in food["blend"]] == [0.6, 0.4]
    assert set(food["blend"][0]) >= {"table", "code", "description", "share"}
    assert food["code"] == "23562"


def test_mass_is_before_the_share_that_is_eaten_and_energy_after_it(shape: Any) -> None:
    line = _line(shape, "olive oil")
    # SR28 04053: 884 kcal in 100 g; 216 g in a US cup of 236.588 ml; two spoons of 15 ml.
    assert line["mass_g"] == pytest.approx(30 * 216 / 236.588, rel=2e-3)
    assert line["used_share"] == 0.5
    assert line["energy_kcal"] == pytest.approx(line["mass_g"] * 8.84 / 2, abs=0.01)


def test_alternatives_and_optional_lines_are_marked(shape: Any) -> None:
    line = _line(shape, "butter")
    assert line["choices"] == ["margarine"]
    assert line["optional"] is True


def test_runners_up_are_ordered_by_score() -> None:
    (line,) = mealcalc("match", "-", "--region", "uk", "--json", given="200 g mixed roast vegetables\n").json_lines
    scores = [candidate["score"] for candidate in line["runners_up"]]
    assert scores == sorted(scores, reverse=True)
    assert all(set(candidate) >= {"code", "description", "score"} for candidate in line["runners_up"])
    assert all(0.0 <= score <= 1.0 for score in scores)


def test_contributions_add_up_to_the_container(shape: Any) -> None:
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G"):
        parts = [line["contribution"][key] or 0.0 for line in shape["lines"]]
        assert shape["per_container"][key] == pytest.approx(sum(parts) / 4, abs=1e-3)


def test_match_has_the_fields_of_a_line_without_the_component(shape: Any, tmp_path: Path) -> None:
    path = tmp_path / "every.batch.yaml"
    path.write_text(RECIPE, encoding="utf-8")
    lines = mealcalc("match", path, "--json").json_lines
    assert [line["text"] for line in lines] == [line["text"] for line in shape["lines"]]
    assert all(set(line) >= LINE_KEYS - {"component"} for line in lines)
    assert [line["status"] for line in lines] == [line["status"] for line in shape["lines"]]


def test_what_is_unknown_on_every_line_is_null() -> None:
    shape = mealcalc("macros", "-", "--region", "uk", "--json", given="100 g zorgles\n").json
    assert set(shape["per_container"].values()) == {None}
    assert shape["complete"] is False


def test_a_total_partly_known_is_a_number() -> None:
    shape = mealcalc("macros", "-", "--region", "uk", "--json", given="100 g zorgles\n100 g butter\n").json
    assert shape["per_container"]["FAT_G"] == pytest.approx(81.11)  # SR28 01001 Butter, salted
    assert shape["known_share"]["FAT_G"] == pytest.approx(0.5)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf"), None])
def test_no_number_of_json_is_anything_else(value: float | None) -> None:
    assert number(value) is None


def test_numbers_are_rounded_without_a_negative_zero() -> None:
    assert number(1.23456789) == 1.2346
    assert json.dumps(number(-0.00001)) == "0.0"


def test_foods_show() -> None:
    shape = mealcalc("foods", "show", "10088", "--json").json
    assert set(shape) >= {"table", "edition", "code", "description", "group", "per_100g", "measures", "refuse_percent"}
    assert shape["refuse_percent"] == 30.0  # SR28: bone
    assert list(shape["per_100g"]) == list(FOOD_COMPONENTS)
    assert set(shape["per_100g"]["FAT_G"]) == {"amount", "unit", "status"}
    missing = [value for value in shape["per_100g"].values() if value["status"] == "missing"]
    assert all(value["amount"] is None for value in missing)


def test_every_key_is_documented() -> None:
    text = (ROOT / "docs" / "machine-shapes.md").read_text(encoding="utf-8")
    shape = mealcalc("macros", EXAMPLES / "rajma-keema.batch.yaml", "--json").json
    keys = {*shape, *shape["lines"][0], *shape["components"][0], *shape["lines"][0]["food"]}
    keys |= set(mealcalc("foods", "show", "20036", "--json").json)
    keys |= set(mealcalc("foods", "search", "rice", "--json").json[0])
    keys |= set(mealcalc("check", "-", "--json", given="100 g zorgles\n").json[0])
    undocumented = {key for key in keys if f"`{key}`" not in text}
    assert not undocumented
    assert {key for key in FOOD_COMPONENTS if not re.search(rf"`{re.escape(key)}`", text)} == set()
