"""Allergens that words name: phrases of the reviewed table found in a text.

The longest phrase counts: 'coconut milk' is no milk, and 'peanut butter' no butter. Phrases that overlap without one
holding the other all count, so that no allergen is lost where two readings are possible. A claim ('gluten free') turns
what its own part of the text contains into what depends on the product; it never takes an allergen away.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache

from mealcalc.reference.allergen_tables import (
    NAMED_AS_WRITTEN,
    AllergenWords,
    NamedAllergen,
    WordKind,
    words_by_phrase,
)
from mealcalc.reference.plain_words import MOST_CHARACTERS, plain_words

# Where a new food begins: no phrase reaches over it.
_PART = re.compile(r"[,;:()\[\]/|]|\sor\s", re.IGNORECASE)

_REACH_OF_CLAIM = frozenset(["with", "plus"])
"""Words that a claim does not reach over: in 'gluten free pasta with bread' it says nothing of the bread."""

_KIND_NAMES = frozenset(["fish", "shellfish", "crustacean", "mollusc", "mollusk", "machhi", "machli", "meen"])
"""Words for a whole class: they name no species."""


class AllergenState(StrEnum):
    """What is known of an allergen in a line."""

    CONTAINS = "contains"
    MAY_DEPEND = "may depend on the product"
    NOT_KNOWN = "not known"


class FoundIn(StrEnum):
    """What the words that led to a finding are."""

    LINE = "the line"
    SECOND_NAME = "a second name"
    FOOD = "the food of the line"
    ALTERNATIVE = "an alternative"
    PACK = "the list on the pack"


@dataclass(frozen=True, slots=True)
class AllergenFinding:
    """One allergen of a line, or what is not known of it.

    allergen: key of the tables, '' where the state is not known. name: species or kind that the words name, '' where
    they name none. words: those that led to it, in plain words. reason: for the reader, with source and mark of the
    table. found_in: what the words are.
    """

    allergen: str
    state: AllergenState
    words: str
    reason: str
    source: str
    mark: str
    name: str = ""
    found_in: FoundIn = FoundIn.LINE


@dataclass(frozen=True, slots=True)
class WordsFound:
    """What the words of a text say.

    softened: allergens that its claims leave to the product. kinds: of the rows of the table that speak of it.
    """

    findings: tuple[AllergenFinding, ...]
    softened: frozenset[str]
    kinds: frozenset[WordKind]

    @property
    def reviewed(self) -> bool:
        """Whether any row of the table speaks of the words, claims apart."""
        return bool(self.kinds - {WordKind.CLAIM})

    @property
    def product(self) -> bool:
        """Whether the words name a product made of several foods."""
        return bool(self.kinds & {WordKind.PRODUCT, WordKind.COMPOSITE})


@dataclass(frozen=True, slots=True)
class _Hit:
    """A phrase found. start, end: place among the words of its part. reach: number of the claim's reach it lies in."""

    row: AllergenWords
    words: tuple[str, ...]
    start: int
    end: int
    reach: int


def find_in_words(text: str, found_in: FoundIn = FoundIn.LINE, softened: frozenset[str] = frozenset()) -> WordsFound:
    """Allergens that a text names.

    Parameters
    ----------
    text : str
        Words of a recipe. What lies beyond 20,000 characters is not read.
    found_in : FoundIn
        What the words are; carried into the findings.
    softened : frozenset of str
        Allergens that a claim elsewhere in the line leaves to the product.
    """
    parts = [plain_words(part) for part in _PART.split(text[:MOST_CHARACTERS])]
    hits = [_hits(part) for part in parts]
    claims = _claims(hits)
    findings: list[AllergenFinding] = []
    for number, part_hits in enumerate(hits):
        indexed = _indexed(parts, hits, number)
        for hit in part_hits:
            found = _findings(hit, found_in)
            if indexed is not None and hit.words in indexed[0]:
                found = [_left_open(finding, indexed[1]) for finding in found]
            weaker = claims.get((number, hit.reach), {})
            findings += [_softened(finding, weaker, softened) for finding in found]
    every = [hit for part_hits in hits for hit in part_hits]
    return WordsFound(
        findings=tuple(findings),
        softened=frozenset(a for hit in every for a in hit.row.softens),
        kinds=frozenset(hit.row.kind for hit in every),
    )


def merged(findings: Iterable[AllergenFinding]) -> tuple[AllergenFinding, ...]:
    """One finding for each allergen and name: the strongest, of equals the first.

    What may depend on the product says nothing where the line contains the allergen anyway, nor does a finding without
    a name beside one with a name.
    """
    best: dict[tuple[str, str, str], AllergenFinding] = {}
    for finding in findings:
        key = (finding.allergen, finding.name, finding.reason if finding.state is AllergenState.NOT_KNOWN else "")
        known = best.get(key)
        if known is None or (known.state is not AllergenState.CONTAINS and finding.state is AllergenState.CONTAINS):
            best[key] = finding
    certain = {f.allergen for f in best.values() if f.state is AllergenState.CONTAINS}
    kept = [f for f in best.values() if f.state is not AllergenState.MAY_DEPEND or f.allergen not in certain]
    named = {(f.allergen, f.state) for f in kept if f.name}
    return tuple(f for f in kept if f.name or (f.allergen, f.state) not in named)


def _hits(words: tuple[str, ...]) -> list[_Hit]:
    """Every phrase of the table in the words, but those that lie inside a longer one."""
    table, longest = words_by_phrase(), _longest_phrase()
    found: list[_Hit] = []
    covered = reach = 0
    for start in range(len(words)):
        reach += words[start] in _REACH_OF_CLAIM
        for end in range(min(len(words), start + longest), start, -1):
            row = table.get(words[start:end])
            if row is None:
                continue
            # The longest phrase from each start is tried first; one that ends no later than an earlier one lies in it.
            if end > covered:
                found.append(_Hit(row, words[start:end], start, end, reach))
                covered = end
            break
    return found


@cache
def _longest_phrase() -> int:
    return max(len(phrase) for phrase in words_by_phrase())


def _claims(hits: Sequence[Sequence[_Hit]]) -> dict[tuple[int, int], dict[str, _Hit]]:
    """(part, reach) -> allergens that a claim softens there; one that stands alone speaks of the part before it."""
    claims: dict[tuple[int, int], dict[str, _Hit]] = {}
    for number, part in enumerate(hits):
        bare = bool(part) and all(hit.row.kind is WordKind.CLAIM for hit in part)
        for hit in part:
            places = [(number, hit.reach)]
            if bare and number > 0:
                places += [(number - 1, before.reach) for before in hits[number - 1]]
            for place in places:
                claims.setdefault(place, {}).update(dict.fromkeys(hit.row.softens, hit))
    return claims


def _indexed(
    parts: Sequence[tuple[str, ...]], hits: Sequence[Sequence[_Hit]], number: int
) -> tuple[frozenset[tuple[str, ...]], str] | None:
    """Words of a part that a following part may turn into another food, as indexes write it: 'milk, coconut'.

    Returns the phrases concerned and the name they make together; None where nothing is made.
    """
    if number + 1 >= len(parts) or not parts[number + 1] or len(parts[number + 1]) > 3:
        return None
    behind = parts[number + 1]
    for hit in hits[number]:
        together = (*behind, *hit.words)
        if hit.end == len(parts[number]) and together in words_by_phrase():
            return frozenset([hit.words]), " ".join(together)
    return None


def _findings(hit: _Hit, found_in: FoundIn) -> list[AllergenFinding]:
    row = hit.row
    words = " ".join(hit.words)
    found = [
        AllergenFinding(a.allergen, state, words, row.reason, row.source, row.mark, _name(a, hit), found_in)
        for state, named in ((AllergenState.CONTAINS, row.contains), (AllergenState.MAY_DEPEND, row.may_depend))
        for a in named
    ]
    if row.kind is WordKind.COMPOSITE:
        found.append(
            AllergenFinding("", AllergenState.NOT_KNOWN, words, row.reason, row.source, row.mark, found_in=found_in)
        )
    return found


def _name(named: NamedAllergen, hit: _Hit) -> str:
    if named.name != NAMED_AS_WRITTEN:
        return named.name
    words = " ".join(hit.words)
    return "" if words in _KIND_NAMES else words


def _softened(finding: AllergenFinding, claims: dict[str, _Hit], elsewhere: frozenset[str]) -> AllergenFinding:
    if finding.state is not AllergenState.CONTAINS:
        return finding
    claim = claims.get(finding.allergen)
    if claim is not None:
        return _left_to_product(finding, claim.row.reason)
    if finding.allergen in elsewhere:
        return _left_to_product(finding, "the line says that it is made without; the pack decides")
    return finding


def _left_to_product(finding: AllergenFinding, why: str) -> AllergenFinding:
    return replace(finding, state=AllergenState.MAY_DEPEND, reason=f"{finding.reason}; {why}")


def _left_open(finding: AllergenFinding, together: str) -> AllergenFinding:
    if finding.state is not AllergenState.CONTAINS:
        return finding
    return _left_to_product(finding, f"read as '{together}'; if two foods are meant, it is in it")
