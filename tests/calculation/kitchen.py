"""Weighed ingredients and components made by hand, for tests of cooking that do not depend on matching."""

from mealcalc.calculation.cooked import cook
from mealcalc.calculation.cooking_plan import CookingPlan, plan_of
from mealcalc.diagnostics import Span
from mealcalc.records import (
    BatchComponent,
    ComponentResult,
    Food,
    LineStatus,
    MatchedFood,
    RecipeLine,
    WeighedIngredient,
)


def weighed(
    food: Food | None,
    mass_g: float | None = 100.0,
    *,
    name: str = "a food",
    default_food: str = "",
    food_state: str = "",
    fat_percent: float | None = None,
    status: LineStatus = LineStatus.MATCHED,
) -> WeighedIngredient:
    """`mass_g` of a food, as the stages before cooking hand it over."""
    line = RecipeLine(name, Span("batch", 1, 1, len(name) + 1, name), name=name, fat_percent=fat_percent)
    matched = MatchedFood(line, food, status, "test", 1.0, default_food, food_state)
    return WeighedIngredient(matched, mass_g)


def component(cooking: str, *, fat: str = "kept", cooked_mass_g: float | None = None) -> BatchComponent:
    """A component with its cooking words and no lines of text."""
    return BatchComponent("part", (), cooking, fat, cooked_mass_g)


def plan(cooking: str, *, fat: str = "kept") -> CookingPlan:
    """What the cooking words say."""
    return plan_of(component(cooking, fat=fat))


def cooked_dish(
    cooking: str, *ingredients: WeighedIngredient, fat: str = "kept", cooked_mass_g: float | None = None
) -> ComponentResult:
    """Ingredients cooked together by the words."""
    return cook(component(cooking, fat=fat, cooked_mass_g=cooked_mass_g), ingredients, 1)


def codes(result: ComponentResult) -> list[str]:
    """Codes of what was noticed."""
    return [diagnostic.code for diagnostic in result.diagnostics]
