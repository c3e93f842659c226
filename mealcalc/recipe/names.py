"""The food phrase of a line, what is done to the food, second names and alternatives."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from unicodedata import category

from mealcalc.recipe.alternatives import read_alternatives
from mealcalc.recipe.amounts import read_sized
from mealcalc.recipe.food_phrases import DROPPED_FIRST, closed, only_describes, take_leading_preparation, take_trailing
from mealcalc.recipe.lexicon import NOT_A_SIZE_BEFORE, SIZES
from mealcalc.recipe.measures import read_bracket, read_measure
from mealcalc.recipe.phrases import (
    ADVERBS,
    INVERTED,
    MEATS,
    PARTICIPLES,
    REMARK_STARTS,
)
from mealcalc.recipe.tokens import Kind, Token, Tokens, words_between

_SEPARATORS = frozenset((",", ";", ":", "–", "—", "…", "•"))
_DROPPED_LAST = frozenset('- . ! ? * : = + > < _ "'.split())
_FLAG_SEGMENTS = frozenset(
    "optional to taste serve garnish for serving garnishing as needed required desired if or more with extra "
    "necessary liked "
    "you like and frying greasing".split()
)


@dataclass(slots=True)
class NameReading:
    """The parts of a food phrase; `tokens` are those of the name, `end` the index of the first token after its segment.

    first_choice_end: index after the first of several alternatives.
    """

    tokens: list[Token]
    end: int
    aside: str = ""
    preparation: str = ""
    size: str = ""
    alternatives: list[str] = field(default_factory=list)
    first_choice_end: int = 0


def read_name(text: str, tokens: Tokens, start: int, left_out: frozenset[int], *, counted: bool) -> NameReading:
    """Read the food phrase that starts at token `start`.

    Parameters
    ----------
    text, tokens
        The line and its tokens.
    left_out : frozenset of int
        Indices of tokens that say something else: a fat percentage, an amount written after the food.
    counted : bool
        Whether the food is counted, so that size words are of the piece and leave the name.
    """
    segments, asides, end, size = _segments(text, tokens, start, left_out, counted=counted)
    head = segments[0]
    rest = segments[1:]
    while rest and only_describes(head) and not _is_flag(rest[0]) and not _only_prepares(rest[0]):
        head = head + rest.pop(0)
    while head and head[0].low in DROPPED_FIRST:
        head = head[1:]
    while head and head[-1].low in _DROPPED_LAST:
        head = head[:-1]
    head, size = _take_size(head, size, counted)
    if len(head) > 1 and head[0].low in (".", "-", ","):
        head = head[1:]
    head, moved = take_leading_preparation(head)
    head, trailing = take_trailing(head)
    size = size or _size_segment(rest)
    head, alternatives = read_alternatives(text, head, rest)
    if rest and _belongs_before(head, rest[0]):
        head = rest.pop(0) + head
    said = [
        words_between(text, part)
        for part in (moved, trailing, *rest)
        if part and not _is_flag(part) and not _is_measure(part)
    ]
    preparation = ", ".join(s for s in said if s)
    return NameReading(head, end, "; ".join(asides), preparation, size, alternatives, _end_of_first(tokens, start, end))


def _belongs_before(head: Sequence[Token], segment: Sequence[Token]) -> bool:
    """Whether a comma phrase is an adjective in catalogue order (`beef, ground`; `onions, red`)."""
    if len(segment) != 1 or segment[0].low not in INVERTED or not 0 < len(head) <= 2:
        return False
    return segment[0].low != "minced" or head[-1].low in MEATS


def _end_of_first(tokens: Tokens, start: int, end: int) -> int:
    for n in range(start + 1, end):
        if tokens[n].low == "or" and not tokens[n].depth and not only_describes(tokens[start:n]):
            return n
    return end


def _segments(
    text: str, tokens: Tokens, start: int, left_out: frozenset[int], *, counted: bool
) -> tuple[list[list[Token]], list[str], int, str]:
    """Cut the line at its commas outside brackets; brackets that hold a second name go to the asides."""
    segments: list[list[Token]] = [[]]
    asides: list[str] = []
    described: list[list[Token]] = []
    size, first_end, i = "", -1, start
    while tokens[i].kind is not Kind.END:
        token = tokens[i]
        if token.low in ("(", "[", "{"):
            close = i + 1
            while (
                tokens[close].kind is not Kind.END
                and tokens[close].depth >= token.depth
                and tokens[close].low not in (")", "]", "}")
            ):
                close += 1
            inside = _aside(tokens, i, close, left_out)
            if inside and only_describes(inside):
                described.append(inside)
            elif inside:
                asides.append(words_between(text, inside))
            i = close + (tokens[close].kind is not Kind.END)
            continue
        dash = token.low == "-" and ((token.spaced and tokens[i + 1].spaced) or tokens[i + 1].low == "-")
        if token.low in _SEPARATORS or dash:
            if segments[-1]:
                segments.append([])
                first_end = i if first_end < 0 else first_end
            i += 1
            continue
        if token.kind is Kind.NUMBER and len(segments) == 1:
            if sized := read_sized(tokens, i):
                size, i = size or (sized[0] if counted else ""), sized[1]
                continue
            if tokens[i + 1].low in ("%", "percent"):
                i += 2  # a percentage that is no fat says nothing that a name of a food holds
                continue
        if i not in left_out and not _is_picture(token):
            segments[-1].append(token)
        i += 1
    if len(segments) > 1 and not segments[-1]:
        segments.pop()
    segments += described
    return segments, asides, first_end if first_end >= 0 else i, size


def _is_picture(token: Token) -> bool:
    return token.kind is Kind.MARK and not token.text.isascii() and category(token.text) == "So"


def _aside(tokens: Tokens, i: int, close: int, left_out: frozenset[int]) -> list[Token]:
    """The tokens inside a bracket, none where it holds an amount, a flag or a remark."""
    inside = [token for n, token in enumerate(tokens[i + 1 : close], i + 1) if n not in left_out]
    if not inside or inside[0].low in REMARK_STARTS or read_bracket(tokens, i) is not None:
        return []
    if any(token.kind is Kind.NUMBER for token in inside) or _is_flag(inside):
        return []
    return inside


def _only_prepares(segment: Sequence[Token]) -> bool:
    return bool(segment) and segment[0].low in PARTICIPLES | ADVERBS and only_describes(segment)


def _is_flag(segment: Sequence[Token]) -> bool:
    return all(token.low in _FLAG_SEGMENTS or token.kind is not Kind.WORD for token in segment)


def _is_measure(segment: Sequence[Token]) -> bool:
    """Whether a comma phrase is a measure and nothing else: `about 6 ounces each`."""
    phrase = closed(segment)
    found = read_measure(phrase, 0)
    return found is not None and phrase[found.end].kind is Kind.END


def _take_size(head: list[Token], size: str, counted: bool) -> tuple[list[Token], str]:
    """Take size words (also `extra large` in two) off the front; inside the name of an uncounted food they stay."""
    kept: list[Token] = []
    for n, token in enumerate(head):
        following = head[n + 1].low if n + 1 < len(head) else ""
        if (
            token.low in SIZES
            and following not in NOT_A_SIZE_BEFORE
            and n < 4
            and not (token.low == "little" and following == "gem")
        ):
            found = SIZES[token.low]
            if kept and kept[-1].low == "extra" and found == "large":
                found = "extra large"
                if counted:
                    kept.pop()
            if kept and kept[-1].low == "very" and counted:
                kept.pop()
            size = size or found
            if counted or n == 0:
                continue
        kept.append(token)
    return (kept or head), size


def _size_segment(rest: list[list[Token]]) -> str:
    """A comma phrase that is a size: `2 egg yolks, extra-large`."""
    for segment in rest:
        if len(segment) == 1 and segment[0].low in SIZES:
            rest.remove(segment)
            return SIZES[segment[0].low]
    return ""
