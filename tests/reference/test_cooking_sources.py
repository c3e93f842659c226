"""The shipped factors against the publishers' own files, which are read from outside the package."""

import csv
import gzip
import io
import re
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

from mealcalc.reference.cooking_factors import oil_uptake, retention_factors, yield_factors

_SHEET = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_CELL = re.compile(r"([A-Z]+)\d+")

COLUMNS = {
    "usda_rf_calcium": "CA_MG",
    "usda_rf_iron": "FE_MG",
    "usda_rf_magnesium": "MG_MG",
    "usda_rf_phosphorus": "P_MG",
    "usda_rf_potassium": "K_MG",
    "usda_rf_sodium": "NA_MG",
    "usda_rf_zinc": "ZN_MG",
    "usda_rf_copper": "CU_MG",
    "usda_rf_vitc": "VITC_MG",
    "usda_rf_vitb1": "THIA_MG",
    "usda_rf_vitb2": "RIBF_MG",
    "usda_rf_vitb3": "NIA_MG",
    "usda_rf_vitb6": "VITB6A_MG",
    "usda_rf_folate_food": "FOLFD_UG",
    "usda_rf_vitb9": "FOLAC_UG",
    "usda_rf_folate_total": "FOL_UG",
    "usda_rf_choline": "CHOLN_MG",
    "usda_rf_vitb12": "VITB12_UG",
    "usda_rf_vita_iu": "VITA_IU",
    "usda_rf_vita_re": "VITA_RAE_UG",
    "usda_rf_alcohol": "ALC_G",
    "usda_rf_carotene_beta": "CARTB_UG",
    "usda_rf_carotene_alpha": "CARTA_UG",
    "usda_rf_cryptoxanthin": "CRYPX_UG",
    "usda_rf_lycopene": "LYCPN_UG",
    "usda_rf_lutein": "LUT+ZEA_UG",
}
"""Columns of the laid-out table of release 6 -> our component keys."""


def test_retention_is_the_published_table_cell_by_cell(reference_data: Path) -> None:
    rows = _first_sheet(reference_data / "data" / "usda-retention-r6" / "USDA_nrf.xlsx")
    assert len(rows) == 270
    compared = 0
    for row in rows:
        ours = retention_factors()[row["retention_factor"]]
        assert ours.description == row["Retention Description"]
        for column, key in COLUMNS.items():
            assert ours.percent[key] == float(row[column]), (ours.code, key)
            compared += 1
    assert compared == 270 * 26


def test_survey_moisture_changes_are_the_published_ones(reference_data: Path) -> None:
    with gzip.open(
        reference_data / "data" / "fndds-2017-2018" / "fndds2017_moisture.csv.gz",
        "rt",
        encoding="utf-8-sig",
        newline="",
    ) as stream:
        published = {row["Food code"]: row["Moisture change (%)"] for row in csv.DictReader(stream)}
    rows = [row for row in yield_factors() if row.source.startswith("USDA Food and Nutrient Database")]
    assert len(rows) == 55
    for row in rows:
        assert row.moisture_change_g == float(published[row.row_id.removeprefix("fndds-")]), row.row_id
        assert row.yield_percent == 100 + row.moisture_change_g, row.row_id


@pytest.fixture
def adjustments(reference_data: Path) -> dict[str, tuple[float, float]]:
    """Food code -> moisture and fat change in percent, survey release 2013-2014."""
    path = reference_data / "data" / "fndds-moistnfatadjust" / "fndds2013_MoistNFatAdjust.csv.gz"
    with gzip.open(path, "rt", encoding="utf-8-sig", newline="") as stream:
        rows = csv.DictReader(stream)
        return {row["Food code"]: (float(row["Moisture change"]), float(row["Fat change"])) for row in rows}


def test_survey_fat_changes_are_the_published_ones(adjustments: dict[str, tuple[float, float]]) -> None:
    rows = [row for row in yield_factors() if row.source.startswith("USDA FNDDS Moisture and Fat")]
    assert len(rows) == 9
    for row in rows:
        assert (row.moisture_change_g, row.fat_change_g) == adjustments[row.row_id.split("-")[1]], row.row_id
        assert row.yield_percent == 100 + (row.moisture_change_g or 0) + (row.fat_change_g or 0), row.row_id
    taken_up = [row for row in oil_uptake() if row.source.startswith("USDA FNDDS")]
    assert len(taken_up) == 27
    for uptake in taken_up:
        assert uptake.fat_g_per_100g == adjustments[uptake.source.split()[-1]][1], uptake


def test_the_survey_states_fat_change_in_percent_of_the_raw_recipe(
    reference_data: Path, adjustments: dict[str, tuple[float, float]]
) -> None:
    # The later release has no fat change: the frying fat stands among the ingredients, 8.00 g to 100 g of the others
    # for coated fish, whose fat change was 8.
    path = reference_data / "data" / "fndds-2017-2018" / "fndds2017_moisture.csv.gz"
    with gzip.open(path, "rt", encoding="utf-8-sig", newline="") as stream:
        recipe = [row for row in csv.DictReader(stream) if row["Food code"] == "26100140"]
    weights = {row["Ingredient description"]: float(row["Ingredient weight (g)"]) for row in recipe}
    fat = sum(weight for name, weight in weights.items() if "oil" in name.lower())
    assert 100 * fat / (sum(weights.values()) - fat) == pytest.approx(adjustments["26100140"][1], abs=0.005)


def _first_sheet(path: Path) -> list[dict[str, str]]:
    with zipfile.ZipFile(path) as archive:
        shared = ElementTree.fromstring(archive.read("xl/sharedStrings.xml"))
        texts = ["".join(part.text or "" for part in item.iter(f"{_SHEET}t")) for item in shared.iter(f"{_SHEET}si")]
        sheet = ElementTree.parse(io.BytesIO(archive.read("xl/worksheets/sheet1.xml")))
    rows = [_cells(row, texts) for row in sheet.iter(f"{_SHEET}row")]
    header = rows[0]
    return [{header[column]: value for column, value in row.items()} for row in rows[1:]]


def _cells(row: ElementTree.Element, texts: list[str]) -> dict[str, str]:
    cells = {}
    for cell in row.iter(f"{_SHEET}c"):
        place = _CELL.fullmatch(cell.attrib["r"])
        value = cell.find(f"{_SHEET}v")
        assert place is not None
        assert value is not None
        assert value.text is not None
        cells[place[1]] = texts[int(value.text)] if cell.get("t") == "s" else value.text
    return cells
