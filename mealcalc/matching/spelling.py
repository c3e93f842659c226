"""Repair of misspelt words against the words that foods are named with."""

from collections.abc import Callable
from functools import cached_property

from mealcalc.matching.normalise import singular

SHORTEST_REPAIRED_WORD = 4
"""Shorter words have too many neighbours: 'pea', 'tea' and 'pear' lie one letter apart."""

LONGEST_WITH_ONE_SLIP = 7


class Speller:
    """Repairs a word to the nearest known one when that is plainly what was meant.

    Distance: optimal string alignment (Damerau 1964, each pair of letters swapped at most once), by rapidfuzz.

    Parameters
    ----------
    preferred : frozenset of str
        Words of the names of default foods; they win over other words at the same distance.
    others : callable returning frozenset of str
        All other known words, fetched only when an unknown word turns up.
    """

    def __init__(self, preferred: frozenset[str], others: Callable[[], frozenset[str]]) -> None:
        self._preferred = preferred
        self._fetch_others = others
        self._repaired: dict[str, str] = {}

    @cached_property
    def _others(self) -> frozenset[str]:
        return self._fetch_others()

    def knows(self, word: str) -> bool:
        """Whether `word` stands in any name as it is."""
        return word in self._preferred or word in self._others

    def repair(self, word: str) -> str:
        """The known word that `word` was meant to be, or `word` itself.

        One slip is repaired in words of four to seven letters, two in longer ones (optimal string alignment: a letter
        added, lost, changed, or two swapped). The first letter must stand, since slips there are rare and would turn
        words into others. Two slips in seven letters make another food: 'codfish' and 'catfish'.
        """
        if word in self._preferred or not word.isalpha():
            return word
        if word not in self._repaired:
            self._repaired[word] = self._meant_by(word)
        return self._repaired[word]

    def _meant_by(self, word: str) -> str:
        if len(word) >= SHORTEST_REPAIRED_WORD and word in self._others:
            return word
        # A lost double letter ('eg', 'bluebery') is common and safe to mend even in short words.
        doubled = [singular(f"{word[:i]}{letter}{word[i:]}") for i, letter in enumerate(word)]
        found = [candidate for candidate in doubled if candidate in self._preferred]
        if found:
            return found[0]
        return word if len(word) < SHORTEST_REPAIRED_WORD else self._nearest(word)

    def _nearest(self, word: str) -> str:
        from rapidfuzz.distance import OSA

        allowed = 1 if len(word) <= LONGEST_WITH_ONE_SLIP else 2
        best: tuple[int, int, int, str] | None = None
        for rank, known in enumerate((self._preferred, self._others)):
            for other in known:
                if other[0] != word[0] or abs(len(other) - len(word)) > allowed or len(other) < SHORTEST_REPAIRED_WORD:
                    continue
                distance = OSA.distance(word, other, score_cutoff=allowed)
                if distance <= allowed:
                    # Words of one length first: letters swapped or changed are commoner than lost ones.
                    found = (distance, rank, abs(len(other) - len(word)), other)
                    best = found if best is None else min(best, found)
        return best[3] if best else word
