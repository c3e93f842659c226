"""One ingredient line -> one `RecipeLine`: amount, food phrase, state, flags and settings.

The line is cut into tokens once; then each question is asked of the tokens by a module of its own: settings, amount,
fat, name, words, state. Nothing here raises on any text: what cannot be read becomes a diagnostic on the record.
"""

from dataclasses import replace
from typing import NamedTuple

from mealcalc.diagnostics import Span
from mealcalc.recipe.amount_reading import Reading
from mealcalc.recipe.amounts import read_amount
from mealcalc.recipe.descriptors import read_fat, read_words
from mealcalc.recipe.findings import Findings
from mealcalc.recipe.flags import is_optional, past_list_marks
from mealcalc.recipe.lexicon import CAN_UNITS
from mealcalc.recipe.measures import find_measure, total_in_smaller_unit
from mealcalc.recipe.names import NameReading, read_name
from mealcalc.recipe.not_food import is_equipment, is_not_food
from mealcalc.recipe.phrases import LABELS
from mealcalc.recipe.placed_amounts import move_trailing_unit, multiply_at_end, read_part_of, read_written_after
from mealcalc.recipe.settings import read_settings
from mealcalc.recipe.splitting import split_foods
from mealcalc.recipe.states import read_state
from mealcalc.recipe.tokens import LONGEST_LINE, Kind, Tokens, tokenise, words_between
from mealcalc.records import Amount, LineKind, RecipeLine
from mealcalc.units import COUNT_UNITS, check_region

__all__ = ["parse_line", "split_foods"]

_MEANT_MARKS = frozenset("-−([{~≈#")


class _AmountOfLine(NamedTuple):
    """The amount, where the food phrase starts, the part of the food (juice) named first, and tokens left out."""

    reading: Reading
    leading: bool
    written: bool
    name_start: int
    part: str
    left_out: frozenset[int]


def parse_line(text: str, span: Span, region: str, component: str = "") -> RecipeLine:
    """Read one ingredient line.

    Parameters
    ----------
    text : str
        The line as the cook wrote it.
    span : Span
        Where the line stands; its column is that of the first character of `text`.
    region : str
        Region of the recipe: decides what cups, spoons and pints are when amounts are added up.
    component : str
        Name of the component of the batch that the line belongs to.

    Returns
    -------
    RecipeLine
        With `diagnostics` for whatever could not be read. No text makes this function raise.

    Raises
    ------
    UsageError
        If the region is unknown.
    """
    check_region(region)
    findings = Findings(text, span)
    length, settings, problems = read_settings(text, findings.place)
    findings.diagnostics += problems
    body = text[:length]
    findings.length(length)
    tokens = tokenise(body)
    start = _first_token(body, tokens)
    negative = findings.negative(tokens, start)
    start += negative
    broken = findings.broken_number(tokens, start)
    start = start if broken is None else broken
    found = _find_amount(tokens, start, region)
    line = RecipeLine(text, findings.span, component, settings=settings)
    if is_not_food(body, tokens, start, leading_amount=found.leading, any_amount=found.written):
        name = words_between(body, tokens[start:]).strip(" :")
        line = replace(line, kind=LineKind.NOT_FOOD, name=name)
    else:
        line = _food(line, body, tokens, found, findings, region)
        if negative or broken is not None:
            line = replace(line, amount=None, measured=None)
        if line.kind is LineKind.FOOD:
            known = negative or broken is not None or found.reading.unknown is not None or settings.mass_g is not None
            line = replace(line, to_taste=line.amount is None and not known)
            if not line.name and settings.food is None:
                findings.no_food(len(body))
            if line.to_taste and settings.counted:
                findings.no_amount(tokens, line.name, len(body))
    return replace(line, diagnostics=tuple(findings.diagnostics))


def _first_token(body: str, tokens: Tokens) -> int:
    """The index of the first token after bullets, check boxes, list numbers and stray marks."""
    position = past_list_marks(body[:LONGEST_LINE])
    first = next(n for n, token in enumerate(tokens) if token.start >= position or token.kind is Kind.END)
    while tokens[first].kind is Kind.MARK and tokens[first].low not in _MEANT_MARKS:
        first += 1
    colon = next((n for n in range(first + 1, min(first + 3, len(tokens))) if tokens[n].low == ":"), None)
    if colon is not None and tokens[colon + 1].kind is not Kind.END:
        label = " ".join(token.low for token in tokens[first:colon])
        return colon + 1 if label in LABELS else first
    return first


def _find_amount(tokens: Tokens, start: int, region: str) -> _AmountOfLine:
    """The amount of the line: before the food, after `juice of`, or after the food."""
    nothing: frozenset[int] = frozenset()
    reading = read_amount(tokens, start, region)
    if reading is not None:
        left_out = multiply_at_end(tokens, reading)
        return _AmountOfLine(reading, reading.amount is not None, True, reading.end, "", left_out)
    part = read_part_of(tokens, start, region)
    if part is not None:
        return _AmountOfLine(part.reading, False, True, part.reading.end, part.prefix, nothing)
    after = read_written_after(tokens, start, region)
    if after is not None:
        return _AmountOfLine(after.reading, False, True, start, "", after.left_out)
    return _AmountOfLine(Reading(start), False, False, start, "", nothing)


def _food(
    line: RecipeLine, body: str, tokens: Tokens, found: _AmountOfLine, findings: Findings, region: str
) -> RecipeLine:
    """Read the food of a line whose amount has been found."""
    reading, start = found.reading, found.name_start
    findings.units(tokens, reading)
    fat = read_fat(tokens)
    left_out = found.left_out | frozenset(range(fat.start, fat.end)) if fat else found.left_out
    counted = reading.amount is not None and reading.amount.unit in COUNT_UNITS
    name = read_name(body, tokens, start, left_out, counted=counted)
    if is_equipment(name.tokens):
        return replace(line, kind=LineKind.NOT_FOOD, name=words_between(body, name.tokens))
    _settle_unit(reading, name)
    _read_later_measures(tokens, max(reading.end, start), reading, findings, region)
    words = read_words(tokens[start:]) | reading.words
    if found.part in ("juice", "zest"):
        words.add(f"{found.part} of")
    if "drained weight" in words:
        words.discard("drained")  # the liquid is off already
    amount = reading.amount
    pack = reading.container or (amount.unit if amount and amount.unit in CAN_UNITS else "")
    state = read_state(tokens, start, name.first_choice_end, pack)
    if state.contradiction is not None:
        findings.contradiction(tokens, state.state, state.contradiction)
    said = _name_text(body, name, reading, found.part, words)
    if amount is not None:
        findings.size_of_amount(tokens, amount, reading.measured, said, region)
    return replace(
        line,
        amount=amount,
        measured=reading.measured,
        name=said,
        aside=name.aside,
        preparation=name.preparation,
        container=reading.container,
        packs=None if reading.packs is None else (reading.packs.low + reading.packs.high) / 2,
        size=reading.size or name.size,
        state=state.state,
        fat_percent=fat.fat_percent if fat else None,
        words=frozenset(words),
        alternatives=tuple(name.alternatives),
        optional=is_optional(tokens, 0),
    )


def _settle_unit(reading: Reading, name: NameReading) -> None:
    """Take the unit from the end of the name (`garlic cloves`); a size without a number means one piece."""
    if reading.amount is not None and reading.amount.unit == "piece" and not reading.kept:
        reading.amount = replace(reading.amount, unit=move_trailing_unit(name))
    if reading.amount is None and reading.size and name.tokens and not name.tokens[-1].low.endswith("s"):
        reading.amount = Amount(1.0, 1.0, "piece", implied=True)


def _read_later_measures(tokens: Tokens, start: int, reading: Reading, findings: Findings, region: str) -> None:
    """A weight or volume later in the line that says more about grams than the amount; else a second amount.

    `3 tbsp oil, plus 1 tbsp` is added up where nothing else is said; it is told where it has a purpose or a food.
    """
    if reading.amount is None or not any(token.kind is Kind.NUMBER for token in tokens[start:]):
        return
    later = find_measure(tokens, start)
    if later is not None:
        reading.add_measured(later)
        return
    for n in range(start, len(tokens) - 4):
        if tokens[n].low not in ("plus", "+") or tokens[n].depth:
            continue
        more = read_amount(tokens, n + 1, region)
        if more is not None and more.amount is not None and tokens[n + 1].kind is Kind.NUMBER:
            alone = tokens[more.end].kind is Kind.END
            total = total_in_smaller_unit(reading.amount, more.amount, region) if alone else None
            if total is None:
                findings.second_amount(tokens, n, more.end)
            else:
                reading.amount = total
        return


def _name_text(body: str, name: NameReading, reading: Reading, part: str, words: set[str]) -> str:
    """The food phrase in the cook's words; the juice of a lemon is lemon juice."""
    said = words_between(body, name.tokens)
    if reading.kept:
        said = f"{said} {words_between(body, reading.kept)}".strip()
    if part:
        return f"{said} {part}".strip()
    for word in ("juice", "zest"):
        if f"{word} of" in words and said and word not in said.lower() and not reading.container:
            return f"{said} {word}"
    return said
