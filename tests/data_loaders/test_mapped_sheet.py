"""Any sheet of foods by its mapping: marks, units, definitions; damaged copies are read right or refused."""

import gzip
import io
import tempfile
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from data_loaders.mapping import read_mapping
from data_loaders.readers.mapped_sheet import MappedSheetReader
from data_loaders.readers.sheet_rows import read_sheet
from mealcalc.diagnostics import Severity
from mealcalc.errors import InputFileError
from mealcalc.fooddb import engine_for_import, open_database
from mealcalc.fooddb.writer import write_edition
from mealcalc.values import Value, ValueStatus
from tests.data_loaders.sheets import HEADER, MAPPING, ROWS, SHEET, foods_of, reader_of

P, C = ValueStatus.PUBLISHED, ValueStatus.CALCULATED


def test_marks_units_and_definitions(tmp_path: Path) -> None:
    reader = reader_of(tmp_path)
    foods = foods_of(reader)
    first = {key: (amount, status) for key, amount, status in foods["001"].values}
    wanted = {
        "ENERC_KJ": (150, P),
        "ENERC_KCAL": (150 / 4.184, C),
        "WATER_G": (90.5, P),
        "FAT_G": (0.2, P),
        "CHOAVLDF_G": (5, P),
        "CHOCDF_G": (7.4, C),
        "FIBTG_G": (2.4, P),
        "NA_MG": (12, C),
    }
    assert {key: status for key, (_, status) in first.items()} == {key: status for key, (_, status) in wanted.items()}
    for key, (amount, _) in wanted.items():
        assert first[key][0] == pytest.approx(amount), key
    second = {key: Value(amount, status) for key, amount, status in foods["002"].values}
    assert second["VITD_UG"] == Value(0.0, ValueStatus.TRACE)
    assert second["NA_MG"].amount == pytest.approx(20)
    third = {key: Value(amount, status) for key, amount, status in foods["003"].values}
    assert third["ENERC_KJ"] == Value(60.0, ValueStatus.BORROWED)
    assert third["FIBTG_G"] == Value(0.0, ValueStatus.LOGICAL_ZERO)
    # 40 IU of vitamin D are 1 µg.
    assert third["VITD_UG"] == Value(1.0, P)
    further = {(code, key): Value(amount, status) for c in reader.chunks() for code, key, amount, status in c.further}
    assert further["001", "ID_UG"] == Value(2.0, P)
    assert further["002", "NACL_G"] == Value(0.05, ValueStatus.BELOW_LIMIT)
    assert ("002", "ID_UG") not in further
    assert [(d.code, d.severity) for d in reader.diagnostics] == [("columns-left-out", Severity.NOTE)]
    assert list(reader.groups()) == [("roots", ""), ("grains", ""), ("drinks", "")]


def test_a_mapped_table_goes_into_the_database(tmp_path: Path) -> None:
    reader = reader_of(tmp_path)
    path = tmp_path / "foods.sqlite"
    with open_database(path):
        pass
    engine = engine_for_import(path)
    try:
        count = write_edition(engine, reader.metadata.edition_row(), reader.groups(), foods_of(reader).values())
    finally:
        engine.dispose()
    with open_database(path) as database:
        food = database.food("garden", "003")
    assert count == 3
    assert food is not None
    assert food.description == "Café crème"
    assert food.composition["ENERC_KJ"].status is ValueStatus.BORROWED


def test_columns_that_are_not_mapped_are_listed(tmp_path: Path) -> None:
    sheet = SHEET.replace("Remark", "Boron (mg)")
    warning = _first(reader_of(tmp_path, sheet), "unmapped-columns")
    assert "boron (mg)" in warning


def test_per_100_ml_needs_a_density(tmp_path: Path) -> None:
    mapping = MAPPING.replace('group_code = "Group"', 'basis = "100 ml"\ndensity = "Density"')
    rows = [HEADER + ";Density", *(row + ";" + density for row, density in zip(ROWS, ("1,25", "-", "1"), strict=True))]
    reader = reader_of(tmp_path, "\n".join((*rows, "")), mapping)
    foods = foods_of(reader)
    assert ("ENERC_KJ", 120.0, P) in foods["001"].values
    assert foods["001"].measures[0].mass_g == 125
    assert "002" not in foods
    assert "no density" in _first(reader, "no-density")


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("90,5", "905", "bad-cell"),
        ("90,5", "90.5", "bad-cell"),
        ("90,5", "-90,5", "bad-cell"),
        ("90,5", "Sep-75", "bad-cell"),
        ("001;Swede", "002;Swede", "duplicate-code"),
        ("001;", ";", "no-code-or-name"),
        ("0,03;-;", "0,03;", "cell-count"),
    ],
)
def test_a_bad_row_is_left_out_with_its_place(tmp_path: Path, old: str, new: str, code: str) -> None:
    reader = reader_of(tmp_path, SHEET.replace(old, new, 1))
    assert len(foods_of(reader)) == 2
    finding = next(d for d in reader.diagnostics if d.code == code)
    assert finding.span is not None
    assert (finding.span.file, finding.span.line) in (("garden.csv", 2), ("garden.csv", 3))
    assert "food-count" in {d.code for d in reader.diagnostics}


def test_a_missing_column_or_two_of_a_name_refuse_the_file(tmp_path: Path) -> None:
    with pytest.raises(InputFileError, match=r"garden.csv:1: no column 'fat \(g\)'"):
        foods_of(reader_of(tmp_path, SHEET.replace("Fat (g)", "Lipids (g)")))
    with pytest.raises(InputFileError, match=r"garden.csv:1: 2 columns 'fat \(g\)'"):
        foods_of(reader_of(tmp_path, SHEET.replace("Water (g)", "Fat (g)")))


def test_another_encoding_is_refused_with_its_line_or_said_in_the_mapping(tmp_path: Path) -> None:
    with pytest.raises(InputFileError, match=r"garden\.csv:4: byte 0xe9 is not UTF-8"):
        foods_of(reader_of(tmp_path, SHEET.encode("cp1252")))
    said = MAPPING.replace("[layout]", '[layout]\nencoding = "cp1252"')
    assert foods_of(reader_of(tmp_path, SHEET.encode("cp1252"), said))["003"].description == "Café crème"
    for encoding in ("utf-16", "utf-8-sig"):
        assert foods_of(reader_of(tmp_path, SHEET.encode(encoding)))["003"].description == "Café crème"


@given(st.permutations(range(12)))
def test_the_order_of_columns_does_not_matter(order: list[int]) -> None:
    shuffled = [";".join(row.split(";")[i] for i in order) for row in (HEADER, *ROWS)]
    with tempfile.TemporaryDirectory() as folder:
        (plain := Path(folder) / "plain").mkdir()
        wanted = foods_of(reader_of(plain))
        found = foods_of(reader_of(Path(folder), "\r\n".join((*shuffled, ""))))
    assert found == wanted


@given(st.integers(min_value=1, max_value=len(SHEET.encode()) - 1))
def test_a_file_cut_anywhere_is_read_right_or_refused(length: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        (plain := Path(folder) / "plain").mkdir()
        whole = foods_of(reader_of(plain))
        reader = reader_of(Path(folder), SHEET.encode()[:length])
        try:
            foods = foods_of(reader)
        except InputFileError:
            return
    assert all(food == whole[code] for code, food in foods.items())
    # Only the last line feed of the file can be lost without a food being lost.
    assert len(foods) == 3 or any(d.severity is Severity.ERROR for d in reader.diagnostics)


@given(st.binary(max_size=300))
def test_any_bytes_are_refused_or_read(data: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for suffix in (".csv", ".xlsx", ".xls", ".csv.gz"):
            path = Path(folder) / f"sheet{suffix}"
            path.write_bytes(data)
            (Path(folder) / "m.toml").write_text(MAPPING, encoding="utf-8")
            with pytest.raises(InputFileError, match="sheet"):
                list(MappedSheetReader(path, read_mapping(Path(folder) / "m.toml")).chunks())


def test_a_workbook_gives_the_same_foods(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Garden table, edition 1"])
    for row in (HEADER, *ROWS):
        sheet.append([_typed(cell) for cell in row.split(";")])
    book.save(tmp_path / "garden.xlsx")
    wanted = foods_of(reader_of(tmp_path))
    reader = MappedSheetReader(tmp_path / "garden.xlsx", read_mapping(tmp_path / "garden.toml"))
    assert foods_of(reader) == wanted


def test_a_damaged_workbook_and_a_bomb_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = openpyxl.Workbook()
    book.save(tmp_path / "t.xlsx")
    data = (tmp_path / "t.xlsx").read_bytes()
    (tmp_path / "cut.xlsx").write_bytes(data[: len(data) // 2])
    with pytest.raises(InputFileError, match=r"cut\.xlsx is no whole workbook"):
        read_sheet(tmp_path / "cut.xlsx")
    (tmp_path / "cut.csv.gz").write_bytes(gzip.compress(SHEET.encode())[:60])
    with pytest.raises(InputFileError, match=r"cut\.csv\.gz cannot be read"):
        read_sheet(tmp_path / "cut.csv.gz")
    monkeypatch.setattr("data_loaders.readers.sheet_rows.LARGEST_FILE_BYTES", 100_000)
    bomb = io.BytesIO()
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"0" * 200_000)
    (tmp_path / "bomb.xlsx").write_bytes(bomb.getvalue())
    with pytest.raises(InputFileError, match=r"bomb\.xlsx unpacks to more than 100000 bytes"):
        read_sheet(tmp_path / "bomb.xlsx")
    (tmp_path / "bomb.csv.gz").write_bytes(gzip.compress(b"0" * 200_000))
    with pytest.raises(InputFileError, match="holds more than 100000 bytes"):
        read_sheet(tmp_path / "bomb.csv.gz")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("FAT_G g", "FAT_G kJ", "fat in kJ cannot be turned into g"),
        ("FAT_G g", "GREASE_G g", "'GREASE_G' is no component"),
        ("FAT_G g", "WATER_G g", "second column of WATER_G"),
        ("FAT_G g", "? g", "is not decided"),
        ('code = "garden"', "", "needs 'code'"),
        ("[marks]", "[markers]", r"no section \[markers\]"),
        ('decimal = ","', 'decimal = ";"', "neither '.' nor ','"),
        ("foods = 3", "foods = true", "no whole number"),
        ('name = "Name"', 'name = "Name"\nbasis = "1 kg"', "neither '100 g' nor '100 ml'"),
        ('name = "Name"', 'name = "Name"\nbasis = "100 ml"', "needs the column 'density'"),
        ("[table]", "[table", "is no TOML"),
    ],
)
def test_a_mapping_that_cannot_be_meant_is_refused(tmp_path: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(InputFileError, match=said):
        reader_of(tmp_path, mapping=MAPPING.replace(old, new, 1))


def _first(reader: MappedSheetReader, code: str) -> str:
    foods_of(reader)
    return next(d.message for d in reader.diagnostics if d.code == code)


def _typed(cell: str) -> str | float:
    """A cell as a spreadsheet would store it: numbers as numbers, but for codes, which start with 0."""
    text = cell.replace(",", ".")
    return float(text) if text.replace(".", "", 1).isdigit() and not cell.startswith("00") else cell
