"""The kinds of dish that a component is, by its foods and its words: those under which authorities list guidance.

A component is of several kinds at once (a turkey chilli is poultry, a stew, and leftovers with meat). Missing a kind
could make guidance look laxer than it is, so a small share of a food is enough.
"""

import re
from collections.abc import Iterable, Mapping

from mealcalc.calculation.nearness import food_group
from mealcalc.records import BatchResult, ComponentResult, Contribution, LineStatus
from mealcalc.records.keeping import ComponentKinds, DishKind, DishRule
from mealcalc.reference.cooking_vocabulary import broader_groups
from mealcalc.reference.keeping_tables import dish_kinds, dish_rules

LEAST_SHARE = 0.01
"""Share of a component's mass as weighed in from which a food counts for its kind; our judgement."""

_WORD = re.compile(r"[^\W_]+(?:['’-][^\W_]+)*")


def kinds_of(result: BatchResult) -> tuple[ComponentKinds, ...]:
    """The kinds of each component of a batch, each with why."""
    alone = len(result.components) == 1
    return tuple(
        ComponentKinds(part.component.name or result.batch.title, _kinds(part, result.batch.title if alone else ""))
        for part in result.components
    )


def _kinds(part: ComponentResult, title: str) -> tuple[tuple[DishKind, str], ...]:
    name = f"{part.component.name} {title}"
    texts = {"name": _words(name), "component": _words(f"{name} {part.component.cooking}")}
    lines = [c for c in part.contributions if _counts(c, part.raw_mass_g)]
    found: dict[str, str] = {}
    for rule in dish_rules():
        if rule.kind in found or not rule.with_kinds <= set(found) or rule.without_kinds & set(found):
            continue
        why = _why(rule, lines, texts, found)
        if why is not None:
            found[rule.kind] = why
    return tuple((dish_kinds()[kind], why) for kind, why in found.items())


def _counts(c: Contribution, raw_mass_g: float) -> bool:
    if c.ingredient.matched.status is LineStatus.NOT_FOOD or not c.line.settings.counted:
        return False
    mass_g = c.ingredient.eaten_mass_g
    # What has no weight counts, but for what is added to taste: a kind is better named than missed.
    return not c.line.to_taste if mass_g is None else mass_g >= LEAST_SHARE * raw_mass_g > 0.0


def _why(
    rule: DishRule, lines: Iterable[Contribution], texts: Mapping[str, str], found: Mapping[str, str]
) -> str | None:
    """Why the rule holds, '' where it always does; None where it does not hold."""
    if rule.looks_at == "kinds":
        return next((found[kind] for kind in rule.with_kinds), "")
    if rule.looks_at in texts:
        return _said(rule, texts[rule.looks_at])
    for c in lines:
        food = c.ingredient.matched.food
        group = None if food is None else food_group(food)
        if (rule.looks_at == "words") != (group is None):
            continue
        if rule.food_groups and not (group is not None and rule.food_groups & set(broader_groups(group))):
            continue
        description = "" if food is None else food.description
        if _said(rule, _words(f"{c.line.text} {description}")) is None:
            continue
        return c.line.name or c.line.text.strip()
    return None


def _said(rule: DishRule, text: str) -> str | None:
    """The first word of the rule that stands in the text, '' where it names none; None where none stands there."""
    if any(f" {word} " in text for word in rule.none_of):
        return None
    if not rule.words:
        return ""
    return next((f"'{word}'" for word in rule.words if f" {word} " in text), None)


def _words(text: str) -> str:
    """The text's words in lower case, one blank around each, so that a word is found whole."""
    return f" {' '.join(word.lower() for word in _WORD.findall(text))} "
