"""Text in plain words: lower case, without accents and marks, singular, one spelling for a few words of two.

Tables whose keys are words of a recipe are compared in this form: both sides go through the same function, so that a
stem need not be good English, only the same on both sides.
"""

import re
import unicodedata
from collections.abc import Collection
from functools import lru_cache

MOST_CHARACTERS = 20_000
"""No line of a recipe is longer; what lies beyond is not read."""

_WORD = re.compile(r"[^\W_]+")
_APOSTROPHES = str.maketrans("", "", "'’‘`´")
_NOT_IN_UNICODE_FORM = str.maketrans({"ø": "o", "Ø": "O", "œ": "oe", "Œ": "OE", "æ": "ae", "Æ": "AE", "ß": "ss"})

_SPELLINGS = {
    "yoghurt": "yogurt", "yoghourt": "yogurt", "yogourt": "yogurt", "soya": "soy", "soyabean": "soybean",
    "fibre": "fiber", "flavour": "flavor", "flavoured": "flavored", "flavouring": "flavoring", "pitta": "pita",
    "chili": "chilli", "chile": "chilli", "leaves": "leaf", "loaves": "loaf", "halves": "half",
    "sulphite": "sulfite", "sulphured": "sulfured", "unsulphured": "unsulfured", "caramelised": "caramelized",
    "crystallised": "crystallized", "doughnut": "donut", "ladies": "ladies",
}  # fmt: skip


def plain_words(text: str) -> tuple[str, ...]:
    """The words of `text` in order, each folded to lower case without accents, singular, in one spelling.

    Parameters
    ----------
    text : str
        Anything a cook may write; marks part words, apostrophes do not. Only the first 20,000 characters are read.
    """
    shown = text[:MOST_CHARACTERS].translate(_NOT_IN_UNICODE_FORM)
    plain = unicodedata.normalize("NFKD", shown)
    letters = "".join(c for c in plain if not unicodedata.combining(c)).lower().translate(_APOSTROPHES)
    return tuple(_singular(word) for word in _WORD.findall(letters))


@lru_cache(maxsize=20_000)
def _singular(word: str) -> str:
    """One form for singular and plural of an English noun; a word that is no plural may lose nothing but an s."""
    if word in _SPELLINGS:
        return _SPELLINGS[word]
    stem = singular_stem(word)
    return _SPELLINGS.get(stem, stem)


def singular_stem(word: str, no_plurals: Collection[str] = ()) -> str:
    """The stem in which the singular and the plural of an English noun meet; `no_plurals` lose no s."""
    stem = word
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")) and word not in no_plurals:
        if word.endswith("ies") and len(word) > 4:
            stem = word[:-3] + "y"
        elif word.endswith(("oes", "shes", "ches", "xes", "sses", "zes")):
            stem = word[:-2]
        else:
            stem = word[:-1]
    if stem.endswith("ie") and len(stem) > 4:
        stem = stem[:-2] + "y"  # cookie and cookies meet in one stem
    return stem
