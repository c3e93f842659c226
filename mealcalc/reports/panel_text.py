"""What people read of `mealcalc panel`: the panel, its notes, claims."""

from collections.abc import Sequence

from rich.console import RenderableType
from rich.text import Text

from mealcalc.labelling.claims import ClaimResult, Verdict
from mealcalc.labelling.panel import Panel, PanelRow
from mealcalc.reports.plain import LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table

_STYLES = {Verdict.MET: "green", Verdict.NOT_MET: "", Verdict.NOT_DETERMINABLE: "yellow"}


def panel_text(
    panel: Panel,
    screen: Screen,
    claims: Sequence[ClaimResult] | None = None,
    claims_caution: str = "",
    *,
    clauses: bool = False,
) -> str:
    """The answer of `mealcalc panel`; `clauses` shows for every row the clauses behind it and how each is known."""
    parts: list[RenderableType] = [
        Text(one_line(panel.dish, LONGEST_TITLE), style="bold"),
        Text(panel.scheme_title),
        *(Text(line) for line in panel.serving),
        "",
        _rows(panel, clauses=clauses),
        "",
        *(Text(note.text) for note in panel.footnotes),
        *_notes(panel),
    ]
    unverified = [row for row in panel.rows if row.unverified]
    if unverified and not clauses:
        count = f"{len(unverified)} of {len(panel.rows)}"
        parts.append(Text(f"{count} rows rest on a clause whose text was not read whole: see --clauses."))
    if claims is not None:
        parts += ["", Text("Nutrition claims", style="bold"), _claims(claims), Text(claims_caution)]
    parts += ["", Text(panel.caution, style="dim")]
    return screen.render(*parts)


def row_name(row: PanelRow) -> str:
    """Name of a row with the second name that the law has beside it."""
    return f"{row.name} / {row.second_name}" if row.second_name else row.name


def column_names(panel: Panel) -> dict[str, str]:
    """Field of a row -> heading, for the columns that the panel has, in order."""
    names = {"name": "", "printed_per_portion": f"per {panel.portion_name}"}
    if panel.percent_name and any(row.percent for row in panel.rows):
        names["percent"] = panel.percent_name
    if panel.hundred_name:
        names["printed_per_100g"] = f"per {panel.hundred_name}"
    if any(row.tolerance for row in panel.rows):
        names["tolerance"] = "tolerance of the law"
    return names


def cells(panel: Panel, row: PanelRow) -> dict[str, str]:
    """Field -> text of one row, for the columns of `column_names`."""
    texts = {
        "name": row_name(row),
        "printed_per_portion": row.printed_per_portion,
        "percent": row.percent,
        "printed_per_100g": row.printed_per_100g,
        "tolerance": "" if row.tolerance is None else row.tolerance.text,
    }
    return {field: texts[field] for field in column_names(panel)}


def _rows(panel: Panel, *, clauses: bool) -> RenderableType:
    block = table()
    for field, heading in column_names(panel).items():
        block.add_column(heading, justify="left" if field in ("name", "tolerance") else "right")
    if clauses:
        block.add_column("clauses")
    for row in panel.rows:
        texts = cells(panel, row)
        mark = "" if row.complete else " (!)"
        texts["name"] = f"{'  ' * row.indent}{texts['name']}{mark}"
        shown = [Text(text, "dim" if field == "tolerance" else "") for field, text in texts.items()]
        block.add_row(*shown, *([Text(clauses_of(row), "dim")] if clauses else []))
    return block


def clauses_of(row: PanelRow) -> str:
    """The clauses behind a row; of those whose text was not read whole, how each is known."""
    every = dict.fromkeys((*row.cited, *row.also_cited))
    return "; ".join(str(citation) for citation in every)


def _notes(panel: Panel) -> list[RenderableType]:
    rows = [row for row in panel.rows if row.note]
    if not rows:
        return []
    marked = "; (!) marks figures that what is missing could change" if not panel.complete else ""
    return ["", Text(f"Notes{marked}", style="bold"), *(Text(f"- {row.name.lstrip('- ')}: {row.note}") for row in rows)]


def _claims(claims: Sequence[ClaimResult]) -> RenderableType:
    block = table()
    for heading in ("claim", "criterion", "figure", "limit", "clause"):
        block.add_column(heading)
    for claim in claims:
        block.add_row(
            Text(claim.claim),
            Text(claim.verdict.value, _STYLES[claim.verdict]),
            Text("; ".join(text for text in (*claim.figures, claim.note) if text)),
            Text("; ".join(claim.limits)),
            Text("; ".join(map(str, claim.cited)), "dim"),
        )
    return block
