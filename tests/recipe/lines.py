"""Reading one line in tests."""

from mealcalc.diagnostics import Span, render_text
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import Amount, RecipeLine


def read(text: str, region: str = "us") -> RecipeLine:
    """The line as if it stood alone in a file called `pot.txt`, on line 3."""
    return parse_line(text, Span("pot.txt", 3, 1, len(text) + 1, text), region)


def shown(amount: Amount | None) -> str:
    """An amount in short: `2 x unit`, ranges with '..', implied ones with '~', nothing as '-'."""
    if amount is None:
        return "-"
    number = f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g}..{amount.high:g}"
    return f"{number} {amount.unit}{'~' if amount.implied else ''}"


def told(line: RecipeLine) -> str:
    """The diagnostics of a line as the user sees them."""
    return "\n".join(render_text(diagnostic) for diagnostic in line.diagnostics)
