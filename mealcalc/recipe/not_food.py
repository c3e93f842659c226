"""Which lines are no food: headings, notes, equipment. A bare food without an amount (`salt`) is a food."""

import re

from mealcalc.recipe.lexicon import TIME_WORDS
from mealcalc.recipe.phrases import (
    EQUIPMENT,
    HEADING_WHEN_LOUD,
    HEADING_WORDS,
    INSTRUCTION_EXCEPTIONS,
    INSTRUCTION_STARTS,
    NOTE_PHRASES,
    SAUCES,
)
from mealcalc.recipe.tokens import Kind, Token, Tokens

_LONGEST_EQUIPMENT = max(len(phrase.split()) for phrase in EQUIPMENT)
_ADDRESS = re.compile(r"\s*(?:https?://|www\.)\S+\s*\Z")
_MOST_HEADING_WORDS = 6


def is_not_food(text: str, tokens: Tokens, start: int, *, leading_amount: bool, any_amount: bool) -> bool:
    """Whether the line is a heading, a note or blank.

    `start` is the index of its first token after list marks. An amount before the food makes a line food; one anywhere
    else (`Serves 4`) only keeps it from being a heading.
    """
    words = [token for token in tokens[start:] if token.kind is Kind.WORD and not token.depth]
    if not any(token.kind is Kind.WORD for token in tokens[start:]):
        return not any(token.kind is Kind.NUMBER for token in tokens[start:])
    if _ADDRESS.match(text):
        return True
    if leading_amount:
        return False
    last = next(token for token in reversed(tokens) if token.kind is not Kind.END)
    if last.low == ":" and last.depth == 0:
        return True
    if not words:
        return False
    if _is_note(tokens, start, words):
        return True
    return not any_amount and _is_heading(text, tokens, start, words)


def is_equipment(name: Tokens) -> bool:
    """Whether a food phrase ends in a thing of the kitchen: baking paper, wooden skewers, 8 bamboo skewers."""
    lows = [token.low for token in name if token.kind is Kind.WORD]
    return any(" ".join(lows[-n:]) in EQUIPMENT for n in range(1, min(len(lows), _LONGEST_EQUIPMENT) + 1))


def _is_heading(text: str, tokens: Tokens, start: int, words: list[Token]) -> bool:
    if any(token.low in (",", ";") or token.kind is Kind.NUMBER for token in tokens[start:]):
        return False
    if words[0].low == "for" and len(words) > 1 and words[1].low in ("the", "each"):
        return True
    last = words[-1].low
    if len(words) > _MOST_HEADING_WORDS:
        return False
    if last in HEADING_WORDS:
        return True
    loud = text.isupper() and len(words) > 1 and words[0].low not in SAUCES
    return last in HEADING_WHEN_LOUD and (loud or len(words) == 1 or words[0].low in ("the", "for"))


def _is_note(tokens: Tokens, start: int, words: list[Token]) -> bool:
    first = words[0].low
    phrase = f"{first} {words[1].low}" if len(words) > 1 else first
    if phrase in NOTE_PHRASES:
        after = next((token for token in tokens[start:] if token.start > words[1].start), None)
        return len(words) == 2 or (after is not None and (after.low == ":" or after.kind is Kind.NUMBER))
    if tokens[start].kind is Kind.NUMBER:
        return words[0].low in TIME_WORDS or (words[0].low == "c" and tokens[start + 1].low in ("°", "º"))
    if first in INSTRUCTION_STARTS and tokens[start].kind is Kind.WORD:
        following = words[1].low if len(words) > 1 else ""
        if first in ("note", "notes", "tip", "tips", "serves", "makes", "servings", "yield", "yields"):
            return True
        return (len(words) > 2 and following not in INSTRUCTION_EXCEPTIONS) or tokens[start + 1].kind is Kind.NUMBER
    return False
