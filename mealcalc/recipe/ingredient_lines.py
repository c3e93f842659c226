"""From a line of text to recipe lines: comments off, several foods parted, each parsed with its place in the file."""

import re
from collections.abc import Iterator
from dataclasses import replace

from mealcalc.diagnostics import Span
from mealcalc.recipe.line_parser import parse_line, split_foods
from mealcalc.recipe.source import Source
from mealcalc.records import RecipeLine

# After a number # means pounds (2 # beef), before a digit it is a can size (1 #10 can), inside a word it is part of it.
_COMMENT = re.compile(r"^\s*#|(?<=\s)#(?![0-9])")
_NUMBER_BEFORE = re.compile(r"[0-9½¼¾⅓⅔⅛]\s+$")


def content_range(line: str) -> tuple[int, int]:
    """Start and end of what a line says, counted from 0: without its comment and the white space around."""
    end = len(line)
    for match in _COMMENT.finditer(line):
        if not _NUMBER_BEFORE.search(line, max(0, match.start() - 20), match.start()):
            end = match.start()
            break
    said = line[:end]
    return len(said) - len(said.lstrip()), len(said.rstrip())


def said_lines(source: Source, first: int, last: int) -> Iterator[tuple[str, Span]]:
    """Text and place of every line from `first` to `last` (from 1, inclusive) that says something."""
    for number in range(first, min(last, len(source.lines)) + 1):
        line = source.lines[number - 1]
        start, end = content_range(line)
        if start < end:
            yield line[start:end], source.span(number, start + 1, end + 1)


def parse_ingredient(text: str, span: Span, region: str, component: str) -> list[RecipeLine]:
    """The recipe lines that one written line holds: more than one where it names several foods of one amount.

    Parameters
    ----------
    text : str
        What the line says; it stands at `span` in the file, perhaps with characters escaped.
    span : Span
        Its place.
    region : str
        Region whose measures and words count.
    component : str
        Name of the component of the batch that the line belongs to.
    """
    pieces = split_foods(text)
    if len(pieces) < 2:
        return [parse_at(text, span, region, component)]
    lines, cursor = [], 0
    for piece in pieces:
        # A piece stands in the line as it is, unless an amount that counts for all was put before it.
        found = text.find(piece, cursor)
        if found >= 0:
            cursor = found + len(piece)
        place = span if found < 0 else _part(span, text, found, cursor)
        lines.append(parse_at(piece, place, region, component))
    return lines


def parse_at(text: str, span: Span, region: str, component: str) -> RecipeLine:
    """Parse one line; where the file spells it otherwise than `text`, findings point to the whole of it."""
    line = parse_line(text, span, region, component)
    if _stands_at(text, span) or not line.diagnostics:
        return line
    return replace(line, diagnostics=tuple(replace(d, span=span) for d in line.diagnostics))


def _stands_at(text: str, span: Span) -> bool:
    return span.text[span.column - 1 : span.end_column - 1] == text


def _part(span: Span, text: str, start: int, end: int) -> Span:
    return span.at(start, end) if _stands_at(text, span) else span
