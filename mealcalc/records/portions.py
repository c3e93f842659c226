"""Records of weighing out: pots, eaters, what goes into each container, the batch as it was cooked."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from mealcalc.records.recipe import Eater
from mealcalc.records.results import BatchResult, ComponentResult, Total


@dataclass(frozen=True, slots=True)
class PotWeight:
    """What a cooked component weighs, all in g.

    net_g: the food alone. gross_g, tare_g: with the pot, and the pot, where it was weighed with it. pot: name of a
    saved pot. ground: why we believe it. measured: whether it comes from the scale.
    """

    component: str
    net_g: float
    gross_g: float | None = None
    tare_g: float | None = None
    pot: str = ""
    ground: str = ""
    measured: bool = True


@dataclass(frozen=True, slots=True)
class VolumeBand:
    """A volume in ml: without any air between the pieces, and heaped as a cup holds them."""

    low_ml: float
    high_ml: float

    @property
    def shown(self) -> str:
        """The band in ml, to 5 ml."""
        low, high = (5 * round(ml / 5) for ml in (self.low_ml, self.high_ml))
        return f"{low}" if low == high else f"{low}-{high}"

    def plus(self, other: "VolumeBand") -> "VolumeBand":
        """Both together."""
        return VolumeBand(self.low_ml + other.low_ml, self.high_ml + other.high_ml)


@dataclass(frozen=True, slots=True)
class Spread:
    """Volume of 1 g of a cooked component in ml, as a band, with the ground for it."""

    low_ml_per_g: float
    high_ml_per_g: float
    ground: str

    def of(self, mass_g: float) -> VolumeBand:
        """The volume of `mass_g`."""
        return VolumeBand(mass_g * self.low_ml_per_g, mass_g * self.high_ml_per_g)


class Fit(StrEnum):
    """Whether a container holds its food; the band of the volume may lie on both sides of the limit."""

    HOLDS = "holds it"
    TIGHT = "tight"
    TOO_SMALL = "too small"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class ContainerRoom:
    """The room in a container, ml: up to the brim, and with headspace for freezing by `headspace_ground`."""

    brim_ml: float
    freezing_ml: float
    headspace_ground: str


@dataclass(frozen=True, slots=True)
class PortionedComponent:
    """A component as it is divided.

    pot_g: what is in the pot, in whole grams; it is the sum of `grams` (one entry per container), what stays in the
    pan, and what is left over. slip: food component key -> what 10 g more or less of it bring. spread: its volume,
    None where it is not known.
    """

    result: ComponentResult
    pot: PotWeight
    pot_g: int
    residue_g: int
    leftover_g: int
    grams: tuple[int, ...]
    slip: Mapping[str, Total]
    spread: Spread | None = None

    @property
    def name(self) -> str:
        """Name of the component."""
        return self.result.component.name


@dataclass(frozen=True, slots=True)
class FilledContainer:
    """One container: number from 1, whose it is ('' if nobody's), grams of each component, its figures and volume."""

    number: int
    eater: str
    grams: tuple[int, ...]
    figures: Mapping[str, Total]
    volume: VolumeBand | None = None
    fit: Fit = Fit.UNKNOWN
    fit_frozen: Fit = Fit.UNKNOWN

    @property
    def mass_g(self) -> int:
        """Grams of food in it."""
        return sum(self.grams)


@dataclass(frozen=True, slots=True)
class WeighOut:
    """How a cooked batch is weighed out into its containers, and all that this rests on."""

    result: BatchResult
    components: tuple[PortionedComponent, ...]
    containers: tuple[FilledContainer, ...]
    eaters: tuple[Eater, ...] = ()
    room: ContainerRoom | None = None
    notes: tuple[str, ...] = ()

    @property
    def runs(self) -> tuple[tuple[str, FilledContainer], ...]:
        """Containers that follow one another and are filled alike as one, with their numbers: '1-5', '6'."""
        found: list[tuple[int, FilledContainer]] = []
        for container in self.containers:
            if found and (found[-1][1].eater, found[-1][1].grams) == (container.eater, container.grams):
                found[-1] = (container.number, found[-1][1])
            else:
                found.append((container.number, container))
        return tuple((_numbers(first.number, last), first) for last, first in found)


def _numbers(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}-{last}"


class Step(StrEnum):
    """When a temperature was taken."""

    COOKING = "cooking"
    COOLING = "cooling"
    REHEATING = "reheating"


@dataclass(frozen=True, slots=True)
class Temperature:
    """A temperature from the thermometer, C; after_min: minutes since the step began, None if not said."""

    step: Step
    celsius: float
    component: str = ""
    after_min: float | None = None


@dataclass(frozen=True, slots=True)
class CookedComponent:
    """A component as cooked: what the pot held, what stayed in the pan, what was left over, in g.

    estimated_g: where the pot was not weighed, the estimate that was divided.
    """

    name: str
    weight_g: float | None = None
    estimated_g: float | None = None
    gross_g: float | None = None
    tare_g: float | None = None
    residue_g: float = 0.0
    leftover_g: float = 0.0


@dataclass(frozen=True, slots=True)
class CookedContainer:
    """A container as filled: whose it is, and grams of each component by name."""

    eater: str
    grams: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class CookedBatch:
    """A batch as it was cooked on a day.

    recipe: fingerprint of the recipe that was cooked, so that a later change of it shows. containers: how many were
    made, None if nothing was said of them.
    """

    day: date
    recipe: str = ""
    variant: str = ""
    containers: int | None = None
    components: tuple[CookedComponent, ...] = ()
    filled: tuple[CookedContainer, ...] = ()
    temperatures: tuple[Temperature, ...] = field(default_factory=tuple)
