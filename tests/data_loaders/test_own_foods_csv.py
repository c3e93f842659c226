"""The cook's own foods from a CSV of pack labels, all invented."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from data_loaders.interface import Reader, whole_foods
from data_loaders.readers.own_foods import COLUMNS, OwnFoodsReader, template
from mealcalc.diagnostics import Severity
from mealcalc.errors import InputFileError
from mealcalc.fooddb.writer import FoodRow
from mealcalc.values import Value, ValueStatus


def read(path: Path, text: str) -> tuple[list[FoodRow], list[str]]:
    path.write_text(text, encoding="utf-8")
    reader: Reader = OwnFoodsReader(path)
    foods = list(whole_foods(reader))
    return foods, [d.code for d in reader.diagnostics]


def values(food: FoodRow) -> dict[str, Value]:
    return {key: Value(amount, status) for key, amount, status in food.values}


def test_the_template_reads_without_a_finding(tmp_path: Path) -> None:
    (powder, drink), findings = read(tmp_path / "mine.csv", template())
    assert findings == []
    assert template().splitlines()[0] == ",".join(COLUMNS)
    assert (powder.code, powder.measures[0].mass_g) == ("pea-protein-powder", 30)
    assert values(powder)["PROCNT_G"] == Value(80.0)
    # 2.1 g of salt are 0.84 g of sodium (Regulation (EU) No 1169/2011, Annex I, point 11).
    assert values(powder)["NA_MG"].amount == pytest.approx(840)
    assert values(powder)["CHOCDF_G"].amount == pytest.approx(3.1 + 4)
    # 100 ml weigh 103 g.
    assert values(drink)["FAT_G"].amount == pytest.approx(1.5 / 1.03)
    assert values(drink)["ENERC_KCAL"].amount == pytest.approx(195 / 1.03 / 4.184)
    assert values(drink)["ENERC_KCAL"].status is ValueStatus.CALCULATED


def test_figures_per_serving_and_decimal_commas(tmp_path: Path) -> None:
    text = "per;name;serving_g;fat_g;protein_g;saturates_g\nserving;chilli sauce;20;0,5;<0,5;trace\n"
    (food,), findings = read(tmp_path / "mine.csv", text)
    assert findings == []
    assert values(food) == {
        "FAT_G": Value(2.5),
        "PROCNT_G": Value(1.25, ValueStatus.BELOW_LIMIT),
        "FASAT_G": Value(0.0, ValueStatus.TRACE),
    }


@pytest.mark.parametrize(
    ("header", "row", "said"),
    [
        ("fat_g", "fatty", "'fatty' is no number"),
        ("fat_g,saturates_g", "2,3", "saturated fatty acids of 3 g are more than fat of 2 g"),
        ("protein_g,fat_g", "60,60", "add up to 120.0 g"),
        ("energy_kj,energy_kcal", "1640,1640", "energy in kJ and in kcal do not agree"),
        ("salt_g,sodium_mg", "1,1000", "salt and sodium do not agree"),
        ("density_g_per_ml", "103", "no density of a food"),
        ("fat_g", "2,3", "4 cells under 3 columns"),
    ],
)
def test_a_row_that_contradicts_itself_is_left_out_with_its_place(
    tmp_path: Path, header: str, row: str, said: str
) -> None:
    path = tmp_path / "mine.csv"
    path.write_text(f"name,per,{header}\nred paste,100 g,{row}\n", encoding="utf-8")
    reader = OwnFoodsReader(path)
    assert list(whole_foods(reader)) == []
    (finding,) = reader.diagnostics
    assert said in finding.message
    assert (finding.severity, str(finding.span)) == (Severity.ERROR, "mine.csv:2:1")


@pytest.mark.parametrize(("per", "said"), [("cup", "per 'cup' is none of"), ("serving", "need serving_g")])
def test_a_basis_that_is_not_known(tmp_path: Path, per: str, said: str) -> None:
    path = tmp_path / "mine.csv"
    path.write_text(f"name,per,fat_g\nred paste,{per},1\n", encoding="utf-8")
    reader = OwnFoodsReader(path)
    assert list(whole_foods(reader)) == []
    assert said in reader.diagnostics[0].message


def test_energy_in_the_wrong_column_is_doubted(tmp_path: Path) -> None:
    text = "name,per,energy_kcal,protein_g,fat_g,carbohydrate_without_fibre_g\nbar,100 g,1640,20,10,55\n"
    foods, findings = read(tmp_path / "mine.csv", text)
    assert (len(foods), findings) == (1, ["energy-doubtful"])


def test_millilitres_without_density_are_told(tmp_path: Path) -> None:
    foods, findings = read(tmp_path / "mine.csv", "name,per,fat_g\nsoup,100 ml,2\n")
    assert (values(foods[0])["FAT_G"].amount, findings) == (2, ["density-assumed"])


@pytest.mark.parametrize("header", ["name,per,carbs", "name,fat_g", "name,per,fat_g,fat_g"])
def test_columns_that_cannot_be_meant_refuse_the_file(tmp_path: Path, header: str) -> None:
    with pytest.raises(InputFileError, match=r"mine\.csv:1: (unknown|missing|repeated) column"):
        read(tmp_path / "mine.csv", f"{header}\nx,100 g,1,1\n")


@given(st.floats(min_value=0.01, max_value=30), st.floats(min_value=5, max_value=400))
def test_per_serving_says_the_same_as_per_100_g(fat_g: float, serving_g: float) -> None:

    with tempfile.TemporaryDirectory() as folder:
        per_serving = f"name,per,serving_g,fat_g\na,serving,{serving_g!r},{fat_g * serving_g / 100:.12f}\n"
        (food,), _ = read(Path(folder) / "mine.csv", per_serving)
    assert values(food)["FAT_G"].amount == pytest.approx(fat_g, rel=1e-6)
