"""Proposed mappings: what a header tells is mapped, what it cannot tell is left open, and nothing is mapped wrongly."""

import tomllib
from pathlib import Path

import pytest

from data_loaders.mapping import SheetMapping, read_mapping, same_header, shipped_mapping
from data_loaders.propose_mapping import plain_words, propose_mapping
from data_loaders.readers.mapped_sheet import MappedSheetReader
from mealcalc.errors import InputFileError
from tests.data_loaders.sheets import foods_of

GERMAN = (
    "Code;Bezeichnung;Energie (kJ/100 g);Energie (kcal/100 g);Wasser [g];Eiweiß (g);Fett (g);Kohlenhydrate (g);"
    "Ballaststoffe (g);Natrium (mg);Jod (µg);Duft\n"
    "A1;Steckrübe, roh;150;36;90,5;1,1;0,2;5;2,4;12;2;-\n"
    "A2;Haferkleie;1400;335;10;16;7;50;15,5;tr;-;-\n"
    "A3;Gerste;tr;tr;10;10,5;2;60;10,5;tr;-;-\n"
)


def test_a_german_header(tmp_path: Path) -> None:
    path = tmp_path / "Tabelle.csv"
    path.write_text(GERMAN, encoding="utf-8")
    text = propose_mapping(path)
    proposed = tomllib.loads(text)
    assert proposed["components"] == {
        "Energie (kJ/100 g)": "ENERC_KJ kJ",
        "Energie (kcal/100 g)": "ENERC_KCAL kcal",
        "Wasser [g]": "WATER_G g",
        "Eiweiß (g)": "PROCNT_G g",
        "Fett (g)": "FAT_G g",
        "Ballaststoffe (g)": "FIBTG_G g",
        "Natrium (mg)": "NA_MG mg",
        "Jod (µg)": "ID_UG µg",
        "Kohlenhydrate (g)": "? g",
    }
    assert proposed["layout"]["decimal"] == ","
    assert proposed["marks"] == {"missing": ["-"], "trace": ["tr"]}
    assert list(proposed["left_out"]) == ["Duft"]
    (tmp_path / "m.toml").write_text(text, encoding="utf-8")
    with pytest.raises(InputFileError, match=r"'Kohlenhydrate \(g\)' is not decided"):
        read_mapping(tmp_path / "m.toml")
    decided = text.replace('"? g"', '"CHOAVLDF_G g"').replace('edition = "?"', 'edition = "1"')
    (tmp_path / "m.toml").write_text(decided, encoding="utf-8")
    foods = foods_of(MappedSheetReader(path, read_mapping(tmp_path / "m.toml")))
    assert {key: amount for key, amount, _ in foods["A1"].values}["CHOCDF_G"] == pytest.approx(7.4)


@pytest.mark.parametrize(
    ("header", "words", "unit"),
    [
        ("Protéines, N x 6.25 (g/100 g)", "proteines n x 6 25", "g"),
        ("vit_c_mg", "vit c", "mg"),
        ("Vitamin A, RAE (mcg_RAE)", "vitamin a rae", "mcg_RAE"),
        ("Energy, kJ", "energy", "kJ"),
        ("Sugars, total\n(g)", "sugars total", "g"),
        ("Food code", "food code", ""),
        ("Fett [g per 100 g]", "fett", "g"),
    ],
)
def test_plain_words(header: str, words: str, unit: str) -> None:
    assert plain_words(header) == (words, unit)


def test_a_sheet_without_a_header_is_refused(tmp_path: Path) -> None:
    (tmp_path / "t.csv").write_text("1,2,3\n4,5,6\n", encoding="utf-8")
    with pytest.raises(InputFileError, match="no row looks like a header"):
        propose_mapping(tmp_path / "t.csv")


@pytest.mark.parametrize(
    ("table", "name", "mapped"),
    [
        ("ciqual", "ciqual-2020/ciqual-2020-fr.export.csv.gz", 45),
        ("ciqual", "ciqual-2020/Table Ciqual 2020_ENG_2020 07 07.xlsx", 40),
        ("ausnut", "ausnut-2011-13/AUSNUT.csv.gz", 30),
        ("fndds", "fndds-2017-2018/fndds-nutrient-values-2017-2018.export.csv.gz", 30),
    ],
)
def test_what_is_proposed_agrees_with_the_reviewed_mappings(
    reference_data: Path, table: str, name: str, mapped: int
) -> None:
    reviewed: SheetMapping = shipped_mapping(table)
    keys = {header: column.key for column in reviewed.columns for header in column.headers}
    proposed = tomllib.loads(propose_mapping(reference_data / "data" / name))["components"]
    decided = {same_header(h): t.partition(" ")[0] for h, t in proposed.items() if not t.startswith("?")}
    assert len(decided) >= mapped
    assert {header: keys.get(header) for header in decided} == decided
