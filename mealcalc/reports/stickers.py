"""Home stickers for containers as PDF: title, dates, allergens, macros, reheating, on sheets of labels."""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from fpdf import FPDF
from fpdf.enums import XPos, YPos
from fpdf.fonts import TTFFont

from mealcalc.records.published import StickerDates
from mealcalc.reports.plain import one_line, spelt_out
from mealcalc.reports.post_text import allergen_lines
from mealcalc.reports.publication import Publication, container_mass, headlines
from mealcalc.reports.sheets import Sheet

LONGEST_TITLE = 90
PADDING_MM = 3.0
LARGEST_PT, SMALLEST_PT, STEP_PT = 9.5, 5.0, 0.5
MM_PER_PT = 25.4 / 72
MOST_SHOWN = 12
TOO_LONG = "Allergens: the list does not fit here; see the recipe card before you serve it."

_WARNING_GREY = 215
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class StickerLine:
    """One paragraph of a sticker. larger: share of the size of plain text. warning: on a ground of its own."""

    text: str
    bold: bool = False
    larger: float = 1.0
    warning: bool = False


def day(when: date) -> str:
    """A date with its day of the week, such as Tue 2026-11-24."""
    return f"{_DAYS[when.weekday()]} {when.isoformat()}"


def date_lines(dates: StickerDates) -> tuple[tuple[str, bool], ...]:
    """Sentences on eating, freezing and reheating, each with whether it is a warning."""
    lines = []
    guidance = dates.guidance
    if dates.eat_by is None:
        lines.append(("Eat by: no guidance of an authority was found for this dish; decide yourself", True))
    elif dates.beyond:
        than = "no authority's guidance covers it"
        if guidance is not None and guidance.last_day is not None:
            than = f"{guidance.authority.name} says {day(guidance.last_day)}"
        lines.append((f"Eat by {day(dates.eat_by)}: LATER THAN GUIDANCE ({than})", True))
    elif guidance is not None:
        lines.append((f"Eat by {day(dates.eat_by)}, kept cold ({guidance.authority.name})", False))
    if dates.freezer_best_before is not None and dates.freezer_guidance is not None:
        whose = dates.freezer_guidance.authority.name
        lines.append((f"Frozen at once: best before {day(dates.freezer_best_before)} ({whose}, quality)", False))
    if dates.reheating is not None:
        wording = dates.reheating.guidance.wording
        lines.append((f"{wording[:1].upper()}{wording[1:]} ({dates.reheating.authority.name})", False))
    return tuple(lines)


def sticker_lines(publication: Publication, *, allergens: bool = True, reheating: bool = True) -> list[StickerLine]:
    """The paragraphs of a sticker, what matters most first."""
    dates = publication.dates
    said = list(date_lines(dates))
    if dates.reheating is not None and not reheating:
        said.pop()
    mass = container_mass(publication.panel)
    lines = [
        StickerLine(one_line(publication.title, LONGEST_TITLE), bold=True, larger=1.3),
        StickerLine(f"Cooked {day(dates.cooked)}{f' · {mass}' if mass else ''}"),
        StickerLine(said[0][0], bold=True, warning=said[0][1]),
    ]
    lines += (
        [StickerLine(text) for text in allergen_lines(publication, publication.panel.scheme)]
        if allergens
        else [StickerLine(TOO_LONG, bold=True, warning=True)]
    )
    lines.append(StickerLine(" · ".join(h.words for h in headlines(publication.panel))))
    lines += [StickerLine(text, warning=warning) for text, warning in said[1:]]
    return lines


def stickers(publication: Publication, sheet: Sheet, copies: int, first: int = 1) -> tuple[bytes, tuple[str, ...]]:
    """Copies of the sticker on as many sheets as they need: a PDF as bytes, and what its reader has to know of it.

    Parameters
    ----------
    publication : Publication
        The batch with its dates, allergens and panel.
    sheet : Sheet
        The sheet of labels.
    copies : int
        How many stickers.
    first : int
        Place on the first sheet where printing starts, counted from 1 row by row: a sheet may have been begun.
    """
    document = _Document(sheet)
    lines, size_pt = _fitting(document, publication, sheet)
    places = list(sheet.places())
    for number in range(copies):
        place = (first - 1 + number) % sheet.count
        if number == 0 or place == 0:
            document.add_page()
        left, top = places[place]
        document.draw(lines, size_pt, left + PADDING_MM, top + PADDING_MM, sheet.width_mm - 2 * PADDING_MM)
    return bytes(document.output()), _notes(document, lines)


def _notes(document: "_Document", lines: Sequence[StickerLine]) -> tuple[str, ...]:
    notes = []
    if document.lacking:
        shown = " ".join(sorted(document.lacking)[:MOST_SHOWN])
        notes.append(f"stickers.pdf: no font at hand holds {shown}: spelt out, left out or shown as a box")
    if any(line.text == TOO_LONG for line in lines):
        notes.append(
            "stickers.pdf: the allergens do not fit these labels, and the stickers say so: take a larger --sheet"
        )
    return tuple(notes)


def _fitting(document: "_Document", publication: Publication, sheet: Sheet) -> tuple[list[StickerLine], float]:
    """The fullest text that fits the label, in the largest letters that fit."""
    width, height = sheet.width_mm - 2 * PADDING_MM, sheet.height_mm - 2 * PADDING_MM
    for allergens, reheating in ((True, True), (True, False), (False, True), (False, False)):
        lines = [document.drawable(x) for x in sticker_lines(publication, allergens=allergens, reheating=reheating)]
        size_pt = LARGEST_PT
        while size_pt >= SMALLEST_PT:
            if document.height_of(lines, size_pt, width) <= height:
                return lines, size_pt
            size_pt -= STEP_PT
    return lines[:4], SMALLEST_PT


class _Document(FPDF):
    """Pages of labels in fonts that hold Latin, Greek, Cyrillic, Hebrew and Arabic letters."""

    def __init__(self, sheet: Sheet) -> None:
        super().__init__(unit="mm", format=sheet.paper_mm)
        self.set_auto_page_break(False)
        self.set_margin(0)
        self.c_margin = 0
        self.lacking: set[str] = set()
        folder = _font_folder()
        self.add_font("label", "", folder / "DejaVuSans.ttf")
        self.add_font("label", "B", folder / "DejaVuSans-Bold.ttf")
        self.set_text_shaping(True)
        self.set_lang("en")
        self.set_title("Stickers for containers")
        self.set_creator("mealcalc")

    def drawable(self, line: StickerLine) -> StickerLine:
        """The line with each letter that the font lacks spelt out, or marked where it cannot be."""
        font = self.fonts["labelB" if line.bold else "label"]
        held = font.cmap if isinstance(font, TTFFont) else {}
        letters = unicodedata.normalize("NFC", line.text)
        self.lacking |= {c for c in letters if ord(c) not in held and c.isprintable() and not c.isspace()}
        text = "".join(c if ord(c) in held else _spelt(c) for c in letters)
        return StickerLine(" ".join(text.split()), line.bold, line.larger, line.warning)

    def height_of(self, lines: Sequence[StickerLine], size_pt: float, width_mm: float) -> float:
        """Height in mm that the lines need."""
        if not self.pages:
            self.add_page()
            height = sum(self._paragraph(line, size_pt, width_mm, dry_run=True) for line in lines)
            self.pages.clear()
            self.page = 0
            return height
        return sum(self._paragraph(line, size_pt, width_mm, dry_run=True) for line in lines)

    def draw(self, lines: Sequence[StickerLine], size_pt: float, left: float, top: float, width_mm: float) -> None:
        """Write the lines from a place on the page."""
        self.set_xy(left, top)
        for line in lines:
            self.set_x(left)
            self._paragraph(line, size_pt, width_mm)

    def _paragraph(self, line: StickerLine, size_pt: float, width_mm: float, *, dry_run: bool = False) -> float:
        self.set_font("label", "B" if line.bold else "", size_pt * line.larger)
        self.set_fill_color(_WARNING_GREY)
        height = self.multi_cell(
            width_mm,
            size_pt * line.larger * MM_PER_PT * 1.2,
            line.text,
            fill=line.warning and not dry_run,
            align="L",
            new_x=XPos.LMARGIN,
            new_y=YPos.NEXT,
            dry_run=dry_run,
            output="HEIGHT",
        )
        assert isinstance(height, float | int)
        return float(height)


def _spelt(character: str) -> str:
    """What stands for a character that no font at hand holds: its plain letters, else a box."""
    if unicodedata.category(character) in ("Mn", "Cf", "Cc"):
        return ""
    plain = spelt_out(character)
    return plain if plain != "?" else "□"


def _font_folder() -> Path:
    """The folder of the free fonts that the plotting library brings along (DejaVu, with its own free licence)."""
    from matplotlib import get_data_path

    return Path(get_data_path()) / "fonts" / "ttf"
