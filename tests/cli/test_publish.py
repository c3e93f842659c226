"""`mealcalc publish`: every format, the vocabulary of schema.org, dates beyond guidance, hostile texts."""

import csv
import io
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from mealcalc.cli.app import app
from tests.cli.test_panel import HOSTILE, tags_of
from tests.command import EXAMPLES, ROOT, mealcalc, write

POTS = EXAMPLES / "smoky-bean-turkey.batch.yaml"
VOCABULARY = ROOT / "tests" / "data" / "schema_org.csv"
BY_THING = {"name", "description"}
"""Properties of schema.org/Thing, which every type has."""

OF_TYPES = {"HowToStep": {"text"}}
LONG = f"""\
title: "{"Very long pot " * 715}"
region: us
containers: 3
components:
  - name: "{"Grain " * 1600}"
    cooking: boiled, all water absorbed
    ingredients: |
      300 g white rice, {"rinsed " * 1400}
      600 ml water
"""


def published(tmp_path: Path, *words: str | Path) -> Path:
    out = tmp_path / "out"
    answer = mealcalc("publish", *words, "--out", out)
    assert answer.status in (0, 1), answer.err
    assert sorted(answer.out.split("\n")[:-1]) == sorted(str(path) for path in out.iterdir())
    return out


@pytest.fixture(scope="module")
def all_schemes(tmp_path_factory: pytest.TempPathFactory, data_folder: Path) -> Path:  # noqa: ARG001
    folder = tmp_path_factory.mktemp("published")
    return published(folder, POTS, "--scheme", "all", "--cooked", "2026-11-24")


def test_one_command_writes_every_format(all_schemes: Path) -> None:
    names = {path.name for path in all_schemes.iterdir()}
    assert {"recipe.jsonld", "post.txt", "card.html", "stickers.pdf", "panel.xlsx"} <= names
    for scheme in ("us", "eu", "uk", "anz", "ca"):
        assert {f"panel-{scheme}.{kind}" for kind in ("txt", "csv", "json", "html")} <= names
        assert {f"label-{scheme}.{kind}" for kind in ("txt", "html")} <= names
    assert all(path.stat().st_size for path in all_schemes.iterdir())


def check_types(shape: dict[str, Any], known: dict[str, set[str]]) -> None:
    kind = shape["@type"]
    properties = known.get(kind, set()) | OF_TYPES.get(kind, set()) | BY_THING
    assert set(shape) - {"@type", "@context"} <= properties, kind
    for value in shape.values():
        for inner in value if isinstance(value, list) else [value]:
            if isinstance(inner, dict):
                check_types(inner, known)


def test_json_ld_uses_only_what_the_vocabulary_declares(all_schemes: Path) -> None:
    known: dict[str, set[str]] = {}
    expected: dict[str, str] = {}
    with VOCABULARY.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            known.setdefault(row["type"], set()).add(row["property"])
            expected[row["property"]] = row["expected_type"]
    shape = json.loads((all_schemes / "recipe.jsonld").read_text(encoding="utf-8"))
    assert shape["@context"] == "https://schema.org"
    assert shape["@type"] == "Recipe"
    check_types(shape, known)
    nutrition = shape["nutrition"]
    assert re.fullmatch(r"\d+ calories", nutrition["calories"])
    masses = {key: value for key, value in nutrition.items() if expected.get(key) == "Mass"}
    assert {"proteinContent", "fatContent", "carbohydrateContent"} <= set(masses)
    for key, value in masses.items():
        unit = "mg" if key in ("cholesterolContent", "sodiumContent") else "g"
        assert re.fullmatch(rf"\d+(\.\d+)? {unit}", value), key


def test_json_ld_states_the_printed_figures_and_leaves_out_what_is_not_known_whole(all_schemes: Path) -> None:
    nutrition = json.loads((all_schemes / "recipe.jsonld").read_text(encoding="utf-8"))["nutrition"]
    rows = json.loads((all_schemes / "panel-us.json").read_text(encoding="utf-8"))["rows"]
    printed = {row["key"]: row["printed_per_portion"] for row in rows}
    assert nutrition["calories"] == f"{printed['ENERC_KCAL']} calories"
    assert nutrition["proteinContent"] == printed["PROCNT_G"]
    assert printed["NA_MG"].startswith("at least")
    assert "sodiumContent" not in nutrition
    assert "transFatContent" not in nutrition


def test_json_ld_is_read_again_with_the_same_lines(all_schemes: Path) -> None:
    lines = mealcalc("macros", all_schemes / "recipe.jsonld", "--region", "au", "--json").json
    before = mealcalc("macros", POTS, "--json").json
    assert [line["text"] for line in lines["lines"]] == [line["text"] for line in before["lines"]]
    assert lines["containers"] == before["containers"]


def test_the_post_has_both_measures_for_container_component_and_line(all_schemes: Path) -> None:
    text = (all_schemes / "post.txt").read_text(encoding="utf-8")
    assert re.search(r"PER CONTAINER, \d+ g \(\d+\.\d oz\)", text)
    assert re.search(r"Brown rice: energy \d+ kcal, protein .* g; \d+ g \(\d+\.\d oz\)", text)
    assert "- 900 ml water [900 ml (3 3/4 US cups)]" in text
    assert "- 400 g brown rice [400 g (14.1 oz)]" in text


def test_the_card_holds_the_chart_with_words_and_the_recipe_for_search_engines(all_schemes: Path) -> None:
    page = (all_schemes / "card.html").read_text(encoding="utf-8")
    assert 'role="img" aria-label="Energy of one container by component, in kcal: Brown rice' in page
    script = re.search(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL)
    assert script is not None
    assert json.loads(script[1]) == json.loads((all_schemes / "recipe.jsonld").read_text(encoding="utf-8"))


def test_the_label_draft_lists_what_is_missing(tmp_path: Path, all_schemes: Path) -> None:
    text = (all_schemes / "label-eu.txt").read_text(encoding="utf-8")
    assert "Lot: MISSING" in text
    assert "Name and address of the business: MISSING" in text
    assert "clause unverified" in text
    said = ("--lot", "L 2411", "--business", "Pots, 1 Example Street", "--net-quantity", "640 g", "--scheme", "eu")
    given = (published(tmp_path, POTS, *said) / "label-eu.txt").read_text(encoding="utf-8")
    assert "Lot: given by the maker\n  L 2411" in given
    assert int(given.split("\n")[2].split()[0]) == int(text.split("\n")[2].split()[0]) - 2


def test_the_draft_for_canada_says_whether_the_front_symbol_is_required(all_schemes: Path) -> None:
    text = (all_schemes / "label-ca.txt").read_text(encoding="utf-8")
    verdicts = ("the symbol is required", "below the limit", "not determinable")
    symbol = text.split("Front-of-package symbol")[1].split("the law wants")[0]
    assert any(verdict in symbol for verdict in verdicts)


def test_stickers_say_the_strictest_day_and_warn_beyond_it(tmp_path: Path) -> None:
    card = (published(tmp_path, POTS, "--cooked", "2026-11-24") / "card.html").read_text(encoding="utf-8")
    # Cooked rice: 1 day by the UK Food Standards Agency, the strictest of the authorities.
    assert "Eat by Wed 2026-11-25, kept cold (Food Standards Agency)" in card
    late = mealcalc("publish", POTS, "--out", tmp_path / "late", "--cooked", "2026-11-24", "--eat-by", "2026-11-28")
    assert "[beyond-guidance]" in late.err
    text = (tmp_path / "late" / "card.html").read_text(encoding="utf-8")
    assert "Eat by Sat 2026-11-28: LATER THAN GUIDANCE (Food Standards Agency says Wed 2026-11-25)" in text


def test_allergens_stand_on_every_format_with_lines_and_reasons(all_schemes: Path) -> None:
    assert "Contains: milk" in (all_schemes / "post.txt").read_text(encoding="utf-8")
    card = (all_schemes / "card.html").read_text(encoding="utf-8")
    assert "200 g Greek yoghurt (optional)</span>: <strong>contains: milk</strong>" in card
    assert "An allergen that is not named may still be there" in card
    assert "(MILK)" in (all_schemes / "ingredients-eu.txt").read_text(encoding="utf-8")
    assert "(**milk**)" in (all_schemes / "ingredients-anz.txt").read_text(encoding="utf-8")
    assert "<strong>milk</strong>" in (all_schemes / "label-anz.html").read_text(encoding="utf-8")
    for path in all_schemes.glob("*.*"):
        if path.suffix in (".txt", ".html", ".jsonld"):
            assert "free from" not in path.read_text(encoding="utf-8").lower(), path.name


def test_a_day_before_cooking_an_unknown_sheet_and_a_region_without_law_are_refused(tmp_path: Path) -> None:
    for words, hint in (
        (("--cooked", "2026-11-24", "--eat-by", "2026-11-20"), "the day of cooking or a later one"),
        (("--sheet", "postcard"), "a4-14"),
        (("--region", "in"), "--scheme us|eu|uk|anz|ca"),
        (("--scheme", "moon"), "us (United States)"),
    ):
        answer = mealcalc("publish", POTS, "--out", tmp_path / "none", *words)
        assert answer.status == 2
        assert hint in answer.err
        assert not (tmp_path / "none").exists()


def pages_of(pdf: bytes) -> int:
    return len(re.findall(rb"/Type /Page\b", pdf))


def test_stickers_fill_as_many_sheets_as_they_need(tmp_path: Path) -> None:
    words: tuple[str, ...] = ("--sheet", "a4-14", "--copies", "15")
    assert pages_of((published(tmp_path, POTS, *words) / "stickers.pdf").read_bytes()) == 2
    words = ("--sheet", "a4-14", "--copies", "14", "--first", "14")
    assert pages_of((published(tmp_path, POTS, *words) / "stickers.pdf").read_bytes()) == 2


@pytest.mark.parametrize("sheet", ["a4-8", "a4-21", "letter-14"])
def test_hostile_texts_are_shown_and_run_nothing(tmp_path: Path, sheet: str) -> None:
    path = write(tmp_path, "pots.batch.yaml", HOSTILE)
    out = tmp_path / "out"
    answer = mealcalc("publish", path, "--out", out, "--scheme", "all", "--sheet", sheet)
    assert "🍲" in answer.err
    for page in out.glob("*.html"):
        tags = tags_of(page.read_text(encoding="utf-8"))
        assert not tags.seen & {"img", "b", "link", "iframe"}, page.name
        assert not tags.attributes & {"src", "onerror"}, page.name

    for table in out.glob("*.csv"):
        for row in csv.reader(io.StringIO(table.read_text(encoding="utf-8-sig"))):
            assert not any(cell.startswith(("=", "+", "-", "@")) for cell in row), table.name


def test_texts_of_ten_thousand_characters_are_cut_or_wrapped(tmp_path: Path) -> None:
    out = tmp_path / "out"
    answer = mealcalc("publish", write(tmp_path, "long.batch.yaml", LONG), "--out", out)
    assert "Traceback" not in answer.err
    assert (out / "stickers.pdf").read_bytes().startswith(b"%PDF")


def test_what_the_pdf_says(tmp_path: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext (poppler-utils) is not at hand")
    pdf = published(tmp_path, POTS, "--cooked", "2026-11-24") / "stickers.pdf"
    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True).stdout.decode()
    assert text.count("Smoky bean and turkey pots") == 6
    assert "Eat by Wed 2026-11-25" in text
    assert "Cooked Tue 2026-11-24" in text
    assert text.count("Contains: milk") == 6


def test_publishing_libraries_stay_out_of_the_main_job() -> None:
    code = (
        "import sys; from mealcalc.cli import main; sys.argv = ['mealcalc', 'macros', '--help']\n"
        "try: main()\nexcept SystemExit: pass\n"
        "print([m for m in ('jinja2', 'fpdf', 'openpyxl', 'matplotlib', 'mealcalc.labelling') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, cwd=ROOT)
    assert done.stdout.decode().strip().endswith("[]")
    assert "publish" in app.list_commands(None)  # type: ignore[arg-type]
