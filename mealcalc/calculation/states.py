"""Raw, cooked, dry: a weight in one state, a food of the table in another; and weights that could be read both ways.

m_raw = m_cooked / y and the other way round, y being the yield of the food (Greenfield & Southgate, FAO 2003).
"""

from dataclasses import replace
from functools import cache

from mealcalc.calculation.cooking_plan import CookingPlan, plan_of
from mealcalc.calculation.factor_search import YieldChoice, find_yield
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.records import BatchComponent, Contribution, Food, FoodState, MassSource, RecipeLine, WeighedIngredient
from mealcalc.reference.tables import default_foods
from mealcalc.units import MASS_G, VOLUME_ML

NOTICEABLE = 0.10
"""A reading in another state is reported when it changes the energy of the line by more than this share."""

_UNCOOKED = (FoodState.RAW, FoodState.DRY, FoodState.FROZEN)
_COOKED = (FoodState.COOKED, FoodState.CANNED)


def in_food_state(ingredient: WeighedIngredient) -> WeighedIngredient:
    """The ingredient with its mass in the state of its food: converted by yield where the line says another state.

    Where no yield is known the weight is taken as it stands, and a warning says so.
    """
    matched = ingredient.matched
    food, mass_g = matched.food, ingredient.mass_g
    said = matched.line.settings.state or matched.line.state
    if not matched.other_state or food is None or mass_g is None or said is None:
        return ingredient
    found = _conversion(food, matched.default_food, matched.food_state, said, matched.line)
    if found is None:
        warning = Diagnostic(
            "other-state",
            Severity.WARNING,
            f"the line says {said.value}, the food is '{food.description}' and no yield is known: "
            "the weight is taken as it stands",
            matched.line.span,
            "weigh the food in the state of the table, or choose another food",
        )
        return replace(ingredient, diagnostics=(*ingredient.diagnostics, warning))
    factor, choice = found
    note = Diagnostic(
        "state-converted",
        Severity.NOTE,
        f"{mass_g:.0f} g {said.value} are counted as {mass_g * factor:.0f} g of '{food.description}'",
        matched.line.span,
    )
    return replace(
        ingredient,
        mass_g=mass_g * factor,
        ground=f"{ingredient.ground}; {said.value} to {matched.food_state} x {factor:.3g}: {choice.ground}",
        diagnostics=(*ingredient.diagnostics, note),
        sources=(*ingredient.sources, MassSource.CONVERSION),
    )


def _conversion(
    food: Food, default_food: str, food_state: str, said: FoodState, line: RecipeLine
) -> tuple[float, YieldChoice] | None:
    """Grams in the food's state per gram in the state said, with the yield behind it."""
    # 'roast chicken' or 'boiled potatoes' say how; a plain 'cooked' does not.
    method = plan_of(BatchComponent("", (), line.text)).method or "cooked"
    if said in _COOKED and food_state in ("raw", "dry"):
        choice = find_yield(food, default_food, method, FoodState(food_state))
        return None if choice is None else (1.0 / choice.share, choice)
    if said in _UNCOOKED and food_state in ("cooked", "canned", "drained"):
        before = FoodState.DRY if said is FoodState.DRY else FoodState.RAW
        choice = find_yield(food, default_food, "cooked", before)
        return None if choice is None else (choice.share, choice)
    return None


def double_reading(contribution: Contribution, plan: CookingPlan) -> Diagnostic | None:
    """A warning when a weight could be of raw or of cooked food and nothing says which, with the energy of both
    readings.

    The state is settled by a word of the line, by a setting, or by the cooking of its component: what is boiled in the
    pot went in raw. Foods that the tables know in one state only have one reading.
    """
    matched = contribution.ingredient.matched
    line, food = matched.line, matched.food
    energy_kcal = contribution.raw.get("ENERC_KCAL")
    if food is None or not energy_kcal or plan.heated or line.state or line.settings.state or line.settings.food:
        return None
    if line.amount is None or not (line.amount.unit in MASS_G or line.amount.unit in VOLUME_ML["us"]):
        return None
    if matched.food_state not in ("raw", "dry") or matched.default_food not in _known_raw_and_cooked():
        return None
    choice = find_yield(food, matched.default_food, "cooked", FoodState(matched.food_state))
    if choice is None:
        return None
    other_kcal = energy_kcal / choice.share
    if abs(other_kcal - energy_kcal) <= NOTICEABLE * energy_kcal:
        return None
    return Diagnostic(
        "raw-or-cooked",
        Severity.WARNING,
        f"'{line.name}' is taken as {matched.food_state}, {energy_kcal:.0f} kcal; weighed cooked it would be "
        f"{other_kcal:.0f} kcal",
        line.span,
        f"write '{matched.food_state}' or 'cooked' on the line, or say how the component is cooked",
    )


@cache
def _known_raw_and_cooked() -> frozenset[str]:
    states: dict[str, set[str]] = {}
    for row in default_foods():
        states.setdefault(row.food, set()).add(row.state)
    return frozenset(food for food, known in states.items() if "cooked" in known and known & {"raw", "dry"})
