"""Figures that someone published for a batch, and the judgement of them.

Differences are in standard deviations of our 90 % intervals, widened by what the claimed figures were rounded to.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from mealcalc.records.recipe import Batch
from mealcalc.records.results import BatchResult

Z_90 = 1.6449
"""Half the width of a 90 % interval, in standard deviations."""

AGREES_WITHIN = 0.05
"""Claimed energy agrees with the claimed macros within this share of it: food-specific factors differ from the general
ones by about as much (our own judgement)."""

EXPLAINS_FROM = 0.5
EXPLAINS_TO_SD = 2.0
"""A single change explains a difference when it removes this share of it at least, and leaves at most so many standard
deviations (our own judgement)."""

TOTAL, AVAILABLE = "CHOCDF_G", "CHOAVLDF_G"
CARBOHYDRATE = (TOTAL, AVAILABLE)

_NAMES = {"ENERC_KCAL": "energy", "PROCNT_G": "protein", "FAT_G": "fat", "FIBTG_G": "fibre"}


@dataclass(frozen=True, slots=True)
class Claim:
    """Claimed figures of one container; None where nothing is claimed.

    carbohydrate_g: leaves open whether fibre is in it. energy_in_kj: the energy was written in kJ. half_digit:
    `energy`, `protein`, `fat`, `carbohydrate`, `fibre` -> half of the last digit it was written with, in the unit of
    the field.
    """

    energy_kcal: float | None = None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None
    fibre_g: float | None = None
    energy_in_kj: bool = False
    half_digit: Mapping[str, float] = field(default_factory=dict)

    def figures(self, carbohydrate: str) -> dict[str, float]:
        """Food component -> claimed amount, the carbohydrate under the key `carbohydrate`."""
        named = {
            "ENERC_KCAL": self.energy_kcal,
            "PROCNT_G": self.protein_g,
            "FAT_G": self.fat_g,
            carbohydrate: self.carbohydrate_g,
            "FIBTG_G": self.fibre_g,
        }
        return {key: amount for key, amount in named.items() if amount is not None}

    def rounded_by(self, key: str) -> float:
        """Half of the last digit of a claimed figure, in its unit."""
        return self.half_digit.get(_NAMES.get(key, "carbohydrate"), 0.5)


@dataclass(frozen=True, slots=True)
class SingleChange:
    """One decision taken otherwise.

    kind: stable name of the sort of change. lines: lines of the file that it changes. batch: the batch to run again, or
    None where `figures` stand already: food component -> amount in one container. energy_factor: by what the energy is
    multiplied when it is given in the wrong unit.
    """

    kind: str
    description: str
    lines: tuple[int, ...] = ()
    batch: Batch | None = None
    figures: Mapping[str, float] | None = None
    energy_factor: float = 1.0


@dataclass(frozen=True, slots=True)
class ClaimTolerance:
    """What a legal tolerance allows the food to hold where the claimed figure is declared; None for no limit.

    name, clause, mark: the law, where in it, and whether that was read. ours: our figure as that law defines it, which
    for carbohydrate may be another than the nearer one.
    """

    name: str
    clause: str
    mark: str
    ours: float
    low: float | None
    high: float | None
    holds: bool


@dataclass(frozen=True, slots=True)
class ClaimedFigure:
    """One claimed figure beside ours, per container, in the unit of the food component.

    low, high: our 90 % interval, None where a line of the batch is unknown. in_interval: whether the claim as rounded
    lies in it. differs_by_sd: claim less ours, in standard deviations. tolerance: None where the scheme publishes none.
    """

    key: str
    claimed: float
    ours: float
    complete: bool
    low: float | None
    high: float | None
    in_interval: bool | None
    differs_by_sd: float
    tolerance: ClaimTolerance | None


@dataclass(frozen=True, slots=True)
class EnergyCheck:
    """Claimed energy against the claimed macros, kcal: by 4-4-9, and by 4-4-9 with fibre at 2 beside the carbohydrate.

    fibre_g: fibre used for the second, claimed or else ours.
    """

    claimed_kcal: float
    by_macros_kcal: float
    by_macros_agrees: bool
    with_fibre_kcal: float
    with_fibre_agrees: bool
    fibre_g: float


@dataclass(frozen=True, slots=True)
class ClaimExplanation:
    """A single change with the figures it gives for a container.

    removed: share of the difference that it removes (0 to 1). left_sd: root mean square of what is left, in standard
    deviations. within_interval: whether every claimed figure lies within our interval about the changed one.
    """

    change: SingleChange
    figures: Mapping[str, float]
    carbohydrate: str
    removed: float
    left_sd: float
    within_interval: bool

    @property
    def explains(self) -> bool:
        """Whether the change accounts for the difference, and not only for a part of it."""
        return self.removed >= EXPLAINS_FROM and self.left_sd <= EXPLAINS_TO_SD


@dataclass(frozen=True, slots=True)
class ClaimReport:
    """The judgement of claimed figures.

    carbohydrate: which of our two definitions is nearer, '' where none was claimed. carbohydrate_sure: whether the two
    differ by enough to tell. differs_by_sd: root mean square of the differences. explanations: the best first, empty
    where there is nothing to explain or no change removes any of it.
    """

    result: BatchResult
    claim: Claim
    scheme: str
    figures: tuple[ClaimedFigure, ...]
    energy: EnergyCheck | None
    carbohydrate: str
    carbohydrate_sure: bool
    total_carbohydrate_g: float
    available_carbohydrate_g: float
    differs_by_sd: float
    explanations: tuple[ClaimExplanation, ...]
    tried: int

    @property
    def agrees(self) -> bool:
        """Whether every claimed figure lies within our interval."""
        return all(abs(figure.differs_by_sd) <= Z_90 for figure in self.figures)

    @property
    def explained(self) -> bool:
        """Whether some single change explains the difference."""
        return bool(self.explanations) and self.explanations[0].explains
