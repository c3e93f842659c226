"""Numbers as cooks write them: 1 1/2, 1½, 1-1/2, 2,5, one and a half, a dozen, 1-2, 1 to 2, between 1 and 2."""

from typing import NamedTuple

from mealcalc.recipe.tokens import Kind, Token, Tokens

NUMBER_WORDS = {
    word: float(value)
    for value, word in enumerate(
        "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
        "eighteen nineteen twenty".split(),
        start=1,
    )
} | {"thirty": 30.0, "forty": 40.0, "fifty": 50.0}
"""Whole numbers in words."""

FRACTION_WORDS = {
    "half": 1 / 2,
    "halves": 1 / 2,
    "third": 1 / 3,
    "thirds": 1 / 3,
    "quarter": 1 / 4,
    "quarters": 1 / 4,
    "fourth": 1 / 4,
    "fourths": 1 / 4,
    "eighth": 1 / 8,
    "eighths": 1 / 8,
}
"""Fractions in words, to stand after a whole number (three quarters) or an article (a quarter)."""

_WRITTEN_TOGETHER = {
    f"{number}-{fraction}": NUMBER_WORDS[number] * part
    for number in ("one", "two", "three")
    for fraction, part in FRACTION_WORDS.items()
}
_LEADING_FRACTIONS = {"half": 1 / 2, "quarter": 1 / 4, "third": 1 / 3}
_ORDINAL_ENDINGS = frozenset(("rd", "rds", "th", "ths", "nd"))
_ARTICLES = frozenset(("a", "an"))
_RANGE_MARKS = frozenset(("-", "–", "—", "‒", "−", "~", "to", "or"))
_DASHES = frozenset(("-", "–", "—", "‒"))


class Quantity(NamedTuple):
    """A number or a range (`low` equals `high` unless a range is written); `end` is the index of the token after it."""

    low: float
    high: float
    end: int


def is_fat_ratio(token: Token) -> bool:
    """Whether a token such as 80/20 states lean and fat shares: two whole percentages that make 100."""
    if not token.fraction or len(token.text) == 1:
        return False
    lean, _, fat = token.text.replace("⁄", "/").partition("/")
    return float(lean) + float(fat) == 100 and float(lean) >= float(fat)


def read_number(tokens: Tokens, i: int) -> tuple[float, int] | None:
    """The number that starts at token `i` and the index of the token after it, or None. No ranges."""
    token = tokens[i]
    if token.kind is Kind.NUMBER and token.value is not None:
        if is_fat_ratio(token):
            return None
        value, end = _mixed(tokens, i, token.value)
        if tokens[end - 1].fraction and tokens[end].low in _ORDINAL_ENDINGS and not tokens[end].spaced:
            end += 1  # 2/3rds
        return _with_dozen(tokens, value, end)
    if token.kind is not Kind.WORD:
        return None
    low = token.low
    if low in NUMBER_WORDS:
        value, end = NUMBER_WORDS[low], i + 1
        part = FRACTION_WORDS.get(tokens[end].low)
        if part is not None and value < 1 / part:
            return value * part, _after_article(tokens, end + 1)
        return _with_dozen(tokens, *_and_a_half(tokens, value, end))
    if low in _WRITTEN_TOGETHER:
        return _WRITTEN_TOGETHER[low], _after_article(tokens, i + 1)
    if low in _ARTICLES and (tokens[i + 1].low in _LEADING_FRACTIONS or tokens[i + 1].low in ("dozen", "couple")):
        return read_number(tokens, i + 1)
    if low in _LEADING_FRACTIONS and not _is_word_of_a_food(tokens, i):
        value, end = _LEADING_FRACTIONS[low], _after_article(tokens, i + 1)
        if tokens[end].low == "dozen":
            return value * 12, end + 1
        return value, end
    if low == "dozen":
        return 12.0, i + 1
    if low == "couple":
        return 2.0, i + 1
    return None


def read_quantity(tokens: Tokens, i: int) -> Quantity | None:
    """The number or range that starts at token `i`, or None.

    A range is written with a dash, `to`, `or`, or `between ... and ...`; the parts may carry hyphens (`3- to 4-pound`).
    """
    if tokens[i].low == "between":
        first = read_number(tokens, i + 1)
        if first and tokens[first[1]].low in ("and", "&"):
            second = read_number(tokens, first[1] + 1)
            if second:
                return _range(first[0], second[0], second[1])
        return None
    first = read_number(tokens, i)
    if first is None:
        return None
    value, end = first
    j = end
    if tokens[j].low in _DASHES and tokens[j + 1].low in ("to", "or"):
        j += 1
    mark = tokens[j]
    if mark.low in _RANGE_MARKS:
        second = read_number(tokens, j + 1)
        if second is None and tokens[j + 1].low in ("about", "even"):
            second = read_number(tokens, j + 2)
        # 'a 1 or a half'? An article or a smaller number after 'or' is another food or measure, not the end of a range.
        if second is not None and (second[0] > value or mark.low in _DASHES) and second[0] != value:
            if _makes_fat_ratio(value, second[0], mark):
                return None
            return _range(value, second[0], second[1])
    return Quantity(value, value, end)


def _range(first: float, second: float, end: int) -> Quantity:
    return Quantity(min(first, second), max(first, second), end)


def _makes_fat_ratio(first: float, second: float, mark: Token) -> bool:
    return mark.low in _DASHES and first + second == 100 and first > second


def _mixed(tokens: Tokens, i: int, value: float) -> tuple[float, int]:
    """Add the fraction of a mixed number that follows a whole one: 1 1/2, 1½, 1-1/2, 1 and 1/2, 1 and a half."""
    end = i + 1
    if tokens[i].fraction or value != int(value):
        return value, end
    following = tokens[end]
    if _is_proper(following):
        return value + (following.value or 0.0), end + 1
    if following.low in _DASHES and not following.spaced and _is_proper(tokens[end + 1]) and not tokens[end + 1].spaced:
        return value + (tokens[end + 1].value or 0.0), end + 2
    if following.low in ("and", "&") and _is_proper(tokens[end + 1]):
        return value + (tokens[end + 1].value or 0.0), end + 2
    return _and_a_half(tokens, value, end)


def _is_proper(token: Token) -> bool:
    return token.fraction and token.value is not None and token.value < 1


def _and_a_half(tokens: Tokens, value: float, end: int) -> tuple[float, int]:
    if tokens[end].low in ("and", "&") and tokens[end + 1].low in ("a", "one"):
        part = FRACTION_WORDS.get(tokens[end + 2].low)
        if part is not None:
            return value + part, end + 3
    return value, end


def _with_dozen(tokens: Tokens, value: float, end: int) -> tuple[float, int]:
    return (value * 12, end + 1) if tokens[end].low == "dozen" else (value, end)


def _after_article(tokens: Tokens, i: int) -> int:
    """Step over `of`, `a`, `an`, `the` after a fraction in words: half of a lemon."""
    if tokens[i].low == "of":
        i += 1
    return i + 1 if tokens[i].low in ("a", "an", "the") else i


def _is_word_of_a_food(tokens: Tokens, i: int) -> bool:
    """`half and half` is a cream, `half fat` a property, `half-pound` a measure that is read as such."""
    if tokens[i].low != "half":
        return tokens[i + 1].kind is not Kind.WORD
    return (tokens[i + 1].low in ("and", "&", "n") and tokens[i + 2].low == "half") or tokens[i + 1].low == "fat"
