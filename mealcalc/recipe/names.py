"""The food phrase of a line, what is done to the food, second names and alternatives."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from unicodedata import category

from mealcalc.recipe.amounts import read_amount, read_sized
from mealcalc.recipe.lexicon import NOT_A_SIZE_BEFORE, SIZES
from mealcalc.recipe.measures import read_bracket, read_measure
from mealcalc.recipe.phrases import (
    ADVERBS,
    AFTER_PARTICIPLE,
    COLOURS,
    CUT_AFTER_WITH,
    DESCRIPTORS,
    ENDS_NAME,
    INVERTED,
    KEPT_AFTER_IN,
    MEATS,
    NO_ALTERNATIVE,
    PARTICIPLES,
    PURE_PREPARATION,
    REMARK_STARTS,
    SHARED_HEADS,
    STANDS_ALONE,
)
from mealcalc.recipe.tokens import Kind, Token, Tokens, words_between

_SEPARATORS = frozenset((",", ";", ":", "–", "—", "…", "•"))
_DROPPED_FIRST = frozenset(
    (
        *"of the a an . - / * : ' + any your some each & and ~ ? !".split(),
        '"',
        "“",
        "about",
        "additional",
        "approx",
        "approximately",
    )
)
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
    while rest and _only_describes(head) and not _is_flag(rest[0]) and not _only_prepares(rest[0]):
        head = head + rest.pop(0)
    while head and head[0].low in _DROPPED_FIRST:
        head = head[1:]
    while head and head[-1].low in _DROPPED_LAST:
        head = head[:-1]
    head, size = _take_size(head, size, counted)
    if len(head) > 1 and head[0].low in (".", "-", ","):
        head = head[1:]
    head, moved = _take_leading_preparation(head)
    head, trailing = _take_trailing(head)
    size = size or _size_segment(rest)
    head, alternatives = _alternatives(text, head, rest)
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
        if tokens[n].low == "or" and not tokens[n].depth and not _only_describes(tokens[start:n]):
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
            if inside and _only_describes(inside):
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


def _only_describes(segment: Sequence[Token]) -> bool:
    return all(token.low in DESCRIPTORS or token.kind is not Kind.WORD for token in segment)


def _only_prepares(segment: Sequence[Token]) -> bool:
    return bool(segment) and segment[0].low in PARTICIPLES | ADVERBS and _only_describes(segment)


def _is_flag(segment: Sequence[Token]) -> bool:
    return all(token.low in _FLAG_SEGMENTS or token.kind is not Kind.WORD for token in segment)


def _is_measure(segment: Sequence[Token]) -> bool:
    """Whether a comma phrase is a measure and nothing else: `about 6 ounces each`."""
    closed = _closed(segment)
    found = read_measure(closed, 0)
    return found is not None and closed[found.end].kind is Kind.END


def _closed(segment: Sequence[Token]) -> list[Token]:
    """A part of a line as tokens of its own, closed by END tokens."""
    end = segment[-1]._replace(kind=Kind.END, text="", low="", value=None)
    return [*segment, end, end, end, end]


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


def _take_leading_preparation(head: list[Token]) -> tuple[list[Token], list[Token]]:
    """Move `finely chopped`, `peeled and sliced` off the front; a single participle stays (`chopped tomatoes`)."""
    n, participles, bound = 0, 0, False
    while n < len(head) - 1:
        low, following = head[n].low, head[n + 1].low
        if low in PARTICIPLES:
            if low in ("ground", "minced") and (following in MEATS or (n + 2 < len(head) and head[n + 2].low in MEATS)):
                break
            participles += 1
        elif (low in ADVERBS and following in PARTICIPLES | ADVERBS | {"and", "or"}) or (
            low in ("and", "or", "&", ",") and participles and following in PARTICIPLES | ADVERBS
        ):
            bound = True
        else:
            break
        n += 1
    while n and head[n - 1].low in ("and", "or", "&", ","):
        n -= 1
    if not participles:
        return (head[n:] if n and head[n].low in MEATS | {"ground", "minced"} else head), []
    return (head[n:], head[:n]) if bound else (head, [])


def _take_trailing(head: list[Token]) -> tuple[list[Token], list[Token]]:
    """Cut the head where the food ends: `for`, `cut into`, `in 1-inch pieces`, a participle not before a noun."""
    named = False
    for n, token in enumerate(head):
        if n and _ends_here(head, n, named=named):
            return head[:n], head[n:]
        named = named or (token.kind is Kind.WORD and token.low not in DESCRIPTORS)
    return head, []


def _ends_here(head: list[Token], n: int, *, named: bool) -> bool:
    """Whether the food phrase ends before token `n`; `named` says that a noun stands before it."""
    low = head[n].low
    following = head[n + 1] if n + 1 < len(head) else None
    after = following.low if following else ""
    if low in ENDS_NAME:
        return named or low not in ("cut", "like")
    if low == "in":
        return after not in KEPT_AFTER_IN
    if low in ("with", "without"):
        return after in CUT_AFTER_WITH
    if not named:
        return False
    if low == "more":
        return after in ("to", "as", "if", "for", "or")
    if low in ADVERBS:
        return after in PURE_PREPARATION
    if low not in PURE_PREPARATION or (low == "minced" and head[n - 1].low in MEATS):
        return False
    return following is None or following.kind is not Kind.WORD or after in AFTER_PARTICIPLE or after in PARTICIPLES


def _alternatives(text: str, head: list[Token], rest: list[list[Token]]) -> tuple[list[Token], list[str]]:
    """Part the head at `or` and `/`; a list that goes on after commas is taken too (`red wine, stock, or water`)."""
    parts = _parts(head)
    first = parts[0]
    found: list[str] = []
    for part in parts[1:]:
        other = _other_food(part)
        if not other:
            continue
        if first and _only_describes(first):
            nouns = [token for token in other if token.low not in DESCRIPTORS]
            if not nouns:
                continue
            if all(token.low in PARTICIPLES | ADVERBS for token in first):
                first = other
                continue
            described = [token for token in other if token.low in DESCRIPTORS]
            if described:
                found.append(words_between(text, other))
            first = first + nouns
            continue
        if _only_describes(other):
            continue
        shared = _shared_head(first, other)
        found.append(words_between(text, other))
        first = first + shared
    if any(segment and segment[0].low == "or" for segment in rest[:3]):
        _take_listed(text, rest, found)
    elif rest and not found and any(token.low == "or" for token in rest[0][1:]):
        first = first + _take_list_with_or(text, first, rest, found)
    return first, found


def _parts(head: list[Token]) -> list[list[Token]]:
    parts: list[list[Token]] = [[]]
    for n, token in enumerate(head):
        slash = token.low in ("/", "|") and 0 < n < len(head) - 1 and head[n + 1].kind is Kind.WORD
        if token.low == "or" or slash:
            if parts[-1] and parts[-1][-1].low == "and":
                parts[-1].pop()
            if parts[-1]:
                parts.append([])
        else:
            parts[-1].append(token)
    if not parts[-1] and len(parts) > 1:
        parts.pop()
    return parts


def _other_food(part: list[Token]) -> list[Token]:
    """The food of an alternative, its own amount taken off; empty if it is no food."""
    if not part or part[0].low in NO_ALTERNATIVE:
        return []
    reading = read_amount(_closed(part), 0, "metric")
    if reading is not None:
        part = part[reading.end :]
    while part and part[0].low in _DROPPED_FIRST:
        part = part[1:]
    if not part or part[0].low in NO_ALTERNATIVE:
        return []
    name, _ = _take_trailing(part)
    return [token for token in name if token.kind is not Kind.END]


def _shared_head(first: list[Token], other: list[Token]) -> list[Token]:
    """What the first food shares with the other: `oil` in `olive or rapeseed oil`."""
    if not first or len(first) > 3 or len(other) < 2 or other[-1].low not in SHARED_HEADS:
        return []
    last = first[-1].low
    if last in STANDS_ALONE or last in SHARED_HEADS or last.rstrip("s") == other[-1].low.rstrip("s"):
        return []
    if other[0].low in INVERTED and last in INVERTED:
        return other[1:]
    return other[-1:]


def _take_list_with_or(text: str, first: list[Token], rest: list[list[Token]], found: list[str]) -> list[Token]:
    """`corn, peanut or vegetable oil`, `dill, parsley or tarragon`: the others, and what the first shares with them."""
    others = _parts(rest[0])
    words = [token.low for part in others for token in part]
    described = DESCRIPTORS | REMARK_STARTS | COLOURS | NO_ALTERNATIVE | ENDS_NAME
    if any(len(part) > 2 for part in others) or any(word in described for word in words):
        return []
    shared = _shared_head(first, others[-1]) if len(first) == 1 else []
    for part in others:
        found.append(words_between(text, part if part is others[-1] or not shared else part + shared))
    rest.pop(0)
    return shared


def _take_listed(text: str, rest: list[list[Token]], found: list[str]) -> None:
    n = next(i for i, segment in enumerate(rest) if segment and segment[0].low == "or")
    between = rest[:n]
    if any(len(segment) > 2 or segment[0].low in PARTICIPLES | ADVERBS for segment in between if segment):
        return
    other = _other_food(rest[n][1:])
    if not other or _only_describes(other) or other[0].low in PARTICIPLES | ADVERBS:
        return
    for segment in between:
        if segment and not _only_describes(segment):
            found.append(words_between(text, segment))
    found.append(words_between(text, other))
    del rest[: n + 1]
