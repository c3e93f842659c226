"""Diagnostics: what was noticed about the input, where, why and what to do.

A diagnostic is data, never printed where it arises. Every stage returns its diagnostics; all of them are shown in one
run, as text with the line and a caret, or as JSON.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a diagnostic matters: an error fails the run, a warning and a note do not."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Span:
    """A place in an input text.

    `line` and `column` count from 1; `column` is the first character meant, `end_column` the one after the last.
    `text` is the whole line as it stands in the file, so that a caret can be drawn without reading the file again.
    """

    file: str
    line: int
    column: int = 1
    end_column: int = 1
    text: str = ""

    def at(self, start: int, end: int) -> "Span":
        """The part of this span from character `start` to before `end`, both counted from this span's own column."""
        return Span(self.file, self.line, self.column + start, self.column + end, self.text)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One finding. `code` is stable and lower case with hyphens (`unknown-unit`); `hint` says what to do."""

    code: str
    severity: Severity
    message: str
    span: Span | None = None
    hint: str = ""

    def to_dict(self) -> dict[str, object]:
        """The JSON shape: code, severity, message, hint, and file, line, column where known."""
        shape: dict[str, object] = {
            "code": self.code,
            "severity": self.severity.value,
            "message": self.message,
            "hint": self.hint,
        }
        if self.span is not None:
            shape |= {"file": self.span.file, "line": self.span.line, "column": self.span.column}
        return shape


LONGEST_SHOWN_LINE = 160
"""Characters of an input line that a rendered diagnostic shows; longer lines are cut around the caret."""


def render_text(diagnostic: Diagnostic) -> str:
    """Render one diagnostic as `file:line:column: severity: message [code]`, the line, a caret and the hint."""
    span = diagnostic.span
    place = f"{span}: " if span else ""
    rows = [f"{place}{diagnostic.severity.value}: {diagnostic.message} [{diagnostic.code}]"]
    if span is not None and span.text:
        rows += _caret_rows(span)
    if diagnostic.hint:
        rows.append(f"  hint: {diagnostic.hint}")
    return "\n".join(rows)


def has_errors(diagnostics: Iterable[Diagnostic]) -> bool:
    """Whether any of the diagnostics is an error."""
    return any(d.severity is Severity.ERROR for d in diagnostics)


def _caret_rows(span: Span) -> list[str]:
    # One character of output for one character of input keeps the caret under its place.
    shown = "".join(c if c.isprintable() else " " for c in span.text)
    first = max(0, span.column - 1 - LONGEST_SHOWN_LINE // 2) if len(shown) > LONGEST_SHOWN_LINE else 0
    shown = shown[first : first + LONGEST_SHOWN_LINE]
    start = min(max(span.column - 1 - first, 0), len(shown))
    width = max(1, min(span.end_column - span.column, len(shown) - start))
    return [f"    {shown.rstrip()}", f"    {' ' * start}{'^' * width}"]
