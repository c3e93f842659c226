"""A panel as a page of its own: our design, the content and the order of the law."""

from collections.abc import Sequence

from mealcalc.diagnostics import Severity
from mealcalc.labelling.claims import ClaimResult
from mealcalc.labelling.panel import Panel, PanelRow
from mealcalc.reports.pages import page
from mealcalc.reports.panel_text import cells, clauses_of, column_names


def panel_page(panel: Panel, claims: Sequence[ClaimResult] | None = None, claims_caution: str = "") -> str:
    """The page of a panel, with the claims check where it was asked for."""
    return page(
        "panel.html",
        panel_values(panel)
        | {
            "gaps": [d for d in panel.diagnostics if d.severity is not Severity.NOTE],
            "claims": list(claims or ()),
            "claims_caution": claims_caution,
            "clauses": {row.row: clauses_of(row) for row in panel.rows},
        },
    )


def panel_values(panel: Panel) -> dict[str, object]:
    """What the templates need of a panel to show its table."""
    rows: list[tuple[PanelRow, dict[str, str]]] = [(row, cells(panel, row)) for row in panel.rows]
    return {"panel": panel, "columns": column_names(panel), "rows": rows}
