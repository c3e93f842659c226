"""A cooked component: its lines after cooking, its mass with the ground for it, the water it took up or gave off.

The scale first. One pot: everything that went in, water and oil too, less steam and what is poured off; juices stay.
Parts cooked apart (roasted, grilled, boiled and drained): each by its own yield. An absorbed-water yield of a grain
already holds its water, so the water line is not added again. (Greenfield & Southgate, FAO 2003; Bognár's basis of
yields.)
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mealcalc.calculation.composition import contribution, counts, total
from mealcalc.calculation.cooking_plan import CookingPlan, plan_of
from mealcalc.calculation.factor_search import NO_PAIRS
from mealcalc.calculation.line_cooking import cook_line, cooked, is_liquid, is_water
from mealcalc.calculation.mass_checks import check_cooked_weight
from mealcalc.calculation.states import double_reading
from mealcalc.calculation.used_shares import with_used_shares
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.records import (
    BatchComponent,
    ComponentResult,
    Contribution,
    CookedMassSource,
    Total,
    WeighedIngredient,
)
from mealcalc.reference.evaporation import evaporation_for

AS_IN = CookedMassSource.AS_WEIGHED_IN

MISSING_WATER_SHARE = 0.8
"""A pot that holds less than this share of what its grains and pulses swell to lacks the water they took up."""

MOST_STEAM_SHARE = 0.6
"""A pot is not believed to lose more than this share of its water without the cook saying so."""


@dataclass(frozen=True, slots=True)
class CookedMass:
    """Mass of a cooked component in g, how it came about, and why we believe it."""

    mass_g: float
    source: CookedMassSource
    ground: str


def cook(
    component: BatchComponent,
    ingredients: Sequence[WeighedIngredient],
    containers: int,
    *,
    without_pairs: frozenset[tuple[str, str]] = NO_PAIRS,
) -> ComponentResult:
    """Cook a component: totals after cooking, cooked mass, and what was noticed.

    Parameters
    ----------
    component : BatchComponent
        Gives the cooking words, whether fat is drained, and the weight from the scale if there is one.
    ingredients : sequence of WeighedIngredient
        Its lines, weighed.
    containers : int
        Number of containers of the batch.
    without_pairs : frozenset
        Pairs of SR28 codes whose factor rows must not be used, since they are to be checked.
    """
    plan = _with_unlisted_water(plan_of(component), ingredients)
    contributions = tuple(
        cooked(raw, cook_line(ingredient, plan, without_pairs=without_pairs))
        for ingredient in with_used_shares(component, plan, ingredients)
        for raw in [contribution(ingredient)]
    )
    parts = [c for c in contributions if counts(c.ingredient) and c.ingredient.eaten_mass_g is not None]
    raw_mass_g = sum(_mass_g(c) for c in parts)
    in_dish_g = sum(_mass_g(c) for c in parts if not c.cooking.poured_off)
    lost_g = sum(c.cooking.fat_lost_g + _alcohol_lost_g(c) for c in parts)
    totals = total(contributions, containers)
    water = totals["WATER_G"]
    found = _cooked_mass(component, plan, parts, in_dish_g)
    if component.cooked_mass_g is None and water.complete:
        found = _with_dry_matter(found, in_dish_g - lost_g - water.amount)
    water_change_g = found.mass_g - in_dish_g + lost_g
    water_left_g = water.amount + water_change_g
    totals["WATER_G"] = Total(max(0.0, water_left_g), water.unknown_lines, water.known_share)
    diagnostics = [*_about_words(component, plan), *(d for c in contributions for d in c.cooking.diagnostics)]
    diagnostics += [d for c in parts for d in [double_reading(c, plan)] if d is not None]
    every_mass_known = all(c.ingredient.eaten_mass_g is not None for c in contributions if counts(c.ingredient))
    if component.cooked_mass_g is not None and every_mass_known:
        known_water_g = water_left_g if water.complete else None
        diagnostics += check_cooked_weight(component, plan.method, parts, in_dish_g, known_water_g)
    return ComponentResult(
        component=component,
        contributions=contributions,
        totals=totals,
        raw_mass_g=raw_mass_g,
        cooked_mass_g=found.mass_g,
        cooked_mass_ground=found.ground,
        method=plan.method,
        water_change_g=water_change_g,
        cooked_mass_source=found.source,
        diagnostics=tuple(diagnostics),
    )


def _cooked_mass(
    component: BatchComponent, plan: CookingPlan, parts: Sequence[Contribution], in_dish_g: float
) -> CookedMass:
    if component.cooked_mass_g is not None:
        return CookedMass(component.cooked_mass_g, CookedMassSource.WEIGHED_POT, "weighed")
    if not component.cooking:
        return CookedMass(in_dish_g, AS_IN, "as weighed in: nothing is said of cooking")
    if not plan.heated:
        return CookedMass(in_dish_g, AS_IN, "as weighed in: not heated")
    if not plan.one_pot:
        return _by_yields(parts)
    taking_up = [c for c in parts if c.cooking.yield_share is not None]
    if "absorbed" in plan.method or any(step.method == "absorbed" for step in plan.steps):
        return _absorbed(parts, taking_up, in_dish_g)
    return _one_pot(plan, parts, taking_up, in_dish_g)


def _by_yields(parts: Sequence[Contribution]) -> CookedMass:
    mass_g = sum(_mass_g(c) * (1.0 if c.cooking.yield_share is None else c.cooking.yield_share) for c in parts)
    rows = [
        f"{c.line.name} x {c.cooking.yield_share:.2f}"
        for c in parts
        if c.cooking.yield_share is not None and c.cooking.yield_share != 1.0
    ]
    if not rows:
        return CookedMass(mass_g, AS_IN, "as weighed in")
    return CookedMass(mass_g, CookedMassSource.YIELD, f"estimated, each part by its yield: {', '.join(rows)}")


def _absorbed(parts: Sequence[Contribution], taking_up: Sequence[Contribution], in_dish_g: float) -> CookedMass:
    if not taking_up:
        return CookedMass(in_dish_g, AS_IN, "as weighed in: nothing in it takes up water")
    swollen_g = sum(_mass_g(c) * (c.cooking.yield_share or 1.0) for c in taking_up)
    liquids = [c for c in parts if _is_liquid_line(c)]
    # What is dissolved in stock or milk stays when their water goes into the grain or into the air.
    solids_g = sum(_mass_g(c) - (c.amounts.get("WATER_G") or 0.0) for c in liquids if not _is_water_line(c))
    others_g = sum(_mass_g(c) for c in parts if c not in taking_up and c not in liquids)
    mass_g = swollen_g + others_g + solids_g
    rows = ", ".join(f"{c.line.name} x {c.cooking.yield_share:.2f}" for c in taking_up)
    if liquids and mass_g > in_dish_g:
        return CookedMass(in_dish_g, AS_IN, f"all that went in: less than {rows} would give")
    ground = f"estimated, water taken up: {rows}; the rest of the water evaporates"
    return CookedMass(mass_g, CookedMassSource.YIELD, ground)


def _one_pot(
    plan: CookingPlan, parts: Sequence[Contribution], taking_up: Sequence[Contribution], in_dish_g: float
) -> CookedMass:
    share, said = _steam_share(plan)
    fat_lost_g = sum(c.cooking.fat_lost_g for c in parts)
    water_g = sum(c.amounts.get("WATER_G") or 0.0 for c in parts)
    steam_g = min(in_dish_g * share, MOST_STEAM_SHARE * water_g)
    mass_g = in_dish_g - steam_g - fat_lost_g
    swollen_g = sum(_mass_g(c) * (c.cooking.yield_share or 1.0) for c in taking_up)
    others_g = sum(_mass_g(c) for c in parts if c not in taking_up)
    if taking_up and not any(_is_liquid_line(c) for c in parts) and mass_g < MISSING_WATER_SHARE * swollen_g:
        rows = ", ".join(f"{c.line.name} x {c.cooking.yield_share:.2f}" for c in taking_up)
        ground = f"estimated, water not listed but taken up: {rows}"
        return CookedMass(swollen_g + others_g, CookedMassSource.YIELD, ground)
    fat = f", less {fat_lost_g:.0f} g fat poured off" if fat_lost_g else ""
    ground = f"estimated: all that went in, less {steam_g:.0f} g steam ({said}){fat}; weigh the pot"
    return CookedMass(mass_g, CookedMassSource.STEAM, ground)


def _steam_share(plan: CookingPlan) -> tuple[float, str]:
    share = 0.0
    said = []
    for step in plan.steps:
        rate = evaporation_for(step.method, step.covered)
        if rate is None:
            continue
        minutes = rate.minutes_if_unsaid if step.minutes is None else step.minutes
        share += rate.percent_per_hour / 100.0 * minutes / 60.0
        said.append(f"{rate.percent_per_hour:g} % an hour for {minutes:g} min, our own judgement")
    return share, "; ".join(said) or "no steam counted"


def _with_unlisted_water(plan: CookingPlan, ingredients: Sequence[WeighedIngredient]) -> CookingPlan:
    """What is boiled while no liquid is listed was boiled in water that is poured off, and weighs what its yield
    says."""
    foods = [i.matched.food for i in ingredients if i.matched.food is not None and counts(i)]
    if plan.method == "boiled" and plan.one_pot and not any(is_liquid(food) for food in foods):
        return replace(plan, liquid_poured_off=True)
    return plan


def _with_dry_matter(found: CookedMass, dry_matter_g: float) -> CookedMass:
    """The estimate, or what is left without a drop of water where yields say less than that."""
    if found.mass_g >= dry_matter_g:
        return found
    ground = f"dry matter of all that went in; the estimate was less: {found.ground}"
    return CookedMass(dry_matter_g, found.source, ground)


def _about_words(component: BatchComponent, plan: CookingPlan) -> list[Diagnostic]:
    """Diagnostics about cooking words that no table knows, or that contradict each other."""
    found = [
        Diagnostic(
            "contradictory-cooking",
            Severity.WARNING,
            f"the cooking of '{component.name}' says both '{counted}' and '{ignored}': '{counted}' counts",
            component.span,
            "leave out one of the two, or make two components",
        )
        for counted, ignored in plan.contradictions
    ]
    if not plan.known:
        found.append(
            Diagnostic(
                "unknown-cooking",
                Severity.WARNING,
                f"no table knows the cooking '{component.cooking[:60]}' of '{component.name}': counted as weighed in",
                component.span,
                "use words such as boiled, absorbed, simmered 35 min, roasted, pan-fried, steamed, raw",
            )
        )
    return found


def _alcohol_lost_g(c: Contribution) -> float:
    before, after = c.raw.get("ALC_G"), c.amounts.get("ALC_G")
    return 0.0 if before is None or after is None else before - after


def _is_liquid_line(c: Contribution) -> bool:
    food = c.ingredient.matched.food
    return food is not None and is_liquid(food)


def _is_water_line(c: Contribution) -> bool:
    food = c.ingredient.matched.food
    return food is not None and is_water(food)


def _mass_g(c: Contribution) -> float:
    return c.ingredient.eaten_mass_g or 0.0
