"""Picks the yield row for a food, a method and a state, and says which row it took and how far it had to fall back.

Rows are ranked by steps through the trees of methods and food groups (`nearness`), by the words of the food, by the fat
level of minced meat, and by how the figure is known: measured and published before derived, and both before common
practice. A fall-back is a note, never a silent 1.0. Between two fat levels of one series a yield is interpolated.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache

from mealcalc.calculation.nearness import (
    OTHER_STATE_STEPS,
    alternatives_of,
    fallback_note,
    food_group,
    ground_of,
    last_step_steps,
    same_heat,
    same_state,
    steps_between,
    words_of,
)
from mealcalc.records import Food, FoodState
from mealcalc.reference.cooking_factors import YieldBasis, YieldFactor, yield_factors
from mealcalc.reference.cooking_vocabulary import broader_groups, broader_methods
from mealcalc.values import amount_of

OTHER_FOOD_STEPS = 1.5
"""How many steps up the trees another food of the same group is worth: lentils boiled serve better for lentils boiled
and drained than soya beans boiled and drained do."""

LOOSE_FIGURE_STEPS = 0.5
"""What a figure from common practice, or a convention of a survey, costs: a measured one this much farther off is
preferred."""

FAT_GRADE_G = 3.0
"""A fat level this far beyond those of a series of minced meat, in g per 100 g, costs one step."""

FARTHEST_FAT_G = 6.0
"""Farther beyond the levels of a series than this, in g per 100 g, its changes of fat say nothing."""

_MARKS = {"read": 0, "read (secondary)": 1, "read (derived)": 2, "memory": 3, "judgement": 4}
_CONVENTIONS = ("USDA Food and Nutrient Database", "USDA FNDDS")
"""Sources whose changes of moisture are conventions of a survey (-4, -7, -15, -20 %), not measurements."""

_SOLID_BASES = (YieldBasis.EDIBLE_RAW, YieldBasis.DRY, YieldBasis.WITHOUT_COOKING_WATER)
_UNUSUAL = frozenset(["coated", "breaded", "floured", "rinsed", "burger", "restructured"])
"""Words of a row that must be said of the food for the row to be used."""

_USUAL_SHAPES = {"pan_browned": "crumble", "pan_fried": "crumble", "grilled_broiled": "patty", "baked": "loaf"}
"""Shape that minced meat has when it is cooked by a method, unless the food says another."""

_KINDS = frozenset(["steak", "roast", "crustacean", "mollusk"])
"""Words by which one food stands in for another of its group."""

KEY_OF_MARK = 3

NO_PAIRS: frozenset[tuple[str, str]] = frozenset()


@dataclass(frozen=True, slots=True)
class YieldChoice:
    """A yield row, and what was given up to find it ('' for an exact find).

    other, other_share: the row of the fat level on the other side and its share (0 to 1) where the figures are
    interpolated between two.
    """

    row: YieldFactor
    note: str
    other: YieldFactor | None = None
    other_share: float = 0.0

    @property
    def share(self) -> float:
        """Cooked grams per gram that goes in."""
        percent = self._between(lambda row: row.yield_percent)
        assert percent is not None
        return percent / 100.0

    @property
    def fat_change_g(self) -> float | None:
        """Change of fat, g per 100 g that goes in (a gain is positive); None where not known."""
        return self._between(lambda row: row.fat_change_g)

    @property
    def cholesterol_share(self) -> float | None:
        """Share of the cholesterol that stays where the fat is poured off (0 to 1); None where not known."""
        percent = self._between(lambda row: row.cholesterol_retention_percent)
        return None if percent is None else min(percent, 100.0) / 100.0

    @property
    def ground(self) -> str:
        """The rows, their source and the fall-back, for the reader."""
        row = self.row
        if self.other is None:
            return ground_of(f"yield {row.row_id}", row.source, row.mark, self.note)
        first, second = sorted((row, self.other), key=lambda r: r.fat_level_percent or 0.0)
        names = f"yield between {first.row_id} ({first.fat_level_percent:g} % fat) and {second.row_id}"
        return ground_of(f"{names} ({second.fat_level_percent:g} %)", row.source, row.mark, self.note)

    def _between(self, figure: Callable[[YieldFactor], float | None]) -> float | None:
        nearer = figure(self.row)
        if nearer is None or self.other is None:
            return nearer
        farther = figure(self.other)
        return None if farther is None else (1.0 - self.other_share) * nearer + self.other_share * farther


def find_yield(
    food: Food,
    default_food: str,
    method: str,
    state: FoodState,
    *,
    fat_percent: float | None = None,
    without_pairs: frozenset[tuple[str, str]] = NO_PAIRS,
) -> YieldChoice | None:
    """The yield of a food cooked by `method` from `state`, or None where not even a broad row serves.

    A published figure wins over a derived one where both fit the food and the method equally. Minced meat of a stated
    fat level is the exception: pairs of SR28 know the level as analysed and the fat that runs out, a grade of the
    trade knows neither.

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
    without_pairs : frozenset
        Pairs of SR28 codes (raw, cooked) whose rows must not be used, since they are to be checked.
    """
    return _best_yield(food, default_food, method, state, fat_percent, without_pairs, with_fat_change=False)


def find_fat_change(
    food: Food,
    default_food: str,
    method: str,
    *,
    fat_percent: float | None = None,
    without_pairs: frozenset[tuple[str, str]] = NO_PAIRS,
) -> YieldChoice | None:
    """The change of fat of raw meat cooked by `method`, from rows of this very food that know it; None without one.

    Minced meat: the series of its species whose method and fat levels are nearest, if the level lies within it or a
    little beyond. Parameters as for `find_yield`.
    """
    choice = _best_yield(food, default_food, method, FoodState.RAW, fat_percent, without_pairs, with_fat_change=True)
    if choice is None:
        return None
    level = choice.row.fat_level_percent
    fat = _fat_level(food, fat_percent)
    too_far = choice.other is None and level is not None and fat is not None and abs(level - fat) > FARTHEST_FAT_G
    return None if too_far else choice


def _best_yield(
    food: Food,
    default_food: str,
    method: str,
    state: FoodState,
    fat_percent: float | None,
    without_pairs: frozenset[tuple[str, str]],
    *,
    with_fat_change: bool,
) -> YieldChoice | None:
    group = food_group(food)
    if group is None:
        return None
    words = _words_of_food(food, default_food, method)
    fat = _fat_level(food, fat_percent)
    rows = [
        row
        for row in _yield_rows(state)
        if not without_pairs.intersection(row.derived_from)
        and _is_minced(row) == ("minced" in words)
        # How much fat runs out depends on the cut; of minced meat it depends on fat level and method first.
        and (not with_fat_change or (row.fat_change_g is not None and (_is_minced(row) or _names(row, words))))
        and not (words_of(f"{row.food} {row.form}") & _UNUSUAL) - words
    ]
    of_series: dict[tuple[str, ...], list[float]] = defaultdict(list)
    for row in rows:
        if row.fat_level_percent is not None:
            of_series[_series(row)].append(row.fat_level_percent)
    ranked: list[tuple[tuple[float, ...], YieldFactor]] = []
    for row in rows:
        steps = steps_between(group, row.food_group, last_step_steps(method, row.methods))
        if steps is None or (row.basis is YieldBasis.DRY and not same_heat(method, row.methods)):
            continue
        if row.fat_level_percent is not None and fat is not None:
            steps += _beyond(of_series[_series(row)], fat) / FAT_GRADE_G
        steps += 0.0 if _names(row, words) else OTHER_FOOD_STEPS
        steps += LOOSE_FIGURE_STEPS if row.mark == "memory" or row.source.startswith(_CONVENTIONS) else 0.0
        steps += 0.0 if row.state_before is state else OTHER_STATE_STEPS
        ranked.append(((steps, *_likeness(row, words, broader_groups(group)), _fat_gap(row, fat)), row))
    if not ranked:
        return None
    row = min(ranked, key=lambda item: item[0])[1]
    if not _names(row, words) and not _is_minced(row):
        row = _middle_one(ranked, words)
    note = fallback_note(row.food_group, group, row.methods, method, row.state_before, state)
    if row.food_group == group and not _names(row, words):
        note = "; ".join(part for part in (f"no row for this food, the row of {row.food} is used", note) if part)
    return _interpolated(YieldChoice(row, note), rows, fat)


def _middle_one(ranked: Sequence[tuple[tuple[float, ...], YieldFactor]], words: frozenset[str]) -> YieldFactor:
    """Of several other foods that are equally near, the one whose yield is in the middle: none is more like it.

    What counts is how far they are, how they are known, and whether they are of one kind (steak, crustacean).
    """

    def nearness(key: tuple[float, ...], row: YieldFactor) -> tuple[float, ...]:
        return key[0], key[KEY_OF_MARK], -float(len(words_of(f"{row.food} {row.form}") & words & _KINDS))

    nearest = min(nearness(key, row) for key, row in ranked)
    near = [row for key, row in ranked if nearness(key, row) == nearest]
    return sorted(near, key=lambda row: (row.yield_percent or 0.0, row.row_id))[(len(near) - 1) // 2]


def _likeness(row: YieldFactor, words: frozenset[str], groups: tuple[str, ...]) -> tuple[float, ...]:
    """Rank among rows equally many steps away, best first: words of the food, how it is known, words of the form.

    The mark stands at `KEY_OF_MARK` of the whole key, which begins with the steps.
    """
    named = max((len(food & words - set(groups)) for food in alternatives_of(row.food)), default=0)
    knows_its_fat = _is_minced(row) and row.fat_level_percent is not None and row.fat_change_g is not None
    form = words_of(row.form)
    return (
        -float(named),
        0.0 if knows_its_fat else 1.0,
        float(_MARKS.get(row.mark, 5)),
        -float(len(form & words)),
        float(len(form - words)),
    )


def _interpolated(choice: YieldChoice, rows: Iterable[YieldFactor], fat: float | None) -> YieldChoice:
    """The choice between the two levels of its series around the fat level asked for; itself outside them."""
    row, level = choice.row, choice.row.fat_level_percent
    if fat is None or level is None or not _is_minced(row) or level == fat:
        return choice
    beyond = [
        other
        for other in rows
        if _series(other) == _series(row)
        and other.fat_level_percent is not None
        # On the other side of the level asked for.
        and (other.fat_level_percent - fat) * (level - fat) < 0
    ]
    if not beyond:
        return choice
    other = min(beyond, key=lambda r: abs((r.fat_level_percent or 0.0) - fat))
    assert other.fat_level_percent is not None
    return replace(choice, other=other, other_share=(fat - level) / (other.fat_level_percent - level))


def _beyond(levels: Sequence[float], fat: float) -> float:
    """How far the fat level asked for lies beyond those of a series, in g per 100 g; 0 within."""
    return max(min(levels) - fat, fat - max(levels), 0.0)


def _series(row: YieldFactor) -> tuple[str, ...]:
    """Rows of one series differ in fat level only: one publisher, food, method and shape."""
    return row.row_id.split("-")[0], row.food_group, row.food, row.method, row.form


def _fat_gap(row: YieldFactor, fat: float | None) -> float:
    return 0.0 if fat is None or row.fat_level_percent is None else abs(row.fat_level_percent - fat)


def _fat_level(food: Food, fat_percent: float | None) -> float | None:
    """Fat level on the scale of the rows: as said, else as labelled where rows were derived from this very food."""
    if fat_percent is not None:
        return fat_percent
    return _labelled_levels().get(food.code, amount_of(food.composition, "FAT_G"))


@cache
def _labelled_levels() -> dict[str, float]:
    return {
        raw: row.fat_level_percent
        for row in yield_factors()
        if row.fat_level_percent is not None
        for raw, _ in row.derived_from
    }


def _words_of_food(food: Food, default_food: str, method: str) -> frozenset[str]:
    words = words_of(f"{food.description} {default_food}")
    if "minced" in words and not words & set(_USUAL_SHAPES.values()):
        shape = next((_USUAL_SHAPES[name] for name in broader_methods(method) if name in _USUAL_SHAPES), "")
        return words | {shape}
    return words


def _names(row: YieldFactor, words: frozenset[str]) -> bool:
    """Whether the row speaks of this very food."""
    return any(food <= words for food in alternatives_of(row.food))


def _is_minced(row: YieldFactor) -> bool:
    return row.food.startswith("minced ")


@cache
def _yield_rows(state: FoodState) -> tuple[YieldFactor, ...]:
    return tuple(
        row
        for row in yield_factors()
        if same_state(row.state_before, state) and row.yield_percent is not None and row.basis in _SOLID_BASES
    )
