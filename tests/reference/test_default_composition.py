"""Default foods against their composition: what a name or a state promises, the food behind it keeps."""

from collections.abc import Iterator

import pytest

from mealcalc.records import Food
from mealcalc.reference.tables import DefaultFood, default_foods
from mealcalc.values import amount_of

# Words of a name, component in its unit per 100 g, most of it that such a food may hold (common practice, no source).
PROMISES = [
    ("fat free", "FAT_G", 3.5),
    ("low fat milk", "FAT_G", 2.1),
    ("low fat yoghurt", "FAT_G", 2.1),
    ("low fat cottage cheese", "FAT_G", 2.5),
    ("egg white", "FAT_G", 0.5),
    ("unsalted butter", "NA_MG", 20.0),
    ("unsweetened", "SUGAR_G", 20.0),
    ("extra lean", "FAT_G", 13.0),
]


@pytest.mark.parametrize(("words", "component", "most"), PROMISES)
def test_name_keeps_its_promise(words: str, component: str, most: float, all_foods: dict[str, Food]) -> None:
    kept = 0
    for row, food in _rows(all_foods):
        if any(f" {words} " in f" {name} " for name in row.names):
            amount = amount_of(food.composition, component)
            kept += amount is not None
            assert amount is None or amount <= most, row
    assert kept > 0


def test_canned_food_named_without_salt_has_little(all_foods: dict[str, Food]) -> None:
    unsalted = [(r, f) for r, f in _rows(all_foods) if r.food.startswith("canned ") and "no salt added" in r.food]
    assert len(unsalted) > 10
    for row, food in unsalted:
        assert _amount(food, "NA_MG") <= 180.0, row


def test_dry_food_is_dry(all_foods: dict[str, Food]) -> None:
    # Soft dried fruit holds the most water.
    for row, food in _rows(all_foods):
        if row.state == "dry":
            assert _amount(food, "WATER_G") <= 40.0, row


def test_cooked_grain_and_pulses_hold_more_water_than_dry_ones(all_foods: dict[str, Food]) -> None:
    dry = {row.food: food for row, food in _rows(all_foods) if row.state == "dry" and not row.regions}
    for row, food in _rows(all_foods):
        if row.state == "cooked" and row.food in dry:
            assert _amount(food, "WATER_G") > _amount(dry[row.food], "WATER_G"), row
            assert _amount(food, "ENERC_KCAL") < _amount(dry[row.food], "ENERC_KCAL"), row


def test_raw_and_frozen_food_hold_about_the_same_energy(all_foods: dict[str, Food]) -> None:
    raw = {row.food: food for row, food in _rows(all_foods) if row.state == "raw" and not row.regions}
    for row, food in _rows(all_foods):
        if row.state == "frozen" and not row.regions and row.food in raw and food.group == raw[row.food].group:
            difference_kcal = _amount(food, "ENERC_KCAL") - _amount(raw[row.food], "ENERC_KCAL")
            assert abs(difference_kcal) <= 60.0, row


def test_flesh_and_oils_hold_what_their_groups_hold(all_foods: dict[str, Food]) -> None:
    for row, food in _rows(all_foods):
        if row.food.endswith(" oil") and not row.food.endswith(" in oil"):
            assert _amount(food, "FAT_G") >= 99.0, row
        if row.state == "raw" and row.food.endswith((" mince", " steak", " fillet")):
            assert _amount(food, "PROCNT_G") >= 12.0, row


def _rows(all_foods: dict[str, Food]) -> Iterator[tuple[DefaultFood, Food]]:
    for row in default_foods():
        if row.code in all_foods:
            yield row, all_foods[row.code]


def _amount(food: Food, component: str) -> float:
    amount = amount_of(food.composition, component)
    assert amount is not None, (food.code, component)
    return amount
