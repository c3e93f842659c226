"""Integrity of the tables of keeping, and their figures against the collected sources where these are at hand."""

import csv
import re
from collections import Counter
from pathlib import Path

import pytest

from mealcalc.errors import UsageError
from mealcalc.reference.cooking_vocabulary import food_groups
from mealcalc.reference.keeping_tables import (
    TOPICS,
    authorities,
    chosen_authorities,
    dish_kinds,
    dish_rules,
    keeping_guidance,
)
from mealcalc.reference.tables import rows_of
from mealcalc.units import REGIONS

MARKS = {"read", "read (secondary)", "memory"}
TABLES = {"authorities.csv": 15, "dish_kinds.csv": 21, "dish_rules.csv": 37, "keeping_guidance.csv": 87}
UNITS = {"day", "month", "hour", "minute", "degC", "time", "mm", "text", "not recommended", "quality only"}
PROMISES = re.compile(r"\b(is|are) safe\b|\bsafe to\b|\bguarantee", re.IGNORECASE)


@pytest.mark.parametrize(("file_name", "count"), TABLES.items())
def test_every_row_is_there(file_name: str, count: int) -> None:
    rows = [cells for _, cells in rows_of(file_name)]
    assert len(rows) == count
    assert all(None not in row and None not in row.values() for row in rows)


def test_every_statement_names_authority_source_and_how_surely_it_was_seen() -> None:
    for row in keeping_guidance():
        assert row.source, row
        assert row.edition, row
        assert row.mark in MARKS, row
        assert ("from memory" in row.source) == (row.mark == "memory"), row
        assert row.unit in UNITS, row
        assert authorities()[row.authority].jurisdiction


def test_figures_stand_in_the_wording_beside_them() -> None:
    words = {1: "one", 7: "one week", 1.5: "90"}
    for row in keeping_guidance():
        for figure in {row.low, row.high} - {None}:
            assert figure is not None
            spelt = words.get(figure, "-")
            assert (
                re.search(rf"\b{figure:g}\b", row.wording)
                or spelt in row.wording
                or "once" in row.wording
                or (figure == 1 and "24 hours" in row.wording)
            ), row
        assert row.low is None or row.high is None or row.low <= row.high, row
        assert (row.low is None) == (row.unit in ("text", "not recommended", "quality only")), row


def test_no_statement_stands_twice_and_days_say_how_they_count() -> None:
    keys = Counter((row.authority, row.topic, row.dish) for row in keeping_guidance())
    assert [key for key, count in keys.items() if count > 1] == []
    for row in keeping_guidance():
        assert (row.cooking_day_is_day is not None) == (row.unit == "day"), row


def test_every_name_is_used() -> None:
    used = {row.authority for row in keeping_guidance()}
    assert set(authorities()) - used == {"us_fsis", "nz_mpi", "ca_retail"}  # those have cooling limits only
    assert {row.topic for row in keeping_guidance()} == set(TOPICS)
    assert {rule.kind for rule in dish_rules()} == set(dish_kinds())
    assert {row.dish for row in keeping_guidance()} <= set(dish_kinds())
    for authority in authorities().values():
        assert authority.regions <= set(REGIONS)


def test_rules_speak_of_known_groups_and_kinds() -> None:
    for rule in dish_rules():
        assert rule.food_groups <= set(food_groups()), rule
        assert rule.with_kinds | rule.without_kinds <= set(dish_kinds()), rule
        assert all(word == word.lower() for word in (*rule.words, *rule.none_of)), rule
        assert rule.looks_at in ("food", "kinds") or rule.words, rule


@pytest.mark.parametrize("file_name", [*TABLES, "cooling_limits.csv", "cooling_advice.csv", "heat_transfer.csv"])
def test_no_row_promises_anything(file_name: str) -> None:
    for line, cells in rows_of(file_name):
        assert not PROMISES.search(" ".join(cells.values())), (file_name, line)


def test_foodkeeper_figures_are_the_published_ones(reference_data: Path) -> None:
    path = reference_data / "reference" / "cold-storage.csv"
    published = {}
    for row in csv.DictReader(path.read_text(encoding="utf-8").splitlines()):
        found = re.search(r"product ID (\d+)", row["source"])
        if found:
            published[found[1]] = row
    compared = 0
    for guidance in keeping_guidance():
        product = re.search(r"product ID (\d+)", guidance.source)
        if product is None:
            continue
        row = published[product[1]]
        prefix = "refrigerator" if guidance.topic == "refrigerator" else "freezer"
        if guidance.unit == "not recommended":
            assert row["freezer_unit"] == "Not Recommended", guidance
        else:
            days = 7.0 if row[f"{prefix}_unit"] == "Weeks" else 1.0
            assert guidance.low == float(row[f"{prefix}_min"]) * days, guidance
            assert guidance.high == float(row[f"{prefix}_max"]) * days, guidance
        compared += 1
    assert compared == 33


def test_authorities_are_chosen_by_name_or_region() -> None:
    assert [row.authority for row in chosen_authorities(["uk-fsa"])] == ["uk_fsa"]
    assert {row.authority for row in chosen_authorities(["uk"])} == {"uk_fsa", "uk_fss", "uk_trade"}
    assert len(chosen_authorities()) == len(chosen_authorities(["all"])) == 14
    assert "us_fsis" not in {row.authority for row in chosen_authorities(["us"])}
    assert [row.authority for row in chosen_authorities(["us_fsis"])] == ["us_fsis"]


def test_an_unknown_authority_is_answered_with_the_known_ones() -> None:
    with pytest.raises(UsageError, match="no authority 'mars'") as caught:
        chosen_authorities(["uk", "mars"])
    assert "uk_fsa" in caught.value.hint
    assert "us" in caught.value.hint
