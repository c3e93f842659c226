"""Headspace and assumptions of weighing out, against what they are said to come from."""

import re

import pytest

from mealcalc.calculation.household_measures import density
from mealcalc.records import Food
from mealcalc.reference.portion_tables import headspaces, portion_assumptions


def test_headspace_as_published() -> None:
    """National Center for Home Food Preservation, 2006: inches by pack, mouth, pint and quart."""
    table = {(row.pack, row.mouth, row.capacity_ml): row.gap_in for row in headspaces()}
    assert table == {
        ("liquid", "wide", 473): 0.5,
        ("liquid", "wide", 946): 1.0,
        ("liquid", "narrow", 473): 0.75,
        ("liquid", "narrow", 946): 1.5,
        ("dry", "wide", 473): 0.5,
        ("dry", "wide", 946): 0.5,
    }
    assert {row.gap_mm for row in headspaces() if row.gap_in == 0.5} == {12.7}
    assert all(row.source and row.edition == "2006" and row.mark == "read" for row in headspaces())


def test_how_loosely_cooked_food_lies_in_a_cup(all_foods: dict[str, Food]) -> None:
    """A tenth of the cooked and canned vegetables of SR28 with a volume measure are lighter than the table says."""
    cooked = [
        found.value
        for food in all_foods.values()
        if food.group[:2] == "11"
        and re.search(r"\b(cooked|boiled|baked|canned|steamed|stewed)\b", food.description, re.I)
        for found in [density(food.measures, frozenset(["cooked"]))]
        if found is not None
    ]
    loosest = sorted(cooked)[len(cooked) // 10]
    assert portion_assumptions()["cooked_loosest"].value == pytest.approx(loosest, abs=0.01)


def test_pieces_without_a_measure_are_as_diced_meat(all_foods: dict[str, Food]) -> None:
    """SR28 05013, chicken meat only, cooked, roasted: 1 cup, chopped or diced = 140 g; a US cup is 236.588 ml."""
    diced = next(m for m in all_foods["05013"].measures if m.description.startswith("cup"))
    assert diced.mass_g == 140
    assert portion_assumptions()["piece_density"].value == pytest.approx(140 / 236.588, abs=0.005)


def test_every_assumption_has_a_ground() -> None:
    assert set(portion_assumptions()) == {
        "headspace_share", "cooked_loosest", "piece_density", "fills_gaps", "no_air_spread",
    }  # fmt: skip
    for row in portion_assumptions().values():
        assert row.ground
        assert row.mark in ("read", "derived", "judgement")
        assert 0 < row.value < 1
