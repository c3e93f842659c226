"""How near a factor row is to what is asked: steps through the trees of methods and food groups, words in common.

Steps are counted, so that 'boiled and drained' is served by 'boiled' before 'steamed', and by 'roasted' only when
nothing moist is at hand. What a step is worth is our own judgement; the row that wins is always named.
"""

import re
from functools import lru_cache

from mealcalc.records import Food, FoodState
from mealcalc.reference.cooking_vocabulary import (
    broader_groups,
    broader_methods,
    cooking_methods,
    food_group_of,
    food_synonyms,
)
from mealcalc.values import amount_of

NARROWER_STEPS = 0.5
"""What each step down to a narrower method costs; a step up to a broader one costs 1. 'Cooked' is served by boiled."""

OTHER_HEAT_STEPS = 2.0
"""What it costs to take a row of moist heat for dry heat or fat, or the other way round: what drains off, dries off and
dissolves differs."""

OTHER_SPECIES_STEPS = 1.5
"""What each step down to a group beside or below the one asked for costs; a step up to a broader one costs 1. Lamb is
served by beef when nothing else is at hand."""

OTHER_STATE_STEPS = 1.0
"""What a row for the raw food costs where a frozen one was asked for."""

_SIDEWAYS = frozenset(["meat", "seafood", "vegetable"])
"""Groups whose branches stand in for one another; a grain is no stand-in for a dough, nor cheese for milk."""

_WORD = re.compile(r"[a-z]+")
_NEGATED = re.compile(r"\bnot \w+")
_IGNORED = frozenset(
    "and or with without raw cooked in of all type unprepared fresh the to said species average".split()
)


@lru_cache(maxsize=4000)
def method_steps(wanted: str, row_methods: tuple[str, ...]) -> float | None:
    """Steps from the method asked for to the nearest one of a row, 0 for the same; None where they share no root.

    Raises
    ------
    UsageError
        If a method is outside the vocabulary.
    """
    if wanted in row_methods:
        return 0.0
    found = [steps for name in row_methods if (steps := _method_distance(wanted, name)) is not None]
    return min(found, default=None)


@lru_cache(maxsize=4000)
def last_step_steps(wanted: str, row_methods: tuple[str, ...]) -> float | None:
    """As `method_steps`, for what the last step decides: a compound method that the row has not is served by it.

    Potatoes boiled, then roasted, weigh what roasting leaves, though boiling took their vitamins.
    """
    steps = () if wanted in row_methods else cooking_methods()[broader_methods(wanted)[0]].steps
    if not steps:
        return method_steps(wanted, row_methods)
    last = method_steps(steps[-1], row_methods)
    return None if last is None else last + NARROWER_STEPS


@lru_cache(maxsize=4000)
def group_steps(wanted: str, row_group: str) -> float | None:
    """Steps from the food group asked for to that of a row; None where the row can say nothing of it."""
    groups, row_groups = broader_groups(wanted), broader_groups(row_group)
    if "flour" in groups and "flour" not in row_groups:
        return None  # a dough holds what water the cook gives it, a grain takes up its own
    if row_group in groups:
        return float(groups.index(row_group))
    if groups[-1] != row_groups[-1] or groups[-1] not in _SIDEWAYS:
        return None
    shared = next(name for name in groups if name in row_groups)
    return groups.index(shared) + OTHER_SPECIES_STEPS * row_groups.index(shared)


def same_heat(wanted: str, row_methods: tuple[str, ...]) -> bool:
    """Whether the method asked for may have the heat of a row: dry food swells in water, not in the oven."""
    asked = {cooking_methods()[name].heat for name in (wanted, *cooking_methods()[wanted].steps)}
    heats = {cooking_methods()[name].heat for name in row_methods}
    return bool(asked & heats) or "any" in asked | heats


def _method_distance(wanted: str, name: str) -> float | None:
    wanted_chain, chain = broader_methods(wanted), broader_methods(name)
    shared = next((method for method in wanted_chain if method in chain), None)
    if shared is None:
        return None
    heats = {cooking_methods()[method].heat for method in (wanted, name)} - {"any"}
    other_heat = len(heats) > 1 and "moist" in heats
    down = chain.index(shared)
    return wanted_chain.index(shared) + NARROWER_STEPS * down + (OTHER_HEAT_STEPS if other_heat else 0.0)


def food_group(food: Food) -> str | None:
    """The food group of the factor tables that a food belongs to; None where nothing tells (the cook's own foods)."""
    return food_group_of(food.group[:4], food.description, amount_of(food.composition, "FAT_G"))


@lru_cache(maxsize=8000)
def words_of(text: str) -> frozenset[str]:
    """The words of a description, in the singular and in the words of our tables; negated ones left out."""
    lowered = _NEGATED.sub(" ", text.lower())
    for words, ours in food_synonyms().items():
        if words in lowered:
            lowered = re.sub(rf"\b{re.escape(words)}(?:s|es)?\b", ours, lowered)
    return frozenset(_singular(word) for word in _WORD.findall(lowered)) - _IGNORED


@lru_cache(maxsize=4000)
def alternatives_of(food: str) -> tuple[frozenset[str], ...]:
    """The words of each food that a row speaks of: 'pumpkin or squash' is two."""
    return tuple(words_of(part) for part in food.split(" or "))


def same_state(row_state: FoodState | None, state: FoodState) -> bool:
    """Whether a row for one state may serve food in another: frozen food is raw food once it thaws."""
    return row_state in (None, state) or (state is FoodState.FROZEN and row_state is FoodState.RAW)


def steps_between(group: str, row_group: str, of_method: float | None) -> float | None:
    """Steps through both trees together; None where either leads nowhere."""
    of_group = group_steps(group, row_group)
    return None if of_method is None or of_group is None else of_method + of_group


def fallback_note(
    row_group: str,
    group: str,
    row_methods: tuple[str, ...],
    method: str,
    row_state: FoodState | None,
    state: FoodState,
) -> str:
    """What was given up to use a row: another food group, method or state; '' for an exact find."""
    parts = []
    if row_group != group:
        parts.append(f"no row for {_plain(group)}, the row of {_plain(row_group)} is used")
    if method not in row_methods:
        nearest = min(row_methods, key=lambda name: method_steps(method, (name,)) or 0.0)
        parts.append(f"no row for {_plain(method)}, the row for {_plain(nearest)} is used")
    if row_state not in (None, state):
        parts.append(f"no row for {state.value} food, the row for {row_state.value} food is used")
    return "; ".join(parts)


def _plain(name: str) -> str:
    return name.replace("_", " ")


def ground_of(name: str, source: str, mark: str, note: str) -> str:
    """A row with its source for the reader, figures from memory marked, and the fall-back."""
    from_memory = ", FROM MEMORY" if mark == "memory" else ""
    return f"{name} ({source}{from_memory})" + (f"; {note}" if note else "")


def _singular(word: str) -> str:
    if word.endswith("oes"):
        return word[:-2]
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word
