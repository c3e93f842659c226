"""The plan of dates as an iCalendar file (RFC 5545): whole days, in the way of nothing else.

Written by hand, since the part that is needed is small: CRLF line ends, lines folded at 75 octets (3.1), text escaped
(3.3.11), and for each event a stable identifier, so that a plan imported again replaces itself.
"""

import uuid
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

from mealcalc.records.keeping import ContainerPlan, Keeping
from mealcalc.reports.keeping_text import alike, listed_as, numbers
from mealcalc.reports.plain import LONGEST_TITLE, one_line

LONGEST_LINE_OCTETS = 75
_CAUTION = "Guidance, not a safety assurance; local food law and your own thermometer come first."
_PRODUCT = "-//mealcalc contributors//mealcalc keep//EN"
_NAMESPACE = uuid.uuid5(uuid.NAMESPACE_DNS, "mealcalc.invalid")


def keeping_calendar(keeping: Keeping, stamp: datetime) -> str:
    """The calendar of a batch.

    Parameters
    ----------
    keeping : Keeping
        Guidance and plan.
    stamp : datetime
        When the calendar is made, with its time zone.

    Returns
    -------
    str
        An iCalendar stream: freezing, thawing, eating and the last day in the refrigerator as events of whole days.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{_PRODUCT}", "CALSCALE:GREGORIAN", "METHOD:PUBLISH"]
    made = stamp.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    for when, what, summary, description in _events(keeping):
        key = f"{keeping.title}|{keeping.plan.cooked.isoformat()}|{what}|{when.isoformat()}"
        lines += [
            "BEGIN:VEVENT",
            f"UID:{uuid.uuid5(_NAMESPACE, key)}@mealcalc",
            f"DTSTAMP:{made}",
            f"DTSTART;VALUE=DATE:{when:%Y%m%d}",
            f"DTEND;VALUE=DATE:{when + timedelta(days=1):%Y%m%d}",
            f"SUMMARY:{_escaped(summary)}",
            f"DESCRIPTION:{_escaped(description)}",
            f"CATEGORIES:{_escaped(what)}",
            "TRANSP:TRANSPARENT",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def _events(keeping: Keeping) -> list[tuple[date, str, str, str]]:
    """Day, kind, summary and description of each event, in order."""
    plan, title = keeping.plan, one_line(keeping.title, LONGEST_TITLE)
    found: list[tuple[date, str, str, str]] = []
    frozen = [c for c in plan.containers if c.frozen_on is not None]
    if frozen:
        best = ""
        if plan.freezer_limit is not None and plan.freezer_best_before is not None:
            best = f"Best before {plan.freezer_best_before} by {listed_as(plan.freezer_limit)}."
        found.append(
            (plan.cooked, "freeze", f"Freeze {_count(frozen)}: {title}", f"As soon as cold. {best}\n{_CAUTION}")
        )
    chilled = [c for c in plan.containers if c.frozen_on is None]
    if plan.fridge_limit is not None and plan.fridge_limit.last_day is not None and chilled:
        by = plan.fridge_limit
        text = f"Last day in the refrigerator by {listed_as(by)}: {by.guidance.wording}.\n{_CAUTION}"
        found.append((plan.fridge_limit.last_day, "last day", f"Last day in the refrigerator: {title}", text))
    for group in alike(plan.containers):
        first = group[0]
        if first.thaw_from is not None:
            text = f"Containers {numbers(group)}, to eat on {first.eat_on}."
            if plan.thaw is not None:
                text += f" {listed_as(plan.thaw)}: {plan.thaw.guidance.wording}."
            found.append(
                (first.thaw_from, "thaw", f"Freezer to refrigerator, {_count(group)}: {title}", f"{text}\n{_CAUTION}")
            )
        last = "No guidance covers this day." if not first.covered else f"Last day: {first.last_day}."
        if first.covered and first.limit is not None:
            last += f" By {listed_as(first.limit)}: {first.limit.guidance.wording}."
        found.append((first.eat_on, "eat", f"Eat {_count(group)}: {title}", f"{last}\n{_CAUTION}"))
    return sorted(found, key=lambda event: event[0])


def _count(containers: Sequence[ContainerPlan]) -> str:
    return f"{len(containers)} container{'' if len(containers) == 1 else 's'}"


def _escaped(text: str) -> str:
    for plain, escaped in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(plain, escaped)
    return text


def _folded(line: str) -> list[str]:
    """The line in pieces of at most 75 octets, continued ones with a blank in front; no character is cut in two."""
    pieces, piece = [], ""
    for character in line:
        if len((piece + character).encode("utf-8")) > LONGEST_LINE_OCTETS:
            pieces.append(piece)
            piece = " "
        piece += character
    return [*pieces, piece]
