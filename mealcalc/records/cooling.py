"""Records of cooling: published limits, properties of the food, what the model predicts."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class CoolingLimit:
    """A published limit on the time in which food cools.

    meant_for: cooked, ambient (food made from ingredients at room temperature) or processor (meat in plants).
    from_c, to_c: temperatures between which the stage runs, C; `from_c` is None where the text names none. hours: time
    allowed, counted from the start (`clock` 'start') or from the end of the stage before ('stage').
    """

    authority: str
    meant_for: str
    stage: int
    from_c: float | None
    to_c: float
    hours: float
    clock: str
    wording: str
    source: str
    edition: str
    mark: str


@dataclass(frozen=True, slots=True)
class CoolingAdvice:
    """What an authority advises for quick cooling; `situation` is any, refrigerator or room."""

    authority: str
    situation: str
    wording: str
    source: str
    edition: str
    mark: str


@dataclass(frozen=True, slots=True)
class HeatTransfer:
    """Heat transfer coefficient at a surface as a band, W/m2K; air_c is the usual temperature there, C."""

    situation: str
    name: str
    low_w_m2k: float
    typical_w_m2k: float
    high_w_m2k: float
    air_c: float | None
    ground: str
    mark: str


@dataclass(frozen=True, slots=True)
class ContainerWall:
    """The wall of a container: thickness in mm, conductivity in W/mK."""

    material: str
    name: str
    thickness_mm: float
    conductivity_w_mk: float
    ground: str
    mark: str

    @property
    def resistance_m2k_w(self) -> float:
        """Resistance of the wall to heat, m2K/W."""
        return self.thickness_mm / 1000.0 / self.conductivity_w_mk


@dataclass(frozen=True, slots=True)
class ThermalProperties:
    """Conductivity in W/mK, density in kg/m3 and specific heat in J/kgK of a food at `temperature_c`."""

    conductivity_w_mk: float
    density_kg_m3: float
    specific_heat_j_kgk: float
    temperature_c: float

    @property
    def heat_capacity_j_m3k(self) -> float:
        """Heat that a cubic metre takes for one kelvin, J/m3K."""
        return self.density_kg_m3 * self.specific_heat_j_kgk

    @property
    def diffusivity_m2_s(self) -> float:
        """Thermal diffusivity, m2/s."""
        return self.conductivity_w_mk / self.heat_capacity_j_m3k


@dataclass(frozen=True, slots=True)
class Band:
    """A time in hours as the model gives it: fast, typical and slow; infinite where the target is never reached."""

    fast_h: float
    typical_h: float
    slow_h: float


class Outcome(StrEnum):
    """What the model says of a limit; none of them is a statement that food may be eaten."""

    MEETS = "predicted to meet it if the stated air temperature and depth hold - check with a probe"
    BETWEEN = "may miss it: only the fast end of the band meets it"
    MISSES = "predicted to miss it"
    NEVER = "never reached"
    NOT_JUDGED = "not judged"


@dataclass(frozen=True, slots=True)
class StagePrediction:
    """A published limit and the time that the model gives for it, counted as the limit counts."""

    limit: CoolingLimit
    time: Band
    outcome: Outcome
    remark: str = ""


@dataclass(frozen=True, slots=True)
class CoolingCurve:
    """Temperature in C of the warmest point of the food over time in hours: fast, typical and slow."""

    hours: tuple[float, ...]
    fast_c: tuple[float, ...]
    typical_c: tuple[float, ...]
    slow_c: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class FoodCooling:
    """What the model predicts for one food in the container.

    shares: mass fractions of water, protein, fat, carbohydrate, fibre and ash that the properties rest on. times:
    temperature in C -> time from the start until no part is warmer.
    """

    name: str
    shares: Mapping[str, float]
    properties: ThermalProperties
    times: Mapping[float, Band]
    stages: tuple[StagePrediction, ...]
    curve: CoolingCurve


@dataclass(frozen=True, slots=True)
class CoolingPrediction:
    """The answer of the cooling model: one entry per food, the slowest first, and all that it rests on.

    container, surroundings: in words. notes: what is to be said beside the limits. assumptions: what the model takes
    for granted. largest_depth_m: greatest depth at which the slow end of the band meets every limit for the slowest
    food; None where no depth does.
    """

    title: str
    container: str
    depth_m: float
    surroundings: str
    start_c: float
    foods: tuple[FoodCooling, ...]
    notes: tuple[str, ...]
    assumptions: tuple[str, ...]
    advice: tuple[CoolingAdvice, ...]
    largest_depth_m: float | None = None
