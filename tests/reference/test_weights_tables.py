"""Integrity of the tables of weights: foods and units exist, figures are plausible, each says where it comes from."""

import re
from collections import Counter
from collections.abc import Iterable

from mealcalc.calculation.weights import REFUSE_CONDITIONS
from mealcalc.records import Food
from mealcalc.reference.tables import (
    bulk_densities,
    default_foods,
    drained_shares,
    edible_shares,
    piece_weights,
    rows_of,
    small_measures,
)
from mealcalc.units import COUNT_UNITS, REGIONS

FILES = (
    "piece_weights.csv",
    "bulk_densities.csv",
    "drained_shares.csv",
    "edible_shares.csv",
    "lean_words.csv",
    "small_measures.csv",
)
ORDER = ("extra small", "small", "medium", "large", "extra large", "jumbo")
SIZES = {"", *ORDER, "6 inch", "8 inch", "10 inch", "12 inch"}
SMALL_MEASURES = set("pinch dash drop splash drizzle glug knob dollop squeeze sprinkle spray shot handful".split())

CONDITIONS = {*REFUSE_CONDITIONS, "as bought", "with stone", "in pod", "on the cob"}
"""What a line can say of a weight with refuse, and what only 'as bought' brings in."""


def test_every_row_has_a_source_and_a_mark() -> None:
    for file_name in FILES:
        for line_number, row in rows_of(file_name):
            assert row["source"].strip(), (file_name, line_number)
            assert row["mark"] in {"read", "memory"}, (file_name, line_number)


def test_a_figure_from_memory_says_so_where_the_reader_sees_it() -> None:
    for file_name in FILES:
        for line_number, row in rows_of(file_name):
            said = "no source" in row["source"] or "memory" in row["source"]
            assert said == (row["mark"] == "memory"), (file_name, line_number, row["source"])


def test_every_food_is_a_default_food() -> None:
    known = {row.food for row in default_foods()}
    for file_name in FILES:
        for line_number, row in rows_of(file_name):
            # A small measure may be of no food in particular.
            assert row.get("food", "") in known | {""}, (file_name, line_number)


def test_units_sizes_and_regions_of_pieces_are_known() -> None:
    for row in piece_weights():
        assert row.unit in COUNT_UNITS | {"stick"}, row
        assert row.size in SIZES, row
        assert row.regions <= set(REGIONS), row


def test_one_weight_for_a_piece_of_a_size_in_a_region() -> None:
    pieces = [(row.food, row.unit, row.size, region) for row in piece_weights() for region in row.regions or {""}]
    assert _twice(pieces) == []


def test_pieces_weigh_what_hands_and_shops_hold() -> None:
    for row in piece_weights():
        assert 0.001 <= row.mass_g <= 5000.0, row
        if row.unit in {"slice", "sprig", "leaf", "clove", "floret", "sachet", "spray", "cube"}:
            assert row.mass_g <= 400.0, row
        if row.unit in {"can", "jar", "pack"}:
            assert row.mass_g >= 0.5, row


def test_larger_pieces_weigh_more() -> None:
    sized = {(r.food, r.unit, r.regions, r.size): r.mass_g for r in piece_weights() if r.size in ORDER}
    for (food, unit, regions, size), mass_g in sized.items():
        for smaller in ORDER[: ORDER.index(size)]:
            less_g = sized.get((food, unit, regions, smaller))
            assert less_g is None or less_g < mass_g, (food, unit, sorted(regions), smaller, size)


def test_one_density_for_a_form_of_a_food() -> None:
    assert _twice((row.food, row.form) for row in bulk_densities()) == []


def test_densities_lie_between_puffed_grain_and_syrup() -> None:
    for row in bulk_densities():
        assert 0.01 <= row.g_per_ml <= 1.5, row


def test_liquids_weigh_about_what_water_weighs(all_foods: dict[str, Food]) -> None:
    # From spirits to liqueurs; ice lies loose in a cup.
    plain = {row.food: row.g_per_ml for row in bulk_densities() if not row.form}
    drinks = {row.food: row.code for row in default_foods() if row.is_default and not row.regions}
    liquids = [food for food, code in drinks.items() if code in all_foods and _is_liquid(all_foods[code])]
    weighed = [food for food in liquids if food in plain and food != "ice"]
    assert len(weighed) > 50
    for food in weighed:
        assert 0.93 <= plain[food] <= 1.18, (food, plain[food])


def test_shares_are_shares() -> None:
    for row in drained_shares():
        assert 0.3 <= row.share <= 1.0, row
    for part in edible_shares():
        assert 0.1 <= part.share < 1.0, part


def test_one_share_for_a_food_in_a_region_or_condition() -> None:
    assert _twice((row.food, region) for row in drained_shares() for region in row.regions or {""}) == []
    assert _twice((row.food, row.condition) for row in edible_shares()) == []


def test_conditions_of_edible_shares_are_known() -> None:
    assert {row.condition for row in edible_shares()} <= CONDITIONS


def test_a_bare_name_carries_refuse_in_one_condition() -> None:
    assert _twice(row.food for row in edible_shares() if row.is_default) == []


def test_small_measures_give_millilitres_or_grams() -> None:
    for row in small_measures():
        assert row.volume_ml is not None or row.mass_g is not None, row
        assert row.volume_ml is None or 0.05 <= row.volume_ml <= 300.0, row
        assert row.mass_g is None or 0.03 <= row.mass_g <= 300.0, row
        if row.volume_ml is not None and row.mass_g is not None:
            assert 0.1 <= row.mass_g / row.volume_ml <= 1.5, row


def test_every_small_measure_of_a_line_is_in_the_table() -> None:
    assert SMALL_MEASURES <= COUNT_UNITS
    assert {row.measure for row in small_measures() if not row.food} >= SMALL_MEASURES
    assert _twice((row.measure, row.food) for row in small_measures()) == []


def _twice(keys: Iterable[object]) -> list[object]:
    return [key for key, count in Counter(keys).items() if count > 1]


def _is_liquid(food: Food) -> bool:
    solid = ("dry", "powder", "concentrate")
    return food.group[:4] == "1400" and not set(solid) & set(re.findall(r"[a-z]+", food.description.lower()))
