"""Which line a variant means: the cook names it by words of it, 'turkey mince' for '1 kg turkey mince, 7% fat'."""

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache

from mealcalc.records import RecipeLine

_WORD = re.compile(r"[^\W_]+")


def means_line(words: str, line: RecipeLine) -> bool:
    """Whether every word of `words` stands in `line`, whatever the order, case, accents and number (onion, onions)."""
    wanted = _words(words)
    return bool(wanted) and wanted <= _words(line.text)


class LineIndex:
    """Finds the lines that words mean among many, as `means_line` does for one."""

    def __init__(self, lines: Iterable[RecipeLine]) -> None:
        self.lines = tuple(lines)
        self._numbers: dict[str, set[int]] = {}
        for number, line in enumerate(self.lines):
            for word in _words(line.text):
                self._numbers.setdefault(word, set()).add(number)

    def meant_by(self, words: str) -> list[RecipeLine]:
        """The lines that contain every word of `words`, in order."""
        found = [self._numbers.get(word, set()) for word in _words(words)]
        return [self.lines[number] for number in sorted(set.intersection(*found))] if found else []


@lru_cache(maxsize=2000)
def _words(text: str) -> frozenset[str]:
    plain = unicodedata.normalize("NFKD", text.replace("'", "").replace("’", ""))
    letters = "".join(c for c in plain if not unicodedata.combining(c))
    return frozenset(_stem(word) for word in _WORD.findall(letters.casefold()))


def _stem(word: str) -> str:
    """One form for singular and plural; that it may be no word does not matter, since both sides are cut alike."""
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 4 and word.endswith(("oes", "ches", "shes", "sses", "xes")):
        return word[:-2]
    if len(word) > 4 and word.endswith("aves"):
        return word[:-3] + "f"
    if len(word) > 3 and word.endswith("s") and not word.endswith("ss"):
        return word[:-1]
    return word
