"""Logical zeros: values that a table leaves blank although they can only be zero.

Each rule is named and says why. A rule never touches a value that the table gives, and what it fills in is marked
`ValueStatus.LOGICAL_ZERO`, so that it stays apart from a published zero and from a missing value. The practice is that
of Greenfield & Southgate, Food composition data, 2nd ed., FAO 2003 (presumed zeros; from memory). The limits and word
lists are our own judgement where no source is named.
"""

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

TINY_CARBOHYDRATE_G = 0.5
"""Up to here flesh carries no breading; what it has is glycogen or the sugar of a cure. Sugars up to 0.5 g per 100 g
may be declared as 0 in the European Union (Commission guidance on tolerances, December 2012, rounding table; from
memory)."""

# A plant food whose description names one of these may hold cholesterol: frying fat may be of an animal, and red algae
# make it themselves (SR28 prints 33 mg for one).
_ANIMAL_WORDS = frozenset(
    (
        "egg eggs milk cream creamed butter buttered cheese gratin yogurt whey gelatin lard bacon pork beef chicken "
        "turkey ham meat sausage frank franks fish shrimp seafood seaweed souffle fried refried sauteed omega-3"
    ).split()
)
_FATS = frozenset(["oil", "fat", "margarine", "margarine-like", "shortening", "butter", "lard"])
_MILK_AND_EGGS = frozenset(["egg", "milk", "cheese", "cream", "whey"])


@dataclass(frozen=True, slots=True)
class LogicalZeroRule:
    """A rule by which blanks of certain food components are zero. `reason` is for the reader of a report."""

    name: str
    keys: tuple[str, ...]
    reason: str
    applies: Callable[[Food], bool]


def with_logical_zeros(food: Food) -> Food:
    """The food with every blank filled in that can only be zero; the given food itself if there is none."""
    zeros = logical_zeros(food)
    if not zeros:
        return food
    return replace(food, composition={**food.composition, **dict.fromkeys(zeros, LOGICAL_ZERO)})


def logical_zeros(food: Food) -> dict[str, LogicalZeroRule]:
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


def _is_flesh(food: Food) -> bool:
    return _in_groups(food, FLESH_GROUPS) and _carbohydrate_at_most(food, TINY_CARBOHYDRATE_G)


def _is_fat(food: Food) -> bool:
    words = _words(food)
    return _in_groups(food, frozenset(["0400"])) and words[0] in _FATS and "contains" not in words


def _is_milk_or_egg(food: Food) -> bool:
    words = _words(food)
    return _in_groups(food, frozenset(["0100"])) and words[0] in _MILK_AND_EGGS and "with" not in words


def _is_plant(food: Food) -> bool:
    return _in_groups(food, PLANT_GROUPS) and _ANIMAL_WORDS.isdisjoint(_words(food))


def _is_plant_oil(food: Food) -> bool:
    words = _words(food)
    return _in_groups(food, frozenset(["0400"])) and words[0] == "oil" and _ANIMAL_WORDS.isdisjoint(words)


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
        ("FASAT_G", "FAMS_G", "FAPU_G", "CHOLE_MG"),
        "fatty acids and cholesterol are parts of the fat, which is 0",
        _is_zero("FAT_G"),
    ),
    LogicalZeroRule(
        "flesh",
        ("FIBTG_G", "SUGAR_G"),
        f"meat, poultry and fish hold no fibre and no sugars, and at most {TINY_CARBOHYDRATE_G} g of carbohydrate here",
        _is_flesh,
    ),
    LogicalZeroRule("fats", ("FIBTG_G",), "oils, spreads and other fats hold no fibre", _is_fat),
    LogicalZeroRule("milk and eggs", ("FIBTG_G",), "milk, cheese and eggs hold no fibre", _is_milk_or_egg),
    LogicalZeroRule("plants", ("CHOLE_MG",), "a plant food without animal ingredients holds no cholesterol", _is_plant),
    LogicalZeroRule("plant oils", ("CHOLE_MG",), "the oil of a plant holds no cholesterol", _is_plant_oil),
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
