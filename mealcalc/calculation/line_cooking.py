"""What cooking does to one line: retention of vitamins and minerals, alcohol left, fat poured off, its own yield.

N'_ij = N_ij r_ij with true retention r (Murphy, Criner & Gray 1975; USDA Table of Nutrient Retention Factors, Release
6, 2007); protein, fat, carbohydrate, fibre and water have r = 1. Energy has no retention of its own: it loses what the
lost fat and alcohol carried.
"""

from mealcalc.calculation.cooking_plan import CookingPlan
from mealcalc.calculation.factor_search import find_fat_change, find_retention, find_yield, food_group
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.records import Contribution, Food, FoodState, LineCooking, WeighedIngredient
from mealcalc.reference.cooking_factors import AlcoholRetention, alcohol_retention
from mealcalc.reference.cooking_vocabulary import broader_methods
from mealcalc.values import amount_of

ALCOHOL_KCAL_PER_G = 6.93
"""Energy of alcohol, kcal per g (Merrill & Watt, USDA Agriculture Handbook 74, revised 1973)."""

FAT_KCAL_PER_G = 9.02
"""Energy of the fat of meat, kcal per g (the same handbook), where the food's own factor is not published."""

FATTY_ACIDS = ("FASAT_G", "FAMS_G", "FAPU_G")
"""Fatty acids follow the fat that is poured off, in proportion."""

WATER_PERCENT = 99.0
"""A food of more water than this, g per 100 g, is cooking water."""

MINUTES_IF_UNSAID = 30.0
"""Cooking time taken for alcohol where the cook gives none."""

NO_YIELD_GROUPS = frozenset(["fat", "seasoning", "sweetener", "beverage", "alcoholic_drink", "milk", "dairy"])
"""What melts, dissolves or coats stays with the food: it has no yield of its own."""


def is_water(food: Food) -> bool:
    """Whether a food is plain water."""
    water = amount_of(food.composition, "WATER_G")
    return water is not None and water > WATER_PERCENT and food.group[:4] == "1400"


def state_of(ingredient: WeighedIngredient) -> FoodState:
    """The state in which a matched food goes into the pot."""
    state = ingredient.matched.food_state
    if state in ("canned", "drained"):
        return FoodState.CANNED
    if state in ("raw", "dry", "cooked", "frozen"):
        return FoodState(state)
    return ingredient.matched.line.state or FoodState.RAW


def cook_line(ingredient: WeighedIngredient, plan: CookingPlan) -> LineCooking:
    """What the plan of its component does to a line; nothing for a line without food or mass, or without heat."""
    food, mass_g = ingredient.matched.food, ingredient.eaten_mass_g
    if food is None or mass_g is None or not plan.heated:
        return LineCooking()
    method = plan.method
    if is_water(food):
        if plan.liquid_poured_off:
            return LineCooking(method, "beverage", yield_share=0.0, yield_ground="poured off", poured_off=True)
        return LineCooking(method, "beverage")
    group = food_group(food) or ""
    state = state_of(ingredient)
    retention, retention_ground, notes = _retention(ingredient, food, plan, state)
    fat_lost_g, fat_ground, fat_notes = _fat_poured_off(ingredient, food, mass_g, plan, state)
    share, yield_ground, yield_notes = _own_yield(ingredient, food, group, plan, state)
    return LineCooking(
        method=method,
        food_group=group,
        retention=retention,
        retention_ground=retention_ground,
        yield_share=share,
        yield_ground=yield_ground,
        fat_lost_g=fat_lost_g,
        fat_ground=fat_ground,
        diagnostics=(*notes, *fat_notes, *yield_notes),
    )


def cooked(raw: Contribution, cooking: LineCooking) -> Contribution:
    """The contribution of a line after cooking; unknown amounts stay unknown."""
    if cooking.poured_off:
        return Contribution(raw.ingredient, dict.fromkeys(raw.amounts, 0.0), raw.amounts, cooking)
    amounts = dict(raw.amounts)
    for key, share in cooking.retention.items():
        amount = amounts.get(key)
        if amount is not None:
            amounts[key] = amount * share
    energy_lost_kcal = _lost(raw, amounts, "ALC_G") * ALCOHOL_KCAL_PER_G
    fat_g = amounts.get("FAT_G")
    if cooking.fat_lost_g and fat_g:
        left = 1.0 - cooking.fat_lost_g / fat_g
        for key in ("FAT_G", *FATTY_ACIDS):
            amount = amounts.get(key)
            if amount is not None:
                amounts[key] = amount * left
        food = raw.ingredient.matched.food
        factor = food.energy_factors.fat if food is not None else None
        energy_lost_kcal += cooking.fat_lost_g * (factor or FAT_KCAL_PER_G)
    for key, per_kcal in (("ENERC_KCAL", 1.0), ("ENERC_KJ", 4.184)):
        amount = amounts.get(key)
        if amount is not None:
            amounts[key] = max(0.0, amount - energy_lost_kcal * per_kcal)
    return Contribution(raw.ingredient, amounts, raw.amounts, cooking)


def _lost(raw: Contribution, amounts: dict[str, float | None], key: str) -> float:
    before, after = raw.amounts.get(key), amounts.get(key)
    return 0.0 if before is None or after is None else before - after


def _retention(
    ingredient: WeighedIngredient, food: Food, plan: CookingPlan, state: FoodState
) -> tuple[dict[str, float], str, tuple[Diagnostic, ...]]:
    alcohol = amount_of(food.composition, "ALC_G")
    minutes = plan.minutes
    if alcohol:
        row = alcohol_left(plan.method, minutes)
        if row is not None:
            said = "" if minutes is not None else f", {MINUTES_IF_UNSAID:g} min taken"
            return {"ALC_G": row.share}, f"alcohol {row.retention_code} ({row.source}{said})", ()
    if state in (FoodState.COOKED, FoodState.CANNED):
        return {}, "cooked already when weighed: no further loss is counted", ()
    poured = plan.liquid_poured_off or plan.fat_poured_off
    choice = find_retention(food, ingredient.matched.default_food, plan.method, drained=poured, minutes=minutes)
    if choice is None:
        return {}, "no retention factor for this food: vitamins and minerals are counted in full", ()
    return {key: percent / 100.0 for key, percent in choice.row.percent.items()}, choice.ground, ()


def alcohol_left(method: str, minutes: float | None) -> AlcoholRetention | None:
    """The row of the share of alcohol left that fits a method and a time best; None where no heat drives it off.

    Between the times of the table the nearest one counts: the table says nothing about what lies between.
    """
    chain = broader_methods(method)
    rows = [row for row in alcohol_retention() if row.method in chain]
    if not rows:
        # Any moist or pan method stirs the drink in at a simmer.
        rows = [row for row in alcohol_retention() if row.method == "simmered"]
    wanted = MINUTES_IF_UNSAID if minutes is None else minutes
    return min(rows, key=lambda row: abs((row.minutes or 0.0) - wanted), default=None)


def _fat_poured_off(
    ingredient: WeighedIngredient, food: Food, mass_g: float, plan: CookingPlan, state: FoodState
) -> tuple[float, str, tuple[Diagnostic, ...]]:
    fat_percent = amount_of(food.composition, "FAT_G")
    line = ingredient.matched.line
    if not plan.fat_poured_off or state is not FoodState.RAW or not fat_percent:
        return 0.0, "", ()
    if not _is_mince(food):
        return 0.0, "", ()
    browning = next((step.method for step in plan.steps if "fried" in broader_methods(step.method)), plan.method)
    choice = find_fat_change(food, browning, fat_percent)
    if choice is None or choice.row.fat_change_g is None:
        note = Diagnostic(
            "no-fat-change",
            Severity.WARNING,
            f"no published fat loss for '{line.name}': its fat is counted in full though it is drained",
            line.span,
            "weigh the fat that you pour off",
        )
        return 0.0, "", (note,)
    lost_g = max(0.0, -choice.row.fat_change_g) * mass_g / 100.0
    present_g = fat_percent * mass_g / 100.0
    if lost_g > present_g:
        note = Diagnostic(
            "fat-above-present",
            Severity.WARNING,
            f"the fat loss of {choice.row.row_id} is more than the fat of '{line.name}': all of its fat is taken off",
            line.span,
        )
        return present_g, choice.ground, (note,)
    return lost_g, f"{-choice.row.fat_change_g:g} g fat per 100 g raw, {choice.ground}", ()


def _is_mince(food: Food) -> bool:
    words = food.description.lower().replace(",", " ").split()
    return "ground" in words and food.group[:4] in ("0500", "1000", "1300", "1700")


def _own_yield(
    ingredient: WeighedIngredient, food: Food, group: str, plan: CookingPlan, state: FoodState
) -> tuple[float | None, str, tuple[Diagnostic, ...]]:
    takes_up_water = state is FoodState.DRY and not group.startswith(("seasoning", "nut", "dried_fruit"))
    if plan.one_pot and not takes_up_water:
        return None, "", ()
    if group in NO_YIELD_GROUPS:
        return 1.0, "stays with the food", ()
    if state in (FoodState.COOKED, FoodState.CANNED):
        return 1.0, "cooked already when weighed", ()
    line = ingredient.matched.line
    choice = find_yield(food, ingredient.matched.default_food, plan.method, state, fat_percent=line.fat_percent)
    if choice is None:
        if plan.one_pot:
            return None, "", ()
        note = Diagnostic(
            "no-yield",
            Severity.WARNING,
            f"no yield is known for '{line.name}', {plan.method.replace('_', ' ')}: it is taken to keep its weight",
            line.span,
            "weigh the cooked component and give cooked_weight",
        )
        return 1.0, "NO YIELD KNOWN: taken to keep its weight", (note,)
    return choice.share, choice.ground, ()
