"""Saved choices: written, read back, edited by hand, damaged."""

from pathlib import Path

import pytest

from mealcalc.errors import ConfigurationError
from mealcalc.matching.decisions import (
    Decision,
    Decisions,
    decision_phrase,
    decisions_path,
    load_decisions,
    save_decisions,
)
from mealcalc.records import FoodState
from tests.matching.shelf import line

BACON = Decision("smoked back bacon", "sr28", "10130", "raw", "uk", "SR28", "2026-03-01")


def test_round_trip(tmp_path: Path) -> None:
    path = tmp_path / "pots.decisions.yaml"
    save_decisions(path, [BACON])
    assert load_decisions(path).find("Bacon, back, smoked", FoodState.RAW, "uk") == BACON


def test_saving_replaces_the_same_food_and_keeps_the_others(tmp_path: Path) -> None:
    path = tmp_path / "pots.decisions.yaml"
    other = Decision("oat cream", "sr28", "none")
    save_decisions(path, [BACON, other])
    newer = Decision("smoked back bacon", "sr28", "10131", "raw", "uk")
    save_decisions(path, [newer])
    found = load_decisions(path)
    assert len(found) == 2
    assert found.find("smoked back bacon", FoodState.RAW, "uk") == newer
    assert found.find("oat creams", None, "uk") == other


def test_the_most_particular_decision_wins() -> None:
    general = Decision("mince", "sr28", "1")
    regional = Decision("mince", "sr28", "2", region="au")
    exact = Decision("mince", "sr28", "3", state="raw", region="au")
    decisions = Decisions([general, regional, exact])
    assert decisions.find("mince", FoodState.RAW, "au") == exact
    assert decisions.find("mince", FoodState.COOKED, "au") == regional
    assert decisions.find("mince", None, "uk") == general
    assert decisions.find("mince pie", None, "uk") is None


def test_the_first_file_wins(tmp_path: Path) -> None:
    beside, users = tmp_path / "a.decisions.yaml", tmp_path / "decisions.yaml"
    save_decisions(beside, [Decision("mince", "sr28", "1")])
    save_decisions(users, [Decision("mince", "sr28", "2")])
    found = load_decisions(beside, users).find("mince", None, "uk")
    assert found is not None
    assert found.code == "1"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("decisions: 5", "no list 'decisions'"),
        ("decisions:\n  - 5", "decision 1 is not a mapping"),
        ("decisions:\n  - {food: mince, table: sr28}", "decision 1 lacks code"),
        ("decisions:\n  - {food: mince, table: sr28, code: '1', colour: red}", "unknown entry 'colour'"),
        ("decisions:\n  - {food: mince, table: sr28, code: '1', state: melted}", "unknown state 'melted'"),
        ("decisions:\n  - {food: egg, table: sr28, code: 01123}", "the code 595 is not text"),
        ("decisions: [", "cannot be read"),
    ],
)
def test_damaged_files_are_refused_with_the_place(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "pots.decisions.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ConfigurationError, match=message) as caught:
        load_decisions(path)
    assert str(path) in caught.value.message
    assert caught.value.hint


def test_an_empty_file_holds_no_decisions(tmp_path: Path) -> None:
    path = tmp_path / "pots.decisions.yaml"
    path.write_text("", encoding="utf-8")
    assert len(load_decisions(path)) == 0


def test_a_failed_save_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "pots.decisions.yaml"
    save_decisions(path, [BACON])
    before = path.read_bytes()

    def full_disk(*_: object) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full_disk)
    with pytest.raises(OSError, match="No space"):
        save_decisions(path, [Decision("mince", "sr28", "1")])
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


def test_a_choice_is_saved_with_the_fat_of_its_line() -> None:
    assert decision_phrase(line("turkey mince")) == "turkey mince"
    assert decision_phrase(line("turkey mince", fat_percent=7.0)) == "turkey mince, 7% fat"


@pytest.mark.parametrize(
    ("recipe", "beside"),
    [
        ("pots.batch.yaml", "pots.decisions.yaml"),
        ("pots.yaml", "pots.decisions.yaml"),
        ("list.txt", "list.decisions.yaml"),
        ("plain", "plain.decisions.yaml"),
    ],
)
def test_the_decisions_file_stands_beside_the_recipe(recipe: str, beside: str) -> None:
    assert decisions_path(Path("/kitchen") / recipe) == Path("/kitchen") / beside
