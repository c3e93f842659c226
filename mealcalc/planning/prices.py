"""Price lists matched like recipe lines: which price serves what must be bought.

A price serves a purchase of the same food (table, code, fat level, frozen or not), and of the same words where no table
holds it. Of several, those in the words of the line come first, then those of the same everyday name; of what is left,
the packs that cost least in all for the amount needed.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.planning.packs import weigh_packs
from mealcalc.planning.purchases import counted_alike, words_of_line
from mealcalc.records import Food, LineStatus
from mealcalc.records.purchases import FoodKey, Price, PriceRow, Purchase

NEARLY_WHOLE = 1e-6
"""Packs by which a number of packs may be above a whole one and still be that: rounding of arithmetic."""


class PriceList:
    """Prices with their foods, as a cook in one region means them.

    Parameters
    ----------
    prices : iterable of Price
        All of one currency.
    """

    def __init__(self, prices: Iterable[Price]) -> None:
        self.prices = tuple(prices)
        self._by_food: dict[FoodKey, list[Price]] = defaultdict(list)
        self._by_words: dict[str, list[Price]] = defaultdict(list)
        for price in self.prices:
            self._by_food[replace(price.purchase.key, default_food="")].append(price)
            self._by_words[words_of_line(price.purchase)].append(price)

    @property
    def currency(self) -> str:
        """Its one currency, '' where it names none."""
        return self.prices[0].row.currency if self.prices else ""

    def candidates(self, purchases: Sequence[Purchase]) -> list[Price]:
        """The prices that serve purchases of one food: those in the words of a line, else those of its name, else all.

        Prices in the first pack of the list come first.
        """
        key = purchases[0].key
        words = {words_of_line(purchase) for purchase in purchases}
        same = list(self._by_food.get(replace(key, default_food=""), ())) if key.code else []
        named = [price for text in sorted(words) for price in self._by_words.get(text, ())]
        if not same:
            # No table holds the food of the line, or none that of the price: the words must do.
            unknown = [price for price in named if not (key.code and price.purchase.key.code)]
            return [price for price in unknown if price.purchase.key.frozen == key.frozen]
        in_words = [price for price in same if words_of_line(price.purchase) in words]
        of_name = [price for price in same if price.purchase.key.default_food == key.default_food]
        return in_words or of_name or same

    def best(self, purchases: Sequence[Purchase]) -> Price | None:
        """The price whose packs cost least for purchases of one food; None where none can be compared with them all."""
        offers: list[tuple[Decimal, Decimal, int, Price]] = []
        for place, price in enumerate(self.candidates(purchases)):
            needed = [packs_needed(purchase, price) for purchase in purchases]
            packs = sum(number for number in needed if number is not None)
            if None in needed or not packs:
                continue
            cost = price.row.price * whole_packs(packs)
            offers.append((cost, price.row.price * Decimal(repr(packs)), place, price))
        return min(offers)[3] if offers else None


class PriceBook:
    """A price list as read, matched once for each region and set of own foods that it is asked about.

    Parameters
    ----------
    rows : sequence of PriceRow
        As read, in one currency.
    database : FoodDatabase
        Where the foods of the prices come from.
    decisions : Decisions, optional
        The cook's saved choices, which hold for prices, too.
    """

    def __init__(self, rows: Sequence[PriceRow], database: FoodDatabase, decisions: Decisions | None = None) -> None:
        self.rows = tuple(rows)
        self.database = database
        self.decisions = decisions
        self._matched: dict[tuple[object, ...], tuple[PriceList, tuple[Diagnostic, ...]]] = {}

    def matched(self, region: str | None, own_foods: Sequence[Food] = ()) -> tuple[PriceList, tuple[Diagnostic, ...]]:
        """The list as a cook of the region means it, and what is wrong with its packs; see `match_prices`."""
        key = (region, *((food.code, food.description, food.names) for food in own_foods))
        if key not in self._matched:
            self._matched[key] = match_prices(self.rows, self.database, region, self.decisions, own_foods)
        return self._matched[key]


def packs_needed(purchase: Purchase, price: Price) -> float | None:
    """Packs of a price that a purchase needs, not rounded; None where their amounts cannot be compared."""
    pack = price.purchase
    if counted_alike(purchase, pack):
        return (purchase.count or 0.0) / (pack.count or 1.0)
    if purchase.mass_g is not None and pack.mass_g:
        return purchase.mass_g / pack.mass_g
    if purchase.volume_ml is not None and pack.volume_ml:
        return purchase.volume_ml / pack.volume_ml
    if purchase.count is not None and pack.count and purchase.unit == pack.unit:
        return purchase.count / pack.count
    return None


def whole_packs(packs: float) -> int:
    """Whole packs that hold at least `packs`; one at least where anything is needed."""
    return max(1, math.ceil(packs - NEARLY_WHOLE)) if packs > 0.0 else 0


def match_prices(
    rows: Sequence[PriceRow],
    database: FoodDatabase,
    region: str | None,
    decisions: Decisions | None = None,
    own_foods: Sequence[Food] = (),
) -> tuple[PriceList, tuple[Diagnostic, ...]]:
    """The foods of a price list, and what is wrong with its packs.

    Parameters
    ----------
    rows : sequence of PriceRow
        As read.
    database : FoodDatabase
        Where foods come from.
    region : str or None
        Region of the recipe that is priced: decides names and the sizes of pieces and packs.
    decisions : Decisions, optional
        The cook's saved choices.
    own_foods : sequence of Food
        Foods of the batch, which prices may name.
    """
    found: list[Diagnostic] = []
    prices = []
    for row, purchase in weigh_packs(rows, database, region, decisions, own_foods):
        if purchase is None:
            found.append(_bad_pack(row))
            continue
        matched = purchase.ingredient.matched
        if matched.status is LineStatus.UNSURE and matched.food is not None:
            message = f"the price of '{row.item[:60]}' is taken for {matched.food.description}, but that is a guess"
            hint = f"confirm it with the food code {matched.food.table}:{matched.food.code} in the price list"
            found.append(Diagnostic("unsure-price", Severity.NOTE, message, row.span, hint))
        prices.append(Price(row, purchase))
    return PriceList(prices), tuple(found)


def _bad_pack(row: PriceRow) -> Diagnostic:
    return Diagnostic(
        "bad-pack-size",
        Severity.ERROR,
        f"the pack size '{row.pack[:40]}' of '{row.item[:60]}' cannot be read: the price is not used",
        row.span,
        "write a number and a unit, such as 400 g, 750 ml, 12 pieces or 1 bunch",
    )
