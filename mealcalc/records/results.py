"""Records of results: what cooking does to a line, contributions, totals that may be incomplete, the whole batch."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from mealcalc.components import MACRO_KEYS
from mealcalc.diagnostics import Diagnostic
from mealcalc.records.ingredients import WeighedIngredient
from mealcalc.records.recipe import Batch, BatchComponent, LineStatus, RecipeLine


class CookedMassSource(StrEnum):
    """How the mass of a cooked component came about; all but the mass as weighed in have a spread of their own."""

    WEIGHED_POT = "weighed_pot"
    AS_WEIGHED_IN = "as_weighed_in"
    YIELD = "yield"
    STEAM = "steam"


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
    def sub_results(self) -> Mapping[str, "BatchResult"]:
        """Calculated batches that this one uses as foods, by the code of their food in the table 'own'."""
        return {sub.code: sub.result for sub in self.batch.sub_batches if sub.result is not None}

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
