"""Weights by which ingredients are placed: added water less what evaporates, equal names added up, class names.

Added water counts with what is left of it: the finished food less all other ingredients as used (Regulation (EU) No
1169/2011 Annex VII Part A 1; the other schemes the same way, see the table of rules). Where the finished mass is not
known, it counts in full.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from mealcalc.labelling.rounding import to_decimal
from mealcalc.labelling.statement_records import LeftOut, StatementInput, StatementLine, clean
from mealcalc.reference.ingredient_rules import IngredientRule, herb_or_spice
from mealcalc.reference.plain_words import plain_words


@dataclass(frozen=True, slots=True)
class Entry:
    """An ingredient of the list before it is printed. name: '' is never printed; mass_g: None where not known."""

    name: str
    lines: tuple[StatementLine, ...]
    mass_g: float | None
    is_water: bool = False
    members: tuple["Entry", ...] = ()

    @property
    def numbers(self) -> tuple[int, ...]:
        """Numbers of the lines it stands for."""
        return tuple(line.number for line in self.lines)

    @property
    def optional(self) -> bool:
        """Whether its lines are optional."""
        return all(line.optional for line in self.lines)


def as_used_g(lines: Iterable[StatementLine]) -> float:
    """Mass of everything that goes into the bowl and stays in the dish, water included, in g, as far as it is known."""
    return sum(line.mass_g or 0.0 for line in lines if not line.poured_off)


def entries_of(given: StatementInput, rules: dict[str, IngredientRule]) -> tuple[list[Entry], list[LeftOut]]:
    """Entries by falling mass, those without a known mass last, and what the rules on water leave out."""
    water, left_out = _water(given, rules)
    by_name: dict[tuple[object, ...], list[StatementLine]] = {}
    for line in given.lines:
        if line.is_water:
            continue
        key = (plain_words(line.name) or line.name, line.optional, line.mass_g is None)
        by_name.setdefault(key, []).append(line)
    entries = [
        Entry(clean(lines[0].name) or f"ingredient of line {lines[0].number}", tuple(lines), _sum(lines))
        for lines in by_name.values()
    ]
    return in_order([*water, *entries]), left_out


def in_order(entries: Iterable[Entry]) -> list[Entry]:
    """Entries by falling mass; those without a known mass last, as they came."""
    return sorted(entries, key=lambda e: (e.mass_g is None, -(e.mass_g or 0.0)))


def share_percent(mass_g: float, whole_g: float) -> Decimal:
    """Share of a mass in a whole, in percent; 0 of nothing."""
    return to_decimal(mass_g) * 100 / to_decimal(whole_g) if whole_g > 0 else Decimal(0)


def with_class_names(
    entries: Sequence[Entry], rules: dict[str, IngredientRule], keep: Sequence[Entry], whole_g: float
) -> list[Entry]:
    """Herbs and spices under one class name each, where the scheme allows it for their share.

    Those that hold an allergen or may hold one, that are optional, that are named in the title (`keep`) or whose weight
    is not known keep their own name. whole_g: mass of the food in g, that the share is taken of.
    """
    grouped: dict[str, list[Entry]] = {}
    for entry in entries:
        kind = herb_or_spice(entry.name)
        rule = rules.get(f"{kind}s") if kind else None
        own_name = entry.optional or entry in keep or any(line.findings for line in entry.lines)
        if rule is not None and entry.mass_g is not None and not own_name:
            grouped.setdefault(rule.text, []).append(entry)
    result = list(entries)
    for class_name, members in grouped.items():
        mass_g = sum(member.mass_g or 0.0 for member in members)
        rule = next(r for r in (rules["herbs"], rules["spices"]) if r.text == class_name)
        if len(members) < 2 or not rule.holds_for(share_percent(mass_g, whole_g)):
            continue
        lines = tuple(line for member in members for line in member.lines)
        result = [entry for entry in result if entry not in members]
        result.append(Entry(class_name, lines, mass_g, members=tuple(members)))
    return in_order(result)


def _water(given: StatementInput, rules: dict[str, IngredientRule]) -> tuple[list[Entry], list[LeftOut]]:
    water = [line for line in given.lines if line.is_water]
    left_out: list[LeftOut] = []
    rule, reconstitution = rules["added water"], rules["reconstitution"]
    away = [line for line in water if line.poured_off]
    if away:
        left_out.append(_left_out(away, "poured off: it does not stay in the dish", reconstitution))
    makes_up = [line for line in water if line.reconstitutes and not line.poured_off]
    if makes_up:
        left_out.append(_left_out(makes_up, "it only makes up a dried or concentrated ingredient", reconstitution))
    added = [line for line in water if not line.poured_off and not line.reconstitutes]
    if not added:
        return [], left_out
    used_g = _sum(added)
    if given.finished_mass_g is None or used_g is None:
        return [Entry("water", tuple(added), used_g, is_water=True)], left_out
    others_g = as_used_g(line for line in given.lines if not line.is_water or line.reconstitutes)
    left_g = min(used_g, max(0.0, given.finished_mass_g - others_g))
    share = share_percent(left_g, given.finished_mass_g)
    if rule.holds_for(share):
        said = "all of it evaporates" if left_g == 0 else f"what is left of it is {share:.1f} % of the finished food"
        return [], [*left_out, _left_out(added, said, rule)]
    return [Entry("water", tuple(added), left_g, is_water=True)], left_out


def _left_out(lines: Sequence[StatementLine], reason: str, rule: IngredientRule) -> LeftOut:
    return LeftOut("water", tuple(line.number for line in lines), _sum(lines), reason, rule.cited)


def _sum(lines: Sequence[StatementLine]) -> float | None:
    known = [line.mass_g for line in lines if line.mass_g is not None]
    return sum(known) if len(known) == len(lines) else None
