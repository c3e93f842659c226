"""Panels as a workbook for spreadsheets; every text stands in a cell as text, never as a formula."""

import io
from collections.abc import Iterable, Mapping, Sequence

from openpyxl import Workbook
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from mealcalc.labelling.claims import ClaimResult
from mealcalc.labelling.panel import Panel
from mealcalc.reports.panel_json import CLAIM_COLUMNS, PANEL_COLUMNS, claim_cells, panel_cells
from mealcalc.reports.panel_text import clauses_of
from mealcalc.reports.plain import harmless

LONGEST_CELL = 32_767
"""Characters that a cell of the format holds."""

WIDEST_COLUMN = 60


def panel_workbook(panels: Sequence[Panel], claims: Mapping[str, Sequence[ClaimResult]] | None = None) -> bytes:
    """The panels of a batch, one sheet each, with one more for the claims of each scheme; an xlsx file as bytes."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    for index, panel in enumerate(panels):
        if index:
            sheet = book.create_sheet()
        sheet.title = f"panel {panel.scheme}"
        below = _write(sheet, (*PANEL_COLUMNS, "name", "tolerance", "clauses", "note"), _panel_rows(panel))
        texts = (panel.dish, panel.scheme_title, *panel.serving, *(n.text for n in panel.footnotes), panel.caution)
        for row_number, text in enumerate(texts, start=below + 1):
            _fill(sheet, row_number, (text,))
    for scheme, found in (claims or {}).items():
        sheet = book.create_sheet(f"claims {scheme}")
        _write(sheet, CLAIM_COLUMNS, [claim_cells(scheme, claim) for claim in found])
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _panel_rows(panel: Panel) -> list[tuple[object, ...]]:
    return [
        (
            *panel_cells(panel, row),
            row.name,
            "" if row.tolerance is None else row.tolerance.text,
            clauses_of(row),
            row.note,
        )
        for row in panel.rows
    ]


def _write(sheet: Worksheet, columns: Sequence[str], rows: Iterable[Sequence[object]]) -> int:
    """Write a table with its headings; the number of the first row below it."""
    row_number = 1
    for row_number, row in enumerate((columns, *rows), start=1):
        _fill(sheet, row_number, row)
    for column_number, column in enumerate(sheet.iter_cols(), start=1):
        longest = max(len(str(cell.value or "")) for cell in column)
        sheet.column_dimensions[get_column_letter(column_number)].width = min(longest + 2, WIDEST_COLUMN)
        column[0].font = Font(bold=True)
        for cell in column:
            cell.alignment = Alignment(vertical="top", wrap_text=longest > WIDEST_COLUMN)
    sheet.freeze_panes = "A2"
    return row_number + 1


def _fill(sheet: Worksheet, row_number: int, values: Sequence[object]) -> None:
    for column, value in enumerate(values, start=1):
        if value is None or value == "":
            continue
        cell = sheet.cell(row_number, column)
        if isinstance(value, int | float):
            cell.value = value
        else:
            cell.value = ILLEGAL_CHARACTERS_RE.sub(" ", harmless(str(value)))[:LONGEST_CELL]
            cell.data_type = "s"  # what looks like a formula stays text
