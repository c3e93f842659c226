"""Stable machine shapes of a panel and of the claims check: JSON and CSV."""

from collections.abc import Iterable, Sequence

from mealcalc.labelling.claims import ClaimResult
from mealcalc.labelling.panel import Panel, PanelRow
from mealcalc.labelling.tolerance import Tolerance
from mealcalc.reference.label_tables import Citation
from mealcalc.reports.machine import number
from mealcalc.reports.tables import write_csv

PANEL_COLUMNS = (
    "scheme", "row", "tagname", "unit", "raw_per_portion", "printed_per_portion", "raw_per_100g", "printed_per_100g",
    "percent", "known_share",
)  # fmt: skip
CLAIM_COLUMNS = (
    "scheme",
    "claim",
    "kind",
    "verdict",
    "printed_verdict",
    "figures",
    "limits",
    "clause",
    "verified",
    "note",
)


def panel_csv(panels: Iterable[Panel]) -> str:
    """Rows of panels as CSV with the columns `PANEL_COLUMNS`; a cell is empty where nothing is known or wanted."""
    return write_csv(PANEL_COLUMNS, [panel_cells(panel, row) for panel in panels for row in panel.rows])


def panel_cells(panel: Panel, row: PanelRow) -> tuple[object, ...]:
    """The cells of one row, in the order of `PANEL_COLUMNS`."""
    return (
        panel.scheme,
        row.row,
        row.tagname,
        row.unit,
        number(row.raw_per_portion),
        row.printed_per_portion,
        number(row.raw_per_100g),
        row.printed_per_100g,
        row.percent,
        number(row.known_share),
    )


def claims_csv(scheme: str, claims: Iterable[ClaimResult]) -> str:
    """The claims check as CSV with the columns `CLAIM_COLUMNS`."""
    return write_csv(CLAIM_COLUMNS, [claim_cells(scheme, claim) for claim in claims])


def claim_cells(scheme: str, claim: ClaimResult) -> tuple[object, ...]:
    """The cells of one claim, in the order of `CLAIM_COLUMNS`."""
    return (
        scheme,
        claim.claim,
        claim.kind,
        claim.verdict.value,
        claim.printed_verdict.value,
        "; ".join(claim.figures),
        "; ".join(claim.limits),
        claim.clause,
        "yes" if claim.verified else "no",
        claim.note,
    )


def panel_shape(
    panel: Panel, claims: Sequence[ClaimResult] | None = None, claims_caution: str = ""
) -> dict[str, object]:
    """The panel for `--json`; `claims` and their caution where they were asked for."""
    shape: dict[str, object] = {
        "scheme": panel.scheme,
        "scheme_title": panel.scheme_title,
        "dish": panel.dish,
        "complete": panel.complete,
        "portion_name": panel.portion_name,
        "portion_mass_g": number(panel.portion_mass_g),
        "serving": list(panel.serving),
        "per_hundred": panel.hundred_name,
        "percent_name": panel.percent_name,
        "energy_method": panel.energy_method,
        "rows": [row_shape(row) for row in panel.rows],
        "footnotes": [
            {"text": note.text, "clause": note.cited.clause, "verified": note.verified} for note in panel.footnotes
        ],
        "caution": panel.caution,
        "diagnostics": [diagnostic.to_dict() for diagnostic in panel.diagnostics],
    }
    if claims is not None:
        shape |= {"claims": [_claim_shape(claim) for claim in claims], "claims_caution": claims_caution}
    return shape


def row_shape(row: PanelRow) -> dict[str, object]:
    """One row with its clauses, whether each was read, and the tolerance."""
    return {
        "row": row.row,
        "name": row.name,
        "second_name": row.second_name,
        "indent": row.indent,
        "key": row.key,
        "tagname": row.tagname,
        "unit": row.unit,
        "mandatory": row.mandatory,
        "raw_per_portion": number(row.raw_per_portion),
        "printed_per_portion": row.printed_per_portion,
        "raw_per_100g": number(row.raw_per_100g),
        "printed_per_100g": row.printed_per_100g,
        "percent": row.percent,
        "known_share": number(row.known_share),
        "complete": row.complete,
        "clause": row.clause,
        "verified": row.verified,
        "clauses": [_citation_shape(citation) for citation in dict.fromkeys((*row.cited, *row.also_cited))],
        "note": row.note,
        "tolerance": None if row.tolerance is None else _tolerance_shape(row.tolerance),
    }


def _tolerance_shape(tolerance: Tolerance) -> dict[str, object]:
    return {
        "lower": None if tolerance.lower is None else float(tolerance.lower),
        "upper": None if tolerance.upper is None else float(tolerance.upper),
        "unit": tolerance.unit,
        "basis": tolerance.basis,
        "text": tolerance.text,
        "clause": tolerance.cited.clause,
        "verified": tolerance.cited.verified,
    }


def _claim_shape(claim: ClaimResult) -> dict[str, object]:
    return {
        "claim": claim.claim,
        "kind": claim.kind,
        "verdict": claim.verdict.value,
        "printed_verdict": claim.printed_verdict.value,
        "figures": list(claim.figures),
        "limits": list(claim.limits),
        "clause": claim.clause,
        "verified": claim.verified,
        "note": claim.note,
    }


def _citation_shape(cited: Citation) -> dict[str, object]:
    return {
        "clause": cited.clause,
        "source": cited.source,
        "status": cited.status.value,
        "verified": cited.verified,
    }
