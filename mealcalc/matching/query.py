"""What the matcher asks for: the normal form of a line's food phrase with all that qualifies it."""

import re
from dataclasses import dataclass, field

from mealcalc.matching.normalise import take_phrase_apart, tokens
from mealcalc.matching.spelling import Speller
from mealcalc.matching.words import (
    CLASS_WORDS,
    COUNTED_FOODS,
    FRESH_UNITS,
    NEUTRAL,
    QUALIFIERS,
    SPOON_UNITS,
    STATES,
    SUBSTANCES,
    head_noun,
)
from mealcalc.records import FoodState, RecipeLine

_PREPOSITION = re.compile(r"(?:in|on|with|without)\b", re.IGNORECASE)
_AND = re.compile(r"\s(?:and|&)\s", re.IGNORECASE)
_COMMA = re.compile(r"[,;()]")
# 'Packed in oil' tells two foods apart, 'tossed with oil' does not.
_WITHIN = re.compile(r"\bin ([^,;()]+)")


@dataclass(frozen=True, slots=True)
class Query:
    """A food phrase ready for matching.

    tokens: of the name, spelling repaired, head noun last ('leg of lamb' is 'lamb leg', `inverted`). aside: tokens of a
    second name in parentheses.
    qualifiers: tokens from the rest of the line that may single out a name (skinless, in oil). after_comma: tokens that
    may belong to the name though a comma parts them from it ('cheese, feta'). first_of_two: tokens of the first of two
    foods that 'and' joins ('salt and pepper').
    spooned: measured by cup or spoon, not by the pack: what is canned was lifted out of its liquid.
    repaired: (as written, read as) for each word whose spelling was repaired. lent_by_alternative: last words that the
    name shares with the first alternative ('olive or rapeseed oil').
    """

    line: RecipeLine
    region: str
    tokens: tuple[str, ...]
    aside: tuple[str, ...] = ()
    qualifiers: frozenset[str] = field(default_factory=frozenset)
    state: FoodState | None = None
    fresh_unit: bool = False
    spooned: bool = False
    repaired: tuple[tuple[str, str], ...] = ()
    lent_by_alternative: frozenset[str] = frozenset()
    inverted: bool = False
    after_comma: tuple[str, ...] = ()
    first_of_two: tuple[str, ...] = ()


def build_query(line: RecipeLine, region: str, speller: Speller) -> Query:
    """Make the query of a line: normal form, spelling repaired, qualifiers gathered from the words around the name.

    Parameters
    ----------
    line : RecipeLine
        The line as read.
    region : str
        Region of the recipe.
    speller : Speller
        Repairs words that no food is named with.

    Returns
    -------
    Query
        Every word in normal form. A line without a food phrase gives a query without tokens.
    """
    phrase = take_phrase_apart(_with_noun(line))
    name, name_repairs = _repair(phrase.words, speller)
    if _is_counted(line):
        name = COUNTED_FOODS.get(name, name)
    aside, aside_repairs = _repair(tokens(line.aside), speller)
    said = {*tokens(line.preparation)} - SUBSTANCES | {
        t for part in _WITHIN.findall(line.preparation) for t in tokens(part)
    }
    around = {*aside, *phrase.packed_in, *said, *(t for word in line.words for t in tokens(word))}
    return Query(
        line=line,
        region=region,
        tokens=name,
        aside=aside,
        qualifiers=frozenset(around & QUALIFIERS) - set(name),
        state=line.settings.state or line.state,
        fresh_unit=line.amount is not None and line.amount.unit in FRESH_UNITS,
        spooned=line.amount is not None and line.amount.unit in SPOON_UNITS and not line.container,
        repaired=name_repairs + aside_repairs,
        lent_by_alternative=_shared_end(name, tokens(line.alternatives[0])) if line.alternatives else frozenset(),
        inverted=phrase.inverted,
        after_comma=_after_comma(line.preparation),
        first_of_two=_first_of_two(line.name, speller),
    )


def _is_counted(line: RecipeLine) -> bool:
    """Whether a line counts pieces of a food, or names several of it."""
    return (line.amount is not None and line.amount.unit == "piece") or line.name.lower().endswith("s")


def _with_noun(line: RecipeLine) -> str:
    """The food phrase of a line, with the noun where a comma parts it from its adjectives: 'red, ripe tomatoes'."""
    phrase = line.name
    words = tokens(phrase)
    if not words or any(word in CLASS_WORDS for word in words) or head_noun(words) is not None:
        return phrase
    for part in _COMMA.split(line.preparation):
        phrase = f"{phrase} {part}"
        if head_noun(tokens(phrase)) is not None:
            return phrase
    return line.name


def _first_of_two(name: str, speller: Speller) -> tuple[str, ...]:
    first, *others = _AND.split(name, maxsplit=1)
    return _repair(tokens(first), speller)[0] if others else ()


def _after_comma(preparation: str) -> tuple[str, ...]:
    """The words up to the next comma that could name the food; none where they say what is done to it."""
    phrase = _COMMA.split(preparation, maxsplit=1)[0]
    if _PREPOSITION.match(phrase):
        return ()  # peas in the pod are no pea pods
    words = tuple(word for word in tokens(phrase) if word != "only")
    return () if any(word in NEUTRAL or word in STATES or _is_done(word) for word in words) else words


def _is_done(word: str) -> bool:
    """Whether a word says what the cook does to the food: 'cream, whipped' is cream."""
    return word.endswith("ed") or word in ("made", "beaten", "cut", "torn", "split")


def _shared_end(name: tuple[str, ...], other: tuple[str, ...]) -> frozenset[str]:
    shared = 0
    while shared < min(len(name) - 1, len(other) - 1) and name[-1 - shared] == other[-1 - shared]:
        shared += 1
    return frozenset(name[len(name) - shared :])


def _repair(words: tuple[str, ...], speller: Speller) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
    repaired = [speller.repair(word) for word in words]
    # A repaired word can complete a pair that is one word in normal form.
    again = tokens(" ".join(repaired))
    return again, tuple((old, new) for old, new in zip(words, repaired, strict=True) if old != new)
