"""Picks the factor row for a food, a method and a state, and says which row it took and how far it had to fall back.

The exact food group and method come first, then ever broader ones; among rows equally near the one that shares most
words with the food, then the nearest fat level. A fall-back is a note, never a silent 1.0.
"""

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from mealcalc.records import Food, FoodState
from mealcalc.reference.cooking_factors import (
    RetentionFactors,
    YieldBasis,
    YieldFactor,
    retention_factors,
    yield_factors,
)
from mealcalc.reference.cooking_vocabulary import broader_groups, broader_methods, food_group_of
from mealcalc.values import amount_of

_WORD = re.compile(r"[a-z]+")
_IGNORED = frozenset(
    ["and", "or", "with", "without", "raw", "cooked", "in", "of", "all", "type", "unprepared", "fresh"]
)
_MARKS = {"read": 0, "read (secondary)": 1, "read (derived)": 2, "memory": 3, "judgement": 4}
OTHER_FOOD_STEPS = 1.5
"""How many steps up the trees another food of the same group is worth: lentils boiled serve better for lentils boiled
and drained than soya beans boiled and drained do."""

NARROWER_METHOD_STEPS = 0.5
"""What a narrower method than the one asked for costs: 'cooked' is served by boiled."""

FAT_GRADE_G = 3.0
"""Fat levels within about this, in g per 100 g, count as one grade of minced meat when rows are compared."""

_SOLID_BASES = (YieldBasis.EDIBLE_RAW, YieldBasis.DRY, YieldBasis.WITHOUT_COOKING_WATER)


@dataclass(frozen=True, slots=True)
class YieldChoice:
    """A yield row, and what was given up to find it ('' for an exact find)."""

    row: YieldFactor
    note: str

    @property
    def share(self) -> float:
        """Cooked grams per gram that goes in."""
        assert self.row.yield_percent is not None
        return self.row.yield_percent / 100.0

    @property
    def ground(self) -> str:
        """The row, its source and the fall-back, for the reader."""
        return _ground(f"yield {self.row.row_id}", self.row.source, self.row.mark, self.note)


@dataclass(frozen=True, slots=True)
class RetentionChoice:
    """A retention row, and what was given up to find it ('' for an exact find)."""

    row: RetentionFactors
    note: str

    @property
    def ground(self) -> str:
        """The row, its source and the fall-back, for the reader."""
        return _ground(f"retention {self.row.code} {self.row.description}", self.row.source, self.row.mark, self.note)


def food_group(food: Food) -> str | None:
    """The food group of the factor tables that a food belongs to; None where nothing tells (the cook's own foods)."""
    return food_group_of(food.group[:4], food.description, amount_of(food.composition, "FAT_G"))


def find_yield(
    food: Food, default_food: str, method: str, state: FoodState, *, fat_percent: float | None = None
) -> YieldChoice | None:
    """The yield of a food cooked by `method` from `state`, or None where not even a broad row serves.

    Parameters
    ----------
    food, default_food
        The food and its everyday name ('' if none).
    method : str
        Method of the vocabulary.
    state : FoodState
        State in which the food goes in.
    fat_percent : float, optional
        Fat of minced meat in g per 100 g; the food's own fat otherwise.
    """
    group = food_group(food)
    if group is None:
        return None
    groups, methods = broader_groups(group), broader_methods(method)
    words = _words(f"{food.description} {default_food}")
    fat = fat_percent if fat_percent is not None else amount_of(food.composition, "FAT_G")
    best: tuple[tuple[float, ...], YieldFactor] | None = None
    for row in _yield_rows(state):
        rank = _nearness(row.food_group, groups, row.methods, methods)
        if rank is None:
            continue
        levels = (row.fat_level_percent, fat)
        fat_gap = abs(levels[0] - levels[1]) if levels[0] is not None and levels[1] is not None else 5.0
        minced = "minced" in row.food.split() or "mince" in row.food.split()
        if minced != bool(words & {"ground", "mince", "minced"}):
            continue
        steps = rank + (0.0 if _words(row.food) <= words else OTHER_FOOD_STEPS)
        grade = round(fat_gap / FAT_GRADE_G)
        key = (steps, grade, _MARKS.get(row.mark, 5), -len(words & _words(row.form)), fat_gap)
        if best is None or key < best[0]:
            best = (key, row)
    if best is None:
        return None
    return YieldChoice(best[1], _note(best[1].food_group, groups, best[1].methods, methods))


def find_fat_change(food: Food, method: str, fat_percent: float) -> YieldChoice | None:
    """The row with a fat change of minced meat of the food's species nearest in method and fat level; None without one.

    Parameters
    ----------
    food : Food
        Raw minced meat.
    method : str
        Method of the vocabulary.
    fat_percent : float
        Fat of the raw meat, g per 100 g.
    """
    group = food_group(food)
    if group is None:
        return None
    groups, methods = broader_groups(group), broader_methods(method)
    best: tuple[tuple[float, ...], YieldFactor] | None = None
    for row in _yield_rows(FoodState.RAW):
        if row.fat_change_g is None or row.fat_level_percent is None:
            continue
        rank = _nearness(row.food_group, groups, row.methods, methods)
        if rank is None:
            continue
        key = (rank, abs(row.fat_level_percent - fat_percent), _MARKS.get(row.mark, 5))
        if best is None or key < best[0]:
            best = (key, row)
    if best is None:
        return None
    return YieldChoice(best[1], _note(best[1].food_group, groups, best[1].methods, methods))


def find_retention(
    food: Food, default_food: str, method: str, *, drained: bool, minutes: float | None
) -> RetentionChoice | None:
    """The USDA retention row of a food cooked by `method`, or None where no row of its group or a broader one serves.

    Parameters
    ----------
    drained : bool
        Whether cooking liquid or drippings are poured off.
    minutes : float or None
        Cooking time, where it is said.
    """
    group = food_group(food)
    if group is None:
        return None
    groups, methods = broader_groups(group), broader_methods(method)
    words = _words(f"{food.description} {default_food}")
    best: tuple[tuple[float, ...], RetentionFactors] | None = None
    for row in retention_factors().values():
        rank = _nearness(row.food_group, groups, row.methods, methods)
        if rank is None or row.food_group == "alcoholic_drink":
            continue
        poured = row.drained if row.drained is not None else (None if row.drippings is None else not row.drippings)
        liquid = 0.0 if poured is None else float(poured != drained)
        time_gap = 0.0
        if minutes is not None and row.minutes is not None:
            time_gap = max(row.minutes[0] - minutes, minutes - row.minutes[1], 0.0)
        coated = float(bool(row.coating))
        key = (rank, liquid, coated, -len(words & _words(f"{row.description} {row.form}")), time_gap)
        if best is None or key < best[0]:
            best = (key, row)
    if best is None:
        return None
    return RetentionChoice(best[1], _note(best[1].food_group, groups, best[1].methods, methods))


def _nearness(
    row_group: str, groups: tuple[str, ...], row_methods: tuple[str, ...], methods: tuple[str, ...]
) -> float | None:
    """Steps up the trees of groups and methods until the row serves; None if it never does."""
    if row_group not in groups:
        return None
    steps = [
        float(position) if name == wanted else max(float(position), NARROWER_METHOD_STEPS)
        for position, wanted in enumerate(methods)
        for name in row_methods
        if wanted in broader_methods(name)
    ]
    return min(steps) + groups.index(row_group) if steps else None


def _note(row_group: str, groups: tuple[str, ...], row_methods: tuple[str, ...], methods: tuple[str, ...]) -> str:
    parts = []
    if row_group != groups[0]:
        parts.append(f"no row for {groups[0].replace('_', ' ')}, the row of {row_group.replace('_', ' ')} is used")
    if methods[0] not in row_methods:
        parts.append(
            f"no row for {methods[0].replace('_', ' ')}, the row for {row_methods[0].replace('_', ' ')} is used"
        )
    return "; ".join(parts)


def _ground(name: str, source: str, mark: str, note: str) -> str:
    from_memory = ", FROM MEMORY" if mark == "memory" else ""
    return f"{name} ({source}{from_memory})" + (f"; {note}" if note else "")


@cache
def _yield_rows(state: FoodState) -> tuple[YieldFactor, ...]:
    return tuple(
        row
        for row in yield_factors()
        if row.state_before is state and row.yield_percent is not None and row.basis in _SOLID_BASES
    )


@lru_cache(maxsize=4000)
def _words(text: str) -> frozenset[str]:
    return frozenset(_stem(word) for word in _WORD.findall(text.lower()) if word not in _IGNORED)


def _stem(word: str) -> str:
    if word.endswith("oes"):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word
