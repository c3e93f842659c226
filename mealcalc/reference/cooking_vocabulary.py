"""The words of cooking: food groups and methods that the factor tables share, and how a cook's words lead to them.

Two closed vocabularies, both trees: `food_groups.csv` (beef is red meat is meat) and `cooking_methods.csv` (boiled and
drained is boiled is moist heat). A factor is looked for by the exact name first and then by the broader ones, so that
a fall-back is a step that can be shown. Every name in `yield_factors.csv`, `retention_factors.csv` and the other tables
of `cooking_factors` comes from these two.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Protocol, TypeVar

from mealcalc.errors import UsageError
from mealcalc.reference.tables import read_table

OILY_FISH_FAT_G = 5.0
"""From this fat in g per 100 g raw a finfish is oily: the boundary in USDA's retention factors, release 6."""

_WORD = re.compile(r"[a-z0-9]+(?:[-'][a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class FoodGroup:
    """A group of foods that behave alike in cooking; `broader` is the group to fall back to, '' at the top."""

    name: str
    broader: str
    description: str


@dataclass(frozen=True, slots=True)
class CookingMethod:
    """A way of cooking or keeping food.

    broader: the method to fall back to, '' at the top. heat: dry, moist, fat, any or none.
    steps: the simple methods that a compound one is made of, in order; empty for a simple one.
    """

    name: str
    broader: str
    heat: str
    steps: tuple[str, ...]
    description: str


@dataclass(frozen=True, slots=True)
class CookingWords:
    """What words of a cook say about the method.

    words: lower case, without punctuation but hyphens and apostrophes. method: name of a `CookingMethod`, '' where the
    words say only what the flags hold. drained: whether the cooking liquid is poured off. covered: whether a lid is on.
    drippings: whether the juices and the fat that run out are kept. None where the words do not say.
    """

    words: str
    method: str
    drained: bool | None
    covered: bool | None
    drippings: bool | None
    note: str


@dataclass(frozen=True, slots=True)
class FoodGroupRule:
    """One rule of the map from SR28 to our food groups; the first rule of a group that holds wins.

    group_code: food group of SR28. alternatives: sets of words, one of which must stand in the description, in any
    order; empty for the rule that takes what is left of the group.
    """

    group_code: str
    alternatives: tuple[frozenset[str], ...]
    food_group: str
    note: str


@cache
def food_groups() -> Mapping[str, FoodGroup]:
    """Every food group by its name, broader ones before narrower ones of the same branch."""
    rows = read_table("food_groups.csv", lambda r: FoodGroup(r["food_group"], r["broader"], r["description"]))
    return MappingProxyType({row.name: row for row in rows})


@cache
def cooking_methods() -> Mapping[str, CookingMethod]:
    """Every method by its name."""
    rows = read_table(
        "cooking_methods.csv",
        lambda r: CookingMethod(r["method"], r["broader"], r["heat"], tuple(r["steps"].split()), r["description"]),
    )
    return MappingProxyType({row.name: row for row in rows})


@cache
def cooking_words() -> tuple[CookingWords, ...]:
    """The words of cooks, longest first, so that the first that stands in a text is the most telling one."""
    rows = read_table(
        "cooking_words.csv",
        lambda r: CookingWords(
            r["words"],
            r["method"],
            _flag(r["drained"], "yes", "no"),
            _flag(r["lid"], "on", "off"),
            _flag(r["drippings"], "with", "without"),
            r["note"],
        ),
    )
    return tuple(sorted(rows, key=lambda row: (-len(row.words.split()), -len(row.words), row.words)))


@cache
def food_group_map() -> tuple[FoodGroupRule, ...]:
    """The reviewed rules that lead from a food of SR28 to our food group, in the order in which they are tried."""
    return read_table(
        "food_group_map.csv",
        lambda r: FoodGroupRule(
            r["group_code"],
            tuple(frozenset(words.split()) for words in r["words"].split("|") if words),
            r["food_group"],
            r["note"],
        ),
    )


@cache
def food_synonyms() -> Mapping[str, str]:
    """Words by which a food goes elsewhere -> the words of the factor tables; lower case, singular."""
    return MappingProxyType(dict(read_table("food_synonyms.csv", lambda r: (r["words"], r["ours"]))))


def food_group_of(group_code: str, description: str, fat_g_per_100g: float | None = None) -> str | None:
    """Our food group of a food of SR28.

    Parameters
    ----------
    group_code : str
        Food group of SR28, such as '0500'.
    description : str
        Long description of the food.
    fat_g_per_100g : float or None
        Fat of the raw food in g per 100 g: tells lean from oily fish; without it the answer is `fish`.

    Returns
    -------
    str or None
        Name of a food group; None for a group code that SR28 does not have.
    """
    words = frozenset(_WORD.findall(description.lower()))
    for rule in food_group_map():
        if rule.group_code == group_code and (
            not rule.alternatives or any(alternative <= words for alternative in rule.alternatives)
        ):
            if rule.food_group == "fish" and fat_g_per_100g is not None:
                return "oily_fish" if fat_g_per_100g >= OILY_FISH_FAT_G else "lean_fish"
            return rule.food_group
    return None


def broader_groups(food_group: str) -> tuple[str, ...]:
    """The group itself and the ever broader ones to fall back to; UsageError for a name outside the vocabulary."""
    return _chain(food_group, food_groups(), "food group")


def broader_methods(method: str) -> tuple[str, ...]:
    """The method itself and the ever broader ones to fall back to; UsageError for a name outside the vocabulary."""
    return _chain(method, cooking_methods(), "cooking method")


class _Node(Protocol):
    @property
    def broader(self) -> str: ...


NodeT = TypeVar("NodeT", bound=_Node)


def _chain(name: str, vocabulary: Mapping[str, NodeT], kind: str) -> tuple[str, ...]:
    if name not in vocabulary:
        raise UsageError(f"no {kind} '{name}'", f"known ones: {', '.join(vocabulary)}")
    names = [name]
    while broader := vocabulary[names[-1]].broader:
        names.append(broader)
    return tuple(names)


def _flag(text: str, yes: str, no: str) -> bool | None:
    if text not in (yes, no, ""):
        raise ValueError(f"'{text}' is neither '{yes}' nor '{no}' nor empty")
    return None if text == "" else text == yes
