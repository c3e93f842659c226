"""What stays in the pan is no part of the containers."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.recipe.reader import read_text
from mealcalc.records import Batch

TEXT = """\
region: uk
containers: 4
components:
  - name: Stew
    cooking: browned, then simmered 30 min
    fat: drained
    ingredients: |
      500 g beef mince, 20% fat
      400 g canned tomatoes
      200 ml red wine
      salt to taste
  - name: Rice
    cooking: boiled, all water absorbed
    ingredients: |
      300 g white rice
      600 ml water
"""


def batch() -> Batch:
    read = read_text(TEXT, "pots.batch.yaml").batch
    assert read is not None
    return read


@settings(max_examples=12)
@given(share=st.floats(0.05, 1.0))
def test_everything_is_multiplied_by_the_share_that_is_filled(database: FoodDatabase, share: float) -> None:
    whole = calculate(batch(), database)
    stew, rice = batch().components
    part = calculate(replace(batch(), components=(replace(stew, filled_share=share), rice)), database)
    for key in FOOD_COMPONENTS:
        for number, factor in ((0, share), (1, 1.0)):
            before, after = whole.components[number].totals[key], part.components[number].totals[key]
            assert after.amount == pytest.approx(factor * before.amount, rel=1e-9, abs=1e-12)
            assert after.unknown_lines == before.unknown_lines
        total = sum(component.totals[key].amount for component in part.components)
        assert part.totals[key].amount == pytest.approx(total, rel=1e-9, abs=1e-12)
        if key != "WATER_G":
            lines = sum(c.amounts[key] or 0.0 for c in part.contributions)
            assert part.totals[key].amount == pytest.approx(lines, rel=1e-9, abs=1e-12)
    stew_before, stew_after = whole.components[0], part.components[0]
    assert stew_after.cooked_mass_g == pytest.approx(share * stew_before.cooked_mass_g)
    per_100g = [one.per_100g for one in (stew_before, stew_after)]
    fat_g = [one["FAT_G"].amount for one in per_100g if one is not None]
    assert fat_g == pytest.approx([fat_g[0]] * 2)
    if share < 1:
        assert "did not go into containers" in stew_after.cooked_mass_ground


def test_intervals_follow(database: FoodDatabase) -> None:
    from mealcalc.pipeline import how_sure

    whole = calculate(batch(), database)
    half = calculate(
        replace(batch(), components=tuple(replace(c, filled_share=0.5) for c in batch().components)), database
    )
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "WATER_G"):
        one, other = how_sure(whole, database).per_container[key], how_sure(half, database).per_container[key]
        assert one is not None
        assert other is not None
        assert (other.low, other.high) == pytest.approx((one.low / 2, one.high / 2), rel=0.02)
