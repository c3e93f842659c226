"""The machine shapes of `mealcalc cool`."""

from collections.abc import Sequence

from mealcalc.diagnostics import Diagnostic
from mealcalc.records.cooling import Band, CoolingPrediction, FoodCooling, StagePrediction
from mealcalc.reference.keeping_tables import authorities
from mealcalc.reports.machine import number
from mealcalc.reports.tables import write_csv

LIMIT_COLUMNS = (
    "food", "authority", "jurisdiction", "stage", "from_c", "to_c", "limit_h", "clock", "fast_h", "typical_h", "slow_h",
    "outcome", "remark", "source", "edition", "mark",
)  # fmt: skip
"""Columns of the prediction as CSV."""


def cooling_shape(prediction: CoolingPrediction, diagnostics: Sequence[Diagnostic]) -> dict[str, object]:
    """The shape of `mealcalc cool --json`; a time that never comes is null."""
    return {
        "batch": prediction.title,
        "container": prediction.container,
        "depth_cm": number(prediction.depth_m * 100.0),
        "surroundings": prediction.surroundings,
        "start_c": number(prediction.start_c),
        "foods": [_food(food) for food in prediction.foods],
        "largest_depth_cm": None if prediction.largest_depth_m is None else number(prediction.largest_depth_m * 100.0),
        "notes": list(prediction.notes),
        "assumptions": list(prediction.assumptions),
        "advice": [
            {
                "authority": row.authority,
                "wording": row.wording,
                "source": row.source,
                "edition": row.edition,
                "mark": row.mark,
            }
            for row in prediction.advice
        ],
        "diagnostics": [diagnostic.to_dict() for diagnostic in diagnostics],
    }


def cooling_csv(prediction: CoolingPrediction) -> str:
    """The prediction as CSV: a row for each food and limit."""
    return write_csv(
        LIMIT_COLUMNS,
        [
            (
                food.name,
                stage.limit.authority,
                authorities()[stage.limit.authority].jurisdiction,
                stage.limit.stage,
                stage.limit.from_c,
                stage.limit.to_c,
                stage.limit.hours,
                stage.limit.clock,
                number(stage.time.fast_h),
                number(stage.time.typical_h),
                number(stage.time.slow_h),
                stage.outcome.value,
                stage.remark,
                stage.limit.source,
                stage.limit.edition,
                stage.limit.mark,
            )
            for food in prediction.foods
            for stage in food.stages
        ],
    )


def _food(food: FoodCooling) -> dict[str, object]:
    return {
        "name": food.name,
        "shares": {part: number(share) for part, share in food.shares.items()},
        "conductivity_w_mk": number(food.properties.conductivity_w_mk),
        "density_kg_m3": number(food.properties.density_kg_m3),
        "specific_heat_j_kgk": number(food.properties.specific_heat_j_kgk),
        "properties_at_c": number(food.properties.temperature_c),
        "hours_until_no_part_is_warmer": {f"{target_c:g}": _band(times) for target_c, times in food.times.items()},
        "limits": [_stage(stage) for stage in food.stages],
        "curve": {
            "hours": [number(h) for h in food.curve.hours],
            "fast_c": [number(c) for c in food.curve.fast_c],
            "typical_c": [number(c) for c in food.curve.typical_c],
            "slow_c": [number(c) for c in food.curve.slow_c],
        },
    }


def _stage(stage: StagePrediction) -> dict[str, object]:
    limit = stage.limit
    return {
        "authority": limit.authority,
        "jurisdiction": authorities()[limit.authority].jurisdiction,
        "meant_for": limit.meant_for,
        "stage": limit.stage,
        "from_c": number(limit.from_c),
        "to_c": number(limit.to_c),
        "limit_h": number(limit.hours),
        "clock": limit.clock,
        "hours": _band(stage.time),
        "outcome": stage.outcome.name.lower(),
        "outcome_in_words": stage.outcome.value,
        "remark": stage.remark or None,
        "wording": limit.wording,
        "source": limit.source,
        "edition": limit.edition,
        "mark": limit.mark,
    }


def _band(times: Band) -> dict[str, float | None]:
    return {"fast": number(times.fast_h), "typical": number(times.typical_h), "slow": number(times.slow_h)}
