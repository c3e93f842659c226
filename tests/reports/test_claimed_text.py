"""What people read about claimed figures."""

from collections.abc import Mapping

import pytest

from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import run
from mealcalc.planning.claim import claim_as_written
from mealcalc.planning.claimed import judge_claim
from mealcalc.records import BatchResult
from mealcalc.reports.claimed_json import claim_shape
from mealcalc.reports.claimed_text import claim_text
from mealcalc.reports.screen import Screen

RECIPE = """\
title: Claimed pots
region: uk
containers: 4
components:
  - name: All
    ingredients: |
      400 g beef mince, 10% fat
      300 g dry red lentils
      200 g carrots
"""


@pytest.fixture(scope="module")
def result(database: FoodDatabase, tmp_path_factory: pytest.TempPathFactory) -> BatchResult:
    path = tmp_path_factory.mktemp("claimed") / "pots.batch.yaml"
    path.write_text(RECIPE, encoding="utf-8")
    return run(path, database=database)


def shown(
    result: BatchResult, database: FoodDatabase, written: Mapping[str, str], scheme: str = "", *, width: int = 120
) -> str:
    report = judge_claim(result, claim_as_written(written), database, scheme=scheme)
    return claim_text(report, Screen(width))


def ours(result: BatchResult, factor: float = 1.0) -> dict[str, str]:
    keys = {"energy": "ENERC_KCAL", "protein": "PROCNT_G", "fat": "FAT_G", "carbohydrate": "CHOCDF_G"}
    return {name: f"{factor * result.per_container[key].amount:.1f}" for name, key in keys.items()}


def test_agreement_is_said(result: BatchResult, database: FoodDatabase) -> None:
    text = shown(result, database, ours(result))
    assert "Every claimed figure lies within our interval: there is no difference to explain." in text
    assert text.count(" yes") == 4
    assert "one change at a time" not in text


def test_the_best_change_comes_first_with_its_figures(result: BatchResult, database: FoodDatabase) -> None:
    text = shown(result, database, ours(result, 4 / 3))
    assert "What would explain the difference best, one change at a time" in text
    (row,) = [row for row in text.splitlines() if row.startswith("1 ")]
    assert "3 containers instead of 4" in row
    assert f"{4 / 3 * result.per_container['PROCNT_G'].amount:.1f}" in row.split()
    (claimed,) = [row for row in text.splitlines() if row.split()[:1] == ["claimed"] and "ours" not in row]
    assert f"{4 / 3 * result.per_container['FAT_G'].amount:.1f}" in claimed.split()


def test_a_change_may_change_the_definition_too(result: BatchResult, database: FoodDatabase) -> None:
    # Published for three containers, without fibre: nearest to four with fibre until the change is made.
    figures = ours(result, 4 / 3) | {"carbohydrate": f"{4 / 3 * result.per_container['CHOAVLDF_G'].amount:.1f}"}
    flat = " ".join(shown(result, database, figures).split())
    nearer_with_fibre = "the claim is nearer to ours with fibre" in flat
    assert nearer_with_fibre == ("with the first change below to ours without fibre" in flat)
    assert "3 containers instead of 4" in flat


def test_a_change_of_a_line_names_the_line(result: BatchResult, database: FoodDatabase) -> None:
    written = ours(result) | {"fat": f"{result.per_container['FAT_G'].amount + 400 * 0.05 / 4:.1f}"}
    written |= {"energy": f"{result.per_container['ENERC_KCAL'].amount + 39 * 4 / 4:.1f}"}
    assert "line 7: 'beef mince' of 15 % fat, not 10 %" in " ".join(shown(result, database, written).split())


def test_that_nothing_explains_is_said(result: BatchResult, database: FoodDatabase) -> None:
    text = shown(result, database, {"energy": "300", "protein": "2", "fat": "1", "carbohydrate": "71"})
    assert "NO SINGLE CHANGE EXPLAINS THE DIFFERENCE" in text


@pytest.mark.parametrize("width", [60, 80, 120])
def test_tolerances_are_shown_at_any_width(result: BatchResult, database: FoodDatabase, width: int) -> None:
    flat = " ".join(shown(result, database, ours(result), "us", width=width).split())
    limit = 1.2 * float(ours(result)["fat"])
    assert f"holds: at most {limit:.1f}" in flat
    assert "21 CFR 101.9(g)" in flat
    assert "FROM MEMORY" in flat


def test_a_broken_tolerance_stands_out(result: BatchResult, database: FoodDatabase) -> None:
    assert "BROKEN: at most" in shown(result, database, ours(result, 0.5), "us")


def test_schemes_without_a_tolerance_say_so(result: BatchResult, database: FoodDatabase) -> None:
    assert "Tolerance (anz): this scheme publishes no tolerance." in shown(result, database, ours(result), "anz")
    assert "No tolerance is named" in shown(result, database, ours(result))


def test_the_law_s_own_carbohydrate_is_pointed_out(result: BatchResult, database: FoodDatabase) -> None:
    flat = " ".join(shown(result, database, ours(result), "eu").split())
    assert "the claim is nearer to ours with fibre" in flat
    assert "labels under 'eu' count it without fibre" in flat
    assert f" for {result.per_container['CHOAVLDF_G'].amount:.1f}: " in flat


def test_disagreeing_energy_stands_out(result: BatchResult, database: FoodDatabase) -> None:
    flat = " ".join(shown(result, database, ours(result) | {"energy": "900"}).split())
    assert "DISAGREES" in flat


def test_the_machine_shape_says_the_same(result: BatchResult, database: FoodDatabase) -> None:
    report = judge_claim(result, claim_as_written(ours(result, 4 / 3)), database, scheme="us")
    shape = claim_shape(report)
    figures, explanations = shape["figures"], shape["explanations"]
    assert isinstance(figures, list)
    assert isinstance(explanations, list)
    assert [figure["key"] for figure in figures] == ["ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G"]
    assert explanations[0]["description"] == "3 containers instead of 4"
    assert explanations[0]["explains"] is True
    assert shape["agrees"] is False
    assert shape["explained"] is True
    assert figures[2]["tolerance"]["holds"] is True
