"""Integrity of the tables of shopping: every key exists, every food of the shop has a section."""

import pytest

from mealcalc.calculation.nearness import food_group
from mealcalc.records import Food
from mealcalc.reference.cooking_vocabulary import broader_groups, food_groups
from mealcalc.reference.shopping_tables import SECTIONS, bought_as, section_rules, sold_by
from mealcalc.reference.tables import default_foods, piece_weights, rows_of
from mealcalc.units import COUNT_UNITS

FOODS = {row.food for row in default_foods()}
UNITS = {(row.food, row.unit) for row in piece_weights()}


def test_every_key_of_the_sections_is_known() -> None:
    rules = section_rules()
    assert set(rules.by_food) <= FOODS
    assert set(rules.by_form) == {"frozen", "canned"}
    assert set(rules.by_group) <= set(food_groups())
    assert {*rules.by_food.values(), *rules.by_form.values(), *rules.by_group.values()} <= set(SECTIONS)


def test_no_food_stands_in_two_sections() -> None:
    keys = [key for _, row in rows_of("shop_sections.csv") for key in row["keys"].split("|")]
    assert sorted(key for key in set(keys) if keys.count(key) > 1) == []


@pytest.mark.parametrize("table", ["bought_as.csv", "sold_by.csv"])
def test_no_food_stands_twice(table: str) -> None:
    keys = [(row["food"], row["unit"]) for _, row in rows_of(table)]
    assert len(set(keys)) == len(keys)


def test_every_food_of_the_table_stands_in_some_section(all_foods: dict[str, Food]) -> None:
    groups = {food_group(food) for food in all_foods.values()}
    for group in groups - {None}:
        assert group is not None
        assert set(broader_groups(group)) & set(section_rules().by_group), group


def test_units_that_foods_are_sold_in_have_a_weight() -> None:
    for food, unit in sold_by().items():
        assert unit in COUNT_UNITS
        assert (food, unit) in UNITS, food


def test_what_is_bought_whole_is_counted_in_the_same_unit() -> None:
    for (food, unit), whole in bought_as().items():
        assert {food, whole} <= FOODS
        assert (whole, unit) in UNITS, whole
