"""Cutting a recipe line into tokens, each with its place in the original text.

Only one regular expression walks the text, and each of its branches is linear, so the time stays in proportion to the
length.
The text itself is never rewritten: a token remembers where it stands, so that a caret can be put under it.
"""

import re
import unicodedata
from collections.abc import Sequence
from enum import Enum
from typing import NamedTuple

LONGEST_LINE = 2000
"""Characters of a line that are read; an ingredient line is never that long."""

MOST_DIGITS = 12
"""Digits of a number that is read as a number; a longer string of digits is an article number or a slip."""


class Kind(Enum):
    """What a token is; END closes every list of tokens."""

    NUMBER = "number"
    WORD = "word"
    MARK = "mark"
    END = "end"


class Token(NamedTuple):
    """One token: `text` as written, `low` for look-up (lower case, no accents), `start` and `end` in the line.

    value: what a number is worth; None for the rest. fraction: a number written as a fraction (1/2, ½).
    spaced: white space stands before it. depth: how many brackets are open around it (a bracket counts as inside).
    """

    kind: Kind
    text: str
    low: str
    start: int
    end: int
    value: float | None = None
    fraction: bool = False
    spaced: bool = True
    depth: int = 0


Tokens = Sequence[Token]

_VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
_LETTER = rf"(?:[^\W\d_{_VULGAR}]|[\u0300-\u036f\u0900-\u0903\u093a-\u094f\u0951-\u0957])"
_TOKEN = re.compile(
    rf"""
    (?P<gap>[\s\x00-\x1f\x7f-\x9f\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufe0e\ufe0f\ufeff]+
        |\\[nrt]            # a line break that an export has written out
        |<[^<>]{{0,300}}>)  # a tag of a web page
    |(?P<fraction>\d+\s?[/⁄]\s?\d+(?![\d/])|[{_VULGAR}])
    |(?P<number>[1-9]\d{{0,2}}(?:,\d{{3}})+(?:\.\d+)?(?!\d)|\d+[.,]\d+|(?<!\w)\.\d+|\d+)
    |(?P<times>(?<![^\W\d_])[xX](?=\d))
    |(?P<word>omega-\d|{_LETTER}+(?:['’ʼ\-‐‑]{_LETTER}+)*)
    |(?P<mark>.)
    """,
    re.VERBOSE | re.DOTALL,
)
_PLAIN = str.maketrans("’ʼ‐‑", "''--")
_OPEN = frozenset("([{")
_CLOSE = frozenset(")]}")

_MEASURE_PARTS = frozenset(
    "inch inches ounce ounces oz pound pounds lb lbs gram grams g kg ml cup cups quart quarts pint pints litre "
    "litres liter "
    "liters cm mm milliliter millilitre tablespoon teaspoon".split()
)
_NUMBER_PARTS = frozenset("half one two three four five six seven eight nine ten twelve".split())


def plain(text: str) -> str:
    """The form of a word for look-up: lower case, without accents, with plain apostrophes and hyphens."""
    if text.isascii():
        return text.lower()
    decomposed = unicodedata.normalize("NFKD", text.translate(_PLAIN))
    return "".join(c for c in decomposed if not unicodedata.combining(c)).lower()


def tokenise(text: str) -> list[Token]:
    """The tokens of the first `LONGEST_LINE` characters; four END tokens close them, so looking ahead is safe."""
    tokens: list[Token] = []
    spaced = True
    depth = 0
    for match in _TOKEN.finditer(text, 0, min(len(text), LONGEST_LINE)):
        group = match.lastgroup
        if group == "gap":
            spaced = True
            continue
        raw, start, end = match.group(), match.start(), match.end()
        if group == "word":
            tokens += _word_tokens(raw, start, spaced, depth)
        elif group in ("number", "fraction"):
            value = _value(raw, group == "fraction")
            kind = Kind.NUMBER if value is not None else Kind.WORD
            tokens.append(Token(kind, raw, raw, start, end, value, group == "fraction", spaced, depth))
        else:
            if raw in _OPEN:
                depth += 1
            tokens.append(Token(Kind.MARK, raw, raw.lower(), start, end, None, False, spaced, depth))
            if raw in _CLOSE:
                depth = max(0, depth - 1)
        spaced = False
    last = tokens[-1].end if tokens else 0
    end_token = Token(Kind.END, "", "", last, last)
    return [*tokens, end_token, end_token, end_token, end_token]


def words_between(text: str, tokens: Tokens) -> str:
    """The text of `tokens`, which may have gaps: neighbours keep what stands between them, gaps become one space."""
    parts: list[str] = []
    before: Token | None = None
    for token in tokens:
        if before is not None and (token.spaced or token.start != before.end):
            parts.append(" ")
        parts.append(text[token.start : token.end])
        before = token
    return "".join(parts).strip()


def _word_tokens(raw: str, start: int, spaced: bool, depth: int) -> list[Token]:
    # 'four-pound' and 'inch-thick' hold a measure: their parts become tokens. 'five-spice' stays one word.
    if "-" in raw:
        parts = raw.split("-")
        first, second = parts[0].lower(), parts[1].lower()
        if first in _MEASURE_PARTS or (first in _NUMBER_PARTS and second in _MEASURE_PARTS):
            tokens: list[Token] = []
            for n, part in enumerate(parts):
                if n:
                    tokens.append(Token(Kind.MARK, "-", "-", start - 1, start, None, False, False, depth))
                tokens.append(
                    Token(Kind.WORD, part, plain(part), start, start + len(part), None, False, spaced and not n, depth)
                )
                start += len(part) + 1
            return tokens
    return [Token(Kind.WORD, raw, plain(raw), start, start + len(raw), None, False, spaced, depth)]


def _value(raw: str, fraction: bool) -> float | None:
    """What a written number is worth; None where it is none (`00` flour, a division by zero, an article number)."""
    if fraction:
        if len(raw) == 1:
            return unicodedata.numeric(raw)
        above, _, below = raw.replace("⁄", "/").partition("/")
        if len(raw) > MOST_DIGITS or not float(below):
            return None
        return float(above) / float(below)
    if len(raw) > MOST_DIGITS or (len(raw) > 1 and raw.isdigit() and float(raw[0]) == 0):
        return None
    if "," in raw:
        thousands = raw[0] != "0" and all(len(part.partition(".")[0]) == 3 for part in raw.split(",")[1:])
        raw = raw.replace(",", "") if thousands else raw.replace(",", ".")
    return float(raw)
