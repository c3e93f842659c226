"""Values that follow from published ones: alcohol, available carbohydrate, energy in kJ.

They are added when a row becomes a record and never stored, so that the database holds what the publisher printed and
nothing else. Each is marked `ValueStatus.CALCULATED`; a value that the table gives is never replaced.
"""

from dataclasses import replace

from mealcalc.components import KJ_PER_KCAL
from mealcalc.fooddb.alcohol import ROUNDING_G, can_hold_alcohol, remainder_g
from mealcalc.fooddb.logical_zeros import with_logical_zeros
from mealcalc.records import Food
from mealcalc.values import Value, ValueStatus, amount_of


def with_derived_values(food: Food) -> Food:
    """The food with logical zeros filled in and alcohol, available carbohydrate and energy in kJ added.

    ALC_G
        What the proximates leave of 100 g, in drinks and extracts that hold alcohol (see `alcohol`).
    CHOAVLDF_G
        Carbohydrate by difference minus fibre, g; missing when either is: available carbohydrate by difference in the
        sense of FAO Food and Nutrition Paper 77 (2003), chapter 2 (from memory).
    ENERC_KJ
        ENERC_KCAL times 4.184 kJ per kcal.
    """
    # Alcohol before the zeros, which would take its place; available carbohydrate after them, since it needs the fibre.
    filled = with_logical_zeros(_with(food, "ALC_G", _alcohol_g(food)))
    return _with(_with(filled, "CHOAVLDF_G", _available_carbohydrate_g(filled)), "ENERC_KJ", _energy_kj(filled))


def _with(food: Food, key: str, amount: float | None) -> Food:
    if amount is None or amount_of(food.composition, key) is not None:
        return food
    return replace(food, composition={**food.composition, key: Value(amount, ValueStatus.CALCULATED)})


def _alcohol_g(food: Food) -> float | None:
    if not can_hold_alcohol(food):
        return None
    remainder = remainder_g(food)
    # Rounded as its five terms are printed: the sum of binary fractions has no further digits to give.
    return round(remainder, 2) if remainder is not None and remainder > ROUNDING_G else None


def _available_carbohydrate_g(food: Food) -> float | None:
    carbohydrate = amount_of(food.composition, "CHOCDF_G")
    fibre = amount_of(food.composition, "FIBTG_G")
    if carbohydrate is None or fibre is None:
        return None
    # Fibre is measured and carbohydrate a difference: in a food that is all fibre rounding may leave less than nothing.
    return max(0.0, carbohydrate - fibre)


def _energy_kj(food: Food) -> float | None:
    energy_kcal = amount_of(food.composition, "ENERC_KCAL")
    return None if energy_kcal is None else energy_kcal * KJ_PER_KCAL
