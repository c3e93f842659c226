"""Every format of one batch as files: name -> content."""

from collections.abc import Callable

from mealcalc.reports.json_ld import recipe_json
from mealcalc.reports.panel_json import claims_csv, panel_csv, panel_shape
from mealcalc.reports.panel_page import panel_page
from mealcalc.reports.panel_text import panel_text
from mealcalc.reports.plain import harmless
from mealcalc.reports.post_text import post_text
from mealcalc.reports.publication import Publication
from mealcalc.reports.recipe_card import recipe_card
from mealcalc.reports.retail_label import label_page, label_text
from mealcalc.reports.screen import Screen
from mealcalc.reports.sheets import Sheet
from mealcalc.reports.stickers import stickers
from mealcalc.reports.workbook import panel_workbook

FILE_SCREEN = Screen(100, colour=False)


def formats(
    publication: Publication, sheet: Sheet, copies: int, first: int, json_text: Callable[[object], str]
) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """Files of one batch, and what their reader has to know of them.

    Parameters
    ----------
    publication : Publication
        All that is published.
    sheet, copies, first :
        As for `stickers.stickers`.
    json_text : callable
        Writes a shape as JSON.
    """
    pdf, notes = stickers(publication, sheet, copies, first)
    texts = {
        "recipe.jsonld": recipe_json(publication),
        "post.txt": post_text(publication),
        "card.html": recipe_card(publication),
    }
    # A byte order mark tells spreadsheets which encoding a CSV file has.
    binary = {"stickers.pdf": pdf, "panel.xlsx": panel_workbook(publication.panels, publication.claims)}
    for panel in publication.panels:
        scheme = panel.scheme
        claims, caution = publication.claims.get(scheme), publication.claims_cautions.get(scheme, "")
        texts |= {
            f"panel-{scheme}.txt": panel_text(panel, FILE_SCREEN, claims, caution, clauses=False),
            f"panel-{scheme}.html": panel_page(panel, claims, caution),
            f"panel-{scheme}.json": f"{json_text(panel_shape(panel, claims, caution))}\n",
            f"label-{scheme}.txt": label_text(publication, panel),
            f"label-{scheme}.html": label_page(publication, panel),
        }
        if scheme in publication.ingredients:
            statement = publication.ingredients[scheme]
            notes_text = "".join(f"- {note}\n" for note in statement.notes)
            texts[f"ingredients-{scheme}.txt"] = harmless(f"{statement.marked_text}\n\nTo check:\n{notes_text}")
        binary[f"panel-{scheme}.csv"] = panel_csv([panel]).encode("utf-8-sig")
        if claims is not None:
            binary[f"claims-{scheme}.csv"] = claims_csv(scheme, claims).encode("utf-8-sig")
    return {name: text.encode("utf-8") for name, text in texts.items()} | binary, notes
