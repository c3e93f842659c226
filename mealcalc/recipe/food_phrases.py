"""Where a food phrase starts and ends: preparation before and after it."""

from collections.abc import Sequence

from mealcalc.recipe.phrases import (
    ADVERBS,
    AFTER_PARTICIPLE,
    CUT_AFTER_WITH,
    DESCRIPTORS,
    ENDS_NAME,
    KEPT_AFTER_IN,
    MEATS,
    PARTICIPLES,
    PURE_PREPARATION,
)
from mealcalc.recipe.tokens import Kind, Token

DROPPED_FIRST = frozenset(
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
"""Words and marks at the start of a food phrase that are no part of it."""


_STONES = frozenset("stone stones pit pits".split())


def only_describes(segment: Sequence[Token]) -> bool:
    """Whether a phrase holds nothing but words that describe (see `DESCRIPTORS`)."""
    return all(token.low in DESCRIPTORS or token.kind is not Kind.WORD for token in segment)


def closed(segment: Sequence[Token]) -> list[Token]:
    """A part of a line as tokens of its own, closed by END tokens."""
    end = segment[-1]._replace(kind=Kind.END, text="", low="", value=None)
    return [*segment, end, end, end, end]


def take_leading_preparation(head: list[Token]) -> tuple[list[Token], list[Token]]:
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


def take_trailing(head: list[Token]) -> tuple[list[Token], list[Token]]:
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
    if low in _STONES and after == "in":
        return named
    if not named:
        return False
    if low == "more":
        return after in ("to", "as", "if", "for", "or")
    if low in ADVERBS:
        return after in PURE_PREPARATION
    if low not in PURE_PREPARATION or (low == "minced" and head[n - 1].low in MEATS):
        return False
    return following is None or following.kind is not Kind.WORD or after in AFTER_PARTICIPLE or after in PARTICIPLES
