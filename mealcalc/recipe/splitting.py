"""Lines that give one amount for several foods: `1 tsp each ground cumin and coriander`."""

import re

from mealcalc.recipe.amounts import read_amount
from mealcalc.recipe.phrases import ADVERBS, COLOURS, PARTICIPLES, SHARED_ADJECTIVES
from mealcalc.recipe.tokens import Kind, Token, tokenise, words_between

_EACH = re.compile(r"\beach\b", re.IGNORECASE)
_SEPARATORS = frozenset((",", ";", "and", "&", "plus", "+"))


def split_foods(text: str) -> tuple[str, ...]:
    """The lines that a line with a shared amount stands for, each with the amount; otherwise the text itself, alone.

    Parameters
    ----------
    text : str
        An ingredient line such as `1 tsp each ground cumin and coriander`.

    Returns
    -------
    tuple of str
        `("1 tsp ground cumin", "1 tsp ground coriander")` for the example. Settings in brackets go to every line.
    """
    if len(text) > 1000 or _EACH.search(text) is None:
        return (text,)
    settings = re.search(r"(?:\s*\[[^\[\]]*\])+\s*\Z", text[-400:])
    tail = settings.group().rstrip() if settings else ""
    body = text[: len(text) - len(settings.group())] if settings else text
    tokens = tokenise(body)
    reading = read_amount(tokens, 0, "metric")
    if reading is None or reading.amount is None or not reading.each:
        return (text,)
    first = reading.end
    while tokens[first].low in ("of", ":", "the"):
        first += 1
    amount = " ".join(body[: tokens[first].start].split())
    amount = re.sub(r"\s*\beach\b(?:\s+of)?\s*:?\s*(?:of\s*)?(?:the\s*)?\Z", "", amount, flags=re.IGNORECASE)
    foods, rest = _foods(tokens[first:])
    if len(foods) < 2:
        return (text,)
    foods = _share(foods)
    after = words_between(body, rest)
    after = f", {after.lstrip(', ')}" if after.strip(" ,.") else ""
    return tuple(f"{amount} {words_between(body, food)}{after}{tail}" for food in foods)


def _foods(tokens: list[Token]) -> tuple[list[list[Token]], list[Token]]:
    """The listed foods, and the tokens after the list (a bracket, or a phrase of preparation)."""
    foods: list[list[Token]] = [[]]
    for n, token in enumerate(tokens):
        if token.kind is Kind.END:
            break
        if token.low == "(":
            return [food for food in foods if food], [t for t in tokens[n:] if t.kind is not Kind.END]
        if token.low in _SEPARATORS:
            following = tokens[n + 1].low
            closed = len(foods) > 1 and any(t.low in ("and", "&") for t in tokens[:n])
            if token.low == "," and foods[-1] and closed and (following in PARTICIPLES or following in ADVERBS):
                return [food for food in foods if food], [t for t in tokens[n:] if t.kind is not Kind.END]
            if foods[-1]:
                foods.append([])
            continue
        foods[-1].append(token)
    return [food for food in foods if food], []


def _share(foods: list[list[Token]]) -> list[list[Token]]:
    """Give every food the adjective before the list and the noun after it (ground cumin and coriander)."""
    leading: list[Token] = []
    for token in foods[0]:
        if token.low not in SHARED_ADJECTIVES and token.low not in ADVERBS:
            break
        leading.append(token)
    if 0 < len(leading) < len(foods[0]):
        foods = [foods[0]] + [
            food if food[0].low in SHARED_ADJECTIVES | ADVERBS else leading + food for food in foods[1:]
        ]
    last = foods[-1]
    if last[0].low in COLOURS and len(last) > 1:
        foods = [food + last[1:] if len(food) == 1 and food[0].low in COLOURS else food for food in foods]
    return foods
