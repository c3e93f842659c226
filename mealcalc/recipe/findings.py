"""What is found wrong with a line: diagnostics with the caret under the words meant."""

from dataclasses import replace

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.recipe.amount_reading import Reading
from mealcalc.recipe.checks import absurdity, is_seasoning
from mealcalc.recipe.lexicon import COUNT_WORDS
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.recipe.tokens import LONGEST_LINE, Kind, Tokens
from mealcalc.recipe.units_in_text import UnitKind, read_unit
from mealcalc.records import Amount, FoodState

_MEASURE_WORDS = (
    "cup cups tablespoon tablespoons teaspoon teaspoons gram grams kilogram kilograms ounce ounces pound pounds "
    "litre litres millilitre millilitres pint pints quart quarts"
).split()
_UNIT_WORDS = sorted({*COUNT_WORDS, *_MEASURE_WORDS})
_SIGNS = frozenset("-−")
_NO_NUMBERS = frozenset(("nan", "inf", "infinity"))
_SAYS_WHY = frozenset(
    "taste serve serving garnish garnishing needed required desired liked like greasing frying brushing dusting "
    "drizzling sprinkling optional optionally topping finish few little some".split()
)
"""Words that say that a food without an amount is meant to be without one."""

_ALWAYS_AT_HAND = frozenset(("water", "ice", "pepper", "salt", "seasoning"))
"""Last words of foods whose missing amount changes neither energy nor macros."""


class Findings:
    """The diagnostics of one line; every place is counted in characters of its text.

    Parameters
    ----------
    text : str
        The line.
    span : Span
        Where it stands; its column is that of the first character.
    """

    def __init__(self, text: str, span: Span) -> None:
        self.span = span if span.text or span.column > 1 else replace(span, text=text)
        self._length = max(len(self.span.text) - (span.column - 1), 0) if self.span.text else len(text)
        self.diagnostics: list[Diagnostic] = []

    def place(self, start: int, end: int) -> Span:
        """The span of the characters from `start` to before `end`, kept inside the line that is shown."""
        start = max(0, min(start, self._length))
        return self.span.at(start, max(start, min(end, self._length)))

    def tell(self, code: str, severity: Severity, message: str, where: tuple[int, int], hint: str) -> None:
        """Add a diagnostic about the characters from the first to before the second of `where`."""
        self.diagnostics.append(Diagnostic(code, severity, message, self.place(*where), hint))

    def length(self, length: int) -> None:
        """Warn about a line that is longer than we read."""
        if length > LONGEST_LINE:
            message = f"the line has {length} characters; only the first {LONGEST_LINE} are read"
            hint = "break it into one line per ingredient"
            self.tell("long-line", Severity.WARNING, message, (LONGEST_LINE, length), hint)

    def negative(self, tokens: Tokens, start: int) -> bool:
        """Whether the line starts with a negative number, which is an error; a list dash has a space after it."""
        sign, number = tokens[start], tokens[start + 1]
        if sign.low not in _SIGNS or number.kind is not Kind.NUMBER or number.spaced:
            return False
        message = f"the amount '{sign.text}{number.text}' is negative"
        hint = "write the amount without the sign; put a space after a list dash"
        self.tell("negative-amount", Severity.ERROR, message, (sign.start, number.end), hint)
        return True

    def broken_number(self, tokens: Tokens, start: int) -> int | None:
        """Tell about a number at the start of the line that is none (a division by zero, `nan g`).

        Returns the index of the token after it and its unit, None where there is none.
        """
        for n in range(start, min(start + 3, len(tokens))):
            token = tokens[n]
            divided = token.kind is Kind.WORD and token.text[0].isdigit() and ("/" in token.text or "⁄" in token.text)
            if divided or (n == start and _is_no_number(tokens, n)):
                hint = "write the amount as a whole number, a decimal or a fraction"
                place = (token.start, token.end)
                self.tell("unreadable-number", Severity.ERROR, f"'{token.text}' is no number", place, hint)
                unit = read_unit(tokens, n + 1)
                return n + 1 if unit is None else unit.end
        return None

    def units(self, tokens: Tokens, reading: Reading) -> None:
        """Tell about unknown units, repaired spelling, and sums that do not add up."""
        if reading.unknown is not None:
            token = tokens[reading.unknown]
            near = did_you_mean(token.low, _UNIT_WORDS)
            near = f"{near} " if near.endswith("?") and (f"'{token.low[0]}" in near or token.low in near) else ""
            hint = f"{near}write a known unit, or leave 'of' out if it is part of the food"
            place = (token.start, token.end)
            self.tell("unknown-unit", Severity.ERROR, f"'{token.text}' is not a unit we know", place, hint)
        if reading.repaired is not None:
            token = tokens[reading.repaired[0]]
            message = f"'{token.text}' is read as '{reading.repaired[1]}'"
            place = (token.start, token.end)
            self.tell("unit-spelling", Severity.WARNING, message, place, "correct the spelling to be sure")
        if reading.unlike is not None:
            message = "a weight and a volume do not add up: only the first is counted"
            place = (tokens[reading.unlike].start, tokens[reading.end - 1].end)
            self.tell("unlike-sum", Severity.WARNING, message, place, "write two lines, or one unit")

    def second_amount(self, tokens: Tokens, first: int, end: int) -> None:
        """Note an amount that stands later in the line and is not counted."""
        message = "a second amount stands on this line and is not counted"
        place = (tokens[first].start, tokens[end - 1].end)
        self.tell("extra-amount", Severity.NOTE, message, place, "give it a line of its own if it is eaten")

    def contradiction(self, tokens: Tokens, state: FoodState | None, at: int) -> None:
        """Warn about two states that exclude each other."""
        token = tokens[at]
        message = f"'{token.text}' contradicts '{state}', which stands first and counts"
        hint = "say one state only, or add [state raw], [state cooked], ..."
        self.tell("contradictory-states", Severity.WARNING, message, (token.start, token.end), hint)

    def size_of_amount(self, tokens: Tokens, amount: Amount, measured: Amount | None, name: str, region: str) -> None:
        """Tell about amounts of zero and amounts that no kitchen weighs in."""
        number = next((token for token in tokens if token.kind is Kind.NUMBER), tokens[0])
        place = (number.start, number.end)
        if amount.high == 0:
            self.tell(
                "zero-amount", Severity.ERROR, "the amount is zero", place, "write the amount, or delete the line"
            )
            return
        why = absurdity(amount, name, region) or (absurdity(measured, name, region) if measured else "")
        if why:
            self.tell("absurd-amount", Severity.WARNING, f"this is {why}", place, "check the number and the unit")

    def no_amount(self, tokens: Tokens, name: str, length: int) -> None:
        """Warn about a food without an amount, unless the line says why or it is a seasoning or water."""
        said = any(token.low in _SAYS_WHY for token in tokens)
        if name and not said and not is_seasoning(name) and name.lower().split()[-1] not in _ALWAYS_AT_HAND:
            hint = "write an amount, or [grams N], or 'to taste'"
            message = f"'{name}' has no amount: it is not counted"
            self.tell("no-amount", Severity.WARNING, message, (0, length), hint)

    def no_food(self, length: int) -> None:
        """Tell about a line that names no food."""
        hint = "write the food after the amount"
        self.tell("no-food", Severity.ERROR, "no food is named on this line", (0, length), hint)


def _is_no_number(tokens: Tokens, n: int) -> bool:
    """Whether a word that programs print for no number stands before a unit; `nan bread` is a bread."""
    unit = read_unit(tokens, n + 1) if tokens[n].low in _NO_NUMBERS else None
    return unit is not None and unit.kind is not UnitKind.COUNT
