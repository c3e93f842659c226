"""What is stated otherwise than in an older record, and why: lines, foods, editions, cooking, package, tables, code."""

from collections.abc import Iterator, Mapping, Sequence
from difflib import SequenceMatcher

from mealcalc.records.frozen import Cause, Comparison, FrozenLine, FrozenRecord, FrozenRow, RowChange

LONGEST_SHOWN = 60
CAUSES_NAMED = 4
"""Causes that a row names; the list below it holds all."""

LEAST_SHARE = 0.02
"""A cause that moves a row by less than this share of the largest one is not named with it (our judgement)."""

_DERIVED = {"NACL_G": "NA_MG", "ENERC_KJ": "ENERC_KCAL"}
_WHOLE = ("region-changed", "containers-changed", "package-changed", "cooking-changed", "scheme-changed")
_TOOL = ("tables-changed", "code-changed")


def compare(before: FrozenRecord, after: FrozenRecord) -> Comparison:
    """The record of an earlier day beside one of today; only what is printed counts as stated."""
    causes = (*_of_lines(before, after), *_of_the_whole(before, after))
    old, new = {r.row: r for r in before.rows}, {r.row: r for r in after.rows}
    changes = tuple(
        RowChange((new.get(row) or old[row]).name, old.get(row), new.get(row), _because(row, old, new, causes))
        for row in dict.fromkeys((*old, *new))
        if _printed(old.get(row)) != _printed(new.get(row))
    )
    return Comparison(before, after, changes, causes)


def _printed(row: FrozenRow | None) -> tuple[str, str, str]:
    return ("", "", "") if row is None else (row.printed_per_portion, row.printed_per_100g, row.percent)


def _of_lines(before: FrozenRecord, after: FrozenRecord) -> Iterator[Cause]:
    old, new = before.lines, after.lines
    same_number = before.containers == after.containers
    matcher = SequenceMatcher(None, [_words(x) for x in old], [_words(x) for x in new], autojunk=False)
    for tag, i1, i2, j1, j2 in matcher.get_opcodes():
        pairs = min(i2 - i1, j2 - j1)
        for one, other in zip(old[i1 : i1 + pairs], new[j1 : j1 + pairs], strict=True):
            if tag == "equal":
                yield from _same_words(one, other, same_number)
            else:
                yield Cause("line-changed", f"'{_shown(one)}' is now '{_shown(other)}'", _difference(one, other))
        for gone in old[i1 + pairs : i2]:
            yield Cause("line-removed", f"'{_shown(gone)}' is no longer there", _difference(gone, None))
        for added in new[j1 + pairs : j2]:
            yield Cause("line-added", f"'{_shown(added)}' is new", _difference(None, added))


def _same_words(one: FrozenLine, other: FrozenLine, same_number: bool) -> Iterator[Cause]:
    difference = _difference(one, other)
    if (one.table, one.code) != (other.table, other.code):
        text = f"'{_shown(other)}' is counted as {_food(other)}, before as {_food(one)}"
        yield Cause("food-changed", text, difference)
    elif one.edition != other.edition:
        text = f"'{_shown(other)}': table {other.table} is of edition {other.edition}, before {one.edition}"
        yield Cause("edition-changed", text, difference)
    elif _grams(one) != _grams(other):
        text = f"'{_shown(other)}' weighs {_grams(other)}, before {_grams(one)}"
        yield Cause("grams-changed", text, difference)
    elif same_number and difference:
        text = f"'{_shown(other)}' brings other amounts from the same food and grams: cooking, factors or composition"
        yield Cause("composition-changed", text, difference)


def _of_the_whole(before: FrozenRecord, after: FrozenRecord) -> Iterator[Cause]:
    if before.containers != after.containers:
        yield Cause("containers-changed", f"{after.containers} containers, before {before.containers}", {})
    if before.region != after.region:
        yield Cause("region-changed", f"region {after.region}, before {before.region}", {})
    if before.package != after.package:
        yield Cause("package-changed", f"package {_package(after)}, before {_package(before)}", {})
    if before.energy_method != after.energy_method:
        text = f"energy by method {after.energy_method}, before {before.energy_method}"
        yield Cause("scheme-changed", text, {})
    old = {c.name: c for c in before.components}
    for component in after.components:
        was = old.get(component.name)
        if was is None:
            continue
        name = f"'{component.name[:LONGEST_SHOWN]}'"
        if was.cooking != component.cooking:
            now, then = component.cooking[:LONGEST_SHOWN], was.cooking[:LONGEST_SHOWN]
            text = f"{name} is cooked otherwise: '{now}', before '{then}'"
            yield Cause("cooking-changed", text, {})
        if _mass(was.cooked_mass_g) != _mass(component.cooked_mass_g):
            text = f"{name} weighs {_mass(component.cooked_mass_g)} cooked, before {_mass(was.cooked_mass_g)}"
            yield Cause("cooking-changed", text, {})
    if before.tables != after.tables:
        text = f"the reviewed tables of this tool are others ({after.tables}, before {before.tables})"
        yield Cause("tables-changed", text, {})
    if before.code != after.code or before.version != after.version:
        text = f"the code is another: {after.version} ({after.code}), before {before.version} ({before.code})"
        yield Cause("code-changed", text, {})


def _because(
    row: str, old: Mapping[str, FrozenRow], new: Mapping[str, FrozenRow], causes: Sequence[Cause]
) -> tuple[str, ...]:
    """What moves a row: lines by how much, then what concerns the whole; the tool itself where nothing else does."""
    found = new.get(row) or old[row]
    key = _DERIVED.get(found.key, found.key)
    moved = sorted(((abs(c.amounts[key]), c) for c in causes if c.amounts.get(key)), key=lambda pair: -pair[0])
    named = [cause.text for size, cause in moved if size >= LEAST_SHARE * moved[0][0]]
    # A value that was or became unknown has no size, yet it moves the row.
    named += [c.text for c in causes if c.amounts and key not in c.amounts and not moved]
    named += [c.text for c in causes if c.kind in _WHOLE]
    return tuple((named or [c.text for c in causes if c.kind in _TOOL])[:CAUSES_NAMED])


def _difference(one: FrozenLine | None, other: FrozenLine | None) -> dict[str, float]:
    """What one container gets more, by food component; none where either amount is unknown."""
    before = {} if one is None else one.amounts
    after = {} if other is None else other.amounts
    found = {}
    for key in dict.fromkeys((*before, *after)):
        old = 0.0 if one is None else before.get(key)
        new = 0.0 if other is None else after.get(key)
        if old is not None and new is not None and old != new:
            found[key] = new - old
    return found


def _words(line: FrozenLine) -> tuple[str, str]:
    return line.component, line.text


def _shown(line: FrozenLine) -> str:
    return line.text[:LONGEST_SHOWN]


def _food(line: FrozenLine) -> str:
    return f"{line.food} ({line.table}:{line.code})" if line.code else "no food of a table"


def _grams(line: FrozenLine) -> str:
    if line.mass_g is None:
        return "an unknown mass"
    share = "" if line.used_share == 1 else f" ({line.used_share:.0%} of it eaten)"
    return f"{line.mass_g:.2f} g{share}"


def _mass(mass_g: float | None) -> str:
    return "an unknown mass" if mass_g is None else f"{mass_g:.1f} g"


def _package(record: FrozenRecord) -> str:
    return ", ".join(f"{name} {value:g}" for name, value in record.package.items()) or "as the recipe says"
