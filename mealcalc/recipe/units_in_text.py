"""Units of mass, volume, length and counting where they stand in a line."""

from enum import Enum
from functools import cache
from typing import NamedTuple

from mealcalc.recipe.lexicon import (
    CLOVE_FOODS,
    COUNT_WORDS,
    LENGTH_CM,
    LENGTH_PIECES,
    NOT_A_UNIT_BEFORE,
    STALK_FOODS,
    STICK_FATS,
)
from mealcalc.recipe.tokens import Kind, Tokens
from mealcalc.units import MASS_G, canonical_unit

SHORTEST_REPAIRED_WORD = 7
"""Letters of the shortest unit word whose spelling is repaired; shorter words are too close to foods."""

_REPAIRED = (
    "tablespoon tablespoons teaspoon teaspoons millilitre millilitres milliliter milliliters kilogram kilograms "
    "dessertspoon dessertspoons".split()
)
_RIBS = frozenset(("rib", "ribs", "sparerib", "spareribs"))
_FLUID = frozenset(("fl", "fluid"))
_OUNCES = frozenset(("oz", "ounce", "ounces"))


class UnitKind(Enum):
    """What a unit measures."""

    MASS = "mass"
    VOLUME = "volume"
    LENGTH = "length"
    COUNT = "count"


class UnitReading(NamedTuple):
    """A unit found in a line.

    unit: canonical. word: as written, for look-up. end: index of the token after it. factor: for lengths, cm in one.
    keep: whether the word stays in the name of the food. repaired: the word whose spelling was repaired, '' if none.
    """

    unit: str
    kind: UnitKind
    word: str
    end: int
    factor: float = 1.0
    keep: bool = False
    repaired: str = ""


def read_unit(tokens: Tokens, i: int) -> UnitReading | None:
    """The unit that starts at token `i` (a hyphen before it is stepped over), or None.

    `stick`, `rib` and `clove` depend on the food: a stick of butter is a mass, a stick of celery a stalk, and a clove
    without garlic in the line is the spice, which is a piece.
    """
    if tokens[i].low == "-" and not tokens[i].spaced and tokens[i + 1].kind is Kind.WORD:
        i += 1
    token = tokens[i]
    if token.kind is Kind.END or token.kind is Kind.NUMBER:
        return None
    low = token.low
    if low in _FLUID:
        after = i + 2 if tokens[i + 1].low == "." else i + 1
        if tokens[after].low in _OUNCES:
            return UnitReading("fl_oz", UnitKind.VOLUME, "fl oz", _past_stop(tokens, after + 1))
    if low in LENGTH_CM:
        return _length(tokens, i)
    if token.kind is Kind.MARK and low != "#":
        return None
    if low in ("stick", "sticks"):
        return _stick(tokens, i)
    unit = canonical_unit(token.text)
    if unit is not None:
        if (
            unit == "g"
            and low.startswith("gram")
            and tokens[i + 1].low in ("flour", "dal")
            and tokens[i - 1].low != "-"
        ):
            return None  # gram flour is made of chickpeas
        kind = UnitKind.MASS if unit in MASS_G else UnitKind.VOLUME
        return UnitReading(unit, kind, low, _past_stop(tokens, i + 1))
    if low in COUNT_WORDS:
        return _counted(tokens, i)
    return None


@cache
def spelling_of_unit(word: str) -> str | None:
    """The unit word that `word` is a slip of, or None. Only long words are repaired, at most two letters off."""
    if len(word) < SHORTEST_REPAIRED_WORD or word in _REPAIRED:
        return None
    from rapidfuzz.distance import OSA

    near = [(OSA.distance(word, known, score_cutoff=2), known) for known in _REPAIRED if known[0] == word[0]]
    near = [(distance, known) for distance, known in near if distance <= 2]
    return min(near)[1] if near else None


def first_segment(tokens: Tokens, i: int) -> set[str]:
    """The words from token `i` to the next comma outside brackets."""
    words: set[str] = set()
    for token in tokens[i:]:
        if token.kind is Kind.END or (token.depth == 0 and token.low in (",", ";")):
            break
        words.add(token.low)
    return words


def _past_stop(tokens: Tokens, i: int) -> int:
    return i + 1 if tokens[i].low == "." and not tokens[i].spaced else i


def _length(tokens: Tokens, i: int) -> UnitReading | None:
    token = tokens[i]
    if token.low == "in" and (token.spaced or tokens[i + 1].low not in LENGTH_PIECES):
        return None
    if token.kind is Kind.MARK and tokens[i - 1].kind is not Kind.NUMBER:
        return None
    return UnitReading("cm", UnitKind.LENGTH, token.low, _past_stop(tokens, i + 1), LENGTH_CM[token.low])


def _stick(tokens: Tokens, i: int) -> UnitReading | None:
    around = first_segment(tokens, 0)
    if around & STICK_FATS:
        return UnitReading("stick", UnitKind.MASS, tokens[i].low, i + 1)
    if around & STALK_FOODS:
        return UnitReading("stalk", UnitKind.COUNT, tokens[i].low, i + 1)
    return UnitReading("piece", UnitKind.COUNT, tokens[i].low, i + 1, keep=True)


def _counted(tokens: Tokens, i: int) -> UnitReading | None:
    low = tokens[i].low
    unit = COUNT_WORDS[low]
    following = tokens[i + 1].low
    singular = low[:-1] if low.endswith("s") else low
    if following in NOT_A_UNIT_BEFORE.get(singular, ()):
        return None
    if unit == "clove":
        if not first_segment(tokens, 0) & CLOVE_FOODS:
            return None
    elif low in ("rib", "ribs"):
        if not first_segment(tokens, 0) & STALK_FOODS:
            return None
    elif low in ("stem", "stems"):
        if following != "of" and not first_segment(tokens, 0) & STALK_FOODS:
            return None
    elif unit == "rack":
        # A rack of ribs is ribs, a rack of lamb is a cut of its own.
        return UnitReading(unit, UnitKind.COUNT, low, i + 1, keep=not first_segment(tokens, 0) & _RIBS)
    elif low in ("thumb", "thumbs", "knob", "knobs") and "ginger" in first_segment(tokens, 0):
        return UnitReading("piece", UnitKind.COUNT, low, i + 1)
    return UnitReading(unit, UnitKind.COUNT, low, i + 1)
