"""CSV for programs and spreadsheets."""

import csv
import io

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.recipe.reader import read_text
from mealcalc.reports.tables import LINE_COLUMNS, TOTALS_COLUMNS, lines_csv, totals_csv, write_csv
from tests.command import ROOT

RECIPE = "title: =pots\nregion: uk\ncontainers: 2\n=Base:\n100 g butter\n-2 g zorgles\n@x:\nsalt to taste\n"


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_totals(database: FoodDatabase) -> None:
    batch = read_text(RECIPE, "pots.txt").batch
    assert batch is not None
    text = totals_csv(calculate(batch, database))
    rows = _rows(text)
    assert tuple(rows[0]) == TOTALS_COLUMNS
    assert "\r" not in text
    scopes = list(dict.fromkeys((row["scope"], row["name"]) for row in rows))
    assert scopes[-1] == ("container", "'=pots")
    assert {scope for scope, _ in scopes[:-1]} == {"component"}
    assert all(name.startswith("'") for _, name in scopes)
    for scope in scopes:
        keys = [row["key"] for row in rows if (row["scope"], row["name"]) == scope]
        assert keys == list(FOOD_COMPONENTS)
    fat = next(row for row in rows if row["scope"] == "container" and row["key"] == "FAT_G")
    # SR28 01001 Butter, salted: 81.11 g fat in 100 g; two containers.
    assert float(fat["amount_per_container"]) == pytest.approx(81.11 / 2, abs=1e-4)
    assert (fat["tagname"], fat["unit"], fat["unknown_lines"]) == ("FAT", "g", "6")


def test_lines(database: FoodDatabase) -> None:
    batch = read_text(RECIPE, "pots.txt").batch
    assert batch is not None
    rows = _rows(lines_csv(calculate(batch, database).contributions))
    assert tuple(rows[0]) == LINE_COLUMNS
    assert [row["text"] for row in rows] == ["100 g butter", "'-2 g zorgles", "salt to taste"]
    assert (rows[0]["table"], rows[0]["code"], rows[0]["mass_g"]) == ("sr28", "01001", "100.0")
    assert rows[1]["code"] == rows[1]["mass_g"] == rows[1]["energy_kcal"] == ""


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+44", "'+44"),
        ("-2 eggs", "'-2 eggs"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\t=1", "' =1"),
        ("  =1", "'  =1"),
        ("＝1", "'＝1"),
        ("100 g = lots", "100 g = lots"),
        ("", ""),
        (None, ""),
        (-1.5, "-1.5"),
        (0.0, "0.0"),
        ("a\x1b[31mb\x00\r", "a [31mb  "),
        ('say "rice", please', 'say "rice", please'),
    ],
)
def test_cells_are_safe_in_a_spreadsheet_and_in_a_terminal(cell: object, written: str) -> None:
    rows = list(csv.reader(io.StringIO(write_csv(["x", "y"], [[cell, "end"]]))))
    assert rows == [["x", "y"], [written, "end"]]


def test_every_column_is_documented() -> None:
    text = (ROOT / "docs" / "machine-shapes.md").read_text(encoding="utf-8")
    assert [column for column in (*TOTALS_COLUMNS, *LINE_COLUMNS) if f"`{column}`" not in text] == []
