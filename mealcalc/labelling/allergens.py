"""Allergens of lines and of a batch: by the words of the recipe and the kind of product, never by the food table.

A line names its allergens with its words, its second name in brackets, the name of the default food that it means, the
product that the cook declares, and its alternatives; optional, to-taste, unmatched and uncounted lines count like all
others. The composition of a food that stands in for another says nothing. Three states: contains, may depend on the
product, not known. That an allergen is not found is no statement that it is absent.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from mealcalc.errors import UsageError
from mealcalc.labelling.allergen_matching import (
    AllergenFinding,
    AllergenState,
    FoundIn,
    find_in_words,
    merged,
)
from mealcalc.reference.allergen_tables import AllergenCaution, ListedAllergen, allergen_cautions, allergen_list

SCHEMES = ("us", "eu", "uk", "anz", "ca")

COMPOSITE_GROUPS = frozenset("0300 0600 0700 0800 1800 1900 2100 2200 2500 3600".split())
"""SR28 groups of foods made of several others: baby foods, soups and sauces, sausages, breakfast cereals, baked
products, sweets, fast foods, meals, snacks, restaurant foods."""

OWN_FOOD = "own"
"""Food table of the cook's own foods."""

OUR_RULE = "rule of this tool"


@dataclass(frozen=True, slots=True)
class AllergenLine:
    """What the allergens of a recipe line are found from.

    number: line of the file. text: the line as written. name, second_name, preparation, alternatives: as the line was
    read. food_names: names of the food it means (default food, the cook's own food). known: whether the line names a
    food that a table holds or that is known to be in none. sure: False for a match that is a guess. food_group: group
    of the matched food, as in SR28 (`0600 ...`), or 'own' for a food of the cook. pack_ingredients: the list of
    ingredients copied from the pack. optional: marked as optional.
    """

    number: int
    text: str
    name: str = ""
    second_name: str = ""
    preparation: str = ""
    food_names: tuple[str, ...] = ()
    alternatives: tuple[str, ...] = ()
    pack_ingredients: str = ""
    food_group: str = ""
    known: bool = True
    sure: bool = True
    optional: bool = False


@dataclass(frozen=True, slots=True)
class LineAllergens:
    """A line with its findings."""

    line: AllergenLine
    findings: tuple[AllergenFinding, ...]

    @property
    def not_known(self) -> tuple[AllergenFinding, ...]:
        """What is not known of the line."""
        return tuple(f for f in self.findings if f.state is AllergenState.NOT_KNOWN)


@dataclass(frozen=True, slots=True)
class DeclaredAllergen:
    """An allergen on the list of a scheme, with the lines that bring it in.

    names: species or kinds that the lines name. findings: (line number, finding), in the order of the recipe.
    """

    listed: ListedAllergen
    names: tuple[str, ...]
    findings: tuple[tuple[int, AllergenFinding], ...]

    @property
    def lines(self) -> tuple[int, ...]:
        """Numbers of the lines that bring it in."""
        return tuple(dict.fromkeys(number for number, _ in self.findings))

    @property
    def only_by_alternative(self) -> bool:
        """Whether it comes in only if an alternative of a line is used."""
        return all(finding.found_in is FoundIn.ALTERNATIVE for _, finding in self.findings)

    @property
    def label(self) -> str:
        """How the label names it; with the species or kind where the law wants that and the lines name it."""
        wanted = bool(self.listed.detail) and self.listed.detail == "the species"
        names = [name for name in self.names if name != self.listed.label_name]
        return f"{self.listed.label_name} ({', '.join(names)})" if wanted and names else self.listed.label_name


@dataclass(frozen=True, slots=True)
class BatchAllergens:
    """Allergens of a batch under the list of a scheme.

    contains, may_depend: by the order of the list. An allergen that the batch contains is not named again under
    may_depend, unless only optional lines or alternatives bring it in. lines: every line with the findings that the
    scheme lists and what is not known of it.
    """

    scheme: str
    contains: tuple[DeclaredAllergen, ...]
    may_depend: tuple[DeclaredAllergen, ...]
    lines: tuple[LineAllergens, ...]
    cautions: tuple[AllergenCaution, ...]

    @property
    def not_known(self) -> tuple[LineAllergens, ...]:
        """Lines of which something is not known."""
        return tuple(line for line in self.lines if line.not_known)


def allergens_of(line: AllergenLine | str) -> tuple[AllergenFinding, ...]:
    """Every allergen of a line that any scheme lists, in three states, each with its reason and source.

    Parameters
    ----------
    line : AllergenLine or str
        A line as it was read, or the bare words of one.
    """
    if isinstance(line, str):
        line = AllergenLine(1, line, line)
    found: list[AllergenFinding] = []
    softened: frozenset[str] = frozenset()
    reviewed = False
    own_words = ((line.name, FoundIn.LINE), (line.second_name, FoundIn.SECOND_NAME), (line.preparation, FoundIn.LINE))
    for text, found_in in own_words:
        words = find_in_words(text, found_in)
        softened |= words.softened
        reviewed |= words.reviewed
        found += words.findings
    for name in line.food_names:
        # 'Gluten free breadcrumbs' may be counted as breadcrumbs: the claim of the line holds for its food.
        words = find_in_words(name, FoundIn.FOOD, softened)
        reviewed |= words.reviewed
        found += words.findings
    pack = find_in_words(line.pack_ingredients, FoundIn.PACK)
    found += pack.findings
    for other in line.alternatives:
        found += find_in_words(other, FoundIn.ALTERNATIVE).findings
    found += _new_in_text(line, found)
    found += _not_known(line, reviewed or bool(line.pack_ingredients.strip()))
    return merged(found)


def allergens_of_batch(lines: Iterable[AllergenLine], scheme: str) -> BatchAllergens:
    """Allergens of all lines, as a scheme lists them.

    Parameters
    ----------
    lines : iterable of AllergenLine
        Every line of the recipe that is a food, whatever its status.
    scheme : str
        us, eu, uk, anz or ca.

    Raises
    ------
    UsageError
        If the scheme is unknown.
    """
    listed = list_of(scheme)
    on_list = {item.allergen for item in listed}
    found = tuple(
        LineAllergens(line, tuple(f for f in allergens_of(line) if not f.allergen or f.allergen in on_list))
        for line in lines
    )
    contains = declared(found, listed, AllergenState.CONTAINS)
    certain = {
        finding.allergen
        for each in found
        if not each.line.optional
        for finding in each.findings
        if finding.state is AllergenState.CONTAINS and finding.found_in is not FoundIn.ALTERNATIVE
    }
    may_depend = tuple(
        each for each in declared(found, listed, AllergenState.MAY_DEPEND) if each.listed.allergen not in certain
    )
    return BatchAllergens(scheme, contains, may_depend, found, allergen_cautions(scheme))


def list_of(scheme: str) -> tuple[ListedAllergen, ...]:
    """The allergens that a scheme lists, each once, in the order of its list.

    Raises
    ------
    UsageError
        If the scheme is unknown.
    """
    if scheme not in SCHEMES:
        raise UsageError(f"unknown scheme '{scheme[:40]}'", f"schemes are {', '.join(SCHEMES)}")
    by_allergen: dict[str, ListedAllergen] = {}
    for item in allergen_list(scheme):
        by_allergen.setdefault(item.allergen, item)
    return tuple(by_allergen.values())


def declared(
    lines: Sequence[LineAllergens], listed: Sequence[ListedAllergen], state: AllergenState
) -> tuple[DeclaredAllergen, ...]:
    """Allergens of a list that lines bring in with a state, in the order of the list."""
    result = []
    for item in listed:
        found = [
            (each.line.number, finding)
            for each in lines
            for finding in each.findings
            if finding.allergen == item.allergen and finding.state is state
        ]
        if found:
            names = tuple(dict.fromkeys(finding.name for _, finding in found if finding.name))
            result.append(DeclaredAllergen(item, names, tuple(found)))
    return tuple(result)


def _new_in_text(line: AllergenLine, found: Sequence[AllergenFinding]) -> list[AllergenFinding]:
    """What only the rest of the line names: words that reading it put aside count too."""
    known = {finding.allergen for finding in found}
    certain = {finding.allergen for finding in found if finding.state is AllergenState.CONTAINS}
    return [
        finding
        for finding in find_in_words(line.text).findings
        if finding.allergen not in known
        or (finding.state is AllergenState.CONTAINS and finding.allergen not in certain)
    ]


def _not_known(line: AllergenLine, reviewed: bool) -> list[AllergenFinding]:
    if not line.known:
        reason = "no table holds this food: what it is made of is not known, read its label"
    elif reviewed:
        return []
    elif line.food_group == OWN_FOOD:
        reason = "a food of your own: copy the allergens from its pack"
    elif line.food_group[:4] in COMPOSITE_GROUPS:
        reason = "a product made of several foods, and no rule speaks of it: read its label"
    elif not line.sure:
        reason = "which food is meant is a guess, and no rule speaks of its words: confirm the food or read its label"
    else:
        return []
    return [AllergenFinding("", AllergenState.NOT_KNOWN, line.name or line.text, reason, OUR_RULE, "own practice")]
