"""Foods published at several fat levels: the level the line states, blended where it lies between two published ones.

Only foods of one series are blended (one species, one form, one state), never unlike products. Both composition and
description say so. The fat of a level is the one printed in its description; labels and analyses differ, so the shares
of a blend of raw foods are such that the blend holds the stated fat.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from mealcalc.matching.normalise import tokens
from mealcalc.matching.query import Query
from mealcalc.records import BlendPart, Food
from mealcalc.reference.tables import FatLevel, LeanWords, fat_levels, lean_words
from mealcalc.values import MISSING, Value, ValueStatus, amount_of

SAME_LEVEL_PERCENT = 0.25
"""Fat levels nearer than this, in g per 100 g, are the same level: printed levels are whole or half percents."""


Mix = tuple[tuple[str, float], ...]
"""Food codes with their shares of the mass, which sum to 1."""


@dataclass(frozen=True, slots=True)
class FatChoice:
    """What could serve the fat that a line states.

    wanted_percent: fat in g per 100 g. ground: where that figure comes from, for the reader. mix: one published level,
    or the two around the wanted one; empty where it lies outside the series or there is none. family: codes of the
    foods among which the nearest in fat is taken where there is no mix.
    """

    wanted_percent: float
    ground: str
    mix: Mix
    family: tuple[str, ...]

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of every food that the choice may need."""
        return (*(code for code, _ in self.mix), *self.family)


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


def series_of(codes: Iterable[str], default_food: str, food_state: str) -> tuple[FatLevel, ...]:
    """The series of fat levels that a food belongs to, leanest first; empty where it belongs to none.

    Parameters
    ----------
    codes : iterable of str
        Code of the food, then of foods that differ from it in fat only; the first that stands in a series decides.
    default_food, food_state : str
        Name and state in the table of default foods: a series of raw mince bears the name of its default food.
    """
    named = series_by_name().get(default_food, ())
    if named and (not food_state or named[0].state in ("any", food_state)):
        return named
    return next((_series_by_code()[code] for code in codes if code in _series_by_code()), ())


def mix_of(levels: Sequence[FatLevel], fat_percent: float) -> Mix:
    """The published level of a series at a fat, or the two around it with their shares; empty outside the series.

    Parameters
    ----------
    levels : sequence of FatLevel
        One series, leanest first.
    fat_percent : float
        Wanted fat, g per 100 g.
    """
    for level in levels:
        if abs(level.fat_percent - fat_percent) <= SAME_LEVEL_PERCENT:
            return ((level.code, 1.0),)
    below = [level for level in levels if level.fat_percent < fat_percent]
    above = [level for level in levels if level.fat_percent > fat_percent]
    if not below or not above:
        return ()
    low, high = below[-1], above[0]
    high_share = (fat_percent - low.fat_percent) / (high.fat_percent - low.fat_percent)
    return ((low.code, 1.0 - high_share), (high.code, high_share))


def at_fat_level(
    food: Food, choice: FatChoice, foods: Mapping[tuple[str, str], Food]
) -> tuple[Food, tuple[BlendPart, ...]]:
    """The food at the stated fat: a published level, the blend of two, or else the nearest of `food` and its family.

    Parameters
    ----------
    food : Food
        The food that was proposed.
    choice : FatChoice
        What could serve.
    foods : mapping
        (table, code) -> food; a food that the database does not hold is passed over.

    Returns
    -------
    Food
        Of a blend it carries the code of the larger share and the composition of the mix.
    tuple of BlendPart
        The two foods of a blend; empty otherwise.
    """
    mix = [(foods[food.table, code], share) for code, share in choice.mix if (food.table, code) in foods]
    if mix and len(mix) == len(choice.mix):
        if len(mix) == 1:
            return mix[0][0], ()
        (low, _), (high, by_label) = mix
        high_share = _share_for_fat(low, high, choice.wanted_percent, by_label)
        return blend(low, 1.0 - high_share, high, high_share)
    family = [foods[food.table, code] for code in choice.family if (food.table, code) in foods]

    def distance(candidate: Food) -> float:
        fat = amount_of(candidate.composition, "FAT_G")
        return float("inf") if fat is None else abs(fat - choice.wanted_percent)

    return min([food, *family], key=distance), ()


def _share_for_fat(low: Food, high: Food, fat_percent: float, by_label: float) -> float:
    """Share of the fatter food with which the two together hold the stated fat, g per 100 g.

    `by_label`, the share by the fat on the labels, where the analysed fat is not known or not on both sides of it; and
    for cooked food, whose label says what the raw meat was.
    """
    if any(level.code == low.code and level.state == "cooked" for level in fat_levels()):
        return by_label
    low_fat, high_fat = amount_of(low.composition, "FAT_G"), amount_of(high.composition, "FAT_G")
    if low_fat is None or high_fat is None or not low_fat < fat_percent < high_fat:
        return by_label
    return (fat_percent - low_fat) / (high_fat - low_fat)


def stated_fat(query: Query, species: str | None) -> tuple[float, str] | None:
    """The fat that a line states, with the ground for it, or None.

    Parameters
    ----------
    query : Query
        The line, its words and region.
    species : str or None
        Species of the series of fat levels; words of the trade (lean, extra lean) count only where there is a series.

    Returns
    -------
    tuple of float and str, or None
        Fat in g per 100 g, from the number on the line or else by the table of lean words.
    """
    if query.line.fat_percent is not None:
        return query.line.fat_percent, "as the line states"
    if species is None:
        return None
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
    """Mix two foods by mass.

    Parameters
    ----------
    first, second : Food
        Foods that differ in fat only.
    first_share, second_share : float
        Their shares of the mass; they sum to 1.

    Returns
    -------
    Food
        The food of the larger share with the composition of the mix, per 100 g; a value that either lacks is missing.
    tuple of BlendPart
        Both foods with their shares, rounded to four digits for show.
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
