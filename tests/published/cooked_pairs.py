"""Every food that SR28 publishes raw and cooked, with the words that a cook would use for its method.

A raw and a cooked record belong together when their descriptions say the same words but for those of state and method,
or when a row of the yield table was derived from them. Left out: food with salt added in cooking, meat with added
solution, and records of fat or skin alone.
"""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from mealcalc.calculation.nearness import food_group
from mealcalc.records import Food
from mealcalc.reference.cooking_factors import yield_factors
from mealcalc.reference.cooking_vocabulary import broader_groups

WORDS_OF_METHOD = {
    "roasted": "roasted",
    "baked": "baked",
    "dry_heat": "baked",
    "grilled_broiled": "grilled",
    "braised": "braised, liquid poured off",
    "stewed": "stewed, liquid poured off",
    "simmered": "simmered, liquid poured off",
    "boiled": "boiled and drained",
    "boiled_drained": "boiled and drained",
    "poached": "poached",
    "steamed": "steamed",
    "moist_heat": "steamed",
    "fried": "fried",
    "pan_fried": "pan-fried",
    "pan_broiled": "griddled",
    "pan_browned": "browned",
    "stir_fried": "stir-fried",
    "sauteed": "sautéed",
    "microwaved": "microwaved",
    "absorbed": "absorbed",
    "cooked": "cooked",
}
"""Method of a pair -> cooking words. Fish by 'dry heat' is taken as baked, by 'moist heat' as steamed."""

_METHODS = {
    "roasted": "roasted",
    "broiled": "grilled_broiled",
    "grilled": "grilled_broiled",
    "braised": "braised",
    "stewed": "stewed",
    "simmered": "simmered",
    "fried": "fried",
    "pan-fried": "pan_fried",
    "pan-broiled": "pan_broiled",
    "pan-browned": "pan_browned",
    "baked": "baked",
    "boiled": "boiled",
    "steamed": "steamed",
    "microwaved": "microwaved",
    "sauteed": "sauteed",
    "dryheat": "dry_heat",
    "moistheat": "moist_heat",
}
_GROUPS = frozenset(["0100", "0500", "1000", "1100", "1300", "1500", "1600", "1700", "2000"])
_MEAT_GROUPS = frozenset(["0500", "1000", "1300", "1700", "3500"])
_NOT_THE_WORDS_OF_THE_FOOD = frozenset(["raw", "cooked", "drained", "without", "salt", *_METHODS])
_SHAPES = frozenset(["crumbles", "patty", "patties", "loaf"])
_LEFT_OUT = re.compile(
    r"added solution|fat only|separable fat|\bskin only|\bskin \(|\bskin from|"
    r"(?:intermuscular|subcutaneous|external|seam) fat|leaf fat|mechanically separated|with salt|dry roasted|flour"
)
_WORD = re.compile(r"[a-z0-9%'./-]+")

CLASSES = (
    "minced meat",
    "beef",
    "pork",
    "lamb, goat",
    "veal",
    "game",
    "poultry",
    "offal",
    "fish",
    "shellfish",
    "eggs",
    "grains, pasta",
    "pulses",
    "vegetables, boiled or steamed",
    "vegetables, dry heat or fat",
)
_CLASS_OF_GROUP = {
    "beef": "beef",
    "pork": "pork",
    "cured_pork": "pork",
    "lamb": "lamb, goat",
    "veal": "veal",
    "game": "game",
    "poultry": "poultry",
    "organ_meat": "offal",
    "fish": "fish",
    "shellfish": "shellfish",
    "egg": "eggs",
    "cereal_grain": "grains, pasta",
    "pulse": "pulses",
}


@dataclass(frozen=True, slots=True)
class CookedPair:
    """A food raw and cooked. method: of the vocabulary. cooking: a cook's words for it. kind: one of `CLASSES`."""

    raw: Food
    cooked: Food
    method: str
    cooking: str
    kind: str

    @property
    def codes(self) -> tuple[str, str]:
        """Codes of the raw and the cooked food."""
        return self.raw.code, self.cooked.code

    @property
    def cut(self) -> str:
        """What samples of one animal share: the first three words of the description, without how far it is trimmed."""
        return ", ".join(part.strip() for part in self.raw.description.lower().split(",")[:3])


def cooked_pairs(foods: Mapping[str, Food]) -> list[CookedPair]:
    """All pairs, by class and then by code; a pair behind a row of the yield table has the method of that row."""
    methods = {codes: row.method for row in yield_factors() for codes in row.derived_from}
    found = dict(_by_words(foods))
    pairs = [
        CookedPair(foods[raw], foods[cooked], method, WORDS_OF_METHOD[method], kind)
        for (raw, cooked), method in sorted((found | methods).items())
        for kind in [_kind(foods[raw], method)]
        if kind
    ]
    return sorted(pairs, key=lambda pair: (CLASSES.index(pair.kind), pair.codes))


def is_minced(food: Food) -> bool:
    """Whether a food is minced meat."""
    return food.group in _MEAT_GROUPS and "ground" in _WORD.findall(food.description.lower())


def _by_words(foods: Mapping[str, Food]) -> Iterator[tuple[tuple[str, str], str]]:
    raw: dict[frozenset[str], Food] = {}
    cooked: dict[frozenset[str], list[tuple[Food, str]]] = defaultdict(list)
    for code in sorted(foods):
        food = foods[code]
        text = food.description.lower().replace("dry heat", "dryheat").replace("moist heat", "moistheat")
        if food.group not in _GROUPS or _LEFT_OUT.search(text):
            continue
        words = _WORD.findall(text.replace("(steaks)", "").replace("(roasts)", ""))
        key = frozenset(words) - _NOT_THE_WORDS_OF_THE_FOOD
        method = next((_METHODS[word] for word in words if word in _METHODS), "")
        if "raw" in words:
            raw[key - _SHAPES] = food
        elif method or "cooked" in words:
            cooked[key - _SHAPES].append((food, method or _unsaid_method(food, words)))
    for key, food in raw.items():
        for other, method in cooked[key]:
            yield (food.code, other.code), method


def _unsaid_method(food: Food, words: list[str]) -> str:
    if food.group == "2000":
        return "absorbed"
    return "pan_browned" if "crumbles" in words else "cooked"


def _kind(food: Food, method: str) -> str:
    if is_minced(food):
        return "minced meat"
    groups = broader_groups(food_group(food) or "mixed")
    if groups[-1] == "vegetable":
        moist = method in ("boiled", "boiled_drained", "steamed", "cooked", "microwaved")
        return "vegetables, boiled or steamed" if moist else "vegetables, dry heat or fat"
    return next((_CLASS_OF_GROUP[group] for group in groups if group in _CLASS_OF_GROUP), "")
