"""The stable machine shapes: what `--json` prints and programs may rely on."""

import math
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from mealcalc.calculation.energy import general_energy, kilojoules
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Diagnostic
from mealcalc.fooddb import FoodHeader
from mealcalc.pipeline import diagnostics_of
from mealcalc.records import (
    BatchResult,
    ComponentResult,
    Contribution,
    Food,
    LineStatus,
    MatchedFood,
    SubBatch,
    Total,
)
from mealcalc.values import MISSING

if TYPE_CHECKING:
    from mealcalc.calculation.uncertainty import Interval, Sureness
    from mealcalc.calculation.uncertainty_drivers import Driver

DIGITS = 4
"""Decimals of the numbers printed: beyond what any table is good for, so that nothing is lost to rounding."""

LEFT_OUT = (LineStatus.NOT_COUNTED, LineStatus.NOT_FOOD)
"""Lines of which nothing is to be counted: they contribute 0, and their status says so."""


def batch_shape(result: BatchResult, sureness: "Sureness | None" = None) -> dict[str, object]:
    """The shape of `mealcalc macros --json`, with its intervals where `sureness` is given."""
    containers = result.batch.containers
    general = general_energy(result.totals).divided_by(containers)
    per_100g = [None] * len(result.components) if sureness is None else sureness.per_100g
    return {
        "batch": result.batch.title,
        "region": result.region,
        "containers": containers,
        "complete": result.complete,
        "incomplete": {key: list(lines) for key, lines in result.incomplete.items()},
        "known_share": {key: number(total.known_share) for key, total in result.totals.items()},
        "per_container": amounts(result.per_container),
        **({} if sureness is None else _sureness_shape(sureness)),
        "per_container_by_general_factors": {
            "ENERC_KCAL": number(general.amount),
            "ENERC_KJ": number(kilojoules(general.amount)),
        },
        "components": [
            _component_shape(component, containers, intervals)
            for component, intervals in zip(result.components, per_100g, strict=True)
        ],
        "lines": [
            line_shape(c)
            | {
                "component": c.line.component,
                "contribution": {key: number(amount) for key, amount in contributed(c).items()},
            }
            for c in result.contributions
        ],
        "sub_batches": [_sub_batch_shape(sub) for sub in result.batch.sub_batches],
        "diagnostics": [diagnostic.to_dict() for diagnostic in result.diagnostics],
    }


def line_shape(contribution: Contribution) -> dict[str, object]:
    """The shape of one line, in `lines[]` of a batch and for each line of `mealcalc match - --json`."""
    ingredient = contribution.ingredient
    matched = ingredient.matched
    line = matched.line
    amount = line.amount if line.amount is not None and not line.amount.implied else None
    return {
        "file_line": line.span.line,
        "text": line.text,
        "status": matched.status.value,
        "food": _food_shape(matched),
        "quantity_low": None if amount is None else number(amount.low),
        "quantity_high": None if amount is None else number(amount.high),
        "unit": None if line.amount is None else line.amount.unit,
        "name": line.name,
        "optional": line.optional,
        "mass_g": number(ingredient.mass_g),
        "ground": ingredient.ground,
        "used_share": number(ingredient.used_share),
        "energy_kcal": number(contributed(contribution)["ENERC_KCAL"]),
        "strategy": matched.strategy or None,
        "score": number(matched.score),
        "runners_up": [
            {"table": c.table, "code": c.code, "description": c.description, "score": number(c.score)}
            for c in matched.runners_up
        ],
        "choices": list(line.alternatives),
        "diagnostics": [diagnostic.to_dict() for diagnostic in diagnostics_of(ingredient)],
    }


def diagnostics_shape(diagnostics: Iterable[Diagnostic]) -> list[dict[str, object]]:
    """The shape of `mealcalc check --json`."""
    return [diagnostic.to_dict() for diagnostic in diagnostics]


def amounts(totals: Mapping[str, Total]) -> dict[str, float | None]:
    """Food component key -> amount; what is unknown on every line is null, never 0."""
    return {key: None if _wholly_unknown(total) else number(total.amount) for key, total in totals.items()}


def number(value: float | None) -> float | None:
    """A number fit for JSON: finite and rounded to `DIGITS` decimals, without a negative zero; None stays None."""
    if value is None or not math.isfinite(value):
        return None
    return round(value, DIGITS) + 0.0


def _wholly_unknown(total: Total) -> bool:
    return bool(total.unknown_lines) and total.known_share == 0.0 and total.amount == 0.0


def _sureness_shape(sureness: "Sureness") -> dict[str, object]:
    return {
        "per_container_interval": _interval_shape(sureness.per_container),
        "interval": {"level": sureness.level, "draws": sureness.draws, "seed": sureness.seed},
        "drivers": [_driver_shape(driver) for driver in sureness.drivers],
    }


def _interval_shape(intervals: "Mapping[str, Interval | None]") -> dict[str, list[float | None] | None]:
    """Food component key -> [low, high] of the interval; null where the figure is incomplete."""
    return {
        key: None if interval is None else [number(interval.low), number(interval.high)]
        for key, interval in intervals.items()
    }


def _driver_shape(driver: "Driver") -> dict[str, object]:
    return {
        "key": driver.key,
        "file_line": driver.line,
        "name": driver.name,
        "what": driver.what,
        "share_of_variance": number(driver.share),
        "width_if_settled": number(driver.width_if_settled),
        "advice": driver.advice or None,
    }


def _component_shape(
    component: ComponentResult, containers: int, intervals: "Mapping[str, Interval | None] | None"
) -> dict[str, object]:
    per_100g = component.per_100g
    return {
        "name": component.component.name,
        "per_container": amounts({key: t.divided_by(containers) for key, t in component.totals.items()}),
        "incomplete": {key: list(t.unknown_lines) for key, t in component.totals.items() if t.unknown_lines},
        "raw_mass_g": number(component.raw_mass_g),
        "cooked_mass_g": number(component.cooked_mass_g),
        "cooked_mass_ground": component.cooked_mass_ground,
        "per_100g": None if per_100g is None else amounts(per_100g),
        **(
            {} if intervals is None else {"per_100g_interval": None if per_100g is None else _interval_shape(intervals)}
        ),
    }


def _sub_batch_shape(sub: SubBatch) -> dict[str, object]:
    """A batch of its own that lines use as the food own:`code`; what could not be calculated is null."""
    result = sub.result
    known = result is not None and all(component.cooked_mass_known for component in result.components)
    return {
        "name": sub.name,
        "code": sub.code,
        "file": sub.path,
        "complete": result is not None and known and result.complete,
        "cooked_mass_g": number(sum(c.cooked_mass_g for c in result.components)) if result and known else None,
    }


def _food_shape(matched: MatchedFood) -> dict[str, object] | None:
    food = matched.food
    if food is None:
        return None
    blend = [
        {"table": part.table, "code": part.code, "description": part.description, "share": number(part.share)}
        for part in matched.blend
    ]
    return {
        "table": food.table,
        "edition": food.edition,
        "code": food.code,
        "description": food.description,
        "blend": blend or None,
    }


def contributed(contribution: Contribution) -> dict[str, float | None]:
    """What a line brings to the totals of the whole batch, by food component: None where unknown, 0 where left out."""
    left_out = contribution.ingredient.matched.status in LEFT_OUT
    return {key: 0.0 if left_out else contribution.amounts.get(key) for key in FOOD_COMPONENTS}


def header_shape(header: FoodHeader) -> dict[str, object]:
    """The shape of one food of `mealcalc foods search --json`."""
    return {
        "table": header.table,
        "code": header.code,
        "description": header.description,
        "names": list(header.names),
    }


def food_shape(food: Food, group_name: str) -> dict[str, object]:
    """The shape of `mealcalc foods show --json`: values per 100 g edible portion, missing ones as null."""
    composition: dict[str, dict[str, object]] = {}
    for key, component in FOOD_COMPONENTS.items():
        value = food.composition.get(key, MISSING)
        composition[key] = {"amount": number(value.amount), "unit": component.unit, "status": value.status.value}
    return {
        "table": food.table,
        "edition": food.edition,
        "code": food.code,
        "description": food.description,
        "group": food.group,
        "group_name": group_name,
        "names": list(food.names),
        "scientific_name": food.scientific_name,
        "refuse_percent": number(food.refuse_percent),
        "refuse_description": food.refuse_description,
        "nitrogen_factor": number(food.nitrogen_factor),
        "energy_factors_kcal_per_g": {
            "protein": number(food.energy_factors.protein),
            "fat": number(food.energy_factors.fat),
            "carbohydrate": number(food.energy_factors.carbohydrate),
        },
        "per_100g": composition,
        "measures": [
            {"amount": number(m.amount), "description": m.description, "mass_g": number(m.mass_g)}
            for m in food.measures
        ],
    }
