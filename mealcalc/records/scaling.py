"""Records of scaling: lines as they are written for another amount, and what must not be scaled blindly."""

from dataclasses import dataclass
from fractions import Fraction

from mealcalc.records.recipe import Batch, RecipeLine


@dataclass(frozen=True, slots=True)
class ScaledLine:
    """A line for another amount.

    line: as read. exact: with its amounts multiplied exactly. text: as it is written for the kitchen, rounded. shown:
    the lines that `text` is read as. notes: what rounding does to it. written: False where no words could be found for
    the amount, so that the text is the old one.
    """

    line: RecipeLine
    exact: RecipeLine
    text: str
    shown: RecipeLine
    notes: tuple[str, ...] = ()
    written: bool = True


@dataclass(frozen=True, slots=True)
class Caution:
    """What is not to be scaled blindly: `what` it concerns, names of `foods` or words of cooking, and advice."""

    kind: str
    what: str
    foods: tuple[str, ...]
    advice: str
    source: str


@dataclass(frozen=True, slots=True)
class RoundingEffect:
    """What rounding changes in one container: key of the food component, exact and as shown, in its unit."""

    key: str
    exact: float
    shown: float

    @property
    def change(self) -> float:
        """Relative change (0.01 is 1 %); 0 where there is nothing to change."""
        return self.shown / self.exact - 1.0 if self.exact else 0.0


@dataclass(frozen=True, slots=True)
class ScaledBatch:
    """A batch for another amount.

    batch: as read. factor: of every amount. containers: how many it fills now. exact: the batch with exact amounts;
    shown: with the amounts as written for the kitchen. lines: in the order of the recipe. reason: why this factor.
    """

    batch: Batch
    factor: Fraction
    containers: int
    exact: Batch
    shown: Batch
    lines: tuple[ScaledLine, ...]
    cautions: tuple[Caution, ...] = ()
    effects: tuple[RoundingEffect, ...] = ()
    reason: str = ""

    @property
    def portion_factor(self) -> float:
        """Size of a container's share, compared with the one of the recipe as read."""
        return float(self.factor) * self.batch.containers / self.containers
