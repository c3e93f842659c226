"""The list of ingredients of a food: order by weight as used, water, class names, quantities, allergens.

What the law of each scheme says stands in `ingredient_list_rules.csv` with its clause and how surely it is known. The
result is a draft: notes name what has to be checked or copied from packs before it goes on a label.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from mealcalc.labelling.allergen_emphasis import labels_of, stand_out, stand_out_in_list
from mealcalc.labelling.allergen_matching import AllergenState
from mealcalc.labelling.allergens import AllergenLine, DeclaredAllergen, LineAllergens, declared, list_of
from mealcalc.labelling.characterising import named_entries, quantities
from mealcalc.labelling.ingredient_weights import Entry, as_used_g, entries_of, share_percent, with_class_names
from mealcalc.labelling.statement_records import (
    IngredientStatement,
    LeftOut,
    StatementInput,
    StatementItem,
    StatementLine,
    StatementNote,
    clean,
)
from mealcalc.reference.allergen_tables import ListedAllergen
from mealcalc.reference.ingredient_rules import IngredientRule, ingredient_rules
from mealcalc.reference.label_tables import Citation


def ingredient_statement(given: StatementInput, scheme: str, *, class_names: bool = True) -> IngredientStatement:
    """The list of ingredients of a food under the law of a scheme.

    Parameters
    ----------
    given : StatementInput
        Title, lines with their masses and allergens, and the mass of the finished food.
    scheme : str
        us, eu, uk, anz or ca.
    class_names : bool
        Whether herbs and spices may stand under one class name; their own names follow in brackets.

    Raises
    ------
    UsageError
        If the scheme is unknown.
    """
    listed = list_of(scheme)
    rules = ingredient_rules(scheme)
    entries, left_out = entries_of(given, rules)
    named = named_entries(given.title, given.emphasised, entries)
    whole_g = given.finished_mass_g or sum(entry.mass_g or 0.0 for entry in entries)
    if class_names:
        entries = with_class_names(entries, rules, named, whole_g)
    quid = quantities(named, as_used_g(given.lines), given.finished_mass_g, rules)
    items = [_item(entry, entries, quid.get(entry, ""), listed) for entry in entries]
    small = rules.get("small amounts") if scheme == "us" else None
    if small is not None:
        items = _small_last(items, whole_g, small)
    return IngredientStatement(
        scheme=scheme,
        title=clean(given.title),
        heading=rules["heading"].text,
        small_words=small.text if small is not None else "",
        items=tuple(items),
        left_out=tuple(left_out),
        contains=_contains(given.lines, listed),
        emphasis=listed[0].emphasis,
        notes=tuple(_notes(given, entries, named, quid, rules, listed)),
        rules=_cited(rules.values(), listed, left_out),
    )


def _item(entry: Entry, entries: Sequence[Entry], quid: str, listed: Sequence[ListedAllergen]) -> StatementItem:
    total_g = sum(other.mass_g or 0.0 for other in entries)
    emphasis = listed[0].emphasis
    findings = [finding for line in entry.lines for finding in line.findings]
    text = stand_out(entry.name, labels_of(findings, listed), emphasis)
    pack = next((clean(line.pack_ingredients) for line in entry.lines if line.pack_ingredients.strip()), "")
    if pack:
        text = f"{text} ({stand_out_in_list(pack, listed, emphasis)})"
    if entry.members:
        text = f"{text} ({', '.join(member.name for member in entry.members)})"
    remarks = [remark for remark in (quid, "optional" if entry.optional else "") if remark]
    if remarks:
        text = f"{text} ({', '.join(remarks)})"
    return StatementItem(
        text=text,
        name=entry.name,
        lines=entry.numbers,
        mass_g=entry.mass_g,
        share_percent=None if entry.mass_g is None else float(share_percent(entry.mass_g, total_g)),
        quid=quid,
        optional=entry.optional,
        members=tuple(member.name for member in entry.members),
    )


def _small_last(items: Sequence[StatementItem], whole_g: float, rule: IngredientRule) -> list[StatementItem]:
    """Items of small share at the end, where the law lets them stand behind words of its own; all by falling mass."""
    result = [
        replace(item, small=item.mass_g is not None and rule.holds_for(share_percent(item.mass_g, whole_g)))
        for item in items
    ]
    return sorted(result, key=lambda item: (item.mass_g is None, item.small))


def _contains(lines: Sequence[StatementLine], listed: Sequence[ListedAllergen]) -> tuple[str, ...]:
    """Names of the statement 'Contains' in the order of the scheme's list, () where the scheme has no statement."""
    names = []
    for allergen in _declared(lines, listed, AllergenState.CONTAINS):
        for name in allergen.listed.summary_names:
            names.append(allergen.label if name == allergen.listed.label_name else name)
    return tuple(dict.fromkeys(names))


def _declared(
    lines: Sequence[StatementLine], listed: Sequence[ListedAllergen], state: AllergenState
) -> tuple[DeclaredAllergen, ...]:
    found = [LineAllergens(AllergenLine(line.number, line.name), line.findings) for line in lines]
    return declared(found, listed, state)


def _notes(
    given: StatementInput,
    entries: Sequence[Entry],
    named: Sequence[Entry],
    quid: dict[Entry, str],
    rules: dict[str, IngredientRule],
    listed: Sequence[ListedAllergen],
) -> Iterable[StatementNote]:
    lines = given.lines
    if given.finished_mass_g is None and (quid or any(entry.is_water for entry in entries)):
        yield StatementNote(
            "the mass of the finished food is not known: added water counts in full, and percentages are of the mixing "
            "bowl; weigh the finished food",
            cited=rules["added water"].cited,
        )
    for entry in entries:
        if entry.mass_g is None:
            yield StatementNote(f"'{entry.name}' has no known weight: weigh it to give it its place", entry.numbers)
    for line in lines:
        if not line.matched:
            said = "no food table holds it; its name is as written in the recipe"
            yield StatementNote(f"'{clean(line.name)}': {said}", (line.number,))
        if line.is_product and not line.pack_ingredients.strip():
            rule = rules["compound"]
            said = f"'{clean(line.name)}': {rule.text}, in brackets behind its name"
            yield StatementNote(f"{said}; {rule.note}" if rule.note else said, (line.number,), rule.cited)
    yield from _allergen_notes(lines, listed)
    if "quid" in rules:
        yield _quid_note(named, quid, rules["quid"])
    if any(entry.optional for entry in entries):
        numbers = tuple(number for entry in entries if entry.optional for number in entry.numbers)
        yield StatementNote("optional ingredients are listed: make one list for each way the food is sold", numbers)


def _allergen_notes(lines: Sequence[StatementLine], listed: Sequence[ListedAllergen]) -> Iterable[StatementNote]:
    label_of = {item.allergen: item.label_name for item in listed}
    for line in lines:
        open_ones = [
            label_of[f.allergen]
            for f in line.findings
            if f.state is AllergenState.MAY_DEPEND and f.allergen in label_of
        ]
        if open_ones:
            said = f"'{clean(line.name)}' may hold {', '.join(dict.fromkeys(open_ones))}, which depends on the product"
            yield StatementNote(f"{said}: read its label and make what it holds stand out", (line.number,))
        for finding in line.findings:
            if finding.state is AllergenState.NOT_KNOWN:
                yield StatementNote(f"'{clean(line.name)}', allergens not known: {finding.reason}", (line.number,))


def _quid_note(named: Sequence[Entry], quid: dict[Entry, str], rule: IngredientRule) -> StatementNote:
    if not named:
        said = "no ingredient is named in the title; one that pictures or words emphasise needs its percentage"
        return StatementNote(said, cited=rule.cited)
    names = ", ".join(f"'{entry.name}'" for entry in named)
    numbers = tuple(number for entry in named for number in entry.numbers)
    without = [entry.name for entry in named if entry not in quid]
    said = f"taken as named in the title or emphasised: {names}; check which ingredients the title means"
    if without:
        said += f"; no percentage for {', '.join(without)}: no known weight"
    return StatementNote(said, numbers, rule.cited)


def _cited(
    rules: Iterable[IngredientRule], listed: Sequence[ListedAllergen], left_out: Sequence[LeftOut]
) -> tuple[Citation, ...]:
    every = [rule.cited for rule in rules] + [item.cited for item in listed]
    every += [out.cited for out in left_out if out.cited is not None]
    return tuple(dict.fromkeys(every))
