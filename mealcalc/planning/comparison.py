"""Ways to make a batch beside each other: figures of one container, and differences with how sure they are."""

from collections.abc import Callable, Sequence
from contextlib import nullcontext
from decimal import Decimal
from typing import TYPE_CHECKING

from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.matching.decisions import Decisions
from mealcalc.pipeline import calculate_all, how_different
from mealcalc.planning.options import options_of
from mealcalc.records import BatchResult
from mealcalc.records.comparison import (
    AVAILABLE,
    CARBOHYDRATE,
    COST,
    ENERGY,
    FAT,
    FIBRE,
    PROTEIN,
    PROTEIN_FOR_MONEY,
    PROTEIN_RATIO,
    ComparedFigure,
    ComparedOption,
    Comparison,
    Measure,
    Verdict,
)

if TYPE_CHECKING:
    from mealcalc.calculation.uncertainty import Interval, PairedSureness

CostOf = Callable[[BatchResult], Decimal | None]
"""The cost of a whole batch in the currency of a price list; None where it is not known."""

_OF_TABLES = (ENERGY, PROTEIN, FAT, CARBOHYDRATE, AVAILABLE, FIBRE)


def compare(
    result: BatchResult,
    database: FoodDatabase | None = None,
    decisions: Decisions | None = None,
    *,
    variants: bool = True,
    fat_levels: bool = False,
    optional: bool = False,
    swaps: Sequence[str] = (),
    containers: Sequence[int] = (),
    cost: CostOf | None = None,
    currency: str = "",
) -> Comparison:
    """Ways to make a batch beside each other, with 90 % intervals of the figures and of their differences.

    Common lines share their errors in both batches of a difference, so that it is as sure as what the two do not have
    in common (`calculation/uncertainty.py`).

    Parameters
    ----------
    result : BatchResult
        The batch as written, calculated.
    database : FoodDatabase, optional
        An open food database; by default the user's own.
    decisions : Decisions, optional
        The cook's saved choices.
    variants, fat_levels, optional, swaps, containers
        What to compare, as for `options_of`.
    cost : callable, optional
        Cost of a whole calculated batch; without it no cost is compared.
    currency : str
        Currency of the costs.

    Raises
    ------
    UsageError
        If what is asked for does not exist, as for `options_of`.
    """
    options = options_of(
        result, variants=variants, fat_levels=fat_levels, optional=optional, swaps=swaps, containers=containers
    )
    with nullcontext(database) if database is not None else open_database() as opened:
        results = [result, *calculate_all([option.batch for option in options[1:]], opened, decisions)]
        sureness = how_different(results, opened, [option.measured_as for option in options])
    costs = [cost(one) if cost is not None else None for one in results]
    return Comparison(
        title=result.batch.title,
        region=result.region,
        options=tuple(
            ComparedOption(option, one, _figures(one, result, sure, money, costs[0]), money)
            for option, one, sure, money in zip(options, results, sureness, costs, strict=True)
        ),
        currency=currency,
    )


def _figures(
    result: BatchResult,
    reference: BatchResult,
    sureness: "PairedSureness",
    cost: Decimal | None,
    reference_cost: Decimal | None,
) -> dict[str, ComparedFigure]:
    """Figures of one container by the key of the measure."""
    found: dict[str, ComparedFigure] = {}
    is_reference = result is reference
    for measure in _OF_TABLES:
        total, other = result.per_container[measure.key], reference.per_container[measure.key]
        unknown = not total.complete and total.known_share == 0.0
        paired = sureness.difference[measure.key]
        found[measure.key] = _figure(
            measure,
            None if unknown else total.amount,
            total.complete,
            sureness.per_container[measure.key],
            None if paired is None else total.amount - other.amount,
            paired,
            is_reference=is_reference,
        )
    ratio, other_ratio = _protein_ratio(result), _protein_ratio(reference)
    found[PROTEIN_RATIO.key] = _figure(
        PROTEIN_RATIO,
        ratio,
        sureness.ratio is not None,
        sureness.ratio,
        None if ratio is None or other_ratio is None else ratio - other_ratio,
        sureness.ratio_difference,
        is_reference=is_reference,
    )
    each = None if cost is None else float(cost) / result.batch.containers
    each_reference = None if reference_cost is None else float(reference_cost) / reference.batch.containers
    found[COST.key] = _money(COST, each, each_reference, is_reference=is_reference)
    found[PROTEIN_FOR_MONEY.key] = _money(
        PROTEIN_FOR_MONEY,
        _protein_for_money(result, each),
        _protein_for_money(reference, each_reference),
        is_reference=is_reference,
    )
    return found


def _figure(
    measure: Measure,
    amount: float | None,
    complete: bool,
    interval: "Interval | None",
    difference: float | None,
    paired: "Interval | None",
    *,
    is_reference: bool,
) -> ComparedFigure:
    low, high = (None, None) if interval is None else (interval.low, interval.high)
    if is_reference:
        return ComparedFigure(amount, complete, low, high, verdict=Verdict.REFERENCE)
    if amount is None or difference is None or paired is None:
        return ComparedFigure(amount, complete, low, high)
    verdict = _verdict(measure, difference, paired.low, paired.high)
    return ComparedFigure(amount, complete, low, high, difference, paired.low, paired.high, verdict)


def _verdict(measure: Measure, difference: float, low: float, high: float) -> Verdict:
    if abs(difference) < 0.5 * 10.0**-measure.decimals:
        return Verdict.SAME
    if low <= 0.0 <= high:
        return Verdict.UNSURE
    return Verdict.MORE if difference > 0.0 else Verdict.LESS


def _money(measure: Measure, amount: float | None, other: float | None, *, is_reference: bool) -> ComparedFigure:
    """A figure that rests on prices, which are taken as they are: it has no interval."""
    if amount is None:
        return ComparedFigure(None, complete=False, verdict=Verdict.REFERENCE if is_reference else Verdict.UNKNOWN)
    if is_reference:
        return ComparedFigure(amount, verdict=Verdict.REFERENCE)
    if other is None:
        return ComparedFigure(amount)
    difference = amount - other
    verdict = _verdict(measure, difference, difference, difference)
    return ComparedFigure(amount, difference=difference, verdict=verdict)


def _protein_ratio(result: BatchResult) -> float | None:
    """Protein in g per 100 kcal, None where either is incomplete or there is no energy."""
    protein, energy = result.totals[PROTEIN.key], result.totals[ENERGY.key]
    if not protein.complete or not energy.complete or energy.amount <= 0.0:
        return None
    return 100.0 * protein.amount / energy.amount


def _protein_for_money(result: BatchResult, cost: float | None) -> float | None:
    """Protein in g for one unit of money, `cost` being that of one container."""
    protein = result.per_container[PROTEIN.key]
    if cost is None or cost <= 0.0 or not protein.complete:
        return None
    return protein.amount / cost
