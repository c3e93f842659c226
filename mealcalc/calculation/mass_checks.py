"""Whether a cooked weight from the scale can be: against what went in, and what its foods may take up or lose.

A weight from the scale is used whatever the checks say, since measured beats estimated; the cook is told.
"""

from collections.abc import Sequence

from mealcalc.calculation.line_cooking import NO_YIELD_GROUPS, is_liquid, state_of
from mealcalc.calculation.nearness import food_group
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.records import BatchComponent, Contribution
from mealcalc.reference.cooking_factors import yield_limit_for

HIGHEST_UNNAMED_PERCENT = 105.0
LOWEST_UNNAMED_PERCENT = 10.0
"""Limits for foods without limits of their own: what a seasoning or a sauce may do."""

SLACK = 1.02
"""Scales and measures are believed to within 2 %."""


def check_cooked_weight(
    component: BatchComponent,
    method: str,
    parts: Sequence[Contribution],
    in_dish_g: float,
    water_left_g: float | None,
) -> list[Diagnostic]:
    """Diagnostics about a weighed cooked mass, in g, against what its foods allow.

    Parameters
    ----------
    method : str
        Method of the component, '' where it is not said: any method counts then.
    parts : sequence of Contribution
        Lines that went into the dish.
    in_dish_g : float
        Mass that went in and stays, g.
    water_left_g : float or None
        Water that the weighed mass leaves in the dish, g; negative means less than the dry matter. None where the
        water of some line is unknown.
    """
    weighed_g = component.cooked_mass_g
    parts = [c for c in parts if not c.cooking.poured_off]
    if weighed_g is None or not parts:
        return []
    weighs = f"the cooked weight of '{component.name}', {weighed_g:.0f} g,"
    if water_left_g is not None and water_left_g < -0.02 * weighed_g:
        message = f"{weighs} is less than the dry matter that went in; its water is counted as 0"
        return [_finding(component, "cooked-weight-impossible", Severity.ERROR, message)]
    lowest_g, highest_g = _plausible(parts, method or "cooked")
    if weighed_g > highest_g * SLACK:
        message = f"{weighs} is more than its foods take up (at most {highest_g:.0f} g)"
        return [_finding(component, "cooked-weight-high", Severity.WARNING, message)]
    if weighed_g < lowest_g / SLACK:
        message = f"{weighs} is less than its foods leave (at least {lowest_g:.0f} g)"
        return [_finding(component, "cooked-weight-low", Severity.WARNING, message)]
    if weighed_g <= in_dish_g * SLACK:
        return []
    if any(_is_liquid(c) for c in parts):
        # The liquid is listed, so there is no other that could have been taken up.
        message = f"{weighs} is more than all that went in, {in_dish_g:.0f} g; the difference is counted as water"
        return [_finding(component, "cooked-weight-above-all-in", Severity.WARNING, message)]
    message = f"{weighs} is more than went in, {in_dish_g:.0f} g: the difference is counted as water taken up"
    return [_finding(component, "cooked-weight-above-all-in", Severity.NOTE, message)]


def _plausible(parts: Sequence[Contribution], method: str) -> tuple[float, float]:
    """Lowest and highest cooked mass, g, that the yield limits of the foods allow."""
    lowest_g = highest_g = 0.0
    # Where nothing else in the pot can give water, what swells must weigh more cooked than dry.
    alone = all(_swells_alone(c, method) or _is_liquid(c) or _group(c) in NO_YIELD_GROUPS for c in parts)
    for c in parts:
        mass_g = c.ingredient.eaten_mass_g or 0.0
        low, high = _limits(c, method)
        if alone and _is_liquid(c):
            low = 0.0
        lowest_g += mass_g * (low if alone else min(low, 100.0)) / 100.0
        highest_g += mass_g * high / 100.0
    return lowest_g, highest_g


def _limits(c: Contribution, method: str) -> tuple[float, float]:
    group = _group(c)
    limit = yield_limit_for(group, method, state_of(c.ingredient)) if group else None
    if limit is None:
        return LOWEST_UNNAMED_PERCENT, HIGHEST_UNNAMED_PERCENT
    return limit.lowest_percent, limit.highest_percent


def _group(c: Contribution) -> str:
    food = c.ingredient.matched.food
    return c.cooking.food_group or (food_group(food) if food is not None else "") or ""


def _swells_alone(c: Contribution, method: str) -> bool:
    return _limits(c, method)[0] > 100.0


def _is_liquid(c: Contribution) -> bool:
    food = c.ingredient.matched.food
    return food is not None and is_liquid(food)


def _finding(component: BatchComponent, code: str, severity: Severity, message: str) -> Diagnostic:
    return Diagnostic(
        code, severity, message, component.span, "check the scale, the tare, and that every line is listed"
    )
