"""Batches and price lists as texts, for tests of buying."""

from collections.abc import Sequence
from datetime import date

from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.planning.cost import cost_of
from mealcalc.planning.price_rows import price_rows
from mealcalc.planning.prices import PriceBook
from mealcalc.planning.purchases import all_purchases, purchases_of
from mealcalc.recipe.reader import read_text
from mealcalc.recipe.source import make_source
from mealcalc.records import BatchResult
from mealcalc.records.purchases import BatchCost, PriceRow, Purchase

TODAY = date(2026, 11, 24)
HEADER = "item,pack size,price,currency,date,shop section,store,food code"


def calculated(database: FoodDatabase, *lines: str, containers: int = 1, region: str = "uk") -> BatchResult:
    """A plain batch of these lines."""
    text = f"region: {region}\ncontainers: {containers}\n" + "\n".join(lines) + "\n"
    batch = read_text(text, "list.txt").batch
    assert batch is not None
    return calculate(batch, database)


def bought(database: FoodDatabase, *lines: str, region: str = "uk") -> list[Purchase]:
    """What must be bought for a plain batch of these lines."""
    return list(all_purchases(purchases_of(calculated(database, *lines, region=region), database)))


def prices(*rows: str, header: str = HEADER, today: date = TODAY) -> tuple[PriceRow, ...]:
    """The usable rows of a price list."""
    return price_rows(make_source("\n".join((header, *rows)) + "\n", "prices.csv"), today)[0]


def findings(*rows: str, header: str = HEADER, today: date = TODAY) -> list[str]:
    """Codes of what is wrong with a price list."""
    return [d.code for d in price_rows(make_source("\n".join((header, *rows)) + "\n", "prices.csv"), today)[1]]


def costed(
    database: FoodDatabase, lines: Sequence[str], rows: Sequence[str], containers: int = 1, region: str = "uk"
) -> BatchCost:
    """The cost of a plain batch."""
    result = calculated(database, *lines, containers=containers, region=region)
    return cost_of(result, PriceBook(prices(*rows), database))
