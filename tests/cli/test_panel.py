"""`mealcalc panel`: every answer, every scheme, bad input with the way out."""

import csv
import io
import json
from html.parser import HTMLParser
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.command import EXAMPLES, mealcalc, write

POTS = EXAMPLES / "smoky-bean-turkey.batch.yaml"
STATUSES = ("read", "in part", "memory", "own practice")
SCHEMES = ("us", "eu", "uk", "anz", "ca")

HOSTILE = """\
title: "=HYPERLINK(\\"x\\") <script>alert(1)</script> \\"quoted\\" 🍲 مرحبا"
region: uk
containers: 200
components:
  - name: "<b>Rice</b>"
    cooking: boiled, all water absorbed
    ingredients: |
      300 g white rice
      600 ml water
      salt to taste <img src=x onerror=alert(1)>
"""


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.seen: set[str] = set()
        self.attributes: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)
        self.attributes |= {name for name, _ in attrs}


def tags_of(page: str) -> _Tags:
    parser = _Tags()
    parser.feed(page)
    return parser


@pytest.mark.parametrize("scheme", SCHEMES)
def test_csv_has_the_stable_columns_and_the_texts_of_the_table(scheme: str) -> None:
    rows = list(csv.DictReader(io.StringIO(mealcalc("panel", POTS, "--scheme", scheme, "--csv").out)))
    assert list(rows[0]) == [
        "scheme", "row", "tagname", "unit", "raw_per_portion", "printed_per_portion", "raw_per_100g",
        "printed_per_100g", "percent", "known_share",
    ]  # fmt: skip
    text = mealcalc("panel", POTS, "--scheme", scheme).out
    for row in rows:
        assert row["scheme"] == scheme
        assert row["printed_per_portion"] in text


@pytest.mark.parametrize("scheme", SCHEMES)
def test_json_carries_clause_and_whether_it_was_read(scheme: str) -> None:
    shape = mealcalc("panel", POTS, "--scheme", scheme, "--claims", "--json").json
    assert shape["scheme"] == scheme
    for row in shape["rows"]:
        assert row["clause"]
        assert all(c["clause"] and c["status"] in STATUSES for c in row["clauses"])
        assert any(c["verified"] is row["verified"] for c in row["clauses"])
    assert shape["claims"]
    assert all(claim["verdict"] in ("met", "not met", "not determinable") for claim in shape["claims"])
    assert "licensed practice" in shape["claims_caution"]


def test_the_scheme_follows_the_region_and_a_region_without_one_says_so() -> None:
    assert mealcalc("panel", POTS, "--json").json["scheme"] == "anz"
    answer = mealcalc("panel", POTS, "--region", "in")
    assert answer.status == 2
    assert "--scheme us|eu|uk|anz|ca" in answer.err


def test_an_unknown_scheme_component_row_or_method_lists_those_there_are() -> None:
    for words, hint in (
        (("--scheme", "mars"), "us (United States)"),
        (("--component", "Soup"), "'Brown rice', 'Beans and turkey'"),
        (("--also", "gold"), "rows that may be added"),
        (("--energy-method", "guess"), "it has:"),
    ):
        answer = mealcalc("panel", POTS, *words)
        assert answer.status == 2
        assert hint in answer.err


def test_components_add_up_to_the_batch() -> None:
    def energy(*words: str) -> float:
        rows = mealcalc("panel", POTS, "--scheme", "eu", "--json", *words).json["rows"]
        return float(next(r["raw_per_portion"] for r in rows if r["tagname"] == "ENERC_KJ"))

    parts = energy("--component", "brown RICE") + energy("--component", "Beans and turkey")
    assert parts == pytest.approx(energy(), abs=0.001)


def test_a_line_without_amount_makes_its_row_a_minimum_and_says_what_to_enter() -> None:
    answer = mealcalc("panel", POTS, "--scheme", "uk")
    assert "at least" in answer.out
    assert "line 12 'salt to taste' has no amount: write one (each gram brings" in answer.out
    assert "weigh the jar before and after" in answer.err


def test_tolerance_stands_beside_the_value_where_the_scheme_has_one() -> None:
    assert "tolerance of the law" in mealcalc("panel", POTS, "--scheme", "eu").out
    assert "tolerance of the law" not in mealcalc("panel", POTS, "--scheme", "anz").out


def test_a_region_without_cooked_weight_has_no_figures_per_100_g(tmp_path: Path) -> None:
    plain = write(tmp_path, "list.txt", "300 g white rice\n600 ml water\n")
    answer = mealcalc("panel", plain, "--scheme", "anz")
    assert "not known" in answer.out
    assert "[no-cooked-weight]" in answer.err
    weighed = mealcalc("panel", plain, "--scheme", "anz", "--cooked-weight", "850")
    assert "not known" not in weighed.out


def test_portions_below_five_grams_are_shown(tmp_path: Path) -> None:
    path = write(tmp_path, "pots.batch.yaml", HOSTILE)
    for scheme in SCHEMES:
        answer = mealcalc("panel", path, "--scheme", scheme, "--json").json
        assert answer["portion_mass_g"] < 5
        assert not any("-0" in row["printed_per_portion"] for row in answer["rows"])


def test_the_page_escapes_what_the_recipe_says_and_needs_nothing_beside_itself(tmp_path: Path) -> None:
    path = write(tmp_path, "pots.batch.yaml", HOSTILE)
    page = mealcalc("panel", path, "--claims", "--html").out
    tags = tags_of(page)
    assert not tags.seen & {"script", "img", "b", "link", "iframe"}
    assert not tags.attributes & {"src", "href", "onerror"}
    assert "&lt;script&gt;alert(1)&lt;/script&gt; &#34;quoted&#34; 🍲 مرحبا" in page
    assert "http" not in page


def test_a_workbook_holds_texts_never_formulas(tmp_path: Path) -> None:
    path = write(tmp_path, "pots.batch.yaml", HOSTILE)
    out = tmp_path / "panel.xlsx"
    mealcalc("panel", path, "--scheme", "uk", "--claims", "--xlsx", "--out", out)
    book = load_workbook(out)
    assert book.sheetnames == ["panel uk", "claims uk"]
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert any(str(cell.value).startswith("=HYPERLINK") for cell in cells)
    assert {cell.data_type for cell in cells} == {"s", "n"}
    numbers = [row[4].value for row in book["panel uk"].iter_rows(min_row=2, max_row=4)]
    assert all(isinstance(value, float) for value in numbers)


def test_csv_in_a_file_says_its_encoding_and_starts_no_formula(tmp_path: Path) -> None:
    path = write(tmp_path, "pots.batch.yaml", HOSTILE)
    out = tmp_path / "panel.csv"
    mealcalc("panel", path, "--csv", "--out", out)
    assert out.read_bytes().startswith(b"\xef\xbb\xbf")
    for row in csv.reader(io.StringIO(out.read_text(encoding="utf-8-sig"))):
        assert not any(cell.startswith(("=", "+", "-", "@")) for cell in row)


def test_two_machine_shapes_at_once_are_refused() -> None:
    answer = mealcalc("panel", POTS, "--json", "--html")
    assert answer.status == 2
    assert "exclude each other" in answer.err


def test_what_cannot_be_written_is_told(tmp_path: Path) -> None:
    blocked = write(tmp_path, "file", "x") / "panel.json"
    answer = mealcalc("panel", POTS, "--json", "--out", blocked)
    assert answer.status == 2
    assert "cannot be written" in answer.err


def test_json_in_a_file_is_the_json_of_the_screen(tmp_path: Path) -> None:
    out = tmp_path / "panel.json"
    shown = mealcalc("panel", POTS, "--json").json
    mealcalc("panel", POTS, "--json", "--out", out)
    assert json.loads(out.read_text(encoding="utf-8")) == shown
