"""Lines whose amounts may change, alone or as whole components, in whole packs where they are sold so."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from mealcalc.errors import UsageError
from mealcalc.planning.kitchen_rounding import is_egg, rounded, shown
from mealcalc.recipe.line_parser import parse_line
from mealcalc.recipe.line_words import LineIndex
from mealcalc.records import Amount, BatchResult, Contribution, LineStatus, RecipeLine
from mealcalc.records.targets import Targets
from mealcalc.units import COUNT_UNITS, MASS_G, METRIC, measure

MOST_PACK_LINES = 8
"""Lines that may change by whole packs (our judgement: more make the search long)."""

AS_WRITTEN = "as written"
"""The pack that a line itself names, in place of one that is given."""


@dataclass(frozen=True, slots=True)
class Group:
    """Lines whose amounts change by one factor: a single line, or all that counts of a component.

    unit: the factor that one unit of the variable stands for: 1, or a pack as a share of what is written.
    """

    name: str
    places: tuple[int, ...]
    unit: float = 1.0
    packs: bool = False


def groups_of(result: BatchResult, targets: Targets) -> list[Group]:
    """The groups that `targets.change` names, in its order, with the packs of `targets.whole_packs`.

    Raises
    ------
    UsageError
        If words mean no line or several, a line is named twice or has no known weight, or a pack does not fit its line.
    """
    lines = [c.line for c in result.contributions]
    names = {component.name.casefold(): component.name for component in result.batch.components}
    index = LineIndex(lines)
    taken: dict[int, str] = {}
    groups: list[Group] = []
    for words in targets.change:
        name = names.get(" ".join(words.split()).casefold())
        if name is not None:
            places = [k for k, c in enumerate(result.contributions) if c.line.component == name and _counts(c)]
        else:
            places = [lines.index(one_line_of(index, words))]
            name = lines[places[0]].name
        for place in places:
            line = lines[place]
            if place in taken:
                raise UsageError(f"the amount of '{line.name}' is named twice: {taken[place]}, {words}", "name it once")
            taken[place] = words
            if result.contributions[place].ingredient.mass_g is None or line.amount is None:
                raise UsageError(
                    f"the weight of '{line.name}' is not known, so its amount cannot be sought",
                    f"settle it with `mealcalc match`, or give line {line.span.line} a weight",
                )
        if places:
            groups.append(Group(name, tuple(places)))
    if not groups:
        raise UsageError("no line that counts may change", "name lines by words of them: --change 'turkey mince'")
    return _with_packs(groups, lines, index, targets, result.region)


def _counts(c: Contribution) -> bool:
    return c.ingredient.matched.status not in (LineStatus.NOT_COUNTED, LineStatus.NOT_FOOD)


def one_line_of(index: LineIndex, words: str) -> RecipeLine:
    """The one line that `words` mean; `UsageError` where there is none, or several."""
    meant = index.meant_by(words)
    if len(meant) == 1:
        return meant[0]
    names = ", ".join(line.name for line in (meant or index.lines)[:30] if line.name)
    if meant:
        raise UsageError(f"{len(meant)} lines contain '{words[:60]}'", f"use more words of one of them: {names}")
    raise UsageError(f"no line contains '{words[:60]}', and no component is called so", f"the foods are: {names}")


def _with_packs(
    groups: list[Group], lines: Sequence[RecipeLine], index: LineIndex, targets: Targets, region: str
) -> list[Group]:
    packs: dict[int, str] = {}
    for words, pack in targets.whole_packs.items():
        place = lines.index(one_line_of(index, words))
        if not any(group.places == (place,) for group in groups):
            raise UsageError(
                f"'{words[:60]}' is to stay in whole packs, but its amount may not change", "name it with --change too"
            )
        packs[place] = pack
    if len(packs) > MOST_PACK_LINES:
        raise UsageError(f"{len(packs)} lines in whole packs are too many to divide", f"name at most {MOST_PACK_LINES}")
    found = []
    for group in groups:
        place = group.places[0]
        if len(group.places) == 1 and place in packs:
            unit = _pack_share(lines[place], packs[place], region)
            found.append(replace(group, unit=unit, packs=True))
        else:
            found.append(group)
    return found


def _pack_share(line: RecipeLine, text: str, region: str) -> float:
    """A pack as a share of the amount that the line states."""
    if text.casefold() == AS_WRITTEN:
        return _written_pack_share(line)
    pack = parse_line(f"{text} {line.name}", line.span, region, line.component).amount
    amount = line.amount
    assert amount is not None
    if pack is None or pack.middle <= 0.0:
        raise UsageError(f"'{text[:40]}' is no pack of '{line.name}'", "write it like 500 g")
    mine, theirs = _size(amount, region), _size(pack, region)
    if mine is None or theirs is None or mine[0] != theirs[0]:
        raise UsageError(
            f"a pack of '{text[:40]}' cannot be counted in '{line.text[:60]}'",
            "write both by weight, both by volume, or both by the piece",
        )
    return theirs[1] / mine[1]


def _written_pack_share(line: RecipeLine) -> float:
    """The pack that the line itself names, as a share of its amount: `2 x 400 g cans`, `2 tins`, `6 eggs`."""
    amount = line.amount
    assert amount is not None
    if line.packs:
        return 1.0 / line.packs
    if amount.unit in COUNT_UNITS and amount.middle > 0.0:
        return 1.0 / amount.middle
    raise UsageError(
        f"'{line.text[:60]}' does not say how large a pack is", "give it: --whole-packs 'turkey mince=500 g'"
    )


def _size(amount: Amount, region: str) -> tuple[str, float] | None:
    """Kind and size of an amount: in g, in ml, or in its own unit where it is counted."""
    if amount.unit in MASS_G:
        return "g", amount.middle * MASS_G[amount.unit]
    volume_ml = measure(amount.unit, region or METRIC).ml
    return ("ml", amount.middle * volume_ml) if volume_ml else (amount.unit, amount.middle)


def kitchen_amounts(amount: Amount, name: str, factor: float, nearby: Sequence[float]) -> list[float]:
    """Factors at which an amount near `factor` times what is written can be measured in a kitchen.

    Parameters
    ----------
    amount : Amount
        As written.
    name : str
        Of the food: eggs stay whole.
    factor : float
        What is wanted.
    nearby : sequence of float
        Shares by which the amount may be off (0 is the nearest that can be measured).
    """
    written = Fraction(amount.middle)
    wanted = (written * Fraction(factor) * Fraction(1.0 + share) for share in nearby)
    return sorted({float(rounded(value, amount.unit, whole=is_egg(name)) / written) for value in wanted})


def amount_words(amount: Amount, name: str, factor: float) -> str:
    """An amount as a cook writes it, as near to `factor` times what is written as a kitchen can measure."""
    value = (
        rounded(Fraction(amount.middle) * Fraction(factor), amount.unit, whole=is_egg(name))
        if factor != 1.0
        else Fraction(amount.middle).limit_denominator(10_000)
    )
    unit = "" if amount.unit == "piece" else amount.unit.replace("_", " ")
    return f"{shown(value, amount.unit)} {unit}".rstrip()
