"""The machine shapes of `mealcalc keep` and `mealcalc freezer list`."""

from collections.abc import Sequence
from datetime import date

from mealcalc.diagnostics import Diagnostic
from mealcalc.records.keeping import ContainerPlan, FrozenContainers, Keeping, ListedGuidance
from mealcalc.reports.machine import number
from mealcalc.reports.tables import write_csv

PLAN_COLUMNS = (
    "batch", "container", "kept_in", "cooked", "frozen_on", "thaw_from", "eat_on", "last_day", "covered", "authority",
    "jurisdiction", "dish", "components", "wording", "source", "edition", "mark",
)  # fmt: skip
"""Columns of the plan of dates as CSV."""


def keeping_shape(keeping: Keeping, diagnostics: Sequence[Diagnostic]) -> dict[str, object]:
    """The shape of `mealcalc keep --json`."""
    plan = keeping.plan
    return {
        "batch": keeping.title,
        "containers": keeping.containers,
        "container_mass_g": number(keeping.container_mass_g),
        "cooked": plan.cooked.isoformat(),
        "eaten_per_day": plan.eaten_per_day,
        "components": [
            {
                "name": component.component,
                "kinds": [
                    {"kind": kind.kind, "name": kind.name, "because_of": why or None} for kind, why in component.kinds
                ],
            }
            for component in keeping.components
        ],
        "refrigerator_limit": _listed(plan.fridge_limit),
        "freezer_limit": _listed(plan.freezer_limit),
        "freezer_best_before": _iso(plan.freezer_best_before),
        "plan": [_planned(c) for c in plan.containers],
        "guidance": {topic: [_listed(row) for row in rows] for topic, rows in keeping.topics.items()},
        "cautions": list(keeping.cautions),
        "diagnostics": [diagnostic.to_dict() for diagnostic in diagnostics],
    }


def plan_csv(keeping: Keeping) -> str:
    """The plan of dates as CSV, one row for each container, with the guidance that limits it."""
    rows = []
    for c in keeping.plan.containers:
        limit = c.limit
        guidance = (
            (None,) * 8
            if limit is None
            else (
                limit.authority.name,
                limit.authority.jurisdiction,
                limit.dish.name,
                "; ".join(limit.components),
                limit.guidance.wording,
                limit.guidance.source,
                limit.guidance.edition,
                limit.guidance.mark,
            )
        )
        rows.append(
            (
                keeping.title,
                c.number,
                "refrigerator" if c.frozen_on is None else "freezer",
                keeping.plan.cooked.isoformat(),
                _iso(c.frozen_on),
                _iso(c.thaw_from),
                c.eat_on.isoformat(),
                _iso(c.last_day),
                "yes" if c.covered else "no",
                *guidance,
            )
        )
    return write_csv(PLAN_COLUMNS, rows)


def stock_shape(stock: Sequence[FrozenContainers], today: date) -> list[dict[str, object]]:
    """The shape of `mealcalc freezer list --json`."""
    return [
        {
            "batch": row.title,
            "containers": row.containers,
            "cooked": row.cooked.isoformat(),
            "frozen": row.frozen.isoformat(),
            "best_before": _iso(row.best_before),
            "past": row.best_before is not None and row.best_before < today,
            "guidance": row.guidance or None,
            "mass_g": number(row.mass_g),
        }
        for row in stock
    ]


def _planned(c: ContainerPlan) -> dict[str, object]:
    return {
        "container": c.number,
        "kept_in": "refrigerator" if c.frozen_on is None else "freezer",
        "frozen_on": _iso(c.frozen_on),
        "thaw_from": _iso(c.thaw_from),
        "eat_on": c.eat_on.isoformat(),
        "last_day": _iso(c.last_day),
        "covered": c.covered,
        "authority": None if c.limit is None else c.limit.authority.authority,
    }


def _listed(row: ListedGuidance | None) -> dict[str, object] | None:
    if row is None:
        return None
    guidance = row.guidance
    return {
        "authority": row.authority.authority,
        "name": row.authority.name,
        "jurisdiction": row.authority.jurisdiction,
        "audience": row.authority.audience,
        "dish": row.dish.kind,
        "components": list(row.components),
        "low": number(guidance.low),
        "high": number(guidance.high),
        "unit": guidance.unit,
        "hold_s": number(guidance.hold_s),
        "last_day": _iso(row.last_day),
        "wording": guidance.wording,
        "source": guidance.source,
        "edition": guidance.edition,
        "mark": guidance.mark,
    }


def _iso(when: date | None) -> str | None:
    return None if when is None else when.isoformat()
