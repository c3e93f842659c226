"""Records of buying: what a line needs from the shop, prices, the cost of a batch."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from mealcalc.diagnostics import Diagnostic, Span
from mealcalc.money import ZERO
from mealcalc.records.ingredients import WeighedIngredient
from mealcalc.records.recipe import RecipeLine
from mealcalc.records.results import BatchResult


@dataclass(frozen=True, slots=True)
class FoodKey:
    """What is the same food in a shop.

    table, code: of the food; both '' for a food that no table holds, which goes by its `words` in normal form.
    default_food: its everyday name, which parts cherry tomatoes from others of one code. fat: what a blend of two
    published fat levels is made of, '' otherwise.
    """

    table: str = ""
    code: str = ""
    default_food: str = ""
    frozen: bool = False
    fat: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Purchase:
    """What must be bought for one line.

    mass_g: grams as purchased, with peel, bone and the liquid of a can; None where unknown. edible_share: edible grams
    per gram as purchased (0 to 1). ground: why. volume_ml: where the line states a volume. count, unit: pieces,
    bunches, heads or packs where the line counts them. pack_g: grams of one such pack where the line states them.
    from_tap: water that costs nothing. used_in: names of the batches of their own through which a line needs this.
    """

    ingredient: WeighedIngredient
    key: FoodKey
    mass_g: float | None
    edible_share: float = 1.0
    ground: str = ""
    volume_ml: float | None = None
    count: float | None = None
    unit: str = ""
    pack_g: float | None = None
    from_tap: bool = False
    used_in: tuple[str, ...] = ()

    @property
    def line(self) -> RecipeLine:
        """The recipe line that needs it."""
        return self.ingredient.matched.line


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One row of a price list as read. pack: pack size as written. code: (table, code), or None."""

    item: str
    pack: str
    price: Decimal
    currency: str
    day: date | None
    span: Span
    section: str = ""
    store: str = ""
    code: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Price:
    """A row of a price list with its food; `purchase` is one pack of it."""

    row: PriceRow
    purchase: Purchase


class CostStatus(StrEnum):
    """What is known of the cost of a line; the values are part of the machine shape."""

    PRICED = "priced"
    FREE = "free"
    NO_PRICE = "no_price"
    NO_AMOUNT = "no_amount"
    NOT_COMPARABLE = "not_comparable"
    NOT_FOOD = "not_food"


NOT_KNOWN = (CostStatus.NO_PRICE, CostStatus.NOT_COMPARABLE)
"""Lines that cost something, and nobody knows what: they make a total incomplete."""


@dataclass(frozen=True, slots=True)
class PurchaseCost:
    """The cost of one purchase. packs: packs of the price that are used, not rounded. used: what they cost, not
    rounded."""

    purchase: Purchase
    status: CostStatus
    price: Price | None = None
    packs: float = 0.0
    used: Decimal = ZERO


@dataclass(frozen=True, slots=True)
class LineCost:
    """The cost of one line: of one purchase, or of all that a batch of its own needs. used: not rounded."""

    line: RecipeLine
    purchases: tuple[PurchaseCost, ...]

    @property
    def used(self) -> Decimal:
        """Cost of what is used, as far as it is known."""
        return sum((purchase.used for purchase in self.purchases), ZERO)

    @property
    def status(self) -> CostStatus:
        """The worst of its purchases."""
        found = {purchase.status for purchase in self.purchases}
        order = (*NOT_KNOWN, CostStatus.PRICED, CostStatus.FREE, CostStatus.NO_AMOUNT, CostStatus.NOT_FOOD)
        return next((status for status in order if status in found), CostStatus.NOT_FOOD)


@dataclass(frozen=True, slots=True)
class ComponentCost:
    """The cost of a component of the batch; `used` is not rounded."""

    name: str
    lines: tuple[LineCost, ...]

    @property
    def used(self) -> Decimal:
        """Cost of what is used, as far as it is known."""
        return sum((line.used for line in self.lines), ZERO)

    @property
    def complete(self) -> bool:
        """Whether every line that costs something has a price."""
        return not any(line.status in NOT_KNOWN for line in self.lines)


@dataclass(frozen=True, slots=True)
class PacksBought:
    """Packs of one price that must be bought for the batch.

    needed: packs used, not rounded. packs: whole packs. left_g: grams left over, None where no weight is known.
    """

    price: Price
    needed: float
    packs: int
    used: Decimal

    @property
    def cost(self) -> Decimal:
        """What the packs cost."""
        return self.price.row.price * self.packs

    @property
    def left_share(self) -> float:
        """Packs left over."""
        return max(0.0, self.packs - self.needed)

    @property
    def left_g(self) -> float | None:
        """Grams as purchased left over."""
        mass_g = self.price.purchase.mass_g
        return None if mass_g is None else mass_g * self.left_share


@dataclass(frozen=True, slots=True)
class BatchCost:
    """The cost of a batch: of what is used, and of the packs that must be bought. Not rounded."""

    result: BatchResult
    currency: str
    components: tuple[ComponentCost, ...]
    bought: tuple[PacksBought, ...]
    diagnostics: tuple[Diagnostic, ...] = field(default=())

    @property
    def used(self) -> Decimal:
        """Cost of what is used, as far as it is known."""
        return sum((component.used for component in self.components), ZERO)

    @property
    def packs_cost(self) -> Decimal:
        """Cost of the packs bought, as far as it is known."""
        return sum((packs.cost for packs in self.bought), ZERO)

    @property
    def complete(self) -> bool:
        """Whether every line that costs something has a price."""
        return all(component.complete for component in self.components)

    @property
    def lines(self) -> tuple[LineCost, ...]:
        """Costs of all lines in the order of the recipe."""
        return tuple(line for component in self.components for line in component.lines)

    @property
    def per_container(self) -> Decimal:
        """Cost of what one container uses."""
        return self.used / self.result.batch.containers
