"""Sheets of self-adhesive labels: how many, how large, where.

Common sizes as printed on packs of such sheets (common practice, from memory): measure a sheet of your own, or print on
plain paper first.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from mealcalc.errors import UsageError

MM_PER_INCH = 25.4
A4_MM = (210.0, 297.0)
LETTER_MM = (8.5 * MM_PER_INCH, 11 * MM_PER_INCH)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of equal labels; all lengths in mm, pitches from the edge of one label to that of the next."""

    name: str
    paper_mm: tuple[float, float]
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    left_mm: float
    top_mm: float
    column_pitch_mm: float
    row_pitch_mm: float

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows

    def places(self) -> Iterator[tuple[float, float]]:
        """Left and top of every label, row by row, in mm."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield self.left_mm + column * self.column_pitch_mm, self.top_mm + row * self.row_pitch_mm


def _inches(
    name: str, columns: int, rows: int, width: float, height: float, left: float, top: float, pitch: float
) -> Sheet:
    mm = MM_PER_INCH
    return Sheet(name, LETTER_MM, columns, rows, width * mm, height * mm, left * mm, top * mm, pitch * mm, height * mm)


SHEETS: Mapping[str, Sheet] = MappingProxyType(
    {
        sheet.name: sheet
        for sheet in (
            Sheet("a4-8", A4_MM, 2, 4, 99.1, 67.7, 4.65, 13.1, 101.6, 67.7),
            Sheet("a4-14", A4_MM, 2, 7, 99.1, 38.1, 4.65, 15.15, 101.6, 38.1),
            Sheet("a4-21", A4_MM, 3, 7, 63.5, 38.1, 7.21, 15.15, 66.04, 38.1),
            _inches("letter-6", 2, 3, 4.0, 10 / 3, 0.15625, 0.5, 4.1875),
            _inches("letter-10", 2, 5, 4.0, 2.0, 0.15625, 0.5, 4.1875),
            _inches("letter-14", 2, 7, 4.0, 4 / 3, 0.15625, 0.8333, 4.1875),
        )
    }
)
"""Sheets by name: paper and labels on it."""


def sheet_named(name: str) -> Sheet:
    """The sheet of a name.

    Raises
    ------
    UsageError
        If there is none; the hint lists them with their sizes.
    """
    found = SHEETS.get(name.strip().lower())
    if found is None:
        known = ", ".join(f"{s.name} ({s.width_mm:.1f} x {s.height_mm:.1f} mm)" for s in SHEETS.values())
        raise UsageError(f"no label sheet '{name[:40]}'", f"use one of: {known}")
    return found


def usual_sheet(region: str) -> Sheet:
    """The sheet for a region: Letter in the United States and Canada, A4 elsewhere."""
    return SHEETS["letter-10" if region in ("us", "ca") else "a4-14"]
