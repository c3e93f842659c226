"""The screen that text is laid out for, and the one kind of table that we draw on it."""

import io
import re
from dataclasses import dataclass

from rich import box
from rich.console import Console, RenderableType
from rich.table import Table

NARROWEST = 40
WIDEST = 140
"""Columns between which tables are laid out, whatever the terminal says: below, figures would be cut; above, the eye
loses the line."""

_TRAILING_BLANKS = re.compile(r"[ ]+$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Screen:
    """Where text is shown: `width` in columns, and whether it understands colour."""

    width: int = 100
    colour: bool = False

    def render(self, *parts: RenderableType) -> str:
        """The parts below one another, as text that ends in a line feed; escape sequences only where colour is on."""
        console = Console(
            file=io.StringIO(),
            width=max(NARROWEST, min(self.width, WIDEST)),
            force_terminal=self.colour,
            color_system="standard" if self.colour else None,
            highlight=False,
            markup=False,
            emoji=False,
            legacy_windows=False,
        )
        with console.capture() as captured:
            for part in parts:
                console.print(part)
        return _TRAILING_BLANKS.sub("", captured.get())


def table() -> Table:
    """An empty table: a rule under the headings, nothing else drawn."""
    return Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0), header_style="dim")
