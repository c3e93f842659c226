"""Standard output and standard error: what they can hold, and what is written to them."""

import codecs
import io
import json
import os
import re
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.reports.plain import harmless, spelt_out

if TYPE_CHECKING:
    from mealcalc.reports.screen import Screen

WIDTH_WITHOUT_TERMINAL = 100
"""Columns of tables in a file or a pipe, unless the variable COLUMNS says otherwise."""

LONGEST_ROW = 500
"""Characters shown of one row of a finding; names and lines of a recipe may be of any length."""

# JSON writes these raw, yet some terminals obey them; an escape means the same to every reader.
_RAW_CONTROLS = re.compile("[\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")


def prepare() -> None:
    """Let nothing about the standard streams stop a command.

    A character that an output's encoding lacks is spelt out ('≥' as '>=') or becomes '?'. A stream that is closed reads
    as empty and swallows what is written.
    """
    codecs.register_error("mealcalc-spell-out", _spell_out)
    for name in ("stdin", "stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            nothing = Path(os.devnull).open("r" if name == "stdin" else "w", encoding="utf-8")  # noqa: SIM115
            setattr(sys, name, nothing)
        elif name != "stdin" and isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="mealcalc-spell-out")


def screen() -> "Screen":
    """Standard output as a screen: its width, and colour only in a terminal where NO_COLOR is not set."""
    from mealcalc.reports.screen import Screen  # rich is imported only for those who look at a table

    terminal = sys.stdout.isatty()
    width = shutil.get_terminal_size((WIDTH_WITHOUT_TERMINAL, 24)).columns
    colour = terminal and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return Screen(width, colour)


def print_text(text: str) -> None:
    """Print an answer that `reports` has laid out for `screen()`."""
    click.echo(text, file=sys.stdout, nl=False)


def tell(text: str) -> None:
    """Say something beside the answer, on standard error, fit for a terminal as `fit_to_show` makes it."""
    click.echo(fit_to_show(text), file=sys.stderr)


def fit_to_show(text: str) -> str:
    """`text` without characters that steer a terminal, and no row of it longer than `LONGEST_ROW`."""
    rows = harmless(text).split("\n")
    return "\n".join(row if len(row) <= LONGEST_ROW else f"{row[: LONGEST_ROW - 1]}…" for row in rows)


def print_json(shape: object, *, one_line: bool = False) -> None:
    """Print a JSON document, on one line or indented; ASCII alone where the output is not in UTF-8."""
    unicode = (getattr(sys.stdout, "encoding", None) or "ascii").lower().replace("-", "").replace("_", "") == "utf8"
    click.echo(json_text(shape, one_line=one_line, ascii_only=not unicode), file=sys.stdout)


def json_text(shape: object, *, one_line: bool = False, ascii_only: bool = False) -> str:
    """A JSON document without raw characters that steer a terminal."""
    text = json.dumps(shape, ensure_ascii=ascii_only, indent=None if one_line else 2, allow_nan=False)
    return _RAW_CONTROLS.sub(lambda match: f"\\u{ord(match[0]):04x}", text)


def _spell_out(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return spelt_out(error.object[error.start : error.end]), error.end
