"""The reader of the SR28 ASCII release: every field of all files, and what it says of damaged ones."""

import gzip
import shutil
from pathlib import Path

import pytest

from data_loaders.readers.ascii_release import AsciiFile, open_release_file
from data_loaders.readers.sr28 import (
    ABBREVIATED_COLUMNS,
    FILES,
    Release,
    read_abbreviated,
    read_descriptions,
    read_groups,
    read_release,
    read_weights,
)
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Severity, render_text
from mealcalc.errors import InputFileError

EXCERPT = Path(__file__).parent.parent / "data" / "sr28_excerpt"


@pytest.fixture(name="release", scope="module")
def release_fixture() -> Release:
    release, diagnostics = read_release(EXCERPT)
    assert diagnostics == ()
    return release


@pytest.fixture(name="folder")
def folder_fixture(tmp_path: Path) -> Path:
    for name in FILES:
        shutil.copyfile(EXCERPT / name, tmp_path / name)
    return tmp_path


def edit(path: Path, old: bytes, new: bytes) -> None:
    data = path.read_bytes()
    assert data.count(old) == 1
    path.write_bytes(data.replace(old, new))


def test_columns_are_food_components() -> None:
    assert set(ABBREVIATED_COLUMNS.values()) <= set(FOOD_COMPONENTS)
    assert len(set(ABBREVIATED_COLUMNS.values())) == len(ABBREVIATED_COLUMNS) == 46


def test_group(release: Release) -> None:
    assert [(row.code, row.description) for row in release.groups] == [
        ("0100", "Dairy and Egg Products"),
        ("0200", "Spices and Herbs"),
        ("1100", "Vegetables and Vegetable Products"),
        ("1300", "Beef Products"),
        ("1600", "Legumes and Legume Products"),
    ]


def test_every_field_of_a_description(release: Release) -> None:
    onion = next(row for row in release.descriptions if row.code == "11282")
    assert (onion.group_code, onion.long_description, onion.short_description) == ("1100", "Onions, raw", "ONIONS,RAW")
    assert (onion.common_names, onion.manufacturer, onion.in_survey) == ("", "", True)
    assert (onion.refuse_description, onion.refuse_percent) == ("Stem ends, sprouts and defects", 10.0)
    assert (onion.scientific_name, onion.nitrogen_factor) == ("Allium cepa", 6.25)
    assert (onion.protein_kcal_per_g, onion.fat_kcal_per_g, onion.carbohydrate_kcal_per_g) == (2.78, 8.37, 3.84)
    beef = next(row for row in release.descriptions if row.code == "23572")
    assert beef.common_names == "hamburger"


def test_amounts_of_the_abbreviated_table(release: Release) -> None:
    onion = next(row for row in release.abbreviated if row.code == "11282")
    # ABBREV.txt: ~11282~^~ONIONS,RAW~^89.11^40^1.10^0.10^0.35^9.34^1.7^4.24^23^...^0.042^0.013^0.017^0^160^...
    expected = {
        "WATER_G": 89.11,
        "ENERC_KCAL": 40.0,
        "PROCNT_G": 1.10,
        "FAT_G": 0.10,
        "ASH_G": 0.35,
        "CHOCDF_G": 9.34,
        "FIBTG_G": 1.7,
        "SUGAR_G": 4.24,
        "CA_MG": 23.0,
        "NA_MG": 4.0,
        "VITC_MG": 7.4,
        "FOL_UG": 19.0,
        "LUT+ZEA_UG": 4.0,
        "TOCPHA_MG": 0.02,
        "FASAT_G": 0.042,
        "FAMS_G": 0.013,
        "FAPU_G": 0.017,
        "CHOLE_MG": 0.0,
    }
    assert {key: onion.amounts[key] for key in expected} == expected
    assert onion.measures == ((160.0, "1 cup, chopped"), (115.0, "1 cup, sliced"))
    assert onion.refuse_percent == 10.0


def test_blank_is_missing_and_zero_is_zero(release: Release) -> None:
    vanilla = next(row for row in release.abbreviated if row.code == "02050")
    assert vanilla.amounts["CHOLN_MG"] is None
    assert vanilla.amounts["FIBTG_G"] == 0.0
    beef = next(row for row in release.abbreviated if row.code == "23572")
    assert beef.measures == ((113.0, "4 oz"), (None, ""))


def test_household_measures(release: Release) -> None:
    onion = [row for row in release.weights if row.code == "11282"]
    assert [row.sequence for row in onion] == list(range(1, 11))
    assert (onion[5].amount, onion[5].description, onion[5].mass_g) == (1.0, 'medium (2-1/2" dia)', 110.0)
    assert onion[5].data_points is None
    assert onion[5].standard_deviation_g is None


def test_weighings_and_their_spread() -> None:
    rows, faults = read_weights(AsciiFile("WEIGHT.txt", b"~09520~^1^1^~fruit~^81^100^1.187\r\n"))
    assert faults == ()
    assert (rows[0].data_points, rows[0].standard_deviation_g) == (100, 1.187)


def test_compressed_files_read_the_same(folder: Path) -> None:
    plain, _ = read_release(folder)
    for name in FILES:
        with gzip.open(folder / f"{name}.gz", "wb") as stream:
            stream.write((folder / name).read_bytes())
        (folder / name).unlink()
    assert read_release(folder) == (plain, ())


def test_latin_1_letters_and_the_quotation_marks_of_windows() -> None:
    line = b"~0900~^~Cr\xe8me, \x91so called\x92~\r\n"
    rows, faults = read_groups(AsciiFile("FD_GROUP.txt", line))
    assert faults == ()
    assert rows[0].description == "Crème, ‘so called’"


@pytest.mark.parametrize("name", FILES)
def test_missing_file(folder: Path, name: str) -> None:
    (folder / name).unlink()
    with pytest.raises(InputFileError, match=f"{name} is missing") as caught:
        read_release(folder)
    assert caught.value.hint == f"put {name} or {name}.gz of the release into the folder"


@pytest.mark.parametrize(
    ("data", "words"),
    [(b"", "is empty"), (b"~0100~^\0", "is binary or UTF-16")],
)
def test_unusable_file(folder: Path, data: bytes, words: str) -> None:
    (folder / "ABBREV.txt").write_bytes(data)
    with pytest.raises(InputFileError, match=words):
        open_release_file(folder, "ABBREV.txt")


@pytest.mark.parametrize("kept", [0, 5, 15, -4])
def test_cut_archive(folder: Path, kept: int) -> None:
    packed = gzip.compress((folder / "ABBREV.txt").read_bytes())
    (folder / "ABBREV.txt").unlink()
    (folder / "ABBREV.txt.gz").write_bytes(packed[:kept])
    with pytest.raises(InputFileError, match=r"ABBREV\.txt\.gz"):
        open_release_file(folder, "ABBREV.txt")


def test_one_bad_line_is_named_and_the_others_are_read(folder: Path) -> None:
    edit(folder / "FD_GROUP.txt", b"~1300~^~Beef Products~", b"~1300~^~Beef^Products~")
    rows, faults = read_groups(open_release_file(folder, "FD_GROUP.txt"))
    assert [row.code for row in rows] == ["0100", "0200", "1100", "1600"]
    (fault,) = faults
    assert render_text(fault) == (
        "FD_GROUP.txt:4:1: error: 3 fields instead of 2 [field-count]\n"
        "    ~1300~^~Beef^Products~\n"
        "    ^^^^^^^^^^^^^^^^^^^^^^\n"
        "  hint: the line is left out; fetch the file again from its publisher"
    )


@pytest.mark.parametrize(
    ("line", "column", "message"),
    [
        (b"~09520~^1^1^~fruit~^eighty^^", 21, "'eighty' is not a number"),
        (b"~09520~^1^1^~fruit~^-81^^", 21, "'-81' is not a number"),
        (b"~09520~^1^1^~fruit~^1e3^^", 21, "'1e3' is not a number"),
        (b"~09520~^1^1^~fruit~^nan^^", 21, "'nan' is not a number"),
        (b"~09520~^1^1^~fruit~^8_1^^", 21, "'8_1' is not a number"),
        (b"~09520~^1^1^~fruit~^^^", 21, "'' is not a number above 0"),
        (b"~09520~^1^0^~fruit~^81^^", 11, "'0' is not a number above 0"),
        (b"~09520~^first^1^~fruit~^81^^", 9, "'first' is not a whole number"),
        (b"~09520~^1^1^fruit^81^^", 13, "'fruit' is not a text between ~ marks"),
        (b"~09520~^1^1^~fr~uit~^81^^", 13, "'~fr~uit~' is not a text between ~ marks"),
        (b"~09520~^1^1^~~^81^^", 13, "an empty text is not allowed here"),
        (b"~9520~^1^1^~fruit~^81^^", 1, "'9520' is not a code of the form [0-9]{5}"),
    ],
)
def test_bad_field(line: bytes, column: int, message: str) -> None:
    rows, faults = read_weights(AsciiFile("WEIGHT.txt", line + b"\r\n"))
    assert rows == ()
    assert [(fault.code, fault.severity, fault.message) for fault in faults] == [("bad-field", Severity.ERROR, message)]
    assert faults[0].span is not None
    assert (faults[0].span.line, faults[0].span.column) == (1, column)


def test_more_than_there_can_be(folder: Path) -> None:
    edit(folder / "ABBREV.txt", b"^89.11^40^", b"^40^89.11^")  # water and energy swapped: still possible
    edit(folder / "ABBREV.txt", b"^61.87^254^", b"^254^61.87^")  # but not here: 254 g of water in 100 g
    rows, faults = read_abbreviated(open_release_file(folder, "ABBREV.txt"))
    assert [fault.message for fault in faults] == ["254 is not at most 100"]
    assert "23572" not in {row.code for row in rows}


def test_duplicate_code(folder: Path) -> None:
    data = (folder / "FOOD_DES.txt").read_bytes()
    (folder / "FOOD_DES.txt").write_bytes(data + data.splitlines(keepends=True)[1])
    rows, faults = read_descriptions(open_release_file(folder, "FOOD_DES.txt"))
    assert len(rows) == 5
    assert [(fault.code, fault.message, str(fault.span)) for fault in faults] == [
        ("duplicate-code", "the same code as on line 2", "FOOD_DES.txt:6:1")
    ]


def test_file_cut_short(folder: Path) -> None:
    data = (folder / "WEIGHT.txt").read_bytes()
    (folder / "WEIGHT.txt").write_bytes(data[:-3])  # ~23572~^1^4^~oz~^113^^ has lost its last mark
    rows, faults = read_weights(open_release_file(folder, "WEIGHT.txt"))
    assert "23572" not in {row.code for row in rows}
    assert [fault.code for fault in faults] == ["cut-short"]


def test_files_that_do_not_belong_together(folder: Path) -> None:
    edit(folder / "ABBREV.txt", b"~11282~^~ONIONS,RAW~", b"~11283~^~ONIONS,RAW~")
    edit(folder / "FD_GROUP.txt", b"~1300~", b"~1301~")
    edit(folder / "ABBREV.txt", b"~BUTTER,WITH SALT~", b"~BUTTER,SALTED~")
    _, faults = read_release(folder)
    assert sorted((fault.code, fault.message) for fault in faults) == [
        ("files-disagree", "food 01001 has another refuse or short description in FOOD_DES.txt"),
        ("unknown-code", "the food group of this line is not in FD_GROUP.txt"),
        ("unknown-code", "the food of this line is not in ABBREV.txt"),
        ("unknown-code", "the food of this line is not in FOOD_DES.txt"),
    ]


def test_a_wholly_wrong_file_does_not_flood() -> None:
    rows, faults = read_weights(AsciiFile("WEIGHT.txt", b"something else\n" * 1000))
    assert rows == ()
    assert len(faults) == 51
    assert faults[-1].message == "reading stops after 50 errors; the rest of the file is not read"
    assert str(faults[-1].span) == "WEIGHT.txt:51:1"
