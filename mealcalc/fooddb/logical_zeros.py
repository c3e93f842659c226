"""Logical zeros: values that a table leaves blank although they can only be zero.

Each rule is named and says why. A rule never touches a value that the table gives, and what it fills in is marked
`ValueStatus.LOGICAL_ZERO`, so that it stays apart from a published zero and from a missing value. The practice is that
of Greenfield & Southgate, Food composition data, 2nd ed., FAO 2003 (presumed zeros; from memory). The limits and word
lists are our own judgement where no source is named.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from mealcalc.fooddb.alcohol import ROUNDING_G, SR_TABLES, can_hold_alcohol, remainder_g
from mealcalc.records import Food
from mealcalc.values import LOGICAL_ZERO, amount_of

FLESH_GROUPS = frozenset(["0500", "1000", "1300", "1500", "1700"])
"""Poultry; pork; beef; finfish and shellfish; lamb, veal and game."""

PLANT_GROUPS = frozenset(["0200", "0900", "1100", "1200", "1600", "2000"])
"""Spices and herbs; fruits; vegetables; nuts and seeds; legumes; cereal grains and pasta."""

DISHES_THAT_MAY_HOLD_ALCOHOL = frozenset(["0600", "1900", "2200", "3600"])
"""Soups, sauces, gravies; sweets; meals and side dishes; restaurant foods: wine and liqueur are used in them."""

TINY_CARBOHYDRATE_G = 0.2
"""Glycogen and rounding of plain meat, for which the table prints at most 0.1 g of sugars where it prints any."""

# What is done to flesh that may leave sugar or flour on it.
_DRESSED = frozenset("cured rotisserie bbq barbecue fried breaded battered seasoned marinated flavored glazed".split())

# A plant food whose description names one of these is a dish or may hold cholesterol: frying fat may be of an animal,
# and red algae make it themselves (SR28 prints 33 mg for one).
_ANIMAL_OR_DISH = frozenset(
    (
        "egg eggs milk cream creamed butter buttered cheese gratin yogurt whey gelatin lard bacon pork beef chicken "
        "turkey ham meat sausage frank franks fish shrimp seafood seaweed souffle fried refried sauteed omega-3 "
        "prepared home-prepared ready-to-eat mix scalloped salad pudding pancakes candied mashed chili burger burgers "
        "soyburgers papad stewed fresh-refrigerated gravy entree"
    ).split()
)
# A name in capitals is a manufacturer's, whose recipe is not known.
_BRAND = re.compile(r"\b(?!USDA\b)[A-Z]{3,}\b")

_FATS = frozenset(["oil", "fat", "margarine", "margarine-like", "shortening", "butter", "lard"])
_SUGARS = frozenset(["sugar", "sugars", "sweetener", "sweeteners", "syrup", "syrups"])


@dataclass(frozen=True, slots=True)
class LogicalZeroRule:
    """A rule by which blanks of certain food components are zero. `reason` is for the reader of a report."""

    name: str
    keys: tuple[str, ...]
    reason: str
    applies: Callable[[Food], bool]


def with_logical_zeros(food: Food) -> Food:
    """The food with every blank filled in that can only be zero; the given food itself if there is none."""
    zeros = zeros_by_rule(food)
    if not zeros:
        return food
    return replace(food, composition={**food.composition, **dict.fromkeys(zeros, LOGICAL_ZERO)})


def zeros_by_rule(food: Food) -> dict[str, LogicalZeroRule]:
    """Component key -> the first rule by which the blank of this food is zero."""
    zeros: dict[str, LogicalZeroRule] = {}
    for rule in RULES:
        blank = [key for key in rule.keys if key not in zeros and amount_of(food.composition, key) is None]
        if blank and rule.applies(food):
            zeros |= dict.fromkeys(blank, rule)
    return zeros


def _is_zero(key: str) -> Callable[[Food], bool]:
    return lambda food: amount_of(food.composition, key) == 0.0


def _in_groups(food: Food, groups: frozenset[str]) -> bool:
    return food.table in SR_TABLES and food.group in groups


def _carbohydrate_at_most(food: Food, limit_g: float) -> bool:
    amount = amount_of(food.composition, "CHOCDF_G")
    return amount is not None and amount <= limit_g


def _words(food: Food) -> list[str]:
    return food.description.lower().replace(",", " ").replace("(", " ").replace(")", " ").split()


def _first_word(food: Food) -> str:
    return next(iter(_words(food)), "")


def _is_plain_flesh(food: Food) -> bool:
    plain = _in_groups(food, FLESH_GROUPS) and _DRESSED.isdisjoint(_words(food))
    return plain and _carbohydrate_at_most(food, TINY_CARBOHYDRATE_G)


def _is_fat(food: Food) -> bool:
    known = _in_groups(food, frozenset(["0400"])) and _first_word(food) in _FATS
    return known and "contains" not in _words(food)


def _is_egg(food: Food) -> bool:
    return _in_groups(food, frozenset(["0100"])) and _first_word(food) == "egg"


def _is_plain_plant(food: Food) -> bool:
    plain = _ANIMAL_OR_DISH.isdisjoint(_words(food)) and _BRAND.search(food.description) is None
    return plain and (
        _in_groups(food, PLANT_GROUPS) or (_in_groups(food, frozenset(["0400"])) and _first_word(food) == "oil")
    )


def _is_drink_or_sugar_without_fat(food: Food) -> bool:
    kind = _in_groups(food, frozenset(["1400"])) or (
        _in_groups(food, frozenset(["1900"])) and _first_word(food) in _SUGARS
    )
    return kind and amount_of(food.composition, "FAT_G") == 0.0


def _leaves_no_room_for_alcohol(food: Food) -> bool:
    remainder = remainder_g(food)
    return remainder is not None and remainder <= ROUNDING_G


def _holds_no_alcohol(food: Food) -> bool:
    known_table = food.table in SR_TABLES
    return known_table and not can_hold_alcohol(food) and food.group not in DISHES_THAT_MAY_HOLD_ALCOHOL


RULES: tuple[LogicalZeroRule, ...] = (
    LogicalZeroRule(
        "no carbohydrate",
        ("FIBTG_G", "SUGAR_G"),
        "fibre and sugars are parts of the carbohydrate, which is 0",
        _is_zero("CHOCDF_G"),
    ),
    LogicalZeroRule(
        "no fat",
        ("FASAT_G", "FAMS_G", "FAPU_G"),
        "fatty acids are parts of the fat, which is 0",
        _is_zero("FAT_G"),
    ),
    LogicalZeroRule(
        "flesh",
        ("FIBTG_G", "SUGAR_G"),
        f"plain meat, poultry and fish hold no fibre and no sugars; carbohydrate is at most {TINY_CARBOHYDRATE_G} g",
        _is_plain_flesh,
    ),
    LogicalZeroRule("fats", ("FIBTG_G",), "oils, spreads and other fats hold no fibre", _is_fat),
    LogicalZeroRule("eggs", ("FIBTG_G",), "eggs hold no fibre", _is_egg),
    LogicalZeroRule("plants", ("CHOLE_MG",), "a plant or its oil by itself holds no cholesterol", _is_plain_plant),
    LogicalZeroRule(
        "drinks and sugars",
        ("CHOLE_MG",),
        "water, wine, tea, juice or sugar without fat holds no cholesterol",
        _is_drink_or_sugar_without_fat,
    ),
    LogicalZeroRule(
        "no room for alcohol",
        ("ALC_G",),
        "water, protein, fat, ash and carbohydrate by difference make up 100 g",
        _leaves_no_room_for_alcohol,
    ),
    LogicalZeroRule(
        "no alcoholic food",
        ("ALC_G",),
        "foods of this group hold no alcohol; that of dough leaves in the oven (common practice, no source)",
        _holds_no_alcohol,
    ),
)
"""The rules in the order in which they are tried."""
