"""Integrity of the table of default foods: codes, names, regions and states; one name, one food."""

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from importlib import resources

import pytest

from mealcalc.matching.name_index import generate, name_index, rows_by_head
from mealcalc.matching.normalise import fold, tokens
from mealcalc.records import Food
from mealcalc.reference.tables import DefaultFood, default_foods
from mealcalc.units import METRIC, REGIONS

STATES = {"raw", "cooked", "dry", "canned", "drained", "frozen", "any"}
NAME = re.compile(r"[a-z0-9&]+(?: [a-z0-9&]+)*")
NONE = "none"

ORDINARY_WORDS = frozenset(
    # Words that food names share with names of makers.
    "amber basic batch bell continental crystal dinosaur gold good goya healthy icelandic kitchen life machine mead "
    "mission murray pounder silk south texas whip wrap".split()
)


def test_every_code_is_a_food_of_the_table_under_its_own_description(all_foods: dict[str, Food]) -> None:
    for row in default_foods():
        if row.code == NONE:
            assert row.description == "", row
        else:
            assert row.code in all_foods, row
            assert row.description == all_foods[row.code].description, row


def test_hundreds_of_foods_have_a_code() -> None:
    assert len({row.food for row in default_foods() if row.code != NONE}) >= 450


def test_names_are_normal() -> None:
    for row in default_foods():
        assert row.food == row.names[0], row
        for name in row.names:
            assert NAME.fullmatch(name), (row.food, name)
            assert fold(name) == name, (row.food, name)
            assert tokens(name), (row.food, name)


def test_no_row_says_a_name_twice() -> None:
    for row in default_foods():
        assert len(set(row.names)) == len(row.names), [n for n, count in Counter(row.names).items() if count > 1]


def test_states_and_regions_are_known() -> None:
    for row in default_foods():
        assert row.state in STATES, row
        assert row.regions <= set(REGIONS), row


def test_a_food_has_one_row_for_a_state_in_a_region() -> None:
    rows = Counter((row.food, region, row.state) for row, region in _rows_with_region())
    assert [key for key, count in rows.items() if count > 1] == []


def test_a_food_has_one_default_in_a_region() -> None:
    defaults: Counter[tuple[str, str]] = Counter()
    for row, region in _rows_with_region():
        defaults[row.food, region] += row.is_default
    assert [key for key, count in defaults.items() if count != 1] == []


@pytest.mark.parametrize("region", [*REGIONS, METRIC])
def test_a_name_means_one_food_in_a_region(region: str) -> None:
    # Rows of the region come first; rows without region serve the states that it leaves open.
    rows = default_foods()
    double = {}
    for words, groups in name_index().items():
        for head, numbers in rows_by_head(groups).items():
            named = [rows[number] for number in numbers]
            local = [row for row in named if region in row.regions]
            open_states = {row.state for row in named if not row.regions} - {row.state for row in local}
            general = [row for row in named if not row.regions and row.state in open_states]
            foods = {row.food for row in (*local, *general)}
            if len(foods) > 1:
                double[words, head] = foods
    assert double == {}


def test_drained_rows_stand_beside_canned_ones() -> None:
    canned = {row.food for row in default_foods() if row.state == "canned"}
    assert {row.food for row in default_foods() if row.state == "drained"} - canned == set()


def test_drained_food_is_no_wetter_than_the_whole_contents_of_its_can(all_foods: dict[str, Food]) -> None:
    canned = {(row.food, region): row.code for row, region in _rows_with_region() if row.state == "canned"}
    for row, region in _rows_with_region():
        code = canned.get((row.food, region), NONE)
        if row.state == "drained" and NONE not in (row.code, code):
            assert _water(all_foods[row.code]) <= _water(all_foods[code]) + 1.5, row


def test_no_name_holds_a_word_that_the_table_prints_as_a_brand(all_foods: dict[str, Food]) -> None:
    # The table prints names of makers in capitals; words of four letters or more that it prints only so.
    printed = [word for food in all_foods.values() for word in re.findall(r"[A-Za-z][A-Za-z'-]+", food.description)]
    plain = {_letters(word) for word in printed if not word.isupper()}
    capitals = {_letters(word) for word in printed if word.isupper()}
    brands = {word for word in capitals - plain - ORDINARY_WORDS if len(word) >= 4}
    assert len(brands) > 100
    found = defaultdict(set)
    for row in default_foods():
        for name in row.names:
            for word in brands & set(name.split()):
                found[word].add(name)
    assert found == {}


def test_index_of_names_is_up_to_date() -> None:
    written = resources.files("mealcalc.reference").joinpath("default_names.tsv").read_text(encoding="utf-8")
    assert written == generate(default_foods())


def _rows_with_region() -> Iterator[tuple[DefaultFood, str]]:
    for row in default_foods():
        for region in row.regions or {""}:
            yield row, region


def _water(food: Food) -> float:
    amount = food.composition["WATER_G"].amount
    assert amount is not None
    return amount


def _letters(word: str) -> str:
    return word.lower().replace("'", "")
