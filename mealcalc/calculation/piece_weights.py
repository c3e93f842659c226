"""Look-ups of the weights tables: pieces, densities, drained and edible shares, each with its ground.

The row of the region comes first, then the row without region, then a row of another region, which is said; then the
food's own published measure.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from mealcalc.calculation import household_measures
from mealcalc.records import Food, MassSource, RecipeLine
from mealcalc.reference.tables import (
    BulkDensity,
    DrainedShare,
    EdibleShare,
    PieceWeight,
    bulk_densities,
    drained_shares,
    edible_shares,
    piece_weights,
)

# Units that stand for one another where a table counts in the other one.
_SAME_PIECE = {
    "piece": ("piece", "head", "bulb", "ear", "fillet", "stalk", "sheet", "cube", "sachet", "slice", "clove"),
    "head": ("head", "piece", "bulb"),
    "bulb": ("bulb", "head", "piece"),
    "ear": ("ear", "piece"),
    "fillet": ("fillet", "piece"),
    "stalk": ("stalk", "stick", "sprig", "piece"),
    "stick": ("stick", "stalk", "piece"),
    "sprig": ("sprig", "stalk"),
    "cube": ("cube", "piece", "sachet"),
    "sachet": ("sachet", "pack", "cube", "piece"),
    "sheet": ("sheet", "piece", "slice"),
    "jar": ("jar", "can", "pack"),
    "can": ("can", "jar", "pack"),
    "pack": ("pack", "sachet", "jar", "can"),
    "slice": ("slice", "piece"),
    "clove": ("clove",),
    "none": ("piece", "head", "bulb", "ear"),
}


_CARRY_REFUSE = frozenset(["bone in", "skin and bone", "in shell", "with stone", "in pod", "on the cob"])
"""Conditions that say that the weight carries what the food's own refuse speaks of."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A figure (grams unless `unit` says otherwise) with the ground for believing it.

    gross_g: grams before a drained or edible share was taken off, None where none was.
    """

    value: float
    ground: str
    unit: str = "g"
    sources: tuple[MassSource, ...] = ()
    gross_g: float | None = None


def piece_mass(unit: str, line: RecipeLine, food: Food, default_food: str, region: str) -> Reading | None:
    """Edible grams of one `unit` of a food, or None where nothing tells.

    Parameters
    ----------
    unit : str
        Canonical count unit.
    line : RecipeLine
        Gives the size and the words of the food.
    food, default_food, region
        The food, its name in the tables of weights ('' if none), and the region of the recipe.
    """
    for same in _SAME_PIECE.get(unit, (unit,)):
        row = piece_row(same, line.size, default_food, region)
        if row is not None:
            abroad = bool(row.regions) and region not in row.regions
            note = f", size as in {'/'.join(sorted(row.regions))}" if abroad else ""
            size = f" {row.size}" if row.size else ""
            return Reading(row.mass_g, f"{row.mass_g:g} g each{size} ({row.source}{note})")
        own = household_measures.piece(food.measures, same, line.size, line.name)
        if own is not None:
            return Reading(own.value, f"{food.table}:{food.code} {own.ground}")
    return None


def piece_row(unit: str, size: str, default_food: str, region: str) -> PieceWeight | None:
    """The row of our table of piece weights that fits one `unit` of a food best, or None where there is none.

    Parameters
    ----------
    unit, size : str
        Canonical count unit, and the size word of the line ('' if none).
    default_food, region : str
        Name of the food in the tables of weights ('' if none), and the region of the recipe.
    """
    rows = _pieces_by_food().get(default_food, ()) if default_food else ()
    return _best_row([row for row in rows if row.unit == unit], size, region)


def _best_row(rows: Sequence[PieceWeight], size: str, region: str) -> PieceWeight | None:
    if not rows:
        return None

    def rank(row: PieceWeight) -> tuple[int, int, int]:
        local = 2 if region in row.regions else 1 if not row.regions else 0
        if size:
            return 2 if row.size == size else 1 if not row.size else 0, local, 0
        # A line without a size means a middling piece: one of another size serves only where there is no other.
        return int(row.size in ("", "medium")), local, int(not row.size)

    return max(rows, key=rank)


def bulk_density(food: Food, default_food: str, words: frozenset[str]) -> household_measures.MeasureReading | None:
    """Grams per millilitre of a food as a cook fills a cup, or None where nothing tells.

    A row of our table in a form that the line names comes first, then the row of the food as it comes, then the food's
    own volume measures, then any row of our table.

    Parameters
    ----------
    food, default_food
        The food, and its name in the tables of weights ('' if none).
    words : frozenset of str
        Words of the line that may name a form: chopped, grated, cooked.
    """
    rows = _densities_by_food().get(default_food, ()) if default_food else ()
    named = [row for row in rows if row.form and set(row.form.replace(",", " ").split()) <= words]
    plain = [row for row in rows if not row.form]
    for row in (*named, *plain):
        return _density_reading(row)
    own = household_measures.density(food.measures, words)
    if own is not None:
        return household_measures.MeasureReading(own.value, f"{food.table}:{food.code} {own.ground}")
    return _density_reading(rows[0]) if rows else None


def _density_reading(row: BulkDensity) -> household_measures.MeasureReading:
    form = f"{row.form}, " if row.form else ""
    return household_measures.MeasureReading(row.g_per_ml, f"{form}{row.source}")


def drained_share(default_food: str, region: str) -> Reading | None:
    """Drained weight per net weight of a canned food (0 to 1), or None."""
    rows = _drained_by_food().get(default_food, ())
    local = [row for row in rows if region in row.regions] or [row for row in rows if not row.regions] or list(rows)
    return Reading(local[0].share, local[0].source, unit="") if local else None


def edible_share(food: Food, default_food: str, conditions: Sequence[str], as_bought: bool) -> Reading | None:
    """Edible grams per gram of a weight that still carries refuse (0 to 1), or None if it carries none that we know.

    Parameters
    ----------
    conditions : sequence of str
        What the line says of the food as weighed: bone in, unpeeled, in shell, whole, with stone.
    as_bought : bool
        True when the cook says that the weight is as bought.
    """
    rows = _edible_by_food().get(default_food, ()) if default_food else ()
    named = [row for row in rows if row.condition in conditions]
    if named:
        # 'Whole, in shell' carries more refuse than 'in shell' alone.
        row = min(named, key=lambda row: row.share)
        return Reading(row.share, f"{row.condition}, {row.source}", unit="")
    for row in rows:
        if row.is_default or as_bought:
            return Reading(row.share, f"{row.condition}, {row.source}", unit="")
    carries = as_bought or any(c in _CARRY_REFUSE for c in conditions)
    if carries and food.refuse_percent:
        share = 1.0 - food.refuse_percent / 100.0
        return Reading(
            share, f"{food.table}:{food.code} refuse {food.refuse_percent:g} %, {food.refuse_description}", unit=""
        )
    return None


@cache
def _pieces_by_food() -> Mapping[str, tuple[PieceWeight, ...]]:
    grouped: dict[str, list[PieceWeight]] = defaultdict(list)
    for row in piece_weights():
        grouped[row.food].append(row)
    return {food: tuple(rows) for food, rows in grouped.items()}


@cache
def _densities_by_food() -> Mapping[str, tuple[BulkDensity, ...]]:
    grouped: dict[str, list[BulkDensity]] = defaultdict(list)
    for row in bulk_densities():
        grouped[row.food].append(row)
    return {food: tuple(rows) for food, rows in grouped.items()}


@cache
def _drained_by_food() -> Mapping[str, tuple[DrainedShare, ...]]:
    grouped: dict[str, list[DrainedShare]] = defaultdict(list)
    for row in drained_shares():
        grouped[row.food].append(row)
    return {food: tuple(rows) for food, rows in grouped.items()}


@cache
def _edible_by_food() -> Mapping[str, tuple[EdibleShare, ...]]:
    grouped: dict[str, list[EdibleShare]] = defaultdict(list)
    for row in edible_shares():
        grouped[row.food].append(row)
    return {food: tuple(rows) for food, rows in grouped.items()}
