"""How much of a line is eaten: marinades, frying oil, poaching liquid, brine, aromatics that are taken out.

The cook's setting `[used 20%]` comes first, then the words of the line ('half discarded', 'removed before serving'),
then those of the component ('half the marinade is discarded'), then a cited uptake of frying fat.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from mealcalc.calculation.cooking_plan import CookingPlan
from mealcalc.calculation.nearness import food_group
from mealcalc.records import BatchComponent, Food, MassSource, RecipeLine, WeighedIngredient
from mealcalc.reference.cooking_factors import OilUptake, oil_uptake
from mealcalc.reference.cooking_vocabulary import broader_groups, broader_methods
from mealcalc.values import amount_of

_SHARE = r"(?P<share>half|a third|one third|two thirds|a quarter|three quarters|most|all|\d+(?:\.\d+)? ?%)"
_GONE = r"(?:discarded|thrown away|poured away|left behind|left in the bowl|not eaten|not used)"
_SHARES = {
    "half": 0.5, "a third": 1 / 3, "one third": 1 / 3, "two thirds": 2 / 3, "a quarter": 0.25, "three quarters": 0.75,
    "most": 0.8, "all": 1.0,
}  # fmt: skip

_LINE_PART = re.compile(rf"\b{_SHARE}(?: of (?:it|this))?(?: is| are)? {_GONE}\b", re.IGNORECASE)
_LINE_WHOLE = re.compile(
    rf"(?:^|[,(;]\s*)(?:then |to be )?(?:{_GONE}|(?:removed|taken out|fished out|strained out|lifted out) "
    r"(?:before serving|after cooking|at the end|when done|once cooked))\s*(?:[,);]|$)",
    re.IGNORECASE,
)
_COMPONENT_PART = re.compile(
    rf"\b{_SHARE} (?:of )?the (?P<what>marinade|brine|poaching liquid|frying oil|oil|liquid)(?: is| are)? {_GONE}\b",
    re.IGNORECASE,
)
_FOR_FRYING = re.compile(r"\bfor (?:deep |shallow )?[- ]?frying\b", re.IGNORECASE)

MOSTLY_FAT_PERCENT = 80.0
"""Foods with more fat than this, g per 100 g, are frying fats."""


def with_used_shares(
    component: BatchComponent, plan: CookingPlan, ingredients: Sequence[WeighedIngredient]
) -> list[WeighedIngredient]:
    """The ingredients of a component, each with the share of it that is eaten and the ground for that share."""
    uptake = _frying_fat(plan, ingredients)
    settled = []
    for ingredient in ingredients:
        line = ingredient.matched.line
        found = None if line.settings.used_share is not None else _by_words(line, component)
        if found is None and line.settings.used_share is None and _is_frying_fat(ingredient, plan):
            found = uptake
        if found is None and line.settings.used_share not in (None, 0.0, 1.0):
            sources = (*ingredient.sources, MassSource.USED_SHARE_SAID)
            settled.append(replace(ingredient, sources=sources))
        elif found is None:
            settled.append(ingredient)
        else:
            share, ground = found
            sources = ingredient.sources if share in (0.0, 1.0) else (*ingredient.sources, MassSource.USED_SHARE)
            settled.append(
                replace(ingredient, used_share=share, ground=f"{ingredient.ground}; {ground}", sources=sources)
            )
    return settled


def _by_words(line: RecipeLine, component: BatchComponent) -> tuple[float, str] | None:
    part = _LINE_PART.search(line.text)
    if part is not None:
        gone = _share(part["share"])
        return 1.0 - gone, f"{1.0 - gone:.0%} eaten: '{part[0]}'"
    whole = _LINE_WHOLE.search(line.text)
    if whole is not None:
        return 0.0, f"not eaten: '{whole[0].strip(' ,();')}'"
    said = _COMPONENT_PART.search(component.cooking)
    if said is not None and _belongs_to(said["what"].lower(), line, component):
        gone = _share(said["share"])
        return 1.0 - gone, f"{1.0 - gone:.0%} eaten: '{said[0]}'"
    return None


def _share(words: str) -> float:
    words = words.lower()
    return _SHARES[words] if words in _SHARES else min(1.0, float(words.rstrip("% ")) / 100.0)


def _belongs_to(what: str, line: RecipeLine, component: BatchComponent) -> bool:
    """Whether a line is part of the marinade, brine or oil that the component's words speak of."""
    named = what.split()[-1] if what == "frying oil" else what
    if re.search(rf"\b{re.escape(named)}\b", line.text, re.IGNORECASE):
        return True
    return what in component.name.lower()


def _is_frying_fat(ingredient: WeighedIngredient, plan: CookingPlan) -> bool:
    food = ingredient.matched.food
    if food is None or not _is_fat(food):
        return False
    return plan.method == "deep_fried" or _FOR_FRYING.search(ingredient.matched.line.text) is not None


def _frying_fat(plan: CookingPlan, ingredients: Sequence[WeighedIngredient]) -> tuple[float, str] | None:
    """Share of the frying fat that the foods take up by a cited uptake, never more than there is; None if none is
    known."""
    fat_g = sum(i.mass_g or 0.0 for i in ingredients if _is_frying_fat(i, plan))
    if not fat_g or "fried" not in (broader_methods(plan.method) if plan.method else ()):
        return None
    taken_g = 0.0
    rows: list[OilUptake] = []
    for ingredient in ingredients:
        food, mass_g = ingredient.matched.food, ingredient.eaten_mass_g
        if food is None or mass_g is None or _is_fat(food):
            continue
        row = _uptake(food, plan.method)
        if row is not None:
            taken_g += row.fat_g_per_100g * mass_g / 100.0
            rows.append(row)
    if not rows:
        return None
    share = min(1.0, taken_g / fat_g)
    names = ", ".join(f"{row.food} {row.fat_g_per_100g:g} g per 100 g ({row.source})" for row in dict.fromkeys(rows))
    return share, f"{share:.0%} taken up: {names}"


def _uptake(food: Food, method: str) -> OilUptake | None:
    group = food_group(food)
    if group is None:
        return None
    groups, methods = broader_groups(group), broader_methods(method)
    words = food.description.lower()
    rows = [row for row in oil_uptake() if row.food_group in groups and row.method in methods and not row.coating]
    if not rows:
        return None
    return min(
        rows, key=lambda row: (groups.index(row.food_group), methods.index(row.method), row.food.lower() not in words)
    )


def _is_fat(food: Food) -> bool:
    fat = amount_of(food.composition, "FAT_G")
    return fat is not None and fat >= MOSTLY_FAT_PERCENT
