"""Records of a recipe as read: lines, components, variants, the batch."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from mealcalc.diagnostics import Diagnostic, Span
from mealcalc.records.foods import Food, HouseholdMeasure
from mealcalc.records.targets import Targets

if TYPE_CHECKING:
    from mealcalc.records.results import BatchResult


class LineKind(StrEnum):
    """What a line of a recipe is: a food, or something that is not eaten (heading, note, equipment)."""

    FOOD = "food"
    NOT_FOOD = "not_food"


class LineStatus(StrEnum):
    """What became of a line; the values are part of the stable machine shape."""

    MATCHED = "matched"
    UNSURE = "unsure"
    UNMATCHED = "unmatched"
    NOT_COUNTED = "not_counted"
    NOT_FOOD = "not_food"


class FoodState(StrEnum):
    """The state in which a food is weighed or published."""

    RAW = "raw"
    COOKED = "cooked"
    DRY = "dry"
    CANNED = "canned"
    FROZEN = "frozen"


@dataclass(frozen=True, slots=True)
class Amount:
    """A written amount: a range (`low` equals `high` unless a range is written) of a canonical unit (see `units`).

    implied: no number is written (`a good glug`, `a few sprigs`); the number is ours and is not reported as the cook's.
    """

    low: float
    high: float
    unit: str
    implied: bool = False

    @property
    def middle(self) -> float:
        """A range counts at its middle."""
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True)
class LineSettings:
    """What the cook settles in square brackets at the end of a line; None where nothing is said.

    used_share: share of the line that is eaten (0 to 1). food: (table, code). mass_g: edible grams, overruling all
    else. state: as `FoodState`. as_bought: True for a weight that still carries refuse, False for edible. counted:
    False for `[count no]`.
    """

    used_share: float | None = None
    food: tuple[str, str] | None = None
    mass_g: float | None = None
    state: FoodState | None = None
    as_bought: bool | None = None
    counted: bool = True


@dataclass(frozen=True, slots=True)
class RecipeLine:
    """One line of a recipe, read but not yet matched.

    amount: as written first, multiplied out (`2 x 400 g cans` is 800 g); None where no amount is written.
    measured: a weight or volume that overrules `amount` when grams are wanted (`1 aubergine (about 450 g)`), total.
    name: the food phrase, without amount, preparation and remarks, in the cook's words.
    aside: phrases in parentheses that are neither amounts nor remarks, such as a second name (`yoghurt (dahi)`);
    several
        are parted by '; '.
    container: canonical unit of the pack named after a weight (`can`, `pack`, ...), '' if none.
    packs: number of packs or pieces that the amount was multiplied out from (`2 x 400 g cans`: 2); None where none was.
    size: small, medium, large, extra large, or an inch size such as '8 inch'; '' if none.
    state: the state said by the words of the line; None if it says nothing.
    fat_percent: fat in g per 100 g where the line states it (10 % fat, 80 % lean, 80/20); None otherwise.
    words: lower-case words of the line that bear on weights and states (drained, bone in, peeled, ...), canonical.
    alternatives: other foods the line allows (`X or Y`): kept as choices and for allergens, never counted.
    """

    text: str
    span: Span
    component: str = ""
    kind: LineKind = LineKind.FOOD
    amount: Amount | None = None
    measured: Amount | None = None
    name: str = ""
    aside: str = ""
    preparation: str = ""
    container: str = ""
    packs: float | None = None
    size: str = ""
    state: FoodState | None = None
    fat_percent: float | None = None
    words: frozenset[str] = frozenset()
    alternatives: tuple[str, ...] = ()
    optional: bool = False
    to_taste: bool = False
    settings: LineSettings = LineSettings()
    diagnostics: tuple[Diagnostic, ...] = ()


@dataclass(frozen=True, slots=True)
class BatchComponent:
    """A part of the batch cooked together: a base, a main, a sauce.

    cooked_mass_g: weight of the cooked component from the scale, in grams; None if it was not weighed.
    fat: `kept` or `drained`. cooking: the cook's words for the method. filled_share: share (0 to 1) of the cooked
    component that goes into the containers; the rest stays in the pan or is left over.
    """

    name: str
    lines: tuple[RecipeLine, ...]
    cooking: str = ""
    fat: str = "kept"
    cooked_mass_g: float | None = None
    span: Span | None = None
    filled_share: float = 1.0


@dataclass(frozen=True, slots=True)
class Variant:
    """A named change of a batch. Keys of `replace` and entries of `leave_out` are words of the lines they mean."""

    name: str
    replace: Mapping[str, RecipeLine] = field(default_factory=dict)
    leave_out: tuple[str, ...] = ()
    add: Mapping[str, tuple[RecipeLine, ...]] = field(default_factory=dict)
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Eater:
    """Somebody who eats of the batch.

    share: size of their container, 1 being a usual one. containers: how many of the batch are theirs, None where the
    containers are divided among those of whom nothing is said.
    """

    name: str
    share: float = 1.0
    containers: int | None = None
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class SubBatch:
    """A batch of its own that another one uses as a food: a stock, a spice mix, a sauce.

    name, names: what recipe lines call it. code: of its food in the table 'own'. path: of its file, from the folder of
    the file that names it. measures: weights of a cup, piece, slice or scoop of it. food: the cooked batch per 100 g,
    None until the batch is calculated. result: the calculated batch, None until then and where it cannot be.
    """

    name: str
    code: str
    path: str
    names: tuple[str, ...] = ()
    measures: tuple[HouseholdMeasure, ...] = ()
    span: Span | None = None
    food: Food | None = None
    result: "BatchResult | None" = None


@dataclass(frozen=True, slots=True)
class Batch:
    """A whole recipe as read: title, region, containers, components and the cook's own foods.

    own_foods: from labels and tests. sub_batches: foods that are batches of their own.
    """

    title: str
    components: tuple[BatchComponent, ...]
    region: str | None = None
    containers: int = 1
    container_volume_ml: float | None = None
    variants: tuple[Variant, ...] = ()
    own_foods: tuple[Food, ...] = ()
    file: str = ""
    sub_batches: tuple[SubBatch, ...] = ()
    eaters: tuple[Eater, ...] = ()
    targets: Targets | None = None

    @property
    def known_foods(self) -> tuple[Food, ...]:
        """The cook's own foods, and those sub-batches that have been calculated."""
        return (*self.own_foods, *(sub.food for sub in self.sub_batches if sub.food is not None))

    @property
    def lines(self) -> tuple[RecipeLine, ...]:
        """All lines in the order of the recipe."""
        return tuple(line for component in self.components for line in component.lines)
