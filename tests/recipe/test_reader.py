"""The reader: which door, which region, which lines."""

import io
import json
import sys
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.diagnostics import Span
from mealcalc.errors import InputFileError, UsageError
from mealcalc.recipe.ingredient_lines import parse_ingredient
from mealcalc.recipe.line_words import LineIndex, means_line
from mealcalc.recipe.reader import read_batch, read_lines, read_text
from mealcalc.recipe.source import decode
from mealcalc.records import LineKind, RecipeLine
from tests.recipe.reading import assert_inside, batch_of, codes, places, read

YAML = "region: au\ncontainers: 2\ncomponents:\n  - name: Rice\n    ingredients: 400 g rice\n"
PLAIN = "containers: 2\n400 g rice\n"
JSON = json.dumps({"@type": "Recipe", "recipeYield": 2, "recipeIngredient": ["400 g rice"]})
HTML = f'<html><script type="application/ld+json">{JSON}</script></html>'


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.batch.yaml", YAML),
        ("a.yaml", YAML),
        ("A.YML", YAML),
        ("a.json", JSON),
        ("a.jsonld", JSON),
        ("a.html", HTML),
        ("a.htm", HTML),
        ("a.txt", PLAIN),
        ("recipe", PLAIN),
        ("a.md", PLAIN),
        ("recipe", YAML),
        ("a.txt", JSON),
        ("a.recipe", f"[{JSON}]"),
        ("a.txt", f"\n {HTML}"),
        ("a.txt", "---\n" + YAML),
        ("a.txt", "components: [{name: Rice, ingredients: 400 g rice}]\ncontainers: 2"),
        ("a.txt", "componets:\n  - name: Rice\n    ingredients: 5 eggs\n" + YAML),
    ],
)
def test_every_door_opens_by_ending_or_content(tmp_path: Path, name: str, text: str) -> None:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    batch = batch_of(read_batch(path))
    assert [line.text for line in batch.lines] == ["400 g rice"]
    assert (batch.containers, batch.file, batch.lines[0].span.file) == (2, str(path), str(path))


@pytest.mark.parametrize("text", [YAML, PLAIN, JSON, HTML], ids=["yaml", "plain", "json", "html"])
def test_standard_input_is_known_by_its_content(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode("utf-16"))))
    batch = batch_of(read_batch("-"))
    assert (batch.title, batch.containers, batch.file) == ("Batch", 2, "<stdin>")
    assert [line.text for line in batch.lines] == ["400 g rice"]


@pytest.mark.parametrize(
    ("argument", "stated", "default", "region", "ground"),
    [
        ("uk", "region: au\n", "us", "uk", "given with the call"),
        (None, "region: au\n", "us", "au", "stated in the file, line 1"),
        (None, "region: AU\n", None, "au", "stated in the file, line 1"),
        (None, "region: metric\n", "us", "metric", "stated in the file, line 1"),
        (None, "", "us", "us", "the configured default"),
        (None, "", None, "metric", "assumed, metric measures"),
        (None, "region: xy\n", "us", "us", "the configured default"),
        (None, "region: xy\n", None, "metric", "assumed, metric measures"),
    ],
)
@pytest.mark.parametrize("name", ["a.yaml", "a.txt"])
def test_the_region_and_its_ground(
    argument: str | None, stated: str, default: str | None, region: str, ground: str, name: str
) -> None:
    body = "containers: 2\n1 egg" if name == "a.txt" else "containers: 2\ncomponents: [{name: A, ingredients: 1 egg}]"
    result = read_text(stated + body, name, argument, default_region=default)
    assert (batch_of(result).region, result.region_ground) == (region, ground)
    expected = ["unknown-region"] if "xy" in stated else ["region-assumed"] if ground.startswith("assumed") else []
    assert codes(result) == expected


@pytest.mark.parametrize(("region", "default"), [("xy", None), (None, "xy"), ("AU", None)])
def test_an_unknown_region_of_the_call_is_wrong_usage(region: str | None, default: str | None) -> None:
    with pytest.raises(UsageError, match="unknown region"):
        read_text("1 egg", "a.txt", region, default_region=default)


def test_an_empty_file_has_no_batch(tmp_path: Path) -> None:
    path = tmp_path / "a.batch.yaml"
    path.write_bytes(b"\xef\xbb\xbf\n")
    result = read_batch(path)
    assert (result.batch, codes(result)) == (None, ["empty-file"])


def test_what_was_noticed_while_decoding_is_handed_on(tmp_path: Path) -> None:
    for name, text in (("a.yaml", YAML), ("a.txt", PLAIN), ("a.json", JSON), ("a.html", HTML)):
        path = tmp_path / name
        path.write_bytes(text.replace("400 g rice", "400 g rösti").encode("cp1252"))
        assert codes(read_batch(path, "au")) == ["encoding"]


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(InputFileError):
        read_batch(str(tmp_path / "none.batch.yaml"))


# --- lines one by one -------------------------------------------------------------------------------------------------


def test_lines_are_one_record_each() -> None:
    text = "400 g rice\r\n\n  # for the pot\n1 tsp each cumin and coriander # ground\nFor the sauce:\n \t\n1 egg"
    lines = read_lines(text, "<stdin>", "au")
    assert places(tuple(lines)) == [
        (1, 1, "400 g rice"),
        (3, 1, "# for the pot"),
        (4, 1, "1 tsp each cumin and coriander"),
        (5, 1, "For the sauce:"),
        (7, 1, "1 egg"),
    ]
    assert [line.kind for line in lines] == [
        LineKind.FOOD,
        LineKind.NOT_FOOD,
        LineKind.FOOD,
        LineKind.NOT_FOOD,
        LineKind.FOOD,
    ]


def test_lines_of_an_unknown_region_are_wrong_usage() -> None:
    with pytest.raises(UsageError):
        read_lines("", "<stdin>", "xy")


@given(st.text())
def test_as_many_records_as_lines_that_say_something(text: str) -> None:
    lines = read_lines(text, "<stdin>", "metric")
    rows = decode(text.encode("utf-8", "replace"), "a").lines if "\0" not in text and text.isprintable() else None
    if rows is not None:
        assert len(lines) == sum(1 for row in rows if row.strip())
    for line in lines:
        assert line.text == line.text.strip()
        assert line.span.text[line.span.column - 1 :].startswith(line.text) or line.text.startswith("#")


def test_several_foods_of_one_line_share_its_place() -> None:
    text = "1 tsp each cumin and blorp [used 150%]"
    span = Span("a.txt", 3, 5, 5 + len(text), f"    {text}")
    lines = parse_ingredient(text, span, "au", "Sauce")
    assert [line.component for line in lines] == ["Sauce", "Sauce"]
    assert len(lines) == 2
    for line in lines:
        assert (line.span.line, line.span.column) == (3, 5)
        for found in line.diagnostics:
            assert found.span == span


# --- words of a variant -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "text", "meant"),
    [
        ("turkey mince", "1 kg turkey mince, 7% fat", True),
        ("mince turkey", "1 kg Turkey Mince", True),
        ("onion", "2 brown onions, diced", True),
        ("tomatoes", "1 tomato", True),
        ("berry", "200 g berries", True),
        ("bay leaves", "1 bay leaf", True),
        ("crème fraiche", "100 g creme fraîche", True),
        ("baker's yeast", "7 g bakers yeast", True),
        ("salt", "10 g salted butter", False),
        ("turkey", "1 kg beef mince", False),
        ("", "1 egg", False),
        ("!?", "1 egg", False),
    ],
)
def test_words_mean_a_line_that_holds_them_all(words: str, text: str, meant: bool) -> None:
    assert means_line(words, RecipeLine(text, Span("a", 1))) is meant


@given(st.text(), st.text())
def test_a_line_is_meant_by_its_own_words(text: str, words: str) -> None:
    line = RecipeLine(text, Span("a", 1))
    assert means_line(words, line) in (True, False)
    if means_line(text, line) and means_line(words, line):
        assert means_line(f"{words} {text}", line)


@given(st.lists(st.sampled_from(["1 onion", "2 onions, diced", "onion powder", "1 egg", "#"])), st.text("onieg s'"))
def test_the_index_finds_what_words_mean(texts: list[str], words: str) -> None:
    lines = [RecipeLine(text, Span("a", number + 1)) for number, text in enumerate(texts)]
    for wanted in (words, "onion", "egg", "onion diced"):
        assert LineIndex(lines).meant_by(wanted) == [line for line in lines if means_line(wanted, line)]


# --- properties -------------------------------------------------------------------------------------------------------

_ENDINGS = st.sampled_from(["a.yaml", "a.txt", "a.json", "a.html", "a"])


@given(st.binary(max_size=400), _ENDINGS)
def test_any_bytes_raise_nothing_but_an_input_file_error(content: bytes, name: str) -> None:
    with suppress(InputFileError):
        source = decode(content, name)
        assert_inside(read_text(source.text, name), source.text)


@given(st.text(), _ENDINGS)
def test_any_text_raises_nothing(text: str, name: str) -> None:
    assert_inside(read(text, name), text)
