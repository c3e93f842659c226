"""The cost of a batch by a price list: of what is used, and of the packs that must be bought for it.

cost of a line = packs used x price of a pack, packs used = grams as purchased / grams in a pack. Money is Decimal and
exact until it is shown; `money.split` then makes shown parts add up to the shown total.
"""

from collections import defaultdict
from collections.abc import Callable, Sequence
from decimal import Decimal

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.planning.prices import PriceBook, PriceList, packs_needed, whole_packs
from mealcalc.planning.purchases import known_foods, purchases_of
from mealcalc.records import BatchResult, LineStatus
from mealcalc.records.purchases import (
    BatchCost,
    ComponentCost,
    CostStatus,
    FoodKey,
    LineCost,
    PacksBought,
    Price,
    PriceRow,
    Purchase,
    PurchaseCost,
)


def cost_of(result: BatchResult, book: PriceBook, *, diagnostics: Sequence[Diagnostic] = ()) -> BatchCost:
    """What a calculated batch costs.

    Parameters
    ----------
    result : BatchResult
        The calculated batch.
    book : PriceBook
        The price list.
    diagnostics : sequence of Diagnostic
        What was found while reading the list; the cost carries it on.

    Returns
    -------
    BatchCost
        Not rounded. A line without a price is named in the diagnostics and leaves the cost incomplete.
    """
    prices, of_prices = book.matched(result.region, known_foods(result))
    found = purchases_of(result, book.database, book.decisions)
    chosen = _chosen(prices, [purchase for _, purchases in found for purchase in purchases])
    costs = [LineCost(c.line, tuple(_priced(purchase, prices, chosen) for purchase in ps)) for c, ps in found]
    components, position = [], 0
    for component in result.components:
        part = costs[position : position + len(component.contributions)]
        position += len(part)
        components.append(ComponentCost(component.component.name, tuple(part)))
    return BatchCost(
        result,
        prices.currency,
        tuple(components),
        _bought(costs),
        (*diagnostics, *_in_use(of_prices, chosen), *(d for cost in costs for d in _without_price(cost))),
    )


def whole_cost(book: PriceBook) -> Callable[[BatchResult], Decimal | None]:
    """A function that gives the cost of what a calculated batch uses; None where a line has no price.

    For comparing many variants: prices are matched once.
    """

    def cost(result: BatchResult) -> Decimal | None:
        found = cost_of(result, book)
        return found.used if found.complete else None

    return cost


def _chosen(prices: PriceList, purchases: Sequence[Purchase]) -> dict[FoodKey, Price | None]:
    """The price of each food, chosen for all that the batch needs of it."""
    groups: dict[FoodKey, list[Purchase]] = defaultdict(list)
    for purchase in purchases:
        if not purchase.from_tap and _has_amount(purchase):
            groups[purchase.key].append(purchase)
    return {key: prices.best(group) for key, group in groups.items()}


def _priced(purchase: Purchase, prices: PriceList, chosen: dict[FoodKey, Price | None]) -> PurchaseCost:
    if purchase.from_tap:
        return PurchaseCost(purchase, CostStatus.FREE)
    if not _has_amount(purchase):
        return PurchaseCost(purchase, _without_amount(purchase))
    price = chosen[purchase.key]
    if price is None and (candidates := prices.candidates([purchase])):
        # Only this line cannot be compared with the prices, or another of the same food cannot.
        price = prices.best([purchase])
        if price is None:
            return PurchaseCost(purchase, CostStatus.NOT_COMPARABLE, candidates[0])
    if price is None:
        return PurchaseCost(purchase, CostStatus.NO_PRICE)
    packs = packs_needed(purchase, price)
    assert packs is not None
    return PurchaseCost(purchase, CostStatus.PRICED, price, packs, price.row.price * Decimal(repr(packs)))


def _has_amount(purchase: Purchase) -> bool:
    return (purchase.mass_g, purchase.volume_ml, purchase.count) != (None, None, None)


def _without_amount(purchase: Purchase) -> CostStatus:
    """A line to taste is left out of the cost and named; any other one without an amount is missing from it."""
    status = purchase.ingredient.matched.status
    if status is LineStatus.NOT_FOOD:
        return CostStatus.NOT_FOOD
    return CostStatus.NO_AMOUNT if purchase.line.amount is None else CostStatus.NO_PRICE


def _bought(costs: Sequence[LineCost]) -> tuple[PacksBought, ...]:
    """Whole packs of each price, for all lines that use it together."""
    used: dict[PriceRow, list[PurchaseCost]] = defaultdict(list)
    prices: dict[PriceRow, Price] = {}
    for cost in costs:
        for purchase in cost.purchases:
            if purchase.price is not None and purchase.status is CostStatus.PRICED:
                used[purchase.price.row].append(purchase)
                prices[purchase.price.row] = purchase.price
    bought = []
    for row, purchases in used.items():
        needed = sum(purchase.packs for purchase in purchases)
        worth = sum((purchase.used for purchase in purchases), Decimal(0))
        bought.append(PacksBought(prices[row], needed, whole_packs(needed), worth))
    return tuple(bought)


def _in_use(of_prices: Sequence[Diagnostic], chosen: dict[FoodKey, Price | None]) -> list[Diagnostic]:
    """Guesses matter only where the price is used; what is wrong with a row is told in any case."""
    spans = {price.row.span for price in chosen.values() if price is not None}
    return [d for d in of_prices if d.code != "unsure-price" or d.span in spans]


def _without_price(cost: LineCost) -> list[Diagnostic]:
    """What of a line has no price, or one that cannot be compared."""
    found = []
    for purchase in cost.purchases:
        line = purchase.purchase.line
        what = f"'{line.name or line.text.strip()}'"
        if purchase.purchase.used_in:
            what += f" in '{' in '.join(reversed(purchase.purchase.used_in))}'"
        if purchase.status is CostStatus.NO_PRICE:
            message = f"no price is listed for {what}: the cost is incomplete"
            hint = "add a row to the price list in the words of the line, or with its food code"
            found.append(Diagnostic("no-price", Severity.WARNING, message, cost.line.span, hint))
        elif purchase.status is CostStatus.NOT_COMPARABLE and purchase.price is not None:
            pack = purchase.price.row.pack
            message = (
                f"the price of {what} is for {pack}, which cannot be compared with the line: the cost is incomplete"
            )
            hint = "state the pack size in grams, or weigh the line"
            found.append(Diagnostic("price-not-comparable", Severity.WARNING, message, cost.line.span, hint))
    return found
