"""The machine shape of `mealcalc claimed --json`."""

from mealcalc.records.claims import AVAILABLE, TOTAL, ClaimedFigure, ClaimExplanation, ClaimReport
from mealcalc.reports.machine import number


def claim_shape(report: ClaimReport) -> dict[str, object]:
    """The shape of `mealcalc claimed --json`: amounts of one container, by food component key."""
    energy = report.energy
    return {
        "batch": report.result.batch.title,
        "containers": report.result.batch.containers,
        "scheme": report.scheme or None,
        "figures": [_figure_shape(figure) for figure in report.figures],
        "energy_by_macros": None
        if energy is None
        else {
            "claimed_kcal": number(energy.claimed_kcal),
            "by_4_4_9_kcal": number(energy.by_macros_kcal),
            "by_4_4_9_agrees": energy.by_macros_agrees,
            "with_fibre_at_2_kcal": number(energy.with_fibre_kcal),
            "with_fibre_at_2_agrees": energy.with_fibre_agrees,
            "fibre_g": number(energy.fibre_g),
        },
        "carbohydrate": {
            "nearer": report.carbohydrate or None,
            "nearer_with_best_change": report.explanations[0].carbohydrate
            if report.carbohydrate and report.explained
            else None,
            "sure": report.carbohydrate_sure,
            TOTAL: number(report.total_carbohydrate_g),
            AVAILABLE: number(report.available_carbohydrate_g),
        },
        "differs_by_sd": number(report.differs_by_sd),
        "agrees": report.agrees,
        "explained": report.explained,
        "changes_tried": report.tried,
        "explanations": [_explanation_shape(explanation) for explanation in report.explanations],
    }


def _figure_shape(figure: ClaimedFigure) -> dict[str, object]:
    tolerance = figure.tolerance
    return {
        "key": figure.key,
        "claimed": number(figure.claimed),
        "ours": number(figure.ours),
        "complete": figure.complete,
        "interval": None if figure.low is None else [number(figure.low), number(figure.high)],
        "in_interval": figure.in_interval,
        "differs_by_sd": number(figure.differs_by_sd),
        "tolerance": None
        if tolerance is None
        else {
            "name": tolerance.name,
            "clause": tolerance.clause,
            "mark": tolerance.mark,
            "ours": number(tolerance.ours),
            "low": number(tolerance.low),
            "high": number(tolerance.high),
            "holds": tolerance.holds,
        },
    }


def _explanation_shape(explanation: ClaimExplanation) -> dict[str, object]:
    keys = ("ENERC_KCAL", "PROCNT_G", "FAT_G", TOTAL, AVAILABLE, "FIBTG_G")
    return {
        "kind": explanation.change.kind,
        "description": explanation.change.description,
        "file_lines": list(explanation.change.lines),
        "removes": number(explanation.removed),
        "left_sd": number(explanation.left_sd),
        "explains": explanation.explains,
        "within_interval": explanation.within_interval,
        "carbohydrate": explanation.carbohydrate,
        "per_container": {key: number(explanation.figures[key]) for key in keys},
    }
