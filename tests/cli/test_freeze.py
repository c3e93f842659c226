"""`mealcalc freeze`: a dated record, and what changed since with the reasons."""

from pathlib import Path

import pytest
import yaml

from tests.command import mealcalc, write

POTS = """\
title: Bean pots
region: uk
containers: 4
components:
  - name: Beans
    cooking: simmered 20 min
    cooked_weight: 1200 g
    ingredients: |
      2 x 400 g cans black beans, drained
      400 g canned chopped tomatoes
      1 tbsp honey
      5 g salt
"""


@pytest.fixture
def pots(tmp_path: Path) -> Path:
    path = write(tmp_path, "pots.batch.yaml", POTS)
    assert mealcalc("freeze", path, "--scheme", "uk").status == 0
    return path


def changed(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def record_of(path: Path) -> Path:
    return path.with_name("pots.published.yaml")


def check(path: Path) -> tuple[int, dict[str, list[str]], list[str]]:
    """Exit status, figures that changed with their reasons, kinds of all causes."""
    answer = mealcalc("freeze", path, "--check", "--json")
    (record,) = answer.json["records"]
    return (
        answer.status,
        {change["name"]: change["because"] for change in record["changes"]},
        [cause["kind"] for cause in record["causes"]],
    )


def test_an_unchanged_batch_still_holds(pots: Path) -> None:
    assert check(pots) == (0, {}, [])
    assert "Every printed figure still holds." in mealcalc("freeze", pots, "--check").out


def test_the_record_says_what_was_stated_and_what_it_rested_on(pots: Path) -> None:
    (record,) = yaml.safe_load(record_of(pots).read_text(encoding="utf-8"))["published"]
    assert record["scheme"] == "uk"
    assert record["lines"][0]["table"] == "sr28"
    assert record["lines"][0]["edition"]
    printed = {row["key"]: row["printed_per_100g"] for row in record["rows"]}
    shown = mealcalc("panel", pots, "--scheme", "uk", "--json").json["rows"]
    assert printed == {row["key"]: row["printed_per_100g"] for row in shown}
    assert record["version"]
    assert len(record["code"]) == len(record["tables"]) == 12


def test_a_changed_line_moves_the_rows_that_it_feeds(pots: Path) -> None:
    changed(pots, "5 g salt", "9 g salt")
    status, changes, kinds = check(pots)
    assert status == 1
    assert kinds == ["line-changed"]
    assert changes == {"Salt": ["'5 g salt' is now '9 g salt'"]}
    text = mealcalc("freeze", pots, "--check").out
    assert "Salt: '5 g salt' is now '9 g salt'" in text


def test_added_and_removed_lines_are_named(pots: Path) -> None:
    changed(pots, "      1 tbsp honey\n", "")
    changed(pots, "      5 g salt\n", "      5 g salt\n      40 g olive oil\n")
    _, changes, kinds = check(pots)
    assert sorted(kinds) == ["line-added", "line-removed"]
    assert changes["Fat"] == ["'40 g olive oil' is new"]
    assert changes["of which sugars"] == ["'1 tbsp honey' is no longer there"]


def test_another_food_for_the_same_words_is_a_reason(pots: Path) -> None:
    decision = mealcalc("match", pots, "--json").json_lines[2]["food"]
    assert decision["code"] == "19296"  # honey
    text = "decisions:\n  - {food: honey, table: sr28, code: '19353'}  # maple syrup\n"
    write(pots.parent, "pots.decisions.yaml", text)
    _, changes, kinds = check(pots)
    assert "food-changed" in kinds
    assert changes["of which sugars"][0].startswith("'1 tbsp honey' is counted as Syrups, maple (sr28:19353)")


def test_containers_cooking_and_weight_are_reasons(pots: Path) -> None:
    changed(pots, "containers: 4", "containers: 5")
    changed(pots, "cooked_weight: 1200 g", "cooked_weight: 1100 g")
    status, changes, kinds = check(pots)
    assert status == 1
    assert {"containers-changed", "cooking-changed"} <= set(kinds)
    assert "line-changed" not in kinds
    assert any("5 containers, before 4" in reason for reason in changes["Protein"])
    assert any("'Beans' weighs 1100.0 g cooked, before 1200.0 g" in reason for reason in changes["Protein"])


@pytest.mark.parametrize(
    ("field", "kind", "words"),
    [
        ("edition", "edition-changed", "of edition"),
        ("tables", "tables-changed", "reviewed tables of this tool"),
        ("code", "code-changed", "the code is another"),
    ],
)
def test_editions_tables_and_code_are_compared(pots: Path, field: str, kind: str, words: str) -> None:
    path = record_of(pots)
    content = yaml.safe_load(path.read_text(encoding="utf-8"))
    record = content["published"][0]
    for entry in record["lines"] if field == "edition" else [record]:
        entry[field] = "earlier"
    path.write_text(yaml.safe_dump(content), encoding="utf-8")
    answer = mealcalc("freeze", pots, "--check")
    assert answer.status == 0  # no printed figure is another
    assert f"[{kind}]" in answer.out
    assert words in answer.out.replace("\n", " ")


def test_the_tool_is_the_reason_only_where_nothing_else_is(pots: Path) -> None:
    path = record_of(pots)
    content = yaml.safe_load(path.read_text(encoding="utf-8"))
    record = content["published"][0]
    record["code"] = "earlier"
    record["rows"][0]["printed_per_100g"] = "1 kJ"
    path.write_text(yaml.safe_dump(content), encoding="utf-8")
    status, changes, kinds = check(pots)
    assert status == 1
    assert kinds == ["code-changed"]
    assert changes["Energy"][0].startswith("the code is another")


def test_each_freezing_adds_a_record_and_the_last_one_counts(pots: Path) -> None:
    changed(pots, "5 g salt", "9 g salt")
    assert mealcalc("freeze", pots, "--scheme", "uk").status == 0
    assert check(pots) == (0, {}, [])
    assert len(yaml.safe_load(record_of(pots).read_text(encoding="utf-8"))["published"]) == 2


def test_a_check_asks_for_the_package_as_the_record_did(pots: Path) -> None:
    words = ("--scheme", "us", "--servings", "2", "--cooked-weight", "1000", "--also", "vitamin C")
    assert mealcalc("freeze", pots, *words).status == 0
    answer = mealcalc("freeze", pots, "--check", "--scheme", "us", "--json")
    assert answer.json["same"] is True
    assert len(answer.json["records"]) == 1


def test_without_a_record_and_for_standard_input_the_way_out_is_said(tmp_path: Path) -> None:
    path = write(tmp_path, "other.batch.yaml", POTS)
    answer = mealcalc("freeze", path, "--check")
    assert answer.status == 2
    assert "keep one: mealcalc freeze" in answer.err
    assert mealcalc("freeze", "-", given="200 g rice").status == 2


@pytest.mark.parametrize(
    "text",
    [
        "published: [",
        "published: 3",
        "published: [3]",
        "published: [{stated: 2026-11-25}]",
        "published: [{stated: 2026-13-45}]",
        "\x00",
    ],
)
def test_a_damaged_record_is_told_and_left_as_it_is(pots: Path, text: str) -> None:
    record_of(pots).write_text(text, encoding="utf-8")
    for words in (("--check",), ("--scheme", "uk")):
        answer = mealcalc("freeze", pots, *words)
        assert answer.status == 1
        assert "restore the file from a copy" in answer.err
    assert record_of(pots).read_text(encoding="utf-8") == text
