"""`mealcalc example`: examples to start from."""

from pathlib import Path

import pytest

from mealcalc.examples import examples, read_example
from tests.command import mealcalc, write

NAMES = [example.name for example in examples()]


def test_there_is_one_example_for_each_of_four_regions() -> None:
    assert sorted(example.region for example in examples()) == ["au", "in", "uk", "us"]


def test_without_a_name_they_are_listed() -> None:
    for arguments in ((), ("--list",)):
        answer = mealcalc("example", *arguments)
        assert answer.status == 0
        for example in examples():
            assert example.name in answer.out
            assert example.title in answer.out


@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_written_and_runs(kitchen: Path, name: str) -> None:
    answer = mealcalc("example", name)
    path = kitchen / f"{name}.batch.yaml"
    assert answer.status == 0
    assert f"mealcalc macros {name}.batch.yaml" in answer.err
    assert path.read_text(encoding="utf-8") == read_example(name)
    assert mealcalc("macros", path, "--strict").status == 0


def test_an_example_can_be_printed() -> None:
    answer = mealcalc("example", NAMES[0], "--output", "-")
    assert answer.out == read_example(NAMES[0])
    assert answer.err == ""


def test_a_file_of_the_cook_is_never_overwritten_unasked(kitchen: Path) -> None:
    mine = write(kitchen, "mine.yaml", "mine")
    answer = mealcalc("example", NAMES[0], "-o", "mine.yaml")
    assert answer.status == 2
    assert "mine.yaml exists already" in answer.err
    assert mine.read_text(encoding="utf-8") == "mine"
    assert mealcalc("example", NAMES[0], "-o", "mine.yaml", "--force").status == 0
    assert mine.read_text(encoding="utf-8") == read_example(NAMES[0])


@pytest.mark.parametrize("name", ["nonsense", "../secrets", "", "smoky-bean-turkey.batch.yaml"])
def test_an_unknown_example_is_wrong_usage_and_lists_the_known(name: str) -> None:
    answer = mealcalc("example", name)
    assert answer.status == 2
    for known in NAMES:
        assert known in answer.err


@pytest.mark.parametrize("path", ["no/such/folder/x.yaml", "."])
def test_a_place_that_cannot_be_written_is_wrong_usage(path: str) -> None:
    answer = mealcalc("example", NAMES[0], "--output", path)
    assert answer.status == 2
    assert "choose another --output" in answer.err
