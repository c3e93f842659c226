"""Whether a cooked weight from the scale can be: against what went in, and what its foods may take up or lose.

A weight from the scale is used whatever the checks say, since measured beats estimated; the cook is told.
"""

from collections.abc import Sequence

from mealcalc.calculation.line_cooking import state_of
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
    water_left_g: float,
) -> list[Diagnostic]:
    """Diagnostics about a weighed cooked mass, in g, against what its foods allow.

    Parameters
    ----------
    parts : sequence of Contribution
        Lines that went into the dish.
    in_dish_g : float
        Mass that went in and stays, g.
    water_left_g : float
        Water that the weighed mass leaves in the dish, g; negative means less than the dry matter.
    """
    weighed_g = component.cooked_mass_g
    if weighed_g is None or not parts:
        return []
    if water_left_g < 0:
        return [
            _finding(
                component,
                "cooked-weight-impossible",
                Severity.ERROR,
                f"the cooked weight of '{component.name}', {weighed_g:.0f} g, is less than the dry matter that went "
                "in; its water is counted as 0",
            )
        ]
    lowest_g, highest_g = _plausible(parts, method or "cooked")
    if weighed_g > highest_g * SLACK:
        return [
            _finding(
                component,
                "cooked-weight-high",
                Severity.WARNING,
                f"the cooked weight of '{component.name}', {weighed_g:.0f} g, is more than its foods take up "
                f"(at most {highest_g:.0f} g)",
            )
        ]
    if weighed_g < lowest_g / SLACK:
        return [
            _finding(
                component,
                "cooked-weight-low",
                Severity.WARNING,
                f"the cooked weight of '{component.name}', {weighed_g:.0f} g, is less than its foods leave "
                f"(at least {lowest_g:.0f} g)",
            )
        ]
    if weighed_g > in_dish_g * SLACK:
        return [
            _finding(
                component,
                "cooked-weight-above-all-in",
                Severity.NOTE,
                f"'{component.name}' weighs {weighed_g:.0f} g cooked, {in_dish_g:.0f} g went in: "
                "the difference is counted as water taken up",
            )
        ]
    return []


def _plausible(parts: Sequence[Contribution], method: str) -> tuple[float, float]:
    lowest_g = highest_g = 0.0
    for c in parts:
        mass_g = c.ingredient.eaten_mass_g or 0.0
        group = c.cooking.food_group
        limit = yield_limit_for(group, method, state_of(c.ingredient)) if group else None
        low = limit.lowest_percent if limit else LOWEST_UNNAMED_PERCENT
        high = limit.highest_percent if limit else HIGHEST_UNNAMED_PERCENT
        lowest_g += mass_g * min(low, 100.0) / 100.0
        highest_g += mass_g * high / 100.0
    return lowest_g, highest_g


def _finding(component: BatchComponent, code: str, severity: Severity, message: str) -> Diagnostic:
    return Diagnostic(
        code, severity, message, component.span, "check the scale, the tare, and that every line is listed"
    )
