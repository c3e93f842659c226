"""The readers against the publishers' own files: counts, and printed figures of twelve foods of each table.

tests/data/food_tables/printed_figures.csv holds the cells as printed in the files, copied out with no reader of ours:
ABBREV.txt of SR28, the workbook 'FNDDS Nutrient Values' 2017-2018, 'Table Ciqual 2020' (French; Anses-Ciqual 2020).
Carbohydrate is as each table defines it. AUSNUT may not be passed on: its cells are read from the file at hand.
"""

import csv
import gzip
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest

from data_loaders.checks import check_reader
from data_loaders.interface import Reader
from data_loaders.mapping import shipped_mapping
from data_loaders.readers.mapped_sheet import MappedSheetReader
from data_loaders.readers.sheet_rows import read_sheet
from data_loaders.readers.sr28_table import Sr28Reader
from mealcalc.diagnostics import has_errors
from mealcalc.errors import InputFileError
from mealcalc.values import Value, ValueStatus

FIGURES = Path(__file__).parent.parent / "data" / "food_tables" / "printed_figures.csv"
CIQUAL_CSV = "ciqual-2020/ciqual-2020-fr.export.csv.gz"
CIQUAL_XLS = "ciqual-2020/Table Ciqual 2020_FR_2020 07 07.xls.gz"
CIQUAL_XLSX = "ciqual-2020/Table Ciqual 2020_ENG_2020 07 07.xlsx"
FNDDS_XLSX = "fndds-2017-2018/2017-2018 FNDDS At A Glance - FNDDS Nutrient Values.xlsx"
FNDDS_CSV = "fndds-2017-2018/fndds-nutrient-values-2017-2018.export.csv.gz"
AUSNUT_CSV = "ausnut-2011-13/AUSNUT.csv.gz"

Table = Mapping[str, tuple[str, Mapping[str, Value]]]
"""Food code -> name, and values by component key, those of the loaders' vocabulary among them."""


def open_sheet(data: Path, table: str, name: str) -> MappedSheetReader:
    return MappedSheetReader(data / "data" / name, shipped_mapping(table))


def values_of(reader: Reader) -> Table:
    found: dict[str, tuple[str, dict[str, Value]]] = {}
    for chunk in reader.chunks():
        for food in chunk.foods:
            values = {key: Value(amount, status) for key, amount, status in food.values}
            found[food.code] = (food.description, values)
        for code, key, amount, status in chunk.further:
            found[code][1][key] = Value(amount, status)
    return found


@pytest.fixture(scope="module")
def readers(reference_data: Path) -> dict[str, Reader]:
    return {
        "sr28": Sr28Reader(reference_data / "data" / "sr28"),
        "fndds": open_sheet(reference_data, "fndds", FNDDS_CSV),
        "ciqual": open_sheet(reference_data, "ciqual", CIQUAL_CSV),
        "ausnut": open_sheet(reference_data, "ausnut", AUSNUT_CSV),
    }


@pytest.fixture(scope="module")
def tables(readers: dict[str, Reader]) -> dict[str, Table]:
    return {name: values_of(reader) for name, reader in readers.items()}


def printed() -> Iterator[dict[str, str]]:
    with FIGURES.open(encoding="utf-8", newline="") as stream:
        yield from csv.DictReader(stream)


CARBOHYDRATE = {"sr28": "CHOCDF_G", "fndds": "CHOCDF_G", "ciqual": "CHOAVLDF_G"}
KEYS = {
    "water_g": "WATER_G",
    "protein_g": "PROCNT_G",
    "fat_g": "FAT_G",
    "fibre_g": "FIBTG_G",
    "sugars_g": "SUGAR_G",
    "sodium_mg": "NA_MG",
}


# Rows without the header, counted by the publisher: SR28 and FNDDS documentation, Anses (3185 foods), FSANZ (5740).
@pytest.mark.parametrize(("table", "foods"), [("sr28", 8789), ("fndds", 7083), ("ciqual", 3185), ("ausnut", 5740)])
def test_as_many_foods_as_the_publisher_counts(
    tables: dict[str, Table], readers: dict[str, Reader], table: str, foods: int
) -> None:
    assert len(tables[table]) == foods
    assert not has_errors(readers[table].diagnostics)


@pytest.mark.parametrize("row", list(printed()), ids=lambda row: f"{row['table']}-{row['code']}")
def test_figures_as_printed(tables: dict[str, Table], row: dict[str, str]) -> None:
    name, values = tables[row["table"]][row["code"]]
    assert name == row["description"]
    columns = {**KEYS, "energy": "ENERC_KCAL", "carbohydrate_g": CARBOHYDRATE[row["table"]]}
    for column, key in columns.items():
        text = row[column].replace(",", ".")
        value = values.get(key)
        if text in ("", "-"):
            assert value is None
        elif text == "traces":
            assert value == Value(0.0, ValueStatus.TRACE)
        elif text.startswith("<"):
            assert value == Value(float(text[1:]) / 2, ValueStatus.BELOW_LIMIT)
        else:
            assert value is not None
            assert value.amount == float(text)
            assert value.status in (ValueStatus.PUBLISHED, ValueStatus.CALCULATED)


AUSNUT_CODES = (
    "12102003 14101001 14402007 16501001 17101001 18101064 18101079 19101001 24101020 24601002 25101013 25102008"
)


def test_figures_of_ausnut_as_printed(reference_data: Path, tables: dict[str, Table]) -> None:
    with gzip.open(reference_data / "data" / AUSNUT_CSV, "rt", encoding="utf-8", newline="") as stream:
        rows = {row["AUSNUT_CODE"]: row for row in csv.DictReader(stream)}
    for code in AUSNUT_CODES.split():
        name, values = tables["ausnut"][code]
        assert name == rows[code]["eight_dig_d"]
        for column, key in (
            ("energy_wdf_kj", "ENERC_KJ"),
            ("energy_wodf_kj", "ENERC_NO_FIBRE_KJ"),
            ("moisture_g", "WATER_G"),
            ("protein_g", "PROCNT_G"),
            ("carbs_wosa_g", "CHOAVL_G"),
            ("total_fat_g", "FAT_G"),
            ("fibre_g", "FIBTG_G"),
            ("total_folates_ug", "FOL_UG"),
            ("vit_a_retinol_ug", "VITA_UG"),
            ("sodium_mg", "NA_MG"),
        ):
            assert values[key] == Value(float(rows[code][column])), (code, key)
        assert values["FATRN_G"].amount == pytest.approx(float(rows[code]["trans_fat_mg"]) / 1000)
        by_weight = float(rows[code]["carbs_wosa_g"])
        assert values["CHOAVLDF_G"] == Value(by_weight, ValueStatus.CALCULATED)
        assert values["CHOCDF_G"].amount == pytest.approx(by_weight + float(rows[code]["fibre_g"]))


def test_the_survey_workbook_reads_back_equal(reference_data: Path, tables: dict[str, Table]) -> None:
    workbook = values_of(open_sheet(reference_data, "fndds", FNDDS_XLSX))
    assert workbook == tables["fndds"]
    # 65 figures for each food, none of them blank.
    assert sum(len(values) for _, values in workbook.values()) == 7083 * 65


@pytest.mark.parametrize("name", [CIQUAL_XLS, CIQUAL_XLSX])
def test_three_forms_of_ciqual_hold_the_same_values(reference_data: Path, tables: dict[str, Table], name: str) -> None:
    other = values_of(open_sheet(reference_data, "ciqual", name))
    assert {code: values for code, (_, values) in other.items()} == {
        code: values for code, (_, values) in tables["ciqual"].items()
    }


def test_a_food_on_two_rows_is_one_food(readers: dict[str, Reader], tables: dict[str, Table]) -> None:
    name, values = tables["ciqual"]["9621"]
    assert name == "Son de blé"
    assert (values["ENERC_KJ"].amount, values["ENERC_KCAL"].amount, values["FIBTG_G"].amount) == (1160, 279, 42)
    assert [d.code for d in readers["ciqual"].diagnostics] == ["columns-left-out", "code-on-two-rows"]


def test_every_status_of_ciqual_is_kept(tables: dict[str, Table]) -> None:
    statuses = [v.status for _, values in tables["ciqual"].values() for v in values.values()]
    # 'traces' and '<' counted in the file's cells with no reader of ours.
    assert statuses.count(ValueStatus.TRACE) == 1904
    assert statuses.count(ValueStatus.BELOW_LIMIT) == 13916 + 2714


def test_no_column_is_dropped_in_silence(readers: dict[str, Reader], tables: dict[str, Table]) -> None:
    assert tables
    for reader in readers.values():
        assert "unmapped-columns" not in {d.code for d in reader.diagnostics}


# (SR28, FNDDS, Ciqual, AUSNUT) codes of one food, and the component with the width of the band in its unit: what
# varieties, trimming and seasons differ by (our judgement).
SAME_FOODS = [
    ("carrots, raw", ("11124", "73101010", "20009", None), {"WATER_G": 3, "PROCNT_G": 1, "FAT_G": 1}),
    ("banana, raw", ("09040", "63107010", "13005", "16501001"), {"WATER_G": 4, "PROCNT_G": 1, "FAT_G": 1}),
    ("egg, raw", ("01123", "31101010", "22000", "17101001"), {"WATER_G": 2, "PROCNT_G": 1, "FAT_G": 2}),
    ("whole milk", ("01077", "11111000", "19023", "19101001"), {"WATER_G": 2, "PROCNT_G": 1, "FAT_G": 1}),
    ("tomato, raw", ("11529", "74101000", "20047", "24601002"), {"WATER_G": 3, "PROCNT_G": 1, "FAT_G": 1}),
    ("potato, raw", ("11352", None, None, "24101020"), {"WATER_G": 5, "PROCNT_G": 1, "FAT_G": 1}),
    ("chickpeas, boiled", ("16057", None, None, "25101011"), {"WATER_G": 8, "PROCNT_G": 3, "FAT_G": 2}),
    ("butter, salted", ("01001", "81101000", None, "14101001"), {"WATER_G": 3, "PROCNT_G": 1, "FAT_G": 2}),
]


@pytest.mark.parametrize(("codes", "widths"), [row[1:] for row in SAME_FOODS], ids=[row[0] for row in SAME_FOODS])
def test_one_food_across_tables(
    tables: dict[str, Table], codes: tuple[str | None, ...], widths: dict[str, float]
) -> None:
    foods = [tables[t][code][1] for t, code in zip(("sr28", "fndds", "ciqual", "ausnut"), codes, strict=True) if code]
    for key, width in widths.items():
        amounts = [food[key].amount or 0.0 for food in foods]
        assert max(amounts) - min(amounts) <= width, key
    kcal = [v.amount for food in foods if (v := food.get("ENERC_KCAL")) is not None and v.amount is not None]
    assert max(kcal) <= 1.5 * min(kcal)


# Share of the foods checked that may break each kind of check: a shifted column or wrong unit breaks nearly all.
@pytest.mark.parametrize("table", ["sr28", "fndds", "ciqual", "ausnut"])
def test_tables_keep_their_invariants(readers: dict[str, Reader], table: str) -> None:
    report = check_reader(readers[table])
    assert report.checked["proximates near 100 g"] > 0.8 * report.foods
    assert any(check.startswith("energy") for check in report.checked)
    broken: Callable[[str], int] = [breach.check for breach in report.breaches].count
    for check, count in report.checked.items():
        assert broken(check) <= 0.11 * count + 1, check
    assert broken("unique codes") == 0


def test_a_table_saved_again_in_mac_os_roman(reference_data: Path) -> None:
    # Canadian Nutrient File 2015, food names only: bare carriage returns, e-acute as byte 0x8E; 5690 foods.
    path = reference_data / "data" / "cnf-2015" / "FOOD NAME.csv.gz"
    with pytest.raises(InputFileError, match=r"FOOD NAME\.csv:2: byte 0x[0-9a-f]{2} is not UTF-8") as raised:
        read_sheet(path)
    assert "encoding" in raised.value.hint
    sheet = read_sheet(path, encoding="mac_roman")
    assert len(sheet.rows) == 5691
    assert sheet.rows[0].cells[:2] == ("FoodID", "FoodCode")
    assert sheet.rows[1].cells[5] == "Soufflé au fromage"
