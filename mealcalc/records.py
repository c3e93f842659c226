"""The frozen records handed from stage to stage.

    recipe text -> RecipeLine -> MatchedFood -> WeighedIngredient -> Contribution -> totals per component and container

Each record keeps its predecessor, so that any printed figure traces back to a line of the recipe, a food code, the
edition of a table and the ground of every factor.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from mealcalc.components import MACRO_KEYS
from mealcalc.diagnostics import Diagnostic, Span
from mealcalc.values import Composition

# --- recipe -----------------------------------------------------------------------------------------------------------


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
    fat: `kept` or `drained`. cooking: the cook's words for the method.
    """

    name: str
    lines: tuple[RecipeLine, ...]
    cooking: str = ""
    fat: str = "kept"
    cooked_mass_g: float | None = None
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Variant:
    """A named change of a batch. Keys of `replace` and entries of `leave_out` are words of the lines they mean."""

    name: str
    replace: Mapping[str, RecipeLine] = field(default_factory=dict)
    leave_out: tuple[str, ...] = ()
    add: Mapping[str, tuple[RecipeLine, ...]] = field(default_factory=dict)
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Batch:
    """A whole recipe as read: title, region, containers, components and the cook's own foods."""

    title: str
    components: tuple[BatchComponent, ...]
    region: str | None = None
    containers: int = 1
    container_volume_ml: float | None = None
    variants: tuple[Variant, ...] = ()
    own_foods: tuple["Food", ...] = ()
    file: str = ""

    @property
    def lines(self) -> tuple[RecipeLine, ...]:
        """All lines in the order of the recipe."""
        return tuple(line for component in self.components for line in component.lines)


# --- foods ------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class HouseholdMeasure:
    """A published measure of a food: `amount` `description` weighs `mass_g` (edible portion)."""

    amount: float
    description: str
    mass_g: float


@dataclass(frozen=True, slots=True)
class EnergyFactors:
    """Specific energy factors of a food, kcal per g of protein, fat and carbohydrate; None where not published."""

    protein: float | None = None
    fat: float | None = None
    carbohydrate: float | None = None


@dataclass(frozen=True, slots=True)
class Food:
    """A food of a published table, or the cook's own, with its composition per 100 g edible portion.

    refuse_percent: inedible share of the food as purchased, percent. nitrogen_factor: g protein per g nitrogen.
    names: other names by which the food is known.
    """

    table: str
    edition: str
    code: str
    description: str
    group: str
    composition: Composition
    measures: tuple[HouseholdMeasure, ...] = ()
    names: tuple[str, ...] = ()
    scientific_name: str = ""
    refuse_percent: float | None = None
    refuse_description: str = ""
    nitrogen_factor: float | None = None
    energy_factors: EnergyFactors = EnergyFactors()


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


# --- calculation ------------------------------------------------------------------------------------------------------


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


class CookedMassSource(StrEnum):
    """How the mass of a cooked component came about; all but the mass as weighed in have a spread of their own."""

    WEIGHED_POT = "weighed_pot"
    AS_WEIGHED_IN = "as_weighed_in"
    YIELD = "yield"
    STEAM = "steam"


@dataclass(frozen=True, slots=True)
class WeighedIngredient:
    """A matched line with its edible mass.

    mass_g: edible mass in the state of the matched food, before `used_share`; None when it cannot be known.
    ground: why we believe the mass, for the reader (`scale: 800 g x 0.60 drained (common practice, no source)`).
    sources: the steps by which the mass came about, for its uncertainty.
    """

    matched: MatchedFood
    mass_g: float | None
    used_share: float = 1.0
    ground: str = ""
    diagnostics: tuple[Diagnostic, ...] = ()
    sources: tuple[MassSource, ...] = ()

    @property
    def eaten_mass_g(self) -> float | None:
        """Edible mass that ends up in the dish, in grams."""
        return None if self.mass_g is None else self.mass_g * self.used_share


@dataclass(frozen=True, slots=True)
class LineCooking:
    """What cooking does to one line.

    method: of the vocabulary of cooking methods, '' where the line is not cooked. retention: share kept (0 to 1) by
    food component key, only where a factor applies. yield_share: cooked grams per gram that goes in, None where the
    whole pot is balanced instead. fat_lost_g: fat poured off, g. poured_off: cooking liquid that does not stay in the
    dish. The grounds name the factor rows with their sources.
    """

    method: str = ""
    food_group: str = ""
    retention: Mapping[str, float] = field(default_factory=dict)
    retention_ground: str = ""
    yield_share: float | None = None
    yield_ground: str = ""
    fat_lost_g: float = 0.0
    fat_ground: str = ""
    poured_off: bool = False
    diagnostics: tuple[Diagnostic, ...] = ()


NOT_COOKED = LineCooking()


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one line brings to the batch: food component key -> amount in the component's unit, None where unknown.

    amounts: after cooking. raw: as weighed in. Water that a pot gives off or takes up belongs to no line: see the
    component.
    """

    ingredient: WeighedIngredient
    amounts: Mapping[str, float | None]
    raw: Mapping[str, float | None] = field(default_factory=dict)
    cooking: LineCooking = NOT_COOKED

    @property
    def line(self) -> RecipeLine:
        """The recipe line that contributes."""
        return self.ingredient.matched.line


@dataclass(frozen=True, slots=True)
class Total:
    """A sum over lines that may be incomplete.

    amount: sum of what is known, in the component's unit. unknown_lines: file lines whose value is unknown.
    known_share: share of the counted mass whose value is known (0 to 1).
    """

    amount: float
    unknown_lines: tuple[int, ...] = ()
    known_share: float = 1.0

    @property
    def complete(self) -> bool:
        """Whether every line's value is known."""
        return not self.unknown_lines

    def divided_by(self, parts: float) -> "Total":
        """The same total for one of `parts` equal parts."""
        return Total(self.amount / parts, self.unknown_lines, self.known_share)


@dataclass(frozen=True, slots=True)
class ComponentResult:
    """Totals of one component of the batch.

    raw_mass_g: edible mass of all counted lines as weighed in. cooked_mass_g: mass that is portioned, with its source
    and, for the reader, its ground. water_change_g: water taken up (positive) or given off (negative) in cooking; it is
    in the total of water.
    """

    component: BatchComponent
    contributions: tuple[Contribution, ...]
    totals: Mapping[str, Total]
    raw_mass_g: float
    cooked_mass_g: float
    cooked_mass_ground: str
    method: str = ""
    water_change_g: float = 0.0
    cooked_mass_source: CookedMassSource = CookedMassSource.AS_WEIGHED_IN
    diagnostics: tuple[Diagnostic, ...] = ()

    @property
    def cooked_mass_known(self) -> bool:
        """Whether the cooked mass is that of the whole component: weighed, or no counted line without a mass."""
        left_out = (LineStatus.NOT_FOOD, LineStatus.NOT_COUNTED)
        counted = [c.ingredient for c in self.contributions if c.ingredient.matched.status not in left_out]
        all_known = all(ingredient.mass_g is not None for ingredient in counted)
        return self.cooked_mass_g > 0 and (all_known or self.cooked_mass_source is CookedMassSource.WEIGHED_POT)

    @property
    def per_100g(self) -> Mapping[str, Total] | None:
        """Totals per 100 g of the cooked component; None where its mass is not known."""
        if not self.cooked_mass_known:
            return None
        return {key: total.divided_by(self.cooked_mass_g / 100.0) for key, total in self.totals.items()}


@dataclass(frozen=True, slots=True)
class BatchResult:
    """The answer for a whole batch, keeping every step that led to it."""

    batch: Batch
    region: str
    components: tuple[ComponentResult, ...]
    totals: Mapping[str, Total]
    diagnostics: tuple[Diagnostic, ...] = ()

    @property
    def contributions(self) -> tuple[Contribution, ...]:
        """Contributions of all lines in the order of the recipe."""
        return tuple(c for component in self.components for c in component.contributions)

    @property
    def per_container(self) -> Mapping[str, Total]:
        """Totals of one container, all containers being equal."""
        return {key: total.divided_by(self.batch.containers) for key, total in self.totals.items()}

    @property
    def complete(self) -> bool:
        """Whether energy, fat, carbohydrate and protein are known for every line."""
        return all(self.totals[key].complete for key in MACRO_KEYS)

    @property
    def incomplete(self) -> Mapping[str, tuple[int, ...]]:
        """Food component key -> file lines whose value is unknown, for the components where any is."""
        return {key: total.unknown_lines for key, total in self.totals.items() if total.unknown_lines}
