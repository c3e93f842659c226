"""List marks before a line, and whether the cook calls a line optional."""

import re

from mealcalc.recipe.tokens import Kind, Tokens

_BULLETS = frozenset("•·‣▪◦●○□☐☑✓✔–—")
_MARKS = frozenset("-*+")
_BOX_OR_NUMBER = re.compile(r"\[[ xX]?\]|\(?\d{1,2}[.)](?=\s+\S)")
_MOST_MARKS = 5
_WISHES = frozenset("desired liked wanted using".split())
_YOU = frozenset("like wish want prefer desire".split())
_OPENS = frozenset((",", ";", "(", "–", "—", "-"))


def past_list_marks(text: str) -> int:
    """The index of the first character after bullets, check boxes and list numbers (`- `, `1. `, `[ ]`, `☐`)."""
    position = 0
    for _ in range(_MOST_MARKS):
        start = _past_blanks(text, position)
        if start >= len(text):
            return position
        mark, following = text[start], text[start + 1 : start + 2]
        if mark in _BULLETS or (mark in _MARKS and not following.strip()) or (mark == "*" and following != "*"):
            position = start + 1
            continue
        match = _BOX_OR_NUMBER.match(text, start)
        if match is None:
            return position
        position = match.end()
    return position


def is_optional(tokens: Tokens, start: int) -> bool:
    """Whether the line says `optional`, or `if desired` and the like as a phrase of its own.

    `seeded if desired` and wishes inside a remark leave the line itself as it is.
    """
    for n in range(start, len(tokens) - 4):
        token = tokens[n]
        if token.low in ("optional", "optionally"):
            return True
        if token.low != "if" or token.kind is not Kind.WORD:
            continue
        wish = tokens[n + 1].low in _WISHES or (tokens[n + 1].low == "you" and tokens[n + 2].low in _YOU)
        before = tokens[n - 1] if n > start else None
        opens = before is None or before.low == "(" or (before.low in _OPENS and not before.depth)
        after_taste = before is not None and before.low == "taste" and not before.depth
        if wish and (opens or after_taste):
            return True
    return False


def _past_blanks(text: str, position: int) -> int:
    while position < len(text) and (text[position].isspace() or text[position] == "\ufeff"):
        position += 1
    return position
