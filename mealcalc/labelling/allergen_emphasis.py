"""Allergens made to stand out in a name of the ingredient list, the way the scheme wants it."""

import re
from collections.abc import Iterable, Sequence

from mealcalc.labelling.allergen_matching import AllergenFinding, AllergenState, find_in_words, merged
from mealcalc.reference.allergen_tables import Emphasis, ListedAllergen
from mealcalc.reference.plain_words import plain_words

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)?")
_BETWEEN_FOODS = re.compile(r"([,;()\[\]])")


def labels_of(findings: Iterable[AllergenFinding], listed: Sequence[ListedAllergen]) -> list[str]:
    """Names on the label of the allergens that are certain, in the order of the scheme's list."""
    certain = {f.allergen for f in findings if f.state is AllergenState.CONTAINS}
    return [item.label_name for item in listed if item.allergen in certain]


def stand_out(name: str, labels: Sequence[str], emphasis: Emphasis) -> str:
    """A name with its allergens made to stand out.

    A word of the name that is the allergen's own name is emphasised; where no word is, the name of the allergen follows
    in brackets: 'bulgur WHEAT', 'mozzarella (MILK)'. A scheme with a statement 'Contains' leaves the name as it is.

    Parameters
    ----------
    name : str
        Name of an ingredient.
    labels : sequence of str
        Allergens by the names of the scheme.
    emphasis : Emphasis
        The scheme's way.
    """
    if emphasis is Emphasis.CONTAINS_STATEMENT or not labels:
        return name
    missing = []
    marked: set[tuple[int, int]] = set()
    for label in labels:
        wanted = set(plain_words(label))
        found = {match.span() for match in _WORD.finditer(name) if wanted.intersection(plain_words(match.group()))}
        marked |= found
        if not found:
            missing.append(label)
    shown = _WORD.sub(lambda match: _marked(match.group(), emphasis) if match.span() in marked else match.group(), name)
    if not missing:
        return shown
    return f"{shown} ({', '.join(_marked(label, emphasis) for label in missing)})"


def stand_out_in_list(pack_list: str, listed: Sequence[ListedAllergen], emphasis: Emphasis) -> str:
    """A list of ingredients copied from a pack with the allergens of each of its parts made to stand out."""
    parts = _BETWEEN_FOODS.split(pack_list)
    return "".join(
        part if n % 2 else stand_out(part, labels_of(merged(find_in_words(part).findings), listed), emphasis)
        for n, part in enumerate(parts)
    )


def _marked(word: str, emphasis: Emphasis) -> str:
    return word.upper() if emphasis is Emphasis.CAPITALS else f"**{word}**"
