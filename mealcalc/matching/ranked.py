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
from mealcalc.matching.words import CLASS_WORDS, NEUTRAL, QUALIFIERS, STATES
from mealcalc.records import Candidate, FoodState

EXACT = "exact description"
STRATEGY = "ranked search"
CANDIDATES = 60
"""Descriptions that the full-text search hands over for scoring."""

CEILING = 0.9
"""The ranked search is never as sure as a reviewed name."""

_PENALTY_BRAND = 0.75
_PENALTY_GROUP = {"0300": 0.5, "2100": 0.6, "3600": 0.6, "2200": 0.7, "3500": 0.7, "2500": 0.85}
_PENALTY_STATE = 0.7
_PENALTY_UNASKED = 0.85
_BRAND = re.compile(r"\b[A-Z][A-Z'&.-]{2,}\b")
_ACRONYMS = frozenset(["USDA", "NFS", "UPC", "BBQ", "DHA", "EPA", "ARA", "RTE", "MSG"])
_COOKED_WORDS = frozenset(
    "cooked boiled roasted baked grilled broiled braised stewed steamed fried panfried microwaved heated "
    "simmered".split()
)
_PRESERVED_WORDS = frozenset(
    "canned dried dehydrated frozen freezedried powder imitation pickled candied substitute".split()
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
    """Candidates with their scores from 0 to 1, best first."""
    asked = words or query.tokens
    content = tuple(word for word in asked if word not in NEUTRAL) or asked
    if not content:
        return []
    scored = [(round(score(query, content, header), 4), header) for header in search.candidates(content, CANDIDATES)]
    # Of equals, the shorter description is the more general food; the code settles the rest.
    return sorted(scored, key=lambda item: (-item[0], len(item[1].description), item[1].code))


def propose(query: Query, search: Search) -> Proposal | None:
    """The best-scored food for a query, or None when nothing is found."""
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
        score=0.95 if exact else min(best_score, CEILING),
        strategy=EXACT if exact else STRATEGY,
        runners_up=tuple(Candidate(h.table, h.code, h.description, s) for s, h in ranked[1:5]),
    )


def score(query: Query, content: tuple[str, ...], header: FoodHeader) -> float:
    """How well `header` names the food of a query whose words that matter are `content`; 0 to 1."""
    description = take_apart(header.description)
    names = frozenset(token for name in header.names for token in tokens(name))
    known = description.all_tokens | names
    asked = frozenset(content)
    coverage = sum(_weight(w) for w in asked & known) / sum(_weight(w) for w in asked)
    # In front stand the words that say what the food is; behind them how it was cut, graded and cooked.
    front = frozenset(token for part in description.parts[:2] for token in part)
    front_weight = sum(_weight(w) for w in front) or 1.0
    precision = sum(_weight(w) for w in front & (asked | query.qualifiers)) / front_weight
    head = next((w for w in reversed(content) if w not in QUALIFIERS | STATES | CLASS_WORDS), content[-1])
    in_front = 1.0 if head in front or head in names else 0.4 if head in known else 0.0
    value = 0.5 * coverage + 0.25 * in_front + 0.25 * precision
    left = [w for w in asked - known if _weight(w) == 1.0]
    value *= 0.55 ** len(left)
    return value * _penalties(query, asked, description, header)


def _weight(word: str) -> float:
    if word in NEUTRAL or word in STATES:
        return 0.1
    if word in CLASS_WORDS:
        return 0.4
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
