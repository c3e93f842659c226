"""Draft of a retail label: what the law of a scheme wants on it, what is there, what is still missing."""

from collections.abc import Iterator
from dataclasses import dataclass

from mealcalc.labelling.claims import Verdict
from mealcalc.labelling.panel import Panel
from mealcalc.records.published import IngredientWording
from mealcalc.reference.label_particulars import LabelParticular, label_particulars
from mealcalc.reports.pages import page
from mealcalc.reports.panel_page import panel_values
from mealcalc.reports.panel_text import row_name
from mealcalc.reports.plain import one_line
from mealcalc.reports.post_text import allergen_lines
from mealcalc.reports.publication import Publication, container_mass

LONGEST_TEXT = 10_000
MISSING, DRAFT, GIVEN = "missing", "draft, check it", "given by the maker"

NO_STATEMENT = IngredientWording(())
DRAFT_NOTE = "Draft of a label, not legal advice. Whoever sells the food answers for the label"


@dataclass(frozen=True, slots=True)
class LabelEntry:
    """One particular with what stands for it: `state` is missing, draft or given; `text` is empty where missing."""

    particular: LabelParticular
    state: str
    text: str
    to_do: str = ""


def label_entries(publication: Publication, panel: Panel) -> tuple[LabelEntry, ...]:
    """Every particular of the panel's scheme with what is known of it."""
    return tuple(_entry(publication, panel, row) for row in label_particulars(panel.scheme))


def _entry(publication: Publication, panel: Panel, row: LabelParticular) -> LabelEntry:
    given = publication.makers_words.of(row.particular)
    if given:
        return LabelEntry(row, GIVEN, one_line(given, LONGEST_TEXT))
    if row.particular == "name":
        return LabelEntry(row, DRAFT, one_line(publication.title, LONGEST_TEXT), "is it the name that the law wants?")
    if row.particular == "net quantity":
        mass = container_mass(panel)
        if mass:
            return LabelEntry(row, DRAFT, f"about {mass}", "weigh what is filled; an average is no net quantity")
        return LabelEntry(row, MISSING, "", "weigh what is filled: --net-quantity")
    if row.particular == "ingredients" and panel.scheme in publication.ingredients:
        statement = publication.ingredients[panel.scheme]
        to_do = one_line("; ".join(statement.notes), LONGEST_TEXT) or "compound ingredients by their packs"
        return LabelEntry(row, DRAFT, one_line(statement.marked_text, LONGEST_TEXT), to_do)
    if row.particular == "quid" and "%" in publication.ingredients.get(panel.scheme, NO_STATEMENT).text:
        return LabelEntry(row, DRAFT, "in the list of ingredients", "does it name what the name or a picture stresses?")
    if row.particular == "allergens" and panel.scheme in publication.allergens:
        return LabelEntry(row, DRAFT, " / ".join(allergen_lines(publication, panel.scheme)), "check every pack")
    if row.particular == "nutrition":
        gaps = [row_name(r) for r in panel.rows if r.mandatory and not r.complete]
        to_do = f"not known whole: {', '.join(gaps)}" if gaps else "averages of food tables; see the tolerances"
        return LabelEntry(row, DRAFT, "the panel below", to_do)
    if row.particular == "front symbol":
        symbols = [claim for claim in publication.claims.get(panel.scheme, ()) if claim.kind == "symbol"]
        text = "; ".join(f"{claim.claim}: {_SYMBOL[claim.verdict]}" for claim in symbols)
        return LabelEntry(row, DRAFT if text else MISSING, text, "see the claims check of this scheme")
    return LabelEntry(row, MISSING, "", _TO_DO.get(row.particular, "write it"))


_SYMBOL = {
    Verdict.MET: "the symbol is required",
    Verdict.NOT_MET: "below the limit",
    Verdict.NOT_DETERMINABLE: "not determinable",
}

_TO_DO = {
    "date mark": "needs evidence of how long this food keeps; the day of a home sticker is none: --date-mark",
    "storage": "write the conditions under which the date holds: --storage",
    "instructions": "write how it is reheated, as it was tried out: --instructions",
    "business": "write name and address: --business",
    "lot": "write a code for this batch: --lot",
    "ingredients": "write the list, heaviest first",
    "allergens": "assess every line by the packs",
    "quid": "decide whether the name or a picture stresses an ingredient",
    "origin": "decide whether leaving it out would mislead",
    "alcohol": "only for drinks",
    "inspection": "with meat or poultry: ask the inspection service",
}


def label_text(publication: Publication, panel: Panel) -> str:
    """The draft as plain text."""
    return "\n".join(_text_lines(publication, panel)) + "\n"


def _text_lines(publication: Publication, panel: Panel) -> Iterator[str]:
    entries = label_entries(publication, panel)
    missing = [entry for entry in entries if entry.state == MISSING]
    yield one_line(publication.title, LONGEST_TEXT)
    yield f"Retail label, draft for {panel.scheme_title}"
    yield f"{len(missing)} of {len(entries)} particulars are missing"
    for entry in entries:
        yield ""
        when = "" if entry.particular.when == "always" else f" ({entry.particular.when})"
        yield f"{entry.particular.name}{when}: {entry.state.upper() if entry.state == MISSING else entry.state}"
        if entry.text:
            yield f"  {entry.text}"
        yield f"  the law wants: {entry.particular.wanted} [{entry.particular.cited}]"
        if entry.to_do:
            yield f"  to do: {entry.to_do}"
    yield ""
    yield from (one_line(line, LONGEST_TEXT) for line in panel.serving)
    for row in panel.rows:
        figures = [row.printed_per_portion, row.percent, row.printed_per_100g]
        yield f"{'  ' * row.indent}{row_name(row)}: {' | '.join(text for text in figures if text)}"
    yield from (note.text for note in panel.footnotes)
    yield ""
    yield f"{DRAFT_NOTE}. {panel.caution}"


def label_page(publication: Publication, panel: Panel) -> str:
    """The draft as a page, allergens emphasised in the ingredient statement."""
    entries = label_entries(publication, panel)
    return page(
        "label.html",
        panel_values(panel)
        | {
            "title": publication.title,
            "entries": entries,
            "missing": sum(entry.state == MISSING for entry in entries),
            "ingredients": publication.ingredients.get(panel.scheme),
            "note": DRAFT_NOTE,
        },
    )
