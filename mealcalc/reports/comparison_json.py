"""The stable machine shapes of a comparison: `mealcalc compare --json` and `--csv`."""

from mealcalc.records.comparison import ALL_MEASURES, COST, ComparedFigure, ComparedOption, Comparison
from mealcalc.reports.machine import number
from mealcalc.reports.tables import write_csv

COMPARISON_COLUMNS = (
    "option", "kind", "containers", "key", "unit", "amount", "complete", "low", "high", "difference", "difference_low",
    "difference_high", "verdict",
)  # fmt: skip


def comparison_shape(comparison: Comparison) -> dict[str, object]:
    """The shape of `mealcalc compare --json`."""
    return {
        "batch": comparison.title,
        "region": comparison.region,
        "currency": comparison.currency or None,
        "interval_level": 0.9,
        "options": [
            {
                "name": option.name,
                "kind": option.option.kind.value,
                "containers": option.result.batch.containers,
                "complete": option.result.complete,
                "incomplete": {key: list(lines) for key, lines in option.result.incomplete.items()},
                "cost_of_batch": None if option.cost is None else number(float(option.cost)),
                "per_container": {m.key: _shape(option.figures[m.key]) for m in ALL_MEASURES},
            }
            for option in comparison.options
        ],
    }


def comparison_csv(comparison: Comparison) -> str:
    """One row for each way to make the batch and each measure."""
    return write_csv(COMPARISON_COLUMNS, (row for option in comparison.options for row in _rows(option, comparison)))


def _shape(figure: ComparedFigure) -> dict[str, object]:
    return {
        "amount": number(figure.amount),
        "complete": figure.complete,
        "interval": _interval(figure.low, figure.high),
        "difference": number(figure.difference),
        "difference_interval": _interval(figure.difference_low, figure.difference_high),
        "verdict": figure.verdict.value,
    }


def _interval(low: float | None, high: float | None) -> list[float | None] | None:
    return None if low is None or high is None else [number(low), number(high)]


def _rows(option: ComparedOption, comparison: Comparison) -> list[tuple[object, ...]]:
    rows: list[tuple[object, ...]] = []
    for measure in ALL_MEASURES:
        figure = option.figures[measure.key]
        unit = comparison.currency if measure is COST else measure.unit
        start = (option.name, option.option.kind.value, option.result.batch.containers, measure.key, unit)
        numbers = [number(value) for value in (figure.low, figure.high, figure.difference)]
        between = [number(value) for value in (figure.difference_low, figure.difference_high)]
        complete = "yes" if figure.complete else "no"
        rows.append((*start, number(figure.amount), complete, *numbers, *between, figure.verdict.value))
    return rows
