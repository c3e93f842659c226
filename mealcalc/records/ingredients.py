"""Records of a line on its way: the food it is matched to, the grams it is weighed at."""

from dataclasses import dataclass
from enum import StrEnum

from mealcalc.diagnostics import Diagnostic
from mealcalc.records.foods import Food
from mealcalc.records.recipe import LineStatus, RecipeLine


@dataclass(frozen=True, slots=True)
class BlendPart:
    """One of the two foods of a blend and its share of the mass (0 to 1)."""

    table: str
    code: str
    description: str
    share: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """A food considered for a line, with its score from 0 to 1."""

    table: str
    code: str
    description: str
    score: float


@dataclass(frozen=True, slots=True)
class MatchedFood:
    """The food chosen for a line. `food` is None when no table holds it.

    default_food: canonical name in the table of default foods, '' when the choice came from elsewhere; the tables of
    piece weights, densities and shares are keyed by it. food_state: state of its row there (raw, dry, cooked, ...).
    other_state: the line asks for another state than the food's. `food` already carries the blended composition when
    `blend` is not empty; its code is then the nearer food's.
    """

    line: RecipeLine
    food: Food | None
    status: LineStatus
    strategy: str
    score: float
    default_food: str = ""
    food_state: str = ""
    other_state: bool = False
    blend: tuple[BlendPart, ...] = ()
    runners_up: tuple[Candidate, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()


class MassSource(StrEnum):
    """How a mass came about; each step has its own spread (`reference/uncertainty.csv`)."""

    SETTLED = "settled"
    SCALE = "scale"
    VOLUME_LIQUID = "volume_liquid"
    VOLUME_BULK = "volume_bulk"
    COUNT = "count"
    SMALL_MEASURE = "small_measure"
    PACK = "pack"
    SHARE = "share"
    CONVERSION = "conversion"
    USED_SHARE = "used_share"
    USED_SHARE_SAID = "used_share_said"


@dataclass(frozen=True, slots=True)
class WeighedIngredient:
    """A matched line with its edible mass.

    mass_g: edible mass in the state of the matched food, before `used_share`; None when it cannot be known.
    ground: why we believe the mass, for the reader (`scale: 800 g x 0.60 drained (common practice, no source)`).
    sources: the steps by which the mass came about, for its uncertainty.
    gross_mass_g: mass with what was taken off for its drained or edible share, in the state that the line says; None
        where nothing was.
    """

    matched: MatchedFood
    mass_g: float | None
    used_share: float = 1.0
    ground: str = ""
    diagnostics: tuple[Diagnostic, ...] = ()
    sources: tuple[MassSource, ...] = ()
    gross_mass_g: float | None = None

    @property
    def eaten_mass_g(self) -> float | None:
        """Edible mass that ends up in the dish, in grams."""
        return None if self.mass_g is None else self.mass_g * self.used_share
