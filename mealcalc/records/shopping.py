"""Records of a shopping list over several batches."""

from dataclasses import dataclass
from decimal import Decimal

from mealcalc.diagnostics import Diagnostic, Span
from mealcalc.money import ZERO
from mealcalc.records.purchases import FoodKey, PacksBought, Purchase
from mealcalc.records.results import BatchResult


@dataclass(frozen=True, slots=True)
class BatchToShop:
    """A calculated batch and how many times it is made."""

    result: BatchResult
    factor: float = 1.0

    @property
    def containers(self) -> float:
        """Containers that are made."""
        return self.result.batch.containers * self.factor


@dataclass(frozen=True, slots=True)
class PantryRow:
    """One row of a list of what is at home. pack: the amount as written, '' for as much as is ever needed."""

    item: str
    pack: str
    span: Span
    code: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class NeededFor:
    """What one line of one batch needs of an item. batch: number of the batch in the list, from 0."""

    batch: int
    purchase: Purchase


@dataclass(frozen=True, slots=True)
class TradeAmount:
    """How much to ask for in a shop.

    number: rounded up. exact: not rounded. unit: g, ml, or a count unit (piece, bunch, can). each_g: grams of one,
    where a line states it.
    """

    number: float
    exact: float
    unit: str
    each_g: float | None = None


@dataclass(frozen=True, slots=True)
class ShoppingItem:
    """A food to buy, for all lines that need it.

    needed_g: grams as purchased that the lines need together, None where no weight is known. at_home: share of it that
    is at home (0 to 1). amounts: what is left to buy, empty where nothing is. packs: those of the price list that hold
    it. sure: False where the food of a line is a guess.
    """

    key: FoodKey
    name: str
    section: str
    needed: tuple[NeededFor, ...]
    needed_g: float | None
    at_home: float = 0.0
    amounts: tuple[TradeAmount, ...] = ()
    packs: PacksBought | None = None
    sure: bool = True

    @property
    def to_buy_g(self) -> float | None:
        """Grams as purchased that are left to buy."""
        return None if self.needed_g is None else self.needed_g * (1.0 - self.at_home)


@dataclass(frozen=True, slots=True)
class UnmeasuredLine:
    """A line that cannot be added to others, since its food or its weight is not known; `times` it is needed."""

    batch: int
    text: str
    optional: bool
    times: float = 1.0
    used_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """What to buy for several batches.

    items: in the order of the shop's sections. optional: of lines that may be left out. at_home: items of which nothing
    is left to buy. to_taste: foods without an amount. in_words: lines kept in the cook's words. currency: of the price
    list, '' where there is none.
    """

    batches: tuple[BatchToShop, ...]
    items: tuple[ShoppingItem, ...]
    optional: tuple[ShoppingItem, ...]
    at_home: tuple[ShoppingItem, ...]
    to_taste: tuple[str, ...]
    in_words: tuple[UnmeasuredLine, ...]
    priced: bool = False
    currency: str = ""
    diagnostics: tuple[Diagnostic, ...] = ()

    @property
    def cost(self) -> Decimal:
        """Cost of the packs of all items, optional ones left out, as far as prices are known."""
        return sum((item.packs.cost for item in self.items if item.packs is not None), ZERO)

    @property
    def without_price(self) -> tuple[ShoppingItem, ...]:
        """Items that have no price."""
        return tuple(item for item in self.items if item.packs is None)
