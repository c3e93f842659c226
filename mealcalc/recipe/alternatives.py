"""Foods that a line allows beside the first one: `olive or rapeseed oil`, `red wine, stock, or water`."""

from mealcalc.recipe.amounts import read_amount
from mealcalc.recipe.food_phrases import DROPPED_FIRST, closed, only_describes, take_trailing
from mealcalc.recipe.phrases import (
    ADVERBS,
    COLOURS,
    DESCRIPTORS,
    ENDS_NAME,
    INVERTED,
    NO_ALTERNATIVE,
    PARTICIPLES,
    REMARK_STARTS,
    SHARED_HEADS,
    STANDS_ALONE,
)
from mealcalc.recipe.tokens import Kind, Token, words_between


def read_alternatives(text: str, head: list[Token], rest: list[list[Token]]) -> tuple[list[Token], list[str]]:
    """Part the head at `or` and `/`; a list that goes on after commas is taken too (`red wine, stock, or water`)."""
    parts = _parts(head)
    first = parts[0]
    found: list[str] = []
    for part in parts[1:]:
        other = _other_food(part)
        if not other:
            continue
        if first and only_describes(first):
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
        if only_describes(other):
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
    reading = read_amount(closed(part), 0, "metric")
    if reading is not None:
        part = part[reading.end :]
    while part and part[0].low in DROPPED_FIRST:
        part = part[1:]
    if not part or part[0].low in NO_ALTERNATIVE:
        return []
    name, _ = take_trailing(part)
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
    if not other or only_describes(other) or other[0].low in PARTICIPLES | ADVERBS:
        return
    for segment in between:
        if segment and not only_describes(segment):
            found.append(words_between(text, segment))
    found.append(words_between(text, other))
    del rest[: n + 1]
