"""The machine shape of `mealcalc explain --json`."""

from typing import Any

from mealcalc.reports.explain import ComponentAccount, Explanation, LineAccount
from mealcalc.reports.machine import number


def explanation_shape(explanation: Explanation) -> dict[str, object]:
    """The shape of `mealcalc explain --json`: amounts in `unit`, for the whole batch where nothing else is said."""
    return {
        "batch": explanation.title,
        "key": explanation.key,
        "name": explanation.name,
        "unit": explanation.unit,
        "containers": explanation.containers,
        "total": number(explanation.total),
        "per_container": number(explanation.per_container),
        "complete": not explanation.unknown_lines,
        "unknown_lines": list(explanation.unknown_lines),
        "components": [_component_shape(component) for component in explanation.components],
        "other_components": number(explanation.other_components),
    }


def _component_shape(component: ComponentAccount) -> dict[str, object]:
    return {
        "name": component.name,
        "cooking": component.cooking,
        "method": component.method or None,
        "lines": [_line_shape(line) for line in component.lines],
        "other_lines": number(component.other_lines),
        "water_change": number(component.water_change),
        "total": number(component.total),
        "unknown_lines": list(component.unknown_lines),
        "cooked_mass_g": number(component.cooked_mass_g),
        "cooked_mass_ground": component.cooked_mass_ground,
        "per_100g": number(component.per_100g),
        "per_container": number(component.per_container),
    }


def _line_shape(line: LineAccount) -> dict[str, object]:
    return {
        "file_line": line.line,
        "text": line.text,
        "food": _food_shape(line),
        "mass_g": number(line.mass_g),
        "mass_ground": line.mass_ground,
        "used_share": number(line.used_share),
        "per_100g": number(line.per_100g.amount),
        "per_100g_status": line.per_100g.status.value,
        "per_100g_note": line.per_100g_note or None,
        "raw": number(line.raw),
        "steps": [
            {"what": s.what, "change": number(s.change), "factor": number(s.factor), "ground": s.ground or None}
            for s in line.steps
        ],
        "amount": number(line.amount),
        "yield": number(line.yield_share),
        "yield_ground": line.yield_ground or None,
        "share_of_component": number(line.share_of_component),
        "share_of_batch": number(line.share_of_batch),
        "note": line.note or None,
    }


def _food_shape(line: LineAccount) -> dict[str, Any] | None:
    food = line.food
    if food is None:
        return None
    return {
        "food": food.food,
        "edition": food.edition,
        "description": food.description,
        "strategy": food.strategy,
        "score": number(food.score),
        "status": food.status.value,
        "blend": [
            {
                "food": part.food,
                "description": part.description,
                "share": number(part.share),
                "per_100g": number(part.per_100g),
            }
            for part in food.blend
        ]
        or None,
    }
