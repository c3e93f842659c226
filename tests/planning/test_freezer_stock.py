"""The freezer's list: written, read, added to, taken from, and damaged."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.errors import ConfigurationError, UsageError
from mealcalc.planning.freezer_stock import put_in, read_stock, take_out, write_stock
from mealcalc.records.keeping import FrozenContainers

DAY = date(2026, 3, 2)
SOUP = FrozenContainers("Lentil soup", 4, DAY, DAY, date(2026, 5, 2), "somebody's guidance", 410.0)
OLDER = FrozenContainers("Lentil soup", 2, date(2026, 2, 1), date(2026, 2, 1))
STEW = FrozenContainers("Bean stew", 1, DAY, date(2026, 3, 3))

days = st.dates(date(2020, 1, 1), date(2040, 1, 1))
titles = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=30)


@given(st.lists(st.builds(FrozenContainers, titles, st.integers(1, 99), days, days, st.none() | days), max_size=5))
def test_what_is_written_is_read_again(tmp_path_factory: pytest.TempPathFactory, stock: list[FrozenContainers]) -> None:
    path = tmp_path_factory.mktemp("freezer") / "freezer.yaml"
    write_stock(path, stock)
    assert sorted(read_stock(path), key=repr) == sorted(stock, key=repr)


def test_all_that_is_known_of_a_batch_is_kept(tmp_path: Path) -> None:
    write_stock(tmp_path / "freezer.yaml", [SOUP, STEW, OLDER])
    assert read_stock(tmp_path / "freezer.yaml") == (OLDER, SOUP, STEW)
    assert (
        (tmp_path / "freezer.yaml").read_text(encoding="utf-8").startswith("# What is in the freezer; edit freely.\n")
    )


def test_no_file_is_an_empty_freezer(tmp_path: Path) -> None:
    assert read_stock(tmp_path / "freezer.yaml") == ()
    (tmp_path / "freezer.yaml").write_text("freezer:\n")
    assert read_stock(tmp_path / "freezer.yaml") == ()


def test_the_same_batch_and_dates_are_one_entry() -> None:
    (row,) = put_in(put_in((), SOUP), SOUP)
    assert row.containers == 8
    assert len(put_in((SOUP,), OLDER)) == 2


def test_the_oldest_is_taken_first() -> None:
    left = take_out((SOUP, OLDER, STEW), "soup", 3)
    assert [(row.title, row.frozen, row.containers) for row in left] == [
        ("Lentil soup", DAY, 3),
        ("Bean stew", date(2026, 3, 3), 1),
    ]
    assert take_out((STEW,), "BEAN STEW", 1) == ()


@pytest.mark.parametrize(
    ("title", "count", "words", "hint"),
    [
        ("soup", 7, "7 of 'Lentil soup' to take out, but there are 6", "take 1 to 6"),
        ("soup", 0, "0 of 'Lentil soup' to take out", "take 1 to 6"),
        ("bean", 1, "", ""),
        ("Bean stwe", 1, "no 'Bean stwe' in the freezer", "did you mean 'Bean stew'?"),
        ("zzz", 1, "no 'zzz' in the freezer", "there are: Lentil soup; Bean stew"),
        ("e", 1, "'e' means several batches", "name one of: Lentil soup; Bean stew"),
        ("", 1, "no '' in the freezer", "there are"),
    ],
)
def test_taking_what_is_not_there(title: str, count: int, words: str, hint: str) -> None:
    if not words:
        assert len(take_out((SOUP, OLDER, STEW), title, count)) == 2
        return
    with pytest.raises(UsageError, match=words) as caught:
        take_out((SOUP, OLDER, STEW), title, count)
    assert hint in caught.value.hint


def test_an_empty_freezer_gives_nothing() -> None:
    with pytest.raises(UsageError, match="the freezer's list is empty"):
        take_out((), "soup", 1)


def test_what_cannot_be_is_not_put_in() -> None:
    with pytest.raises(UsageError, match="0 containers to freeze"):
        put_in((), FrozenContainers("Soup", 0, DAY, DAY))
    with pytest.raises(UsageError, match="before cooking"):
        put_in((), FrozenContainers("Soup", 1, DAY, date(2026, 3, 1)))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("freezer: [", "cannot be read"),
        ("freezer: 3\n", "no list 'freezer'"),
        ("freezer:\n  - soup\n", "entry 1 is not a mapping"),
        ("freezer:\n  - {batch: Soup, containers: 1, cooked: 2026-01-01}\n", "entry 1 lacks frozen"),
        ("freezer:\n  - {batch: S, containers: 0, cooked: 2026-01-01, frozen: 2026-01-01}\n", "entry 1: containers 0"),
        ("freezer:\n  - {batch: S, containers: 1, cooked: May, frozen: 2026-01-01}\n", "cooked May is no date"),
        ("freezer:\n  - {batch: S, containers: 1, cooked: 2026-02-30, frozen: 2026-01-01}\n", "cannot be read"),
        ("freezer:\n  - {batch: S, containers: 1, cooked: 2026-01-01, frozen: 2026-01-01, box: 3}\n", "entry 'box'"),
        (
            "freezer:\n  - {batch: S, containers: 1, cooked: 2026-01-01, frozen: 2026-01-01, mass_g: -3}\n",
            "entry 1: mass_g -3",
        ),
    ],
)
def test_a_damaged_list_is_told_with_its_entry(tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "freezer.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ConfigurationError, match=words) as caught:
        read_stock(path)
    assert str(path) in caught.value.message
    assert path.read_text(encoding="utf-8") == text


def test_a_list_that_is_no_text_is_told(tmp_path: Path) -> None:
    path = tmp_path / "freezer.yaml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ConfigurationError, match="cannot be read"):
        read_stock(path)
    with pytest.raises(ConfigurationError, match="cannot be written"):
        write_stock(path / "below" / "freezer.yaml", [SOUP])
