"""What a line can hold where its table is silent: the limits against every food of SR28 whose value is printed."""

import math

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.labelling.bounds import Bounds, amount, available_carbohydrate, fibre, total_carbohydrate
from mealcalc.labelling.energy import line_energy
from mealcalc.labelling.panel_input import PanelLine
from mealcalc.labelling.schemes import scheme_named
from mealcalc.records import Food
from mealcalc.values import amount_of

COMPUTED = [("eu", "ENERC_KJ"), ("eu", "ENERC_KCAL"), ("anz", "ENERC_KJ"), ("ca", "ENERC_KCAL"), ("us", "ENERC_KCAL")]


def line_of(food: Food, *hidden: str) -> PanelLine:
    amounts = {key: amount_of(food.composition, key) for key in FOOD_COMPONENTS if key not in hidden}
    return PanelLine(1, food.description, 100.0, amounts, nitrogen_factor=food.nitrogen_factor)


@pytest.mark.parametrize("key", ["SUGAR_G", "FASAT_G", "FAMS_G", "FAPU_G", "ALC_G"])
def test_printed_values_lie_within_the_limits_of_silence(all_foods: dict[str, Food], key: str) -> None:
    excess_g = []
    for food in all_foods.values():
        printed = amount_of(food.composition, key)
        if printed is not None:
            excess_g.append(printed - amount(line_of(food, key), key).high)
    assert len(excess_g) > 7000
    # Parts and wholes come from different analyses, each rounded: a few parts exceed their whole by less than 1 g.
    assert sum(excess > 1e-9 for excess in excess_g) <= 0.005 * len(excess_g)
    assert max(excess_g) < 1.0


@pytest.mark.parametrize("key", ["NA_MG", "FE_MG", "CHOLE_MG", "VITD_UG"])
def test_minerals_vitamins_and_cholesterol_have_no_limit(key: str) -> None:
    assert amount(PanelLine(1, "a pinch", 0.2, {"ASH_G": 0.0, "FAT_G": 0.0}), key) == Bounds(0.0, math.inf)


@pytest.mark.parametrize(("scheme", "key"), COMPUTED)
def test_energy_with_and_without_a_printed_fibre(all_foods: dict[str, Food], scheme: str, key: str) -> None:
    law = scheme_named(scheme)
    compared = 0
    for food in all_foods.values():
        if amount_of(food.composition, "FIBTG_G") is None:
            continue
        known = line_energy(line_of(food), law, law.energy_method, key)
        silent = line_energy(line_of(food, "FIBTG_G", "CHOAVLDF_G"), law, law.energy_method, key)
        assert silent.low - 1e-6 <= known.low <= silent.high + 1e-6, food.description
        compared += 1
    assert compared > 8000


def test_carbohydrate_and_fibre_where_fibre_is_not_known() -> None:
    silent = PanelLine(1, "a grain", 100.0, {"CHOCDF_G": 70.0, "PROCNT_G": 10.0})
    assert fibre(silent) == Bounds(0.0, 70.0)
    assert available_carbohydrate(silent, None) == Bounds(0.0, 70.0)
    assert total_carbohydrate(silent, None) == Bounds(70.0, 70.0)


def test_an_unmatched_line_is_limited_by_its_mass_alone() -> None:
    assert amount(PanelLine(1, "zzyzx", 30.0, {}), "FAT_G") == Bounds(0.0, 30.0)
    assert amount(PanelLine(1, "zzyzx", None, {}), "FAT_G") == Bounds(0.0, math.inf)


def test_nothing_times_no_limit_is_nothing() -> None:
    assert Bounds(0.0, math.inf).times(0.0) == Bounds(0.0, 0.0)
    assert Bounds(1.0, math.inf).times(2.0) == Bounds(2.0, math.inf)
