"""Foods published at several fat levels: the level the line states, blended where it lies between two published ones.

Only foods of one series are blended (one species, one form, one state), never unlike products. Both composition and
description say so. The fat of a level is the one printed in its description.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from mealcalc.matching.normalise import tokens
from mealcalc.matching.query import Query
from mealcalc.records import BlendPart, Food
from mealcalc.reference.tables import FatLevel, LeanWords, fat_levels, lean_words
from mealcalc.values import MISSING, Value, ValueStatus

SAME_LEVEL_PERCENT = 0.25
"""Fat levels nearer than this, in g per 100 g, are the same level: printed levels are whole or half percents."""


@dataclass(frozen=True, slots=True)
class FatChoice:
    """One or two published levels with their shares of the mass; `outside` when the wanted level lies beyond them."""

    levels: tuple[tuple[FatLevel, float], ...]
    wanted_percent: float
    outside: bool = False
    ground: str = ""


@cache
def series_by_name() -> Mapping[str, tuple[FatLevel, ...]]:
    """Name of a series -> its levels, leanest first. A series of raw mince bears the name of its default food."""
    by_series: dict[str, list[FatLevel]] = defaultdict(list)
    for level in fat_levels():
        by_series[level.series].append(level)
    return {name: tuple(sorted(levels, key=lambda level: level.fat_percent)) for name, levels in by_series.items()}


@cache
def _series_by_code() -> Mapping[str, tuple[FatLevel, ...]]:
    return {level.code: series_by_name()[level.series] for level in fat_levels()}


def series_of(code: str, default_food: str, food_state: str) -> tuple[FatLevel, ...] | None:
    """The series that a food belongs to, by its code or else by the name and state of its default food; None if
    none."""
    levels = _series_by_code().get(code) or series_by_name().get(default_food)
    if levels is None or (food_state and levels[0].state not in ("any", food_state) and code not in _series_by_code()):
        return None
    return levels


def choose_level(levels: tuple[FatLevel, ...], fat_percent: float, ground: str = "") -> FatChoice:
    """The published level of a series at `fat_percent`, or the two around it with their shares.

    Parameters
    ----------
    levels : tuple of FatLevel
        One series, leanest first.
    fat_percent : float
        Wanted fat, g per 100 g.
    ground : str
        Where the wanted figure comes from, for the reader.
    """
    nearest = min(levels, key=lambda level: abs(level.fat_percent - fat_percent))
    if abs(nearest.fat_percent - fat_percent) <= SAME_LEVEL_PERCENT:
        return FatChoice(((nearest, 1.0),), fat_percent, ground=ground)
    below = [level for level in levels if level.fat_percent < fat_percent]
    above = [level for level in levels if level.fat_percent > fat_percent]
    if not below or not above:
        return FatChoice(((nearest, 1.0),), fat_percent, outside=True, ground=ground)
    low, high = below[-1], above[0]
    high_share = (fat_percent - low.fat_percent) / (high.fat_percent - low.fat_percent)
    return FatChoice(((low, 1.0 - high_share), (high, high_share)), fat_percent, ground=ground)


def stated_fat(query: Query, species: str) -> tuple[float, str] | None:
    """The fat that a line states by a number or by a word of the trade, in g per 100 g, with its ground; else None."""
    if query.line.fat_percent is not None:
        return query.line.fat_percent, "as the line states"
    words = set(query.tokens) | query.qualifiers
    best: LeanWords | None = None
    for row in lean_words():
        if row.species and row.species not in (species, "any"):
            continue
        if row.regions and query.region not in row.regions:
            continue
        if set(tokens(row.words)) <= words and (best is None or _specific(row) > _specific(best)):
            best = row
    if best is None:
        return None
    return best.fat_percent_used, f"'{best.words}': {best.source}"


def _specific(row: LeanWords) -> tuple[int, bool, bool]:
    return len(tokens(row.words)), bool(row.regions), row.species not in ("", "any")


def blend(first: Food, first_share: float, second: Food, second_share: float) -> tuple[Food, tuple[BlendPart, ...]]:
    """Mix two foods by mass; the result carries the code of the one with the larger share.

    A value that either food lacks is missing in the blend. Shares are of the mass and sum to 1.
    """
    composition: dict[str, Value] = {}
    for key in [*first.composition, *(k for k in second.composition if k not in first.composition)]:
        a, b = first.composition.get(key, MISSING), second.composition.get(key, MISSING)
        if a.amount is None or b.amount is None:
            composition[key] = MISSING
        else:
            status = a.status if a.status == b.status else ValueStatus.CALCULATED
            composition[key] = Value(first_share * a.amount + second_share * b.amount, status)
    nearer = first if first_share >= second_share else second
    parts = tuple(
        BlendPart(food.table, food.code, food.description, round(share, 4))
        for food, share in ((first, first_share), (second, second_share))
    )
    return replace(nearer, composition=composition), parts
