"""Helpers of the tests of recipe input."""

from mealcalc.diagnostics import Diagnostic, render_text
from mealcalc.recipe.reader import ReadResult, read_text
from mealcalc.records import Batch, RecipeLine


def read(text: str, name: str = "pots.batch.yaml", region: str | None = None) -> ReadResult:
    """Read a recipe held by a test, as if it stood in a file of that name."""
    return read_text(text, name, region)


def batch_of(result: ReadResult) -> Batch:
    """The batch, which must be there."""
    assert result.batch is not None, shown(result.diagnostics)
    return result.batch


def shown(diagnostics: tuple[Diagnostic, ...], code: str = "") -> str:
    """The diagnostics of a code (of all codes by default) as a user sees them."""
    return "\n".join(render_text(d) for d in diagnostics if code in ("", d.code))


def codes(result: ReadResult) -> list[str]:
    """Codes of the diagnostics, in order."""
    return [d.code for d in result.diagnostics]


def errors(result: ReadResult) -> list[str]:
    """Codes of the errors, in order."""
    return [d.code for d in result.diagnostics if d.severity == "error"]


def places(lines: tuple[RecipeLine, ...]) -> list[tuple[int, int, str]]:
    """Line, column and text of recipe lines."""
    return [(line.span.line, line.span.column, line.text) for line in lines]


def assert_inside(result: ReadResult, text: str) -> None:
    """Every place of a result lies inside the text."""
    rows = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    found = list(result.diagnostics)
    spans = []
    if result.batch is not None:
        for line in result.batch.lines:
            spans.append(line.span)
            found += line.diagnostics
    spans += [d.span for d in found if d.span is not None]
    for span in spans:
        assert 1 <= span.line <= len(rows)
        assert 1 <= span.column <= len(rows[span.line - 1]) + 1
        assert span.column <= span.end_column <= len(rows[span.line - 1]) + 1
