"""Readers of the tables of allergens: words of a recipe and what they mean, the list of each law, cautions.

`allergen_words.csv` holds words of a line or a kind of product; `allergen_lists.csv` what each scheme lists and by
which name; `allergen_cautions.csv` what has to be said beside a finding. The first is reviewed by hand and says for
each row why; most of it is common practice of the trade without a source, and says so.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from itertools import product
from types import MappingProxyType

from mealcalc.reference.label_tables import Citation, citation, rows_of_scheme
from mealcalc.reference.plain_words import plain_words
from mealcalc.reference.tables import read_table

ALLERGENS = (
    "wheat rye barley oats triticale crustaceans egg fish peanut soy milk almond hazelnut walnut cashew pecan "
    "brazil_nut pistachio macadamia pine_nut nuts celery mustard sesame sulphites lupin molluscs"
).split()
"""Every allergen that any scheme lists, in the order of the European list; `nuts` where the kind is not said."""

NAMED_AS_WRITTEN = "*"
"""In place of a name: the words of the line name the species."""

_CHOICE = re.compile(r"\{([^{}]*)\}")


class WordKind(StrEnum):
    """What a row of words is.

    food: a food that is, or is made from, what it contains. product: a product whose usual make is described.
    composite: made of several foods that the words do not say. unlike: written like an allergen, but none. claim: words
    such as 'egg free', which leave it to the pack whether the allergens in `softens` are in it.
    """

    FOOD = "food"
    PRODUCT = "product"
    COMPOSITE = "composite"
    UNLIKE = "unlike"
    CLAIM = "claim"


class Emphasis(StrEnum):
    """How a list of ingredients makes an allergen stand out.

    The law of the European Union leaves font, style or background open; capital letters also survive plain text.
    """

    CAPITALS = "capitals"
    BOLD = "bold"
    CONTAINS_STATEMENT = "contains statement"


@dataclass(frozen=True, slots=True)
class NamedAllergen:
    """An allergen with the species or kind that the words name (`salmon`), '' where they name none."""

    allergen: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class AllergenWords:
    """What words of a recipe mean for allergens.

    phrases: in plain words. contains, may_depend: allergens that the food holds, and those that depend on the product
    bought. softens: allergens that a claim leaves to the pack. reason: for the reader. mark: read, in part, memory or
    common practice.
    """

    phrases: tuple[tuple[str, ...], ...]
    kind: WordKind
    contains: tuple[NamedAllergen, ...]
    may_depend: tuple[NamedAllergen, ...]
    softens: frozenset[str]
    reason: str
    source: str
    mark: str


@dataclass(frozen=True, slots=True)
class ListedAllergen:
    """An allergen on the list of a scheme.

    entry: the item of the list that it falls under. label_name: how the list of ingredients names it. summary_names:
    how the statement 'contains' names it, () where the scheme has none. detail: what the law wants named ('the
    species', 'the cereal', 'the nut', '' nothing more). condition: from which amount, or what is exempt. emphasis: how
    the list of ingredients makes it stand out.
    """

    entry: str
    allergen: str
    label_name: str
    summary_names: tuple[str, ...]
    detail: str
    condition: str
    emphasis: Emphasis
    cited: Citation


@dataclass(frozen=True, slots=True)
class AllergenCaution:
    """A sentence that has to stand beside findings, with the authority that says so."""

    text: str
    authority: str
    cited: Citation


@cache
def allergen_words() -> tuple[AllergenWords, ...]:
    """The reviewed table of words."""
    return read_table("allergen_words.csv", _words)


@cache
def words_by_phrase() -> Mapping[tuple[str, ...], AllergenWords]:
    """Plain words of a phrase -> its row. Of several rows the last counts: patterns come first, exceptions after."""
    return MappingProxyType({phrase: row for row in allergen_words() for phrase in row.phrases})


@cache
def allergen_list(scheme: str) -> tuple[ListedAllergen, ...]:
    """The list of a scheme (us, eu, uk, anz, ca), in its order; empty for an unknown scheme."""
    return rows_of_scheme("allergen_lists.csv", scheme, _listed)


@cache
def allergen_cautions(scheme: str) -> tuple[AllergenCaution, ...]:
    """What has to be said beside the findings under a scheme."""
    return rows_of_scheme(
        "allergen_cautions.csv", scheme, lambda r: AllergenCaution(r["text"], r["authority"], citation(r))
    )


def expand(pattern: str) -> list[str]:
    """Every phrase that a pattern of the table stands for: `{rice,corn} flour` is rice flour and corn flour."""
    parts = _CHOICE.split(pattern)
    choices = [part.split(",") if n % 2 else [part] for n, part in enumerate(parts)]
    return ["".join(chosen) for chosen in product(*choices)]


def _words(row: dict[str, str]) -> AllergenWords:
    phrases = dict.fromkeys(plain_words(phrase) for pattern in row["words"].split("|") for phrase in expand(pattern))
    if () in phrases or not row["reason"] or not row["source"]:
        raise ValueError("a row needs words, a reason and a source")
    return AllergenWords(
        phrases=tuple(phrases),
        kind=WordKind(row["kind"]),
        contains=_named(row["contains"]),
        may_depend=_named(row["may_depend"]),
        softens=frozenset(found.allergen for found in _named(row["softens"])),
        reason=row["reason"],
        source=row["source"],
        mark=row["mark"],
    )


def _named(cell: str) -> tuple[NamedAllergen, ...]:
    found = []
    for word in cell.split():
        allergen, _, name = word.partition("=")
        found.append(NamedAllergen(_known(allergen), name.replace("_", " ")))
    return tuple(found)


def _listed(row: dict[str, str]) -> ListedAllergen:
    allergen = _known(row["allergen"])
    return ListedAllergen(
        entry=row["entry"],
        allergen=allergen,
        label_name=row["label_name"],
        summary_names=tuple(name for name in row["summary_name"].split("|") if name),
        detail=row["detail"],
        condition=row["condition"],
        emphasis=Emphasis(row["emphasis"]),
        cited=citation(row),
    )


def _known(allergen: str) -> str:
    if allergen not in ALLERGENS:
        raise ValueError(f"no allergen '{allergen}'")
    return allergen
