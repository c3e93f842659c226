"""Records of a comparison: ways to make a batch beside each other, and how sure their differences are."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from mealcalc.records.recipe import Batch, RecipeLine
from mealcalc.records.results import BatchResult


class OptionKind(StrEnum):
    """Where a way to make the batch comes from; the values are part of the stable machine shape."""

    AS_WRITTEN = "as written"
    VARIANT = "variant"
    FAT_LEVEL = "fat level"
    OPTIONAL = "optional"
    SWAP = "swap"
    CONTAINERS = "containers"


@dataclass(frozen=True, slots=True)
class Option:
    """One way to make the batch.

    measured_as: line -> the line of the batch as written in whose place it stands.
    """

    name: str
    kind: OptionKind
    batch: Batch
    measured_as: Mapping[RecipeLine, RecipeLine] = field(default_factory=dict)


class Verdict(StrEnum):
    """How a figure differs from that of the batch as written; the values are part of the stable machine shape.

    SAME: not in the digits that are shown. UNSURE: smaller than its uncertainty, the 90 % interval of the difference
    holds zero. UNKNOWN: one of the two figures is incomplete.
    """

    REFERENCE = "reference"
    MORE = "more"
    LESS = "less"
    SAME = "same"
    UNSURE = "smaller than its uncertainty"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Measure:
    """What is compared: `key` in machine shapes, its unit, decimals shown."""

    key: str
    name: str
    unit: str
    decimals: int


ENERGY = Measure("ENERC_KCAL", "energy", "kcal", 0)
PROTEIN = Measure("PROCNT_G", "protein", "g", 1)
FAT = Measure("FAT_G", "fat", "g", 1)
CARBOHYDRATE = Measure("CHOCDF_G", "carbohydrate", "g", 1)
AVAILABLE = Measure("CHOAVLDF_G", "available carbohydrate", "g", 1)
FIBRE = Measure("FIBTG_G", "fibre", "g", 1)
PROTEIN_RATIO = Measure("PROTEIN_G_PER_100_KCAL", "protein per 100 kcal", "g", 1)
COST = Measure("COST", "cost", "", 2)
PROTEIN_FOR_MONEY = Measure("PROTEIN_G_PER_MONEY", "protein for 1", "g", 1)

SHOWN = (ENERGY, PROTEIN, FAT, CARBOHYDRATE, PROTEIN_RATIO)
"""Measures of the table and the picture, in order; cost joins them where prices are given."""

ALL_MEASURES = (ENERGY, PROTEIN, FAT, CARBOHYDRATE, AVAILABLE, FIBRE, PROTEIN_RATIO, COST, PROTEIN_FOR_MONEY)


@dataclass(frozen=True, slots=True)
class ComparedFigure:
    """One figure of one container, in the unit of its measure; None where it is not known.

    low, high: its 90 % interval. difference: from the batch as written, with its own interval, drawn in pairs. A lower
    bound has neither interval nor verdict: `complete` is False.
    """

    amount: float | None
    complete: bool = True
    low: float | None = None
    high: float | None = None
    difference: float | None = None
    difference_low: float | None = None
    difference_high: float | None = None
    verdict: Verdict = Verdict.UNKNOWN


@dataclass(frozen=True, slots=True)
class ComparedOption:
    """A way to make the batch with its figures by the key of the measure; `cost` of the whole batch, if known."""

    option: Option
    result: BatchResult
    figures: Mapping[str, ComparedFigure]
    cost: Decimal | None = None

    @property
    def name(self) -> str:
        """Name of the option."""
        return self.option.name


@dataclass(frozen=True, slots=True)
class Comparison:
    """Ways to make a batch, the batch as written first. currency: of the costs, '' where there are none."""

    title: str
    region: str
    options: tuple[ComparedOption, ...]
    currency: str = ""

    @property
    def measures(self) -> tuple[Measure, ...]:
        """Measures of the table and the picture."""
        if all(option.cost is None for option in self.options):
            return SHOWN
        return (*SHOWN, COST, PROTEIN_FOR_MONEY)
