"""Tables that the cook keeps as CSV (prices, what is at home): columns by their names, every row with its place."""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.recipe.source import Source

SEPARATORS = (",", ";", "\t")
MOST_ROWS = 5_000
"""Rows beyond which a file is taken for something else (our judgement)."""

_BLANKS = re.compile(r"[\s_-]+")


@dataclass(frozen=True, slots=True)
class Row:
    """The cells of one row by column, without blanks around them; '' where a cell is empty or missing."""

    cells: Mapping[str, str]
    span: Span

    def cell(self, column: str) -> str:
        """The cell of a column."""
        return self.cells.get(column, "")


def read_rows(
    source: Source, columns: Mapping[str, Sequence[str]], required: Sequence[str], kind: str
) -> tuple[list[Row], list[Diagnostic]]:
    """The rows of a CSV text whose first row names the columns.

    Columns are parted by commas, semicolons or tabs, whichever the first row holds most of. Rows whose first cell
    starts with '#' and empty rows are skipped.

    Parameters
    ----------
    source : Source
        The text.
    columns : mapping
        Column -> other names that it may go by; case, blanks and underscores do not matter.
    required : sequence of str
        Columns without which nothing can be read.
    kind : str
        What the file is, for messages: 'price list'.
    """
    found = [d for d in source.diagnostics if d.code != "empty-file"]
    separator = _separator(source.lines)
    reader = csv.reader(io.StringIO(source.text, newline=""), delimiter=separator)
    header: list[str] | None = None
    rows: list[Row] = []
    try:
        for cells in reader:
            cells = [" ".join(cell.split()) for cell in cells]
            if not any(cells) or cells[0].startswith("#"):
                continue
            span = source.span(reader.line_num)
            if header is None:
                header, of_header = _header(cells, columns, required, kind, span)
                found += of_header
                if any(d.severity is Severity.ERROR for d in of_header):
                    return [], found
                continue
            if len(rows) >= MOST_ROWS:
                message = f"the {kind} has more than {MOST_ROWS} rows; the rest is not read"
                found.append(Diagnostic("too-many-rows", Severity.ERROR, message, span, "keep what you buy, only"))
                break
            if any(cells[len(header) :]):
                found.append(_too_many_cells(len(header), separator, span))
                continue
            rows.append(Row({name: cell for name, cell in zip(header, cells, strict=False) if name}, span))
    except csv.Error as error:
        span = source.span(max(1, reader.line_num))
        hint = "check the quotation marks of this row and the ones above"
        found.append(Diagnostic("bad-csv", Severity.ERROR, f"the {kind} cannot be read on: {error}", span, hint))
    if header is None:
        message, hint = f"the {kind} is empty", f"its first row names the columns: {', '.join(required)}"
        found.append(Diagnostic("empty-file", Severity.ERROR, message, source.start, hint))
    return rows, found


def _separator(lines: Sequence[str]) -> str:
    first = next((line for line in lines if line.strip() and not line.lstrip('"').startswith("#")), "")
    return max(SEPARATORS, key=first.count)


def _header(
    cells: Sequence[str], columns: Mapping[str, Sequence[str]], required: Sequence[str], kind: str, span: Span
) -> tuple[list[str], list[Diagnostic]]:
    """The column of each cell of the first row, '' for one that is not read, and what is wrong with them."""
    known = {_plain(name): column for column, others in columns.items() for name in (column, *others)}
    header = [known.get(_plain(cell), "") for cell in cells]
    found = []
    for column in required:
        if column not in header:
            hint = f"the first row must name the columns: {', '.join(required)}"
            found.append(
                Diagnostic("missing-column", Severity.ERROR, f"the {kind} has no column '{column}'", span, hint)
            )
    for column in dict.fromkeys(name for name in header if name and header.count(name) > 1):
        message, hint = f"the {kind} has the column '{column}' twice", "rename or remove one of them"
        found.append(Diagnostic("column-twice", Severity.ERROR, message, span, hint))
    strange = [cell for cell, column in zip(cells, header, strict=True) if cell and not column]
    if strange and not found:
        named = ", ".join(f"'{cell[:40]}'" for cell in strange[:5])
        message = f"columns of the {kind} that are not read: {named}"
        found.append(Diagnostic("unknown-column", Severity.NOTE, message, span, f"known are: {', '.join(columns)}"))
    return header, found


def _too_many_cells(number: int, separator: str, span: Span) -> Diagnostic:
    name = {",": "commas", ";": "semicolons", "\t": "tabs"}[separator]
    return Diagnostic(
        "too-many-cells",
        Severity.ERROR,
        f"the row has more than the {number} cells of the first row: it is not read",
        span,
        f"cells are parted by {name}: put quotation marks around a text or number that holds one",
    )


def _plain(name: str) -> str:
    return _BLANKS.sub(" ", name.strip().lower())
