"""Integrity of the series of foods published at several fat levels, and of the words of the trade for leanness."""

import re
from collections import defaultdict

import pytest

from mealcalc.records import Food
from mealcalc.reference.tables import default_foods, fat_levels, lean_words
from mealcalc.units import REGIONS
from mealcalc.values import amount_of

FAT_FREE_AS_ANALYSED = {"05662", "05663", "05664"}
"""Ground turkey sold as fat free: 1.95 g fat per 100 g raw by analysis (SR28 05662)."""

PRINTED = re.compile(r"([0-9.]+) ?% (?:fat|milkfat)")


def test_every_level_is_a_food_of_the_table_under_its_own_description(all_foods: dict[str, Food]) -> None:
    for level in fat_levels():
        assert level.description == all_foods[level.code].description, level


def test_fat_is_the_one_printed_in_the_description() -> None:
    for level in fat_levels():
        if level.code in FAT_FREE_AS_ANALYSED:
            assert level.fat_percent == 2.0, level
        elif "nonfat" in level.description:
            assert level.fat_percent == 0.0, level
        else:
            printed = PRINTED.search(level.description)
            assert printed is not None, level
            assert level.fat_percent == float(printed[1]), level


def test_raw_levels_hold_the_fat_they_print(all_foods: dict[str, Food]) -> None:
    # Cooked levels print the fat of the raw meat. Turkey printed as 15 % fat was analysed at 12.5 %.
    for level in fat_levels():
        if level.state != "cooked":
            fat_g = amount_of(all_foods[level.code].composition, "FAT_G")
            assert fat_g == pytest.approx(level.fat_percent, abs=2.5), level


def test_a_series_is_of_one_species_and_state_and_holds_no_level_twice() -> None:
    levels = defaultdict(list)
    for level in fat_levels():
        levels[level.series].append(level)
    for series, members in levels.items():
        assert len(members) >= 2, series
        assert len({(level.species, level.state) for level in members}) == 1, series
        assert len({level.fat_percent for level in members}) == len(members), series


def test_fatter_levels_hold_more_energy(all_foods: dict[str, Food]) -> None:
    levels = defaultdict(list)
    for level in fat_levels():
        if level.state != "cooked":
            levels[level.series].append((level.fat_percent, _energy(all_foods[level.code])))
    assert levels
    for series, members in levels.items():
        energies = [energy for _, energy in sorted(members)]
        assert energies == sorted(energies), series


def test_a_series_of_raw_food_bears_the_name_of_its_default_food() -> None:
    foods = {row.food for row in default_foods()}
    assert {level.series for level in fat_levels() if level.state != "cooked"} <= foods


def test_words_for_leanness_are_sourced_and_no_fatter_than_they_allow() -> None:
    species = {level.species for level in fat_levels()} | {"any", "chicken", "veal", "lamb"}
    for row in lean_words():
        assert row.source, row
        assert row.regions, row
        assert row.regions <= set(REGIONS), row
        assert row.species in species, row
        assert 0.0 < row.fat_percent_used <= 30.0, row
        assert row.fat_percent_max is None or row.fat_percent_used <= row.fat_percent_max, row


def test_a_word_for_leanness_means_one_fat_in_a_region() -> None:
    keys = [(row.words, region, row.species) for row in lean_words() for region in row.regions]
    assert len(set(keys)) == len(keys)


def test_extra_lean_is_leaner_than_lean_and_lean_than_regular() -> None:
    used = {(row.words, region, row.species): row for row in lean_words() for region in row.regions}
    for (words, region, species), row in used.items():
        for fatter in {"extra lean": ("lean",), "lean": ("regular", "standard")}.get(words, ()):
            other = used.get((fatter, region, species))
            assert other is None or row.fat_percent_used <= other.fat_percent_used, (region, species, words)


def _energy(food: Food) -> float:
    energy_kcal = amount_of(food.composition, "ENERC_KCAL")
    assert energy_kcal is not None
    return energy_kcal
