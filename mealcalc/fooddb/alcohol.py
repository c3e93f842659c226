"""Alcohol, which the abbreviated table of SR28 does not list.

The table gives carbohydrate by difference: 100 - (water + protein + fat + ash + alcohol). So what the five published
proximates leave of 100 g is the alcohol, in a food that can hold any. In other foods a remainder is rounding, acid (5 g
in vinegar) or the carbohydrate of meat that is set to 0, and no alcohol at all.

Check: the remainder times 6.93 kcal/g (USDA Agriculture Handbook 74, table 13, from memory) closes the gap between the
stated energy and the energy of the other three to within 7 kcal per 100 g for every such food of the table.
"""

import re

from mealcalc.records import Food
from mealcalc.values import amount_of

PROXIMATES = ("WATER_G", "PROCNT_G", "FAT_G", "ASH_G", "CHOCDF_G")

ROUNDING_G = 0.25
"""What five figures can miss of 100 g by rounding alone when each is printed to 0.1 g, as in the older records."""

# 'Alcoholic beverage, ...', 'Beverages, Malt liquor beverage', 'Beverages, AMBER, hard cider', 'Vanilla extract'.
_HOLDS_ALCOHOL = re.compile(
    r"\b(alcoholic beverages?|malt beverage|malt liquor|hard cider|vanilla extract)\b", re.IGNORECASE
)

_DRINKS_AND_SPICES = frozenset(["1400", "0200"])

SR_TABLES = frozenset(["sr28"])
"""Tables whose group codes are those of the USDA Standard Reference."""


def can_hold_alcohol(food: Food) -> bool:
    """Whether a food of the Standard Reference is an alcoholic drink or an extract made with alcohol."""
    return (
        food.table in SR_TABLES
        and food.group in _DRINKS_AND_SPICES
        and _HOLDS_ALCOHOL.search(food.description) is not None
    )


def remainder_g(food: Food) -> float | None:
    """What water, protein, fat, ash and carbohydrate leave of 100 g, in g; None if one of the five is missing."""
    amounts = [amount_of(food.composition, key) for key in PROXIMATES]
    known = [amount for amount in amounts if amount is not None]
    return 100.0 - sum(known) if len(known) == len(amounts) else None
