"""The dates of a batch: which containers stay in the refrigerator, which are frozen, when each thaws, its last day."""

import math
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import UsageError
from mealcalc.records.keeping import ContainerPlan, DatePlan, ListedGuidance
from mealcalc.reference.keeping_tables import TOPICS

Topics = Mapping[str, tuple[ListedGuidance, ...]]

THAW_UNIT_G = 2268.0
"""Mass for which the guidance on thawing states its hours: 5 lb. A lighter container is given the whole time."""

USUAL_THAW_DAYS = 1
"""Days of thawing in the refrigerator where no chosen authority says any; our judgement."""

MOST_PER_DAY = 1000


def make_plan(
    topics: Topics,
    containers: int,
    container_mass_g: float | None,
    cooked: date,
    eaten_per_day: int,
    eat_from: date,
    today: date | None,
) -> tuple[DatePlan, list[Diagnostic]]:
    """The plan of dates by the strictest guidance.

    Parameters
    ----------
    topics : mapping
        Topic -> guidance, strictest first.
    containers : int
        Number of containers.
    container_mass_g : float or None
        Cooked mass in one of them, g; decides how long it thaws.
    cooked, eat_from : date
        Day of cooking and first day of eating.
    eaten_per_day : int
        Containers eaten on a day.
    today : date or None
        For the warning about dates that have passed.

    Raises
    ------
    UsageError
        If eating starts before cooking, or fewer than one container is eaten on a day.
    """
    if not 1 <= eaten_per_day <= MOST_PER_DAY:
        raise UsageError(f"{eaten_per_day} containers eaten on a day", f"give a whole number from 1 to {MOST_PER_DAY}")
    if eat_from < cooked:
        raise UsageError(f"eating from {eat_from}, before cooking on {cooked}", "give a day of cooking or a later one")
    fridge, freezer, thawed = (_first_figure(topics, t) for t in ("refrigerator", "freezer", "thawed"))
    thaw = _first_figure(topics, "thaw")
    plan = DatePlan(
        cooked=cooked,
        eaten_per_day=eaten_per_day,
        containers=tuple(
            _container(number + 1, eat_from + timedelta(days=number // eaten_per_day), cooked, fridge, freezer, thawed,
                       _thaw_days(thaw, container_mass_g))
            for number in range(containers)
        ),
        fridge_limit=fridge,
        freezer_limit=freezer,
        thaw=thaw,
        thawed_limit=thawed,
        freezer_best_before=None if freezer is None else freezer.last_day,
    )  # fmt: skip
    return plan, _findings(plan, today)


def _container(
    number: int,
    eat_on: date,
    cooked: date,
    fridge: ListedGuidance | None,
    freezer: ListedGuidance | None,
    thawed: ListedGuidance | None,
    thaw_days: int,
) -> ContainerPlan:
    if fridge is None or fridge.last_day is None:
        return ContainerPlan(number, eat_on, None, None)
    thaw_from = eat_on - timedelta(days=thaw_days)
    # What would leave the freezer on the day it went in stays in the refrigerator, and out of the guidance.
    if eat_on <= fridge.last_day or not _may_be_frozen(freezer) or thaw_from <= cooked:
        return ContainerPlan(number, eat_on, fridge.last_day, fridge)
    after_thawing = int(thawed.guidance.low or 0) if thawed is not None else 0
    last_day = thaw_from + timedelta(days=max(thaw_days, after_thawing))
    return ContainerPlan(number, eat_on, last_day, thawed, frozen_on=cooked, thaw_from=thaw_from)


def _may_be_frozen(freezer: ListedGuidance | None) -> bool:
    return freezer is None or freezer.guidance.unit != "not recommended"


def _first_figure(topics: Topics, topic: str) -> ListedGuidance | None:
    """The strictest statement with a figure, or that advises against it."""
    return next(
        (r for r in topics.get(topic, ()) if r.guidance.low is not None or r.guidance.unit == "not recommended"), None
    )


def _thaw_days(thaw: ListedGuidance | None, container_mass_g: float | None) -> int:
    if thaw is None or thaw.guidance.low is None:
        return USUAL_THAW_DAYS
    loads = 1 if container_mass_g is None else math.ceil(container_mass_g / THAW_UNIT_G)
    return max(1, math.ceil(thaw.guidance.low * loads / 24.0))


def _findings(plan: DatePlan, today: date | None) -> list[Diagnostic]:
    found = [
        Diagnostic(
            "no-guidance",
            Severity.WARNING,
            f"none of the chosen authorities gives a figure for: {TOPICS[topic].lower()}",
            None,
            "choose others with --authority, or leave it out for all of them",
        )
        for topic, limit in (("refrigerator", plan.fridge_limit), ("freezer", plan.freezer_limit))
        if limit is None
    ]
    beyond = [c for c in plan.containers if c.last_day is not None and not c.covered]
    if beyond:
        found.append(_beyond(plan, beyond))
    best_before = plan.freezer_best_before
    late = [
        c for c in plan.containers if c.thaw_from is not None and best_before is not None and c.thaw_from > best_before
    ]
    if late and plan.freezer_limit is not None:
        found.append(
            Diagnostic(
                "beyond-freezer-months",
                Severity.WARNING,
                f"containers {_numbers(late)} leave the freezer after {best_before}, the last day by "
                f"{plan.freezer_limit.authority.title} ({plan.freezer_limit.dish.name})",
                None,
                "eat more on a day, or make fewer",
            )
        )
    past = [c for c in plan.containers if today is not None and c.eat_on < today]
    if past:
        found.append(
            Diagnostic(
                "dates-in-the-past",
                Severity.WARNING,
                f"the plan puts containers {_numbers(past)} before today, {today}",
                None,
                "check --cooked and --from; what was not eaten or frozen by its last day has no guidance any more",
            )
        )
    return found


def _beyond(plan: DatePlan, beyond: Sequence[ContainerPlan]) -> Diagnostic:
    fridge, freezer = plan.fridge_limit, plan.freezer_limit
    assert fridge is not None
    why = f"after {fridge.last_day}, the last day by {fridge.authority.title} ({fridge.dish.name})"
    if freezer is not None and not _may_be_frozen(freezer):
        why += f", and {freezer.authority.title} does not recommend freezing ({freezer.dish.name})"
    return Diagnostic(
        "beyond-guidance",
        Severity.WARNING,
        f"containers {_numbers(beyond)} would be eaten {why}",
        None,
        "eat more on a day, start earlier, or make fewer",
    )


def _numbers(containers: Sequence[ContainerPlan]) -> str:
    numbers = [str(c.number) for c in containers]
    return numbers[0] if len(numbers) == 1 else f"{', '.join(numbers[:-1])} and {numbers[-1]}"
