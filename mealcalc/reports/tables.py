"""CSV for programs and spreadsheets: one long table of totals, one table of lines.

A cell of text that a spreadsheet would take for a formula gets an apostrophe in front; control characters become
blanks.
"""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import BatchResult, Contribution, Total
from mealcalc.reports.machine import amounts, line_shape, number
from mealcalc.reports.plain import harmless

TOTALS_COLUMNS = ("scope", "name", "key", "tagname", "unit", "amount_per_container", "known_share", "unknown_lines")
LINE_COLUMNS = (
    "file_line", "text", "status", "table", "code", "description", "quantity_low", "quantity_high", "unit", "name",
    "mass_g", "used_share", "energy_kcal", "strategy", "score",
)  # fmt: skip
_FORMULA_STARTS = ("=", "+", "-", "@", "＝", "＋", "－", "＠")


def totals_csv(result: BatchResult) -> str:
    """Totals per container as CSV: a row for each component of the batch and the whole, and each food component."""
    scopes: list[tuple[str, str, Mapping[str, Total]]] = [
        (
            "component",
            component.component.name,
            {key: total.divided_by(result.batch.containers) for key, total in component.totals.items()},
        )
        for component in result.components
    ]
    scopes.append(("container", result.batch.title, result.per_container))
    rows = [
        (
            scope,
            name,
            key,
            FOOD_COMPONENTS[key].tagname,
            FOOD_COMPONENTS[key].unit,
            shown[key],
            number(total.known_share),
            " ".join(map(str, total.unknown_lines)),
        )
        for scope, name, totals in scopes
        for shown in [amounts(totals)]
        for key, total in totals.items()
    ]
    return write_csv(TOTALS_COLUMNS, rows)


def lines_csv(contributions: Iterable[Contribution]) -> str:
    """Lines as CSV, with the columns `LINE_COLUMNS`."""
    rows = []
    for contribution in contributions:
        shape = line_shape(contribution)
        food = shape["food"]
        if isinstance(food, dict):
            shape |= {name: food[name] for name in ("table", "code", "description")}
        rows.append(tuple(shape.get(column) for column in LINE_COLUMNS))
    return write_csv(LINE_COLUMNS, rows)


def write_csv(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Write rows as CSV with LF line ends; None becomes an empty cell, text is made safe for spreadsheets."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_cell(value) for value in row])
    return stream.getvalue()


def _cell(value: object) -> object:
    if value is None:
        return ""
    if isinstance(value, str):
        text = harmless(value)
        return f"'{text}" if text.lstrip().startswith(_FORMULA_STARTS) else text
    return value
