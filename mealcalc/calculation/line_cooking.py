"""What cooking does to one line: retention of vitamins and minerals, alcohol left, fat poured off, its own yield.

N'_ij = N_ij r_ij with true retention r (Murphy, Criner & Gray 1975; USDA Table of Nutrient Retention Factors, Release
6, 2007); protein, fat, carbohydrate, fibre and water have r = 1. Energy has no retention of its own: it loses what the
lost fat and alcohol carried. Of fat poured off, fatty acids go in proportion, cholesterol by its own retention.
"""

import re

from mealcalc.calculation.cooking_plan import CookingPlan
from mealcalc.calculation.dish_records import (
    ALCOHOL_KCAL_PER_G,
    ENERGY_UNIT_PER_KCAL,
    FAT_KCAL_PER_G,
    FATTY_ACIDS,
    RETENTION_FOLLOWS,
)
from mealcalc.calculation.factor_search import NO_PAIRS, YieldChoice, find_fat_change, find_yield
from mealcalc.calculation.nearness import food_group, words_of
from mealcalc.calculation.retention_search import find_retention
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.records import Contribution, Food, FoodState, LineCooking, WeighedIngredient
from mealcalc.reference.cooking_factors import AlcoholRetention, alcohol_retention
from mealcalc.reference.cooking_vocabulary import broader_groups, broader_methods
from mealcalc.values import amount_of

WATER_PERCENT = 99.0
"""A food of more water than this, g per 100 g, is cooking water."""

LIQUID_WATER_PERCENT = 60.0
"""Stock, milk, wine and juice hold more water than this, g per 100 g; what holds less is no liquid to cook in."""

MINUTES_IF_UNSAID = 30.0
"""Cooking time taken for alcohol where the cook gives none."""

FATTY_FLESH_PERCENT = 5.0
"""Meat and fish of less fat than this, g per 100 g, lose none worth a warning."""

DRY_WATER_PERCENT = 20.0
"""Grains, pulses and flours of less water than this, g per 100 g, are dry, whatever their description calls them."""

FLESH_GROUPS = frozenset(["meat", "seafood"])
"""Groups at the top of the tree whose fat runs out in cooking."""

NO_FAT_ADDED = frozenset(["pan_browned", "pan_broiled"])
"""Methods of the pan that need no frying fat."""

NO_YIELD_GROUPS = frozenset(["fat", "seasoning", "sweetener", "beverage", "alcoholic_drink", "milk", "dairy"])
"""What melts, dissolves or coats stays with the food: it has no yield of its own."""


_WORD = re.compile(r"[a-z]+")
_LIQUID = re.compile(
    r"^(water|beverages?|alcoholic beverage|soup|milk|nuts, coconut (milk|water)|[a-z ,]*\bjuice"
    r"|[a-z ]*\b(stock|broth)$)\b",
    re.I,
)
_NO_LIQUID = re.compile(r"\b(dry|dried|powder|condensed|packed|dehydrated)\b", re.I)
_COOKED_WORDS = frozenset("cooked boiled roasted baked braised broiled fried stewed steamed simmered grilled".split())


def is_water(food: Food) -> bool:
    """Whether a food is plain water."""
    water = amount_of(food.composition, "WATER_G")
    return water is not None and water > WATER_PERCENT and food.group[:4] == "1400"


def is_liquid(food: Food) -> bool:
    """Whether a food is a liquid in which others cook: water, stock, milk, wine, juice."""
    water = amount_of(food.composition, "WATER_G")
    named = _LIQUID.match(food.description) and not _NO_LIQUID.search(food.description)
    return water is not None and water > LIQUID_WATER_PERCENT and bool(named)


def state_of(ingredient: WeighedIngredient) -> FoodState:
    """The state in which a matched food goes into the pot: by its default food, the line, or its description."""
    state = ingredient.matched.food_state
    if state in ("canned", "drained"):
        return FoodState.CANNED
    if state in ("raw", "dry", "cooked", "frozen"):
        return FoodState(state)
    food = ingredient.matched.food
    return ingredient.matched.line.state or (FoodState.RAW if food is None else _state_by_description(food))


def _state_by_description(food: Food) -> FoodState:
    words = set(_WORD.findall(food.description.lower()))
    groups = broader_groups(group) if (group := food_group(food)) else ()
    water = amount_of(food.composition, "WATER_G")
    swelling = bool(groups) and groups[-1] in ("cereal_grain", "pulse")
    if "dried_fruit" in groups or (swelling and water is not None and water < DRY_WATER_PERCENT):
        return FoodState.DRY
    if "uncooked" not in words and words & _COOKED_WORDS:
        return FoodState.COOKED
    if "canned" in words:
        return FoodState.CANNED
    return FoodState.FROZEN if "frozen" in words and "imported" not in words else FoodState.RAW


def cook_line(
    ingredient: WeighedIngredient, plan: CookingPlan, *, without_pairs: frozenset[tuple[str, str]] = NO_PAIRS
) -> LineCooking:
    """What the plan of its component does to a line; nothing for a line without food or mass, or without heat.

    without_pairs: pairs of SR28 codes whose factor rows must not be used, since they are to be checked.
    """
    food, mass_g = ingredient.matched.food, ingredient.eaten_mass_g
    if food is None or mass_g is None:
        return LineCooking()
    if not plan.heated:
        return _stored(food, plan)
    method = plan.method
    if plan.liquid_poured_off and (is_water(food) or _is_poaching_liquid(ingredient, food, method)):
        return _poured_off(ingredient, food, method)
    if is_water(food):
        return LineCooking(method, "beverage")
    group = food_group(food) or ""
    state = state_of(ingredient)
    retention, retention_ground = _retention(ingredient, food, plan, state)
    found = _fat_change(ingredient, food, group, plan, state, without_pairs)
    fat_lost_g, fat_ground, fat_notes = _fat_poured_off(ingredient, food, group, mass_g, plan, found)
    if fat_lost_g and found is not None and found.cholesterol_share is not None:
        retention = {**retention, "CHOLE_MG": found.cholesterol_share}
        fat_ground += f"; cholesterol x {found.cholesterol_share:.2f} by its own retention"
    share, yield_ground, yield_notes = _own_yield(ingredient, food, group, plan, state, found, without_pairs)
    return LineCooking(
        method=method,
        food_group=group,
        retention=retention,
        retention_ground=retention_ground,
        yield_share=share,
        yield_ground=yield_ground,
        fat_lost_g=fat_lost_g,
        fat_ground=fat_ground,
        diagnostics=(*fat_notes, *yield_notes),
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
    for key, per_kcal in ENERGY_UNIT_PER_KCAL.items():
        amount = amounts.get(key)
        if amount is not None:
            amounts[key] = max(0.0, amount - energy_lost_kcal * per_kcal)
    return Contribution(raw.ingredient, amounts, raw.amounts, cooking)


def _lost(raw: Contribution, amounts: dict[str, float | None], key: str) -> float:
    before, after = raw.amounts.get(key), amounts.get(key)
    return 0.0 if before is None or after is None else before - after


def _is_poaching_liquid(ingredient: WeighedIngredient, food: Food, method: str) -> bool:
    """Whether a line is stock, milk or wine in which others are poached, and the cook has not said what is eaten."""
    return method == "poached" and is_liquid(food) and ingredient.matched.line.settings.used_share is None


def _poured_off(ingredient: WeighedIngredient, food: Food, method: str) -> LineCooking:
    """Cooking liquid that does not stay; that it is left out goes without saying of water only."""
    line = ingredient.matched.line
    note = Diagnostic(
        "poaching-liquid",
        Severity.NOTE,
        f"'{line.name}' is taken as poaching liquid that is not eaten",
        line.span,
        "write [used 100%] at the end of the line if it is",
    )
    return LineCooking(
        method,
        food_group(food) or "",
        yield_share=0.0,
        yield_ground="poured off",
        poured_off=True,
        diagnostics=() if is_water(food) else (note,),
    )


def _stored(food: Food, plan: CookingPlan) -> LineCooking:
    """What keeping without heat does: alcohol goes by and by."""
    if not amount_of(food.composition, "ALC_G") or all(step.method != "stored" for step in plan.steps):
        return LineCooking()
    row = next(row for row in alcohol_retention() if row.method == "stored")
    ground = f"alcohol {row.retention_code} ({row.source})"
    return LineCooking("stored", food_group(food) or "", {"ALC_G": row.share}, ground)


def _retention(
    ingredient: WeighedIngredient, food: Food, plan: CookingPlan, state: FoodState
) -> tuple[dict[str, float], str]:
    minutes, method = plan.minutes, plan.method
    if amount_of(food.composition, "ALC_G"):
        row = alcohol_left(method, minutes)
        said = "" if minutes is not None else f", {MINUTES_IF_UNSAID:g} min taken"
        return {"ALC_G": row.share}, f"alcohol {row.retention_code} ({row.source}{said})"
    if state is FoodState.COOKED and method == "heated":
        method = "reheated"
    choice = find_retention(
        food,
        ingredient.matched.default_food,
        method,
        drained=plan.liquid_poured_off or plan.fat_poured_off,
        minutes=minutes,
        state=state,
    )
    if choice is None and state in (FoodState.COOKED, FoodState.CANNED):
        return {}, "cooked already when weighed: no further loss is counted"
    if choice is None:
        return {}, "no retention factor for this food: vitamins and minerals are counted in full"
    shares = {key: percent / 100.0 for key, percent in choice.row.percent.items()}
    shares |= {key: shares[as_key] for key, as_key in RETENTION_FOLLOWS.items() if as_key in shares}
    return shares, choice.ground


def alcohol_left(method: str, minutes: float | None) -> AlcoholRetention:
    """The row of the share of alcohol left that fits a heating method and a time best.

    Between the times of the table the nearest one counts: the table says nothing about what lies between. An
    ingredient is taken to be stirred in; methods that the table does not have count as a simmer.
    """
    chain = broader_methods(method)
    stirred_in = [row for row in alcohol_retention() if row.stirred_in is not False]
    rows = [row for row in stirred_in if row.method in chain] or [r for r in stirred_in if r.method == "simmered"]
    wanted = MINUTES_IF_UNSAID if minutes is None else minutes
    return min(rows, key=lambda row: abs((row.minutes or 0.0) - wanted))


def _fat_change(
    ingredient: WeighedIngredient,
    food: Food,
    group: str,
    plan: CookingPlan,
    state: FoodState,
    without_pairs: frozenset[tuple[str, str]],
) -> YieldChoice | None:
    """The row that knows how much fat runs out of a raw piece of meat or fish; None where none does."""
    if not _is_flesh(group) or state not in (FoodState.RAW, FoodState.FROZEN):
        return None
    method = plan.method
    if "minced" in words_of(food.description):
        # Its fat runs out in the pan, before the sauce is there.
        method = next((step.method for step in plan.steps if "fried" in broader_methods(step.method)), method)
    line = ingredient.matched.line
    return find_fat_change(
        food, ingredient.matched.default_food, method, fat_percent=line.fat_percent, without_pairs=without_pairs
    )


def _fat_poured_off(
    ingredient: WeighedIngredient,
    food: Food,
    group: str,
    mass_g: float,
    plan: CookingPlan,
    found: YieldChoice | None,
) -> tuple[float, str, tuple[Diagnostic, ...]]:
    fat_percent = amount_of(food.composition, "FAT_G")
    line = ingredient.matched.line
    if plan.fat_poured_off and group == "fat" and ingredient.used_share == 1.0 and line.settings.used_share is None:
        return 0.0, "", (_frying_fat_counted(ingredient),)
    if not plan.fat_poured_off or not fat_percent or not _is_flesh(group):
        return 0.0, "", ()
    if found is None or found.fat_change_g is None:
        if fat_percent < FATTY_FLESH_PERCENT or state_of(ingredient) not in (FoodState.RAW, FoodState.FROZEN):
            return 0.0, "", ()
        note = Diagnostic(
            "no-fat-change",
            Severity.WARNING,
            f"no published fat loss for '{line.name}': its fat is counted in full though it is drained",
            line.span,
            "weigh the fat that you pour off",
        )
        return 0.0, "", (note,)
    lost_g = max(0.0, -found.fat_change_g) * mass_g / 100.0
    present_g = fat_percent * mass_g / 100.0
    if lost_g > present_g:
        note = Diagnostic(
            "fat-above-present",
            Severity.WARNING,
            f"the fat loss of {found.row.row_id} is more than the fat of '{line.name}': all of its fat is taken off",
            line.span,
        )
        return present_g, found.ground, (note,)
    return lost_g, f"{max(0.0, -found.fat_change_g):.1f} g fat per 100 g raw, {found.ground}", ()


def _frying_fat_counted(ingredient: WeighedIngredient) -> Diagnostic:
    line = ingredient.matched.line
    return Diagnostic(
        "frying-fat-counted",
        Severity.NOTE,
        f"'{line.name}' is counted in full though fat is poured off: how much of it goes is not known",
        line.span,
        "write the share that stays at the end of the line, such as [used 50%]",
    )


def _is_flesh(group: str) -> bool:
    return bool(group) and broader_groups(group)[-1] in FLESH_GROUPS


def _own_yield(
    ingredient: WeighedIngredient,
    food: Food,
    group: str,
    plan: CookingPlan,
    state: FoodState,
    fat_change: YieldChoice | None,
    without_pairs: frozenset[tuple[str, str]],
) -> tuple[float | None, str, tuple[Diagnostic, ...]]:
    if plan.one_pot and not (state is FoodState.DRY and _swells(group)):
        return None, "", ()
    if group in NO_YIELD_GROUPS:
        return 1.0, "stays with the food", ()
    if state in (FoodState.COOKED, FoodState.CANNED):
        return 1.0, "cooked already when weighed", ()
    line = ingredient.matched.line
    choice = find_yield(
        food,
        ingredient.matched.default_food,
        plan.method,
        state,
        fat_percent=line.fat_percent,
        without_pairs=without_pairs,
    )
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
    stays, words = _fat_that_stays(choice, fat_change, plan)
    return choice.share + stays, choice.ground + words, ()


def _fat_that_stays(choice: YieldChoice, fat_change: YieldChoice | None, plan: CookingPlan) -> tuple[float, str]:
    """Fat in the dish that the yield does not count, and fat in the yield that another line counts, g per g.

    A yield is the weight of the piece alone. Fat that runs out of it and is kept stays in the dish; frying fat that it
    takes up comes from a line of its own, so it would be counted twice.
    """
    change_g = choice.fat_change_g
    if change_g is None and fat_change is not None:
        change_g = fat_change.fat_change_g
    if not change_g:
        return 0.0, ""
    if change_g < 0:
        if plan.fat_poured_off:
            return 0.0, ""
        return -change_g / 100.0, f"; {-change_g:.1f} g fat per 100 g runs out and stays in the dish"
    chain = broader_methods(choice.row.method)
    if "fried" not in chain or NO_FAT_ADDED & set(chain):
        # An apparent gain of fat without frying fat: raw and cooked samples differ.
        return 0.0, ""
    return -change_g / 100.0, f"; {change_g:.1f} g frying fat per 100 g is counted with its own line"


def _swells(group: str) -> bool:
    """Whether dry food of a group takes up water in the pot: grains and pulses do, flour and seasoning do not show."""
    groups = broader_groups(group) if group else ()
    return bool(groups) and "flour" not in groups and groups[-1] in ("cereal_grain", "pulse", "vegetable")
