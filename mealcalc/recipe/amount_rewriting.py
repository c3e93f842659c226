"""Writes another amount into a line of a recipe: every number that belongs to the amount, and no other.

Which numbers belong to it is not guessed: sets of numbers are multiplied, the largest set first, and each line that
results is read again. The first that reads as the same line with the amount wanted is taken; the numbers of fat levels,
lengths, temperatures and times stay, since with them changed the line would say something else.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations

from mealcalc.diagnostics import Span
from mealcalc.recipe.amount_reading import unit_after_modifiers
from mealcalc.recipe.ingredient_lines import parse_ingredient
from mealcalc.recipe.numbers import read_quantity
from mealcalc.recipe.settings import read_settings
from mealcalc.recipe.tokens import MOST_DIGITS, Kind, tokenise
from mealcalc.records import Amount, RecipeLine

MOST_NUMBERS = 6
"""Numbers of a line that are tried; no amount has more."""

MOST_WORDS_OF_GESTURE = 3
"""Words that say an amount without a number: a good glug, a few."""

SAME = 1e-6
"""Relative difference below which two amounts are the same, as written in decimals."""

ROUNDED_AS_MEANT = 0.6
"""A rounded line must still read within this share of the exact amount; only the smallest measures come close."""

_LARGEST_DENOMINATOR = 10_000
_GRAMS = re.compile(r"(\[\s*grams\s+)([0-9]+(?:[.,][0-9]+)?)", re.IGNORECASE)
_ASKED = ("kind", "name", "aside", "preparation", "container", "size", "state", "fat_percent", "words", "alternatives")


@dataclass(frozen=True, slots=True)
class Written:
    """A number or range written in a line: characters from `start` to before `end`, and the unit after it."""

    start: int
    end: int
    low: Fraction
    high: Fraction
    unit: str


Shown = Callable[[Fraction, str], str]
"""How a number of a unit is written."""


def exactly(value: Fraction, unit: str) -> str:  # noqa: ARG001 - the shape of `Shown`
    """A number in decimals, with as many digits as are read as a number."""
    number = float(value)
    places = max(0, MOST_DIGITS - 2 - len(str(int(number))))
    return f"{number:.{places}f}".rstrip("0").rstrip(".") if places else f"{number:.0f}"


def rewritten(
    text: str, span: Span, region: str, component: str, wanted: Sequence[RecipeLine], factor: Fraction, shown: Shown
) -> str | None:
    """The line with its amount multiplied and its numbers written by `shown`.

    Parameters
    ----------
    text : str
        The line as it stands in the file.
    span : Span
        Its place, for reading it again.
    region, component : str
        As for `parse_ingredient`.
    wanted : sequence of RecipeLine
        The recipe lines that the new text must read as, with exact amounts.
    factor : Fraction
        What amounts are multiplied by.
    shown : function
        Writes a number with its unit in mind; rounding it is allowed.

    Returns
    -------
    str or None
        The new text; None where no way of writing it reads as the line that is wanted.
    """

    def reads_as_wanted(candidate: str, within: float) -> bool:
        place = replace(span, end_column=span.column + len(candidate))
        return _alike(parse_ingredient(candidate, place, region, component), wanted, within)

    if reads_as_wanted(text, SAME):
        return text
    length = read_settings(text, span.at)[0]
    tail = _GRAMS.sub(lambda m: m[1] + shown(Fraction(m[2].replace(",", ".")) * factor, "g"), text[length:])
    exact_tail = _GRAMS.sub(lambda m: m[1] + exactly(Fraction(m[2].replace(",", ".")) * factor, "g"), text[length:])
    body = text[:length]
    for chosen in _sets(quantities(body)):
        if not reads_as_wanted(_with_numbers(body, chosen, factor, exactly) + exact_tail, SAME):
            continue
        rounded = _with_numbers(body, chosen, factor, shown) + tail
        return rounded if reads_as_wanted(rounded, ROUNDED_AS_MEANT) else None
    amount = wanted[0].amount
    if len(wanted) == 1 and amount is not None:
        for candidate in _with_number_for_gesture(body, amount, shown):
            if reads_as_wanted(candidate + tail, ROUNDED_AS_MEANT):
                return candidate + tail
    return None


def quantities(body: str) -> list[Written]:
    """The numbers and ranges of a line without its settings, each with the unit after it ('piece' if none)."""
    tokens = tokenise(body)
    found: list[Written] = []
    i = 0
    while tokens[i].kind is not Kind.END and len(found) < MOST_NUMBERS:
        quantity = read_quantity(tokens, i)
        if quantity is None:
            i += 1
            continue
        unit = unit_after_modifiers(tokens, quantity.end)
        found.append(
            Written(
                tokens[i].start,
                tokens[quantity.end - 1].end,
                Fraction(quantity.low).limit_denominator(_LARGEST_DENOMINATOR),
                Fraction(quantity.high).limit_denominator(_LARGEST_DENOMINATOR),
                unit[0].unit if unit else "piece",
            )
        )
        i = quantity.end
    return found


def _sets(numbers: Sequence[Written]) -> Iterator[tuple[Written, ...]]:
    """All sets of numbers: the largest first, of equal ones that of the earlier numbers; the empty one last."""
    for size in range(len(numbers), -1, -1):
        yield from combinations(numbers, size)


def _with_numbers(body: str, chosen: Sequence[Written], factor: Fraction, shown: Shown) -> str:
    for number in reversed(chosen):
        low, high = (shown(value * factor, number.unit) for value in (number.low, number.high))
        body = body[: number.start] + (low if low == high else f"{low}-{high}") + body[number.end :]
    return body


def _with_number_for_gesture(body: str, amount: Amount, shown: Shown) -> Iterator[str]:
    """A number in the place of the words that say an amount without one: `a handful`, `a few sprigs`."""
    tokens = tokenise(body)
    low, high = (
        shown(Fraction(value).limit_denominator(_LARGEST_DENOMINATOR), amount.unit)
        for value in (amount.low, amount.high)
    )
    written = low if low == high else f"{low}-{high}"
    for passed in range(min(MOST_WORDS_OF_GESTURE, len(tokens) - 5), -1, -1):
        start = tokens[0].start
        yield f"{body[:start]}{written} {body[tokens[passed].start :]}"


def _alike(found: Sequence[RecipeLine], wanted: Sequence[RecipeLine], within: float) -> bool:
    return len(found) == len(wanted) and all(_same(a, b, within) for a, b in zip(found, wanted, strict=True))


def _same(found: RecipeLine, wanted: RecipeLine, within: float) -> bool:
    if any(getattr(found, name) != getattr(wanted, name) for name in _ASKED):
        return False
    if (found.optional, found.to_taste) != (wanted.optional, wanted.to_taste):
        return False
    grams = found.settings.mass_g, wanted.settings.mass_g
    settings = replace(found.settings, mass_g=None) == replace(wanted.settings, mass_g=None)
    return (
        settings
        and _near(*grams, within)
        and _near(found.packs, wanted.packs, within)
        and _same_amount(found.amount, wanted.amount, within)
        and _same_amount(found.measured, wanted.measured, within)
    )


def _same_amount(found: Amount | None, wanted: Amount | None, within: float) -> bool:
    if found is None or wanted is None:
        return found is wanted
    if found.unit != wanted.unit:
        return False
    return _near(found.low, wanted.low, within) and _near(found.high, wanted.high, within)


def _near(found: float | None, wanted: float | None, within: float) -> bool:
    if found is None or wanted is None:
        return found is wanted
    return abs(found - wanted) <= within * max(abs(found), abs(wanted)) + 1e-12
