"""Prices beside a batch, for commands that are about something else."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from mealcalc.diagnostics import Diagnostic
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.records import BatchResult

if TYPE_CHECKING:
    from mealcalc.planning.comparison import CostOf


@dataclass(frozen=True, slots=True)
class LineCosts:
    """Cost of each line of a batch in order, None where it is not known; `lines` is None without a price list."""

    lines: Sequence[Decimal | None] | None = None
    currency: str = ""
    diagnostics: tuple[Diagnostic, ...] = ()


@dataclass(frozen=True, slots=True)
class BatchCosts:
    """What tells the cost of a whole batch; `cost_of` is None without a price list."""

    cost_of: "CostOf | None" = None
    currency: str = ""
    diagnostics: tuple[Diagnostic, ...] = ()


def line_costs(
    prices: str | None, result: BatchResult, database: FoodDatabase, decisions: Decisions | None
) -> LineCosts:
    """The cost of each line of a calculated batch by a price list; UsageError where there is no such file."""
    if prices is None:
        return LineCosts()
    from mealcalc.cli.prices import read_prices
    from mealcalc.planning.cost import cost_of
    from mealcalc.planning.prices import PriceBook
    from mealcalc.records.purchases import NOT_KNOWN

    rows, found = read_prices(prices)
    cost = cost_of(result, PriceBook(rows, database, decisions), diagnostics=found)
    lines = [None if line.status in NOT_KNOWN else line.used for line in cost.lines]
    return LineCosts(lines, cost.currency, cost.diagnostics)


def batch_costs(prices: str | None, database: FoodDatabase, decisions: Decisions | None) -> BatchCosts:
    """What tells the cost of a batch by a price list; UsageError where there is no such file."""
    if prices is None:
        return BatchCosts()
    from mealcalc.cli.prices import read_prices
    from mealcalc.planning.cost import whole_cost
    from mealcalc.planning.prices import PriceBook

    rows, found = read_prices(prices)
    currency = rows[0].currency if rows else ""
    return BatchCosts(whole_cost(PriceBook(rows, database, decisions)), currency, found)
