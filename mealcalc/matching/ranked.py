"""The ranked search: full-text candidates, then a score for how well a description names what the line says.

SR28 descriptions run from the general to the particular ('Fish, salmon, Atlantic, farmed, raw'). A good description
explains every word of the line, holds its head noun in the first parts, and adds little that the line does not say.
Branded, infant, fast-food, restaurant and composite foods lose points, since a cook's plain words do not mean them.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

from mealcalc.fooddb import FoodHeader
from mealcalc.matching.normalise import tokens
from mealcalc.matching.proposal import Proposal
from mealcalc.matching.query import Query
from mealcalc.matching.words import CLASS_WORDS, IDLE_AT_THE_END, NEUTRAL, QUALIFIERS, STATES, head_noun
from mealcalc.records import Candidate, FoodState
from mealcalc.units import canonical_unit

EXACT = "exact description"
EXACT_SCORE = 0.95
LEAST_COMMAS = 2
"""Commas of a line from which on it is compared with whole descriptions."""

STRATEGY = "ranked search"
CANDIDATES = 60
"""Descriptions that the full-text search hands over for scoring."""

CEILING = 0.9
"""The ranked search is never as sure as a reviewed name."""

_PENALTY_BRAND = 0.75
_PENALTY_GROUP = {"0300": 0.5, "2100": 0.6, "3600": 0.6, "2200": 0.7, "3500": 0.7, "2500": 0.85}
_PENALTY_STATE = 0.7
_PENALTY_UNASKED = 0.85
_PENALTY_OTHER_FOOD = 0.75
"""For a description whose first part names a food that nobody asked for: 'Peas, green' for greens, 'Pie, peach'."""
_BRAND = re.compile(r"\b[A-Z][A-Z'&.-]{2,}\b")
_ACRONYMS = frozenset(["USDA", "NFS", "UPC", "BBQ", "DHA", "EPA", "ARA", "RTE", "MSG"])
_COOKED_WORDS = frozenset(
    "cooked boiled roasted baked grilled broiled braised stewed steamed fried panfried microwaved heated "
    "simmered".split()
)
_PRESERVED_WORDS = frozenset(
    "canned dried dehydrated frozen freezedried powder imitation pickled candied substitute".split()
)

# First parts of descriptions that name a class and not yet a food.
_HEADINGS = frozenset(
    "alcoholic beverage babyfood baby bean beef beverage bread cake candy cereal cheese chicken cookie cracker "
    "crustacean egg fat fish frozen game ice infant formula lamb leavening agent meat mollusk noodle nut oil pasta "
    "pepper pie pork puddings rice roll salad dressing sauce sausage seed shake snack soup spice sweetener syrup "
    "topping turkey vegetable veal wheat".split()
)


class Search(Protocol):
    """What the ranked search needs of a food database."""

    def candidates(self, words: tuple[str, ...], limit: int) -> list[FoodHeader]:
        """Foods whose description or names hold any of `words`, best first."""
        ...


@dataclass(frozen=True, slots=True)
class Description:
    """A description taken apart: tokens of its parts, all tokens, whether it names a brand."""

    parts: tuple[tuple[str, ...], ...]
    all_tokens: frozenset[str]
    branded: bool


@lru_cache(maxsize=20_000)
def take_apart(description: str) -> Description:
    """Split a description at its commas and normalise the parts."""
    parts = tuple(tokens(part) for part in description.split(","))
    return Description(
        parts=parts,
        all_tokens=frozenset(token for part in parts for token in part),
        branded=any(word not in _ACRONYMS for word in _BRAND.findall(description)),
    )


def rank(query: Query, search: Search, words: tuple[str, ...] | None = None) -> list[tuple[float, FoodHeader]]:
    """Candidates with their scores from 0 to 1, best first; none where the phrase has no head noun ('greens', 'red').

    Parameters
    ----------
    query : Query
        What is asked for.
    search : Search
        The food database.
    words : tuple of str, optional
        Tokens to search in place of those of the query: a second name.
    """
    content = tuple(word for word in words or query.tokens if word not in NEUTRAL)
    if head_noun(content) is None:
        return []
    scored = [(round(score(query, content, header), 4), header) for header in search.candidates(content, CANDIDATES)]
    # Of equals, the shorter description is the more general food; the code settles the rest.
    return sorted(scored, key=lambda item: (-item[0], len(item[1].description), item[1].code))


def propose(query: Query, search: Search) -> Proposal | None:
    """The best-scored food for a query.

    Parameters
    ----------
    query : Query
        What is asked for; a second name is searched, too.
    search : Search
        The food database.

    Returns
    -------
    Proposal or None
        With a score of at most `CEILING`, or `EXACT_SCORE` where the phrase is the whole description; None when nothing
        is found or the phrase has no head noun.
    """
    ranked = rank(query, search)
    if query.aside:
        ranked = max(ranked, rank(query, search, query.aside), key=lambda found: found[0][0] if found else 0.0)
    if not ranked:
        return None
    best_score, best = ranked[0]
    exact = {*query.tokens} == take_apart(best.description).all_tokens
    return Proposal(
        table=best.table,
        code=best.code,
        description=best.description,
        score=EXACT_SCORE if exact else min(best_score, CEILING),
        strategy=EXACT if exact else STRATEGY,
        runners_up=tuple(Candidate(h.table, h.code, h.description, s) for s, h in ranked[1:5]),
    )


def propose_exact(query: Query, search: Search) -> Proposal | None:
    """The food whose description of three parts or more the line holds word for word, beside an amount; else None.

    Such a line was copied from a food table and means that food, whatever an everyday name in it stands for.
    """
    if query.line.text.count(",") < LEAST_COMMAS:
        return None
    said = frozenset(tokens(query.line.text))
    for header in search.candidates(tuple(word for word in sorted(said) if word.isalpha()), CANDIDATES):
        words = take_apart(header.description).all_tokens
        if words <= said and all(word.isdigit() or canonical_unit(word) for word in said - words):
            return Proposal(header.table, header.code, header.description, EXACT_SCORE, EXACT)
    return None


def score(query: Query, content: tuple[str, ...], header: FoodHeader) -> float:
    """How well a description names a food, from 0 to 1.

    Half of the score is the share of the words asked for that the description or the names hold, a quarter whether the
    head noun stands in front, a quarter how much of the front was asked for; every noun left over costs nearly half.

    Parameters
    ----------
    query : Query
        Gives state and qualifiers.
    content : tuple of str
        The words that matter, in order.
    header : FoodHeader
        The food.
    """
    description = take_apart(header.description)
    names = frozenset(token for name in header.names for token in tokens(name))
    known = description.all_tokens | names
    asked = frozenset(content)
    weights = {word: _weight(word, last=position == len(content) - 1) for position, word in enumerate(content)}
    coverage = sum(weights[w] for w in asked & known) / sum(weights.values())
    # In front stand the words that say what the food is; behind them how it was cut, graded and cooked.
    front = frozenset(token for part in description.parts[:2] for token in part)
    front_weight = sum(_weight(w) for w in front) or 1.0
    precision = sum(_weight(w) for w in front & (asked | query.qualifiers)) / front_weight
    head = head_noun(content)
    in_front = 1.0 if head in front or head in names else 0.4 if head in known else 0.0
    value = 0.5 * coverage + 0.25 * in_front + 0.25 * precision
    value *= 0.55 ** sum(weights[w] == 1.0 for w in asked - known)
    first = frozenset(w for w in description.parts[0] if _names_a_food(w)) - _HEADINGS
    if first and first.isdisjoint(asked | names):
        value *= _PENALTY_OTHER_FOOD
    return value * _penalties(query, asked, description, header)


def _names_a_food(word: str) -> bool:
    return word.isalpha() and word not in NEUTRAL | STATES | QUALIFIERS | CLASS_WORDS


def _weight(word: str, *, last: bool = True) -> float:
    if word in NEUTRAL or word in STATES:
        return 0.1
    if word in CLASS_WORDS:
        return 0.4 if last and word in IDLE_AT_THE_END else 1.0
    return 0.45 if word in QUALIFIERS else 1.0


def _penalties(query: Query, asked: frozenset[str], description: Description, header: FoodHeader) -> float:
    factor = _PENALTY_GROUP.get(header.group[:4], 1.0)
    if description.branded:
        factor *= _PENALTY_BRAND
    said = asked | query.qualifiers
    cooked = bool(description.all_tokens & _COOKED_WORDS)
    if query.state is FoodState.COOKED and not cooked and "raw" in description.all_tokens:
        factor *= _PENALTY_STATE
    if query.state is not FoodState.COOKED and cooked and not said & _COOKED_WORDS:
        factor *= _PENALTY_STATE
    if query.state is FoodState.CANNED and "canned" in description.all_tokens:
        said = said | {"canned"}
    if query.state is FoodState.FROZEN:
        said = said | {"frozen"}
    if query.state is FoodState.DRY:
        said = said | {"dried", "dry", "dehydrated", "powder"}
    unasked = (description.all_tokens & _PRESERVED_WORDS) - said
    return factor * _PENALTY_UNASKED ** len(unasked)
