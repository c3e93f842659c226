"""`mealcalc shop`: the command a cook types, and every shape it answers in."""

import csv
import io
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from mealcalc.reports.shopping_machine import SHOPPING_COLUMNS
from tests.command import EXAMPLES, ROOT, mealcalc, undocumented, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"
RAJMA = EXAMPLES / "rajma-keema.batch.yaml"
DEMO = EXAMPLES / "demo-prices.csv"
POTS = "title: Pots\nregion: uk\ncontainers: 4\n400 g brown rice, dry\n2 onions\n6 eggs\nsalt to taste\n"
TRAY = "title: Tray\nregion: uk\ncontainers: 2\n3 brown onions\n100 g honey (optional)\n"
HOSTILE = """\
title: '<img src=x onerror=alert(1)> & "pots" **bold** </title>'
region: uk
containers: 2
components:
  - name: Base
    ingredients: |
      500 g carrots </script><script>alert(2)</script>
      2 tbsp zorgle "x" onload='y' [link](http://example.org) _under_
      *1* bunch coriander (optional)
"""
FORMS = ("--json", "--csv", "--markdown", "--html")


@pytest.fixture
def files(kitchen: Path) -> tuple[str, str]:
    write(kitchen, "pots.txt", POTS)
    write(kitchen, "tray.txt", TRAY)
    return "pots.txt", "tray.txt"


class Reader(HTMLParser):
    """Tags, texts and scripts of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.scripts: list[str] = []
        self._inside = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._inside = tag

    def handle_endtag(self, tag: str) -> None:  # noqa: ARG002 - the parser's signature
        self._inside = ""

    def handle_data(self, data: str) -> None:
        if self._inside == "script":
            self.scripts.append(data)
        else:
            self.text += data


def test_the_list_merges_batches_by_food(files: tuple[str, str]) -> None:
    answer = mealcalc("shop", *files)
    assert (answer.status, answer.err) == (0, "")
    rows = answer.out.splitlines()
    assert rows[:3] == ["Shopping list", "1. Pots, 4 containers", "2. Tray, 2 containers"]
    assert any(row.split()[:2] == ["5", "onions"] for row in rows)
    assert "To taste: salt" in rows
    assert rows.index("May be left out") < next(n for n, row in enumerate(rows) if "100 g  honey" in row)


def test_lines_are_named_on_request(files: tuple[str, str]) -> None:
    assert "2 onions (batch 1)" in mealcalc("shop", *files, "--lines").out
    assert "2 onions (batch 1)" not in mealcalc("shop", *files).out


def grams(*arguments: str | Path) -> dict[str, float]:
    """Grams as purchased of each item."""
    return {item["name"]: item["needed_mass_g"] for item in mealcalc("shop", *arguments, "--json").json["items"]}


def test_containers_of_one_batch(files: tuple[str, str]) -> None:
    assert grams(*files)["brown rice"] == 400.0
    for name in ("pots.txt", "pots"):
        assert grams(*files, "--containers", f"{name}=10")["brown rice"] == 1000.0
    assert grams(files[0], "--containers", "2")["brown rice"] == 200.0
    assert mealcalc("shop", *files, "--containers", "pots=10", "--json").json["batches"][0]["factor"] == 2.5


@pytest.mark.parametrize(
    "options",
    [
        ("--containers", "10"),  # of which of two?
        ("--containers", "other=10"),
        ("--containers", "pots=0"),
        ("--containers", "pots=ten"),
        ("--containers", "pots=1", "--containers", "pots.txt=2"),
        ("--have", "none.csv"),
        ("--prices", "none.csv"),
        ("--json", "--html"),
        ("--csv", "--markdown"),
        ("--region", "mars"),
    ],
)
def test_wrong_usage(files: tuple[str, str], options: tuple[str, ...]) -> None:
    answer = mealcalc("shop", *files, *options)
    assert (answer.status, answer.out) == (2, "")
    assert answer.err


def test_no_file_is_wrong_usage(kitchen: Path) -> None:  # noqa: ARG001
    assert mealcalc("shop").status == 2
    assert mealcalc("shop", "none.txt").status == 2


def test_what_is_at_home_is_taken_off(kitchen: Path, files: tuple[str, str]) -> None:
    write(kitchen, "have.csv", "item,amount\nbrown rice,100 g\nonions,1 kg\neggs,\nsalt,\n")
    shape = mealcalc("shop", *files, "--have", "have.csv", "--json").json
    (rice,) = shape["items"]
    assert (rice["to_buy_mass_g"], rice["at_home_share"], rice["buy"]) == (300.0, 0.25, "300 g")
    assert {item["name"] for item in shape["at_home"]} == {"onions", "eggs"}
    assert shape["to_taste"] == []
    text = mealcalc("shop", *files, "--have", "have.csv").out
    assert "- eggs, at home: all" in text


def test_bad_rows_of_what_is_at_home_are_told(kitchen: Path, files: tuple[str, str]) -> None:
    write(kitchen, "have.csv", "item,amount\nbrown rice,100\nonions,3 blobs\n")
    answer = mealcalc("shop", *files, "--have", "have.csv")
    assert answer.status == 1
    assert "have.csv:2" in answer.err
    assert "[amount-without-unit]" in answer.err
    assert "[bad-amount]" in answer.err
    assert "400 g  brown rice" in answer.out


def test_prices_give_packs_and_a_total() -> None:
    shape = mealcalc("shop", SMOKY, RAJMA, "--prices", DEMO, "--json").json
    assert shape["without_price"] == 0
    assert shape["cost"] == round(sum(item["packs"]["cost"] for item in shape["items"]), 2)
    answer = mealcalc("shop", SMOKY, RAJMA, "--prices", DEMO)
    assert answer.status == 0
    assert f"Together: {shape['cost']:.2f} AUD." in answer.out
    mince = next(item for item in shape["items"] if item["name"].startswith("turkey"))
    assert (mince["buy"], mince["packs"]["number"]) == ("2 x 500 g", 2)


def test_a_total_without_some_prices_is_a_lower_bound(kitchen: Path, files: tuple[str, str]) -> None:
    write(kitchen, "prices.csv", "item,pack size,price,currency\nbrown rice,1 kg,3.20,EUR\n")
    answer = mealcalc("shop", *files, "--prices", "prices.csv")
    assert "Together: ≥ 3.20 EUR, 2 items without a price." in answer.out
    assert "at least 3.20 EUR" in mealcalc("shop", *files, "--prices", "prices.csv", "--markdown").out


def test_lines_that_are_not_understood_are_kept_and_fail(kitchen: Path) -> None:
    write(kitchen, "odd.txt", "region: uk\ncontainers: 2\n2 tbsp zorgle paste\n2 onions\n")
    answer = mealcalc("shop", "odd.txt")
    assert answer.status == 1
    assert "- 2 tbsp zorgle paste" in answer.out
    for form in FORMS:
        assert "zorgle paste" in mealcalc("shop", "odd.txt", form).out


def test_a_file_without_recipe_does_not_lose_the_others(kitchen: Path, files: tuple[str, str]) -> None:
    write(kitchen, "empty.txt", "")
    answer = mealcalc("shop", "empty.txt", *files)
    assert answer.status == 1
    assert "onions" in answer.out
    assert "[empty-file]" in answer.err
    alone = mealcalc("shop", "empty.txt")
    assert (alone.status, alone.out) == (1, "")


def test_optional_lines_can_be_left_out(files: tuple[str, str]) -> None:
    assert "honey" not in mealcalc("shop", *files, "--without-optional").out


def test_the_csv_has_a_row_for_each_item(files: tuple[str, str]) -> None:
    rows = list(csv.DictReader(io.StringIO(mealcalc("shop", *files, "--csv").out)))
    assert {row["list"] for row in rows} == {"buy", "optional", "to_taste"}
    onions = next(row for row in rows if row["item"] == "onions")
    assert (onions["number"], onions["unit"], onions["code"]) == ("5.0", "piece", "11282")
    assert onions["lines"] == "2 onions; 3 brown onions"


def test_the_markdown_has_boxes_to_tick(files: tuple[str, str]) -> None:
    rows = mealcalc("shop", *files, "--markdown").out.splitlines()
    assert "- [ ] **5** onions (needed 611 g)" in rows
    assert "## Vegetables, fruit and herbs" in rows
    assert "- [ ] salt" in rows


def test_the_page_needs_nothing_beside_itself(files: tuple[str, str]) -> None:
    page = mealcalc("shop", *files, "--html").out
    read = Reader(page)
    assert page.startswith("<!DOCTYPE html>")
    boxes = [attributes["data-id"] for tag, attributes in read.tags if tag == "input"]
    assert len(boxes) == len(set(boxes)) == 5  # rice, onions, eggs, honey, salt
    assert not [tag for tag, attributes in read.tags if tag == "link" or "src" in attributes or "href" in attributes]
    assert not re.search(r"https?:|//[a-z]", page)
    policy = next(a["content"] for tag, a in read.tags if a.get("http-equiv") == "Content-Security-Policy")
    assert policy is not None
    assert policy.startswith("default-src 'none'")
    assert len(read.scripts) == 1
    assert page == mealcalc("shop", *files, "--html").out
    other = mealcalc("shop", files[0], "--html").out
    keys = [re.search(r'"shopping-list-(\w+)"', text) for text in (page, other)]
    assert keys[0] is not None
    assert keys[1] is not None
    assert keys[0][1] != keys[1][1]  # what is ticked on one list says nothing of another


@pytest.mark.parametrize("form", FORMS)
def test_markup_of_a_recipe_stays_text(kitchen: Path, form: str) -> None:
    write(kitchen, "bad.batch.yaml", HOSTILE)
    answer = mealcalc("shop", "bad.batch.yaml", form)
    if form == "--html":
        read = Reader(answer.out)
        assert [tag for tag, _ in read.tags if tag in ("img", "a", "iframe")] == []
        assert len(read.scripts) == 1
        assert "alert(1)" in read.text
        assert not any(name.startswith("on") for _, attributes in read.tags for name in attributes)
    elif form == "--markdown":
        assert "<img" not in answer.out.replace("\\<img", "")
        assert "[link](" not in answer.out.replace("\\[link\\](", "")
        assert "**bold**" not in answer.out
    else:
        assert "alert(1)" in answer.out or form == "--csv"


def test_a_batch_in_a_batch_is_shopped_through(kitchen: Path) -> None:
    stock = "title: Stock\nregion: uk\ncontainers: 1\ncomponents:\n  - name: Pot\n    cooked_weight: 2 kg\n"
    stock += "    ingredients: |\n      1 kg carrots [as bought]\n      salt to taste\n"
    soup = "title: Soup\nregion: uk\ncontainers: 2\nfoods:\n  - name: carrot stock\n    batch: stock.batch.yaml\n"
    soup += "components:\n  - name: Pot\n    ingredients: |\n      500 g carrot stock\n      445 g carrots\n"
    write(kitchen, "stock.batch.yaml", stock)
    write(kitchen, "soup.batch.yaml", soup)
    assert grams("soup.batch.yaml") == {"carrots": pytest.approx(250 + 500)}
    assert "1 kg carrots [as bought] (carrot stock)" in mealcalc("shop", "soup.batch.yaml", "--lines").out


def test_every_key_and_column_is_documented(kitchen: Path) -> None:
    write(kitchen, "odd.txt", "region: uk\ncontainers: 2\n2 tbsp zorgle paste\nsalt to taste\n")
    assert undocumented(mealcalc("shop", SMOKY, RAJMA, "odd.txt", "--prices", DEMO, "--json").json) == set()
    text = (ROOT / "docs" / "machine-shapes.md").read_text(encoding="utf-8")
    assert [column for column in SHOPPING_COLUMNS if f"`{column}`" not in text] == []
