"""The stable machine shape of `mealcalc aim --json`."""

from collections.abc import Mapping

from mealcalc.records.aimed import Aimed, AimedContainer, AimedLine, Limit
from mealcalc.records.targets import Target
from mealcalc.reports.machine import number


def aim_shape(aimed: Aimed) -> dict[str, object]:
    """The shape of `mealcalc aim --json`."""
    return {
        "batch": aimed.title,
        "region": aimed.result.region,
        "containers_in_all": aimed.result.batch.containers,
        "sought": "amounts" if aimed.lines else "portions",
        "kept": aimed.kept,
        "most": aimed.targets.most or None,
        "least": aimed.targets.least or None,
        "currency": aimed.currency or None,
        "cost": None if aimed.cost is None else number(float(aimed.cost)),
        "containers": [_container_shape(container) for container in aimed.containers],
        "lines": [_line_shape(line) for line in aimed.lines],
        "leftover_g": _numbers(aimed.leftover_g),
        "binding": [
            {
                **_limit_shape(one.limit),
                "step": number(one.step),
                "change_g": _numbers(one.change),
                "gained": number(one.gained),
                "nearer_share": number(one.nearer),
            }
            for one in aimed.binding
        ],
        "contradicting": [
            {**_limit_shape(one.limit), "reach": number(one.reach), "enough": one.enough} for one in aimed.contradicting
        ],
        "diagnostics": [diagnostic.to_dict() for diagnostic in aimed.result.diagnostics],
    }


def _container_shape(container: AimedContainer) -> dict[str, object]:
    return {
        "eater": container.eater or None,
        "containers": container.containers,
        "grams": _numbers(container.grams),
        "without_targets_g": _numbers(container.even_g),
        "figures": _numbers(container.figures),
        "figures_without_targets": _numbers(container.even_figures),
        "targets": [
            {
                **_target_shape(judged.target),
                "comes_out": number(judged.amount),
                "complete": judged.complete,
                "met": judged.met,
            }
            for judged in container.judged
        ],
    }


def _line_shape(line: AimedLine) -> dict[str, object]:
    return {
        "file_line": line.line,
        "name": line.name,
        "component": line.component,
        "written": line.written,
        "found": line.found,
        "written_g": number(line.written_g),
        "found_g": number(line.found_g),
        "factor": number(line.factor),
        "packs": line.packs,
    }


def _limit_shape(limit: Limit) -> dict[str, object]:
    target = {"key": None, "bound": None, "amount": None} if limit.target is None else _target_shape(limit.target)
    return {"limit": limit.words, "eater": limit.eater or None, **target}


def _target_shape(target: Target) -> dict[str, object]:
    return {"key": target.key, "bound": target.bound.value, "amount": number(target.amount)}


def _numbers(amounts: Mapping[str, float]) -> dict[str, float | None]:
    return {name: number(amount) for name, amount in amounts.items()}
