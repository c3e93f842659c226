"""What people read of `mealcalc keep` and `mealcalc freezer`: guidance side by side, the plan of dates, the stock."""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby

from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from mealcalc.records.keeping import ContainerPlan, FrozenContainers, Keeping, ListedGuidance
from mealcalc.reference.keeping_tables import TOPICS
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table

USUAL_TOPICS = ("refrigerator", "freezer", "thaw", "thawed", "reheat", "room")
"""Topics shown unless all are asked for."""

LONGEST_PLAN = 60
"""Rows of the plan that are shown; the machine shapes hold all of them."""

_WIDE = 84
"""Columns from which the plan says by whose guidance each container is limited."""

_DATED = ("refrigerator", "freezer")
_UNITS = {"degC": "C"}


def keeping_text(keeping: Keeping, screen: Screen, *, everything: bool = False) -> str:
    """The answer of `mealcalc keep`; `everything` shows all topics of guidance and the sources."""
    plan = keeping.plan
    containers = f"{keeping.containers} container{'' if keeping.containers == 1 else 's'}"
    mass = "" if keeping.container_mass_g is None else f" of about {keeping.container_mass_g:.0f} g"
    parts: list[RenderableType] = [
        Text(one_line(keeping.title, LONGEST_TITLE), style="bold"),
        f"{containers}{mass}, cooked {day(plan.cooked)}, {plan.eaten_per_day} eaten a day",
        "Guidance, not a safety assurance. The clock starts at cooking; the shortest-lived component decides.",
        "",
        *_plan(keeping, wide=screen.width >= _WIDE),
        "",
    ]
    for topic in TOPICS if everything else USUAL_TOPICS:
        rows = keeping.topics.get(topic, ())
        if rows:
            parts += [*_topic(topic, rows, several=len(keeping.components) > 1, everything=everything), ""]
    parts += [Text(f"- {caution}") for caution in keeping.cautions]
    parts += ["", *_kinds(keeping)]
    return screen.render(*parts)


def stock_text(stock: Sequence[FrozenContainers], screen: Screen, today: date) -> str:
    """The answer of `mealcalc freezer list`: oldest first."""
    if not stock:
        return screen.render("The freezer's list is empty.")
    block = table()
    for name, justify in (("containers", "right"), ("batch", "left"), ("frozen", "left"), ("best before", "left")):
        block.add_column(name, justify="right" if justify == "right" else "left")
    block.add_column("by")
    for row in stock:
        past = row.best_before is not None and row.best_before < today
        block.add_row(
            str(row.containers),
            Text(one_line(row.title, LONGEST_NAME)),
            day(row.frozen),
            Text(
                "?" if row.best_before is None else f"{day(row.best_before)}{', past' if past else ''}",
                "bold red" if past else "",
            ),
            Text(one_line(row.guidance, LONGEST_LINE), "dim"),
        )
    total = sum(row.containers for row in stock)
    note = "Months in a freezer at -18 C are about quality (foodsafety.gov)."
    return screen.render(block, "", f"{total} container{'' if total == 1 else 's'}, oldest first. {note}")


def day(when: date) -> str:
    """A date with its day of the week, such as Tue 2026-11-24."""
    return f"{('Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun')[when.weekday()]} {when.isoformat()}"


def numbers(containers: Sequence[ContainerPlan]) -> str:
    """Numbers of containers that follow one another: 3 or 3-5."""
    first, last = containers[0].number, containers[-1].number
    return str(first) if first == last else f"{first}-{last}"


def alike(containers: Sequence[ContainerPlan]) -> Iterator[list[ContainerPlan]]:
    """Containers with the same dates, together."""
    for _, group in groupby(containers, key=lambda c: (c.eat_on, c.frozen_on, c.thaw_from, c.last_day)):
        yield list(group)


def figures(row: ListedGuidance) -> str:
    """The figures of a statement with their unit: 3-4 days."""
    guidance = row.guidance
    if guidance.low is None:
        return guidance.unit
    several = guidance.low if guidance.high is None else guidance.high
    span = f"{guidance.low:g}" if guidance.high in (None, guidance.low) else f"{guidance.low:g}-{guidance.high:g}"
    unit = _UNITS.get(guidance.unit, guidance.unit)
    return f"{span} {unit}{'s' if several != 1 and unit in ('day', 'month', 'hour', 'minute', 'time') else ''}"


def listed_as(row: ListedGuidance) -> str:
    """Whose figure it is and what for."""
    return f"{row.authority.title}: {row.dish.name}"


def _plan(keeping: Keeping, *, wide: bool) -> list[RenderableType]:
    plan = keeping.plan
    if plan.fridge_limit is None:
        return ["No plan of dates: none of the chosen authorities says how long food keeps in the refrigerator."]
    block = table()
    block.add_column("container" if wide else "no.", justify="right", no_wrap=True)
    block.add_column("kept in" if wide else "in", no_wrap=True)
    for heading in ("out of the freezer" if wide else "thaws from", "eat on", "last day"):
        block.add_column(heading, no_wrap=wide)
    if wide:
        block.add_column("by")
    groups = list(alike(plan.containers))
    for group in groups[:LONGEST_PLAN]:
        c = group[0]
        last = "?" if c.last_day is None else day(c.last_day)
        by = "the day of thawing" if c.limit is None else f"{c.limit.authority.name}: {c.limit.dish.name}"
        block.add_row(
            numbers(group),
            ("refrigerator" if wide else "fridge") if c.frozen_on is None else "freezer",
            "" if c.thaw_from is None else day(c.thaw_from),
            Text(day(c.eat_on), "" if c.covered else "bold red"),
            Text(last if c.covered else f"{last}, over", "" if c.covered else "bold red"),
            *([Text(by, "dim")] if wide else []),
        )
    rows: list[RenderableType] = [Text("Plan, by the strictest guidance chosen", "bold"), block]
    if len(groups) > LONGEST_PLAN:
        rows.append(f"and {len(groups) - LONGEST_PLAN} more rows: see --csv")
    frozen = [c for c in plan.containers if c.frozen_on is not None]
    if frozen and plan.freezer_limit is not None and plan.freezer_best_before is not None:
        best = f"best before {day(plan.freezer_best_before)}, by {listed_as(plan.freezer_limit)}"
        rows += ["", f"Freeze as soon as cold. Frozen containers: {best}."]
    return rows


def _topic(topic: str, rows: Sequence[ListedGuidance], *, several: bool, everything: bool) -> list[RenderableType]:
    """A block of guidance; of each authority its strictest statement, unless everything is asked for."""
    block = table()
    block.add_column("", no_wrap=True)
    block.add_column("authority")
    if topic in _DATED:
        block.add_column("listed as")
        block.add_column("last day", no_wrap=True)
    else:
        block.add_column("what it says")
    if everything:
        block.add_column("source")
    for row in rows if everything else _first_of_each(rows):
        dish = row.dish.name
        if several and topic in _DATED and row.dish.kind != "any":
            dish += f" ({', '.join(one_line(name, LONGEST_NAME) for name in row.components)})"
        middle = (
            [dish, "" if row.last_day is None else day(row.last_day)] if topic in _DATED else [row.guidance.wording]
        )
        source = [_source(row)] if everything else []
        block.add_row(figures(row), row.authority.title, *(Text(m) for m in middle), *(Text(s, "dim") for s in source))
    strictest = " (strictest first)" if len(rows) > 1 else ""
    return [Text(f"{TOPICS[topic]}{strictest}", "bold"), Padding(block, 0)]


def _first_of_each(rows: Sequence[ListedGuidance]) -> list[ListedGuidance]:
    found: dict[str, ListedGuidance] = {}
    for row in rows:
        found.setdefault(row.authority.authority, row)
    return list(found.values())


def _source(row: ListedGuidance) -> str:
    edition = "" if row.guidance.edition in ("", "not dated") else f", {row.guidance.edition}"
    return f"{row.guidance.source}{edition} [{row.guidance.mark}]"


def _kinds(keeping: Keeping) -> list[RenderableType]:
    rows: list[RenderableType] = []
    for component in keeping.components:
        kinds = "; ".join(
            f"{kind.name}{f' ({one_line(why, LONGEST_NAME)})' if why else ''}"
            for kind, why in component.kinds
            if kind.kind != "any"
        )
        rows.append(Text(f"{one_line(component.component, LONGEST_NAME)} is taken for: {kinds}.", "dim"))
    return rows
