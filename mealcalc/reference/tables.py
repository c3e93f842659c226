"""Readers of the shipped reference tables: each file is read once, on first use, into typed rows.

Every table is a CSV file beside this module with a header row; every row carries its source and whether that source was
read or the figure comes from memory.
"""

import csv
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TypeVar

from mealcalc.errors import ReferenceDataError

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class DefaultFood:
    """The generic food that an everyday name stands for, by region and state.

    code: food code of SR28, or 'none' for a food that the table does not hold and that must not be guessed.
    state: raw, cooked, dry, canned, frozen or any. is_default: the row to use when the line says no state.
    """

    food: str
    names: tuple[str, ...]
    regions: frozenset[str]
    state: str
    is_default: bool
    code: str
    description: str
    note: str


@dataclass(frozen=True, slots=True)
class PieceWeight:
    """Edible grams of one `unit` of a default food; `size` and `regions` are empty where they do not matter."""

    food: str
    unit: str
    size: str
    regions: frozenset[str]
    mass_g: float
    source: str
    mark: str


@dataclass(frozen=True, slots=True)
class BulkDensity:
    """Grams per millilitre of a default food in a form (chopped, grated; '' as it comes), as a cook fills a cup."""

    food: str
    form: str
    g_per_ml: float
    source: str
    mark: str


@dataclass(frozen=True, slots=True)
class DrainedShare:
    """Drained weight divided by net weight of a canned food."""

    food: str
    regions: frozenset[str]
    share: float
    source: str
    mark: str


@dataclass(frozen=True, slots=True)
class EdibleShare:
    """Edible grams per gram as bought in a condition (bone in, unpeeled, in shell, whole, head on).

    is_default: the bare name already carries the refuse when weighed (spareribs, drumsticks).
    """

    food: str
    condition: str
    is_default: bool
    share: float
    source: str
    mark: str


@dataclass(frozen=True, slots=True)
class FatLevel:
    """One published fat level of a series of foods that differ in fat only; fat in g per 100 g as printed."""

    series: str
    species: str
    state: str
    code: str
    fat_percent: float
    description: str


@dataclass(frozen=True, slots=True)
class LeanWords:
    """What a word of the trade or the law (lean, extra lean, regular) means for the fat of minced meat, percent."""

    words: str
    regions: frozenset[str]
    species: str
    fat_percent_max: float | None
    fat_percent_used: float
    source: str
    mark: str


@dataclass(frozen=True, slots=True)
class SmallMeasure:
    """A vague measure (pinch, dash, glug): millilitres of it, or grams of a certain food."""

    measure: str
    food: str
    volume_ml: float | None
    mass_g: float | None
    source: str
    mark: str


@cache
def default_foods() -> tuple[DefaultFood, ...]:
    """The reviewed table of default foods."""
    return read_table(
        "default_foods.csv",
        lambda r: DefaultFood(
            r["food"],
            tuple(r["names"].split("|")),
            _regions(r),
            r["state"],
            r["default"] == "yes",
            r["code"],
            r["description"],
            r["note"],
        ),
    )


@cache
def piece_weights() -> tuple[PieceWeight, ...]:
    """Edible mass of pieces, slices, bunches, packs, by food, size and region."""
    return read_table(
        "piece_weights.csv",
        lambda r: PieceWeight(r["food"], r["unit"], r["size"], _regions(r), float(r["grams"]), r["source"], r["mark"]),
    )


@cache
def bulk_densities() -> tuple[BulkDensity, ...]:
    """Bulk densities of foods measured by cups and spoons."""
    return read_table(
        "bulk_densities.csv",
        lambda r: BulkDensity(r["food"], r["form"], float(r["g_per_ml"]), r["source"], r["mark"]),
    )


@cache
def drained_shares() -> tuple[DrainedShare, ...]:
    """Drained weight as a share of the net weight of canned foods."""
    return read_table(
        "drained_shares.csv",
        lambda r: DrainedShare(r["food"], _regions(r), float(r["share"]), r["source"], r["mark"]),
    )


@cache
def edible_shares() -> tuple[EdibleShare, ...]:
    """Edible share of foods bought with bone, shell, peel or head."""
    return read_table(
        "edible_shares.csv",
        lambda r: EdibleShare(
            r["food"], r["condition"], r["default"] == "yes", float(r["share"]), r["source"], r["mark"]
        ),
    )


@cache
def fat_levels() -> tuple[FatLevel, ...]:
    """Series of foods published at several fat levels."""
    return read_table(
        "fat_series.csv",
        lambda r: FatLevel(r["series"], r["species"], r["state"], r["code"], float(r["fat_percent"]), r["description"]),
    )


@cache
def lean_words() -> tuple[LeanWords, ...]:
    """Words for the leanness of minced meat, by region and species."""
    return read_table(
        "lean_words.csv",
        lambda r: LeanWords(
            r["words"],
            _regions(r),
            r["species"],
            optional_number(r["fat_percent_max"]),
            float(r["fat_percent_used"]),
            r["source"],
            r["mark"],
        ),
    )


@cache
def small_measures() -> tuple[SmallMeasure, ...]:
    """Vague measures in millilitres, or grams of a certain food."""
    return read_table(
        "small_measures.csv",
        lambda r: SmallMeasure(
            r["measure"], r["food"], optional_number(r["ml"]), optional_number(r["grams"]), r["source"], r["mark"]
        ),
    )


def rows_of(file_name: str) -> Iterator[tuple[int, dict[str, str]]]:
    """Line number and cells of each row of a reference table; numbers and codes alike stay text."""
    text = resources.files("mealcalc.reference").joinpath(file_name).read_text(encoding="utf-8")
    reader = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    for row in reader:
        yield reader.line_num, row


def read_table(file_name: str, make: Callable[[dict[str, str]], Row]) -> tuple[Row, ...]:
    """All rows of a reference table, each made by `make` from its cells.

    Raises
    ------
    ReferenceDataError
        If a row lacks a column or holds a value that `make` refuses; the message names file and line.
    """
    rows = []
    for line_number, cells in rows_of(file_name):
        try:
            rows.append(make(cells))
        except (KeyError, ValueError, AttributeError) as error:
            raise ReferenceDataError(f"{file_name}:{line_number}: {error!r}", "reinstall mealcalc") from error
    return tuple(rows)


def _regions(row: dict[str, str]) -> frozenset[str]:
    return frozenset(row["region"].split())


def optional_number(text: str) -> float | None:
    """The number in a cell, None where the cell is empty."""
    return float(text) if text else None
