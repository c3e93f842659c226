"""Guidance of named authorities for a batch, strictest first, with the plan of dates that follows from it.

A container is limited by its shortest-lived component, and the clock starts at cooking. Nothing here is this project's
own verdict on food: each figure is an authority's, and its source stands beside it.
"""

import math
from collections.abc import Sequence
from datetime import date, timedelta

from mealcalc.diagnostics import Diagnostic
from mealcalc.planning.date_plan import make_plan
from mealcalc.planning.dish_kinds import kinds_of
from mealcalc.records import BatchResult
from mealcalc.records.keeping import Authority, ComponentKinds, Guidance, Keeping, ListedGuidance
from mealcalc.reference.keeping_tables import TOPICS, authorities, dish_kinds, keeping_guidance

OWN = "this project's own words, no authority quoted"

GENERAL_CAUTIONS = (
    f"Guidance, not a safety assurance: local food law and your own thermometer come first ({OWN}).",
    f"Pregnant, very young or old, or of weak immunity: follow your health service, which is often stricter ({OWN}).",
)

_HOTTEST_FIRST = frozenset({"reheat", "cook", "hot_holding"})
_IN_TABLE_ORDER = frozenset({"thaw", "thaw_otherwise", "headspace", "caution"})


def keep(
    result: BatchResult,
    chosen: Sequence[Authority],
    cooked: date,
    *,
    eaten_per_day: int = 1,
    eat_from: date | None = None,
    today: date | None = None,
) -> tuple[Keeping, list[Diagnostic]]:
    """Guidance and plan of dates for a batch.

    Parameters
    ----------
    result : BatchResult
        The batch; its foods and words say of which kinds of dish its components are.
    chosen : sequence of Authority
        Whose guidance counts; the strictest of it limits the plan.
    cooked : date
        Day of cooking, on which the clock starts.
    eaten_per_day : int
        Containers eaten on a day.
    eat_from : date, optional
        First day of eating; by default the day after cooking.
    today : date, optional
        Today, for the warning about dates that have passed; none without it.

    Raises
    ------
    UsageError
        If the first day of eating lies before cooking, or fewer than one container is eaten on a day.
    """
    components = kinds_of(result)
    topics = guidance_for(components, chosen, cooked)
    mass_known = all(part.cooked_mass_known for part in result.components)
    mass_g = sum(part.cooked_mass_g for part in result.components) / result.batch.containers if mass_known else None
    plan, found = make_plan(
        topics, result.batch.containers, mass_g, cooked, eaten_per_day, eat_from or cooked + timedelta(days=1), today
    )
    keeping = Keeping(
        title=result.batch.title,
        containers=result.batch.containers,
        container_mass_g=mass_g,
        components=components,
        topics=topics,
        cautions=(*_cautions(components, cooked), *GENERAL_CAUTIONS),
        plan=plan,
    )
    return keeping, found


def guidance_for(
    components: Sequence[ComponentKinds], chosen: Sequence[Authority], cooked: date
) -> dict[str, tuple[ListedGuidance, ...]]:
    """Topic -> guidance of the authorities for any of the components, strictest first, with its last day."""
    by_name = {row.authority: row for row in chosen}
    found: dict[str, list[ListedGuidance]] = {topic: [] for topic in TOPICS}
    for row in keeping_guidance():
        concerned = tuple(c.component for c in components if any(kind.kind == row.dish for kind, _ in c.kinds))
        if row.authority in by_name and concerned:
            found[row.topic].append(
                ListedGuidance(row, by_name[row.authority], dish_kinds()[row.dish], concerned, _last_day(row, cooked))
            )
    return {topic: tuple(sorted(rows, key=_strictness)) for topic, rows in found.items() if rows}


def strictest_of_each(rows: Sequence[ListedGuidance]) -> tuple[ListedGuidance, ...]:
    """The strictest statement of each authority, strictest first."""
    found: dict[str, ListedGuidance] = {}
    for row in rows:
        found.setdefault(row.authority.authority, row)
    return tuple(found.values())


def _strictness(row: ListedGuidance) -> tuple[float, float]:
    """Sorts strict before lax; what is alike stays in the order of the table."""
    guidance = row.guidance
    if guidance.topic in _IN_TABLE_ORDER:
        return (0.0, 0.0)
    if guidance.topic in _HOTTEST_FIRST:
        return (-(guidance.low or 0.0), -(guidance.hold_s or 0.0))
    if guidance.unit == "not recommended":
        return (-math.inf, 0.0)
    if guidance.low is None:
        return (math.inf, 0.0)
    return (guidance.low - (guidance.cooking_day_is_day or 0), guidance.high or guidance.low)


def _last_day(row: Guidance, cooked: date) -> date | None:
    """The last day by the shorter figure of a statement about the refrigerator or the freezer."""
    if row.low is None:
        return None
    if row.topic == "refrigerator":
        return cooked + timedelta(days=int(row.low) - (row.cooking_day_is_day or 0))
    return months_later(cooked, int(row.low)) if row.topic == "freezer" else None


def months_later(day: date, months: int) -> date:
    """The same day some months later; the last day of the month where it has no such day."""
    first = date(day.year + (day.month - 1 + months) // 12, (day.month - 1 + months) % 12 + 1, 1)
    next_month = (first.replace(day=28) + timedelta(days=4)).replace(day=1)
    return min(first + timedelta(days=day.day - 1), next_month - timedelta(days=1))


def _cautions(components: Sequence[ComponentKinds], cooked: date) -> tuple[str, ...]:
    """Cautions of every authority, chosen or not: they are not a matter of jurisdiction."""
    topics = guidance_for(components, tuple(authorities().values()), cooked)
    rows = [*topics.get("caution", ()), *topics.get("reheat_once", ())]
    return tuple(f"{_sentence(row.guidance.wording)} ({row.authority.title})." for row in rows)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]
