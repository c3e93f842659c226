"""The calendar file, read back by a library that knows RFC 5545."""

from datetime import UTC, date, datetime, timedelta, timezone

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.planning.date_plan import make_plan
from mealcalc.planning.keeping import guidance_for
from mealcalc.records.keeping import ComponentKinds, Keeping
from mealcalc.reference.keeping_tables import chosen_authorities, dish_kinds
from mealcalc.reports.keeping_calendar import LONGEST_LINE_OCTETS, keeping_calendar

COOKED = date(2026, 3, 2)
STAMP = datetime(2026, 3, 2, 20, 15, tzinfo=timezone(timedelta(hours=11)))


def _keeping(title: str = "Rice and beans", containers: int = 4, names: tuple[str, ...] = ()) -> Keeping:
    component = ComponentKinds("Rice", ((dish_kinds()["rice"], "rice"), (dish_kinds()["any"], "")))
    topics = guidance_for([component], chosen_authorities(names), COOKED)
    plan, _ = make_plan(topics, containers, 400.0, COOKED, 1, COOKED + timedelta(days=1), None)
    return Keeping(title, containers, 400.0, (component,), topics, (), plan)


def _events(text: str) -> list[icalendar.Event]:
    calendar = icalendar.Calendar.from_ical(text)
    assert calendar.errors == []
    return [event for event in calendar.walk("VEVENT") if isinstance(event, icalendar.Event)]


def test_the_calendar_holds_the_plan() -> None:
    found = [(e.decoded("DTSTART"), str(e["SUMMARY"])) for e in _events(keeping_calendar(_keeping(), STAMP))]
    day = timedelta(days=1)
    assert found == [
        (COOKED, "Freeze 3 containers: Rice and beans"),
        (COOKED + day, "Last day in the refrigerator: Rice and beans"),
        (COOKED + day, "Eat 1 container: Rice and beans"),
        (COOKED + day, "Freezer to refrigerator, 1 container: Rice and beans"),
        (COOKED + 2 * day, "Eat 1 container: Rice and beans"),
        (COOKED + 2 * day, "Freezer to refrigerator, 1 container: Rice and beans"),
        (COOKED + 3 * day, "Eat 1 container: Rice and beans"),
        (COOKED + 3 * day, "Freezer to refrigerator, 1 container: Rice and beans"),
        (COOKED + 4 * day, "Eat 1 container: Rice and beans"),
    ]


def test_events_are_whole_days_with_identifiers_that_stay() -> None:
    events = _events(keeping_calendar(_keeping(), STAMP))
    for event in events:
        assert event.decoded("DTEND") - event.decoded("DTSTART") == timedelta(days=1)
        assert event.decoded("DTSTAMP") == datetime(2026, 3, 2, 9, 15, tzinfo=UTC)
        assert str(event["TRANSP"]) == "TRANSPARENT"
        assert "Guidance, not a safety assurance" in str(event["DESCRIPTION"])
    identifiers = [str(event["UID"]) for event in events]
    assert len(set(identifiers)) == len(identifiers)
    later = _events(keeping_calendar(_keeping(), STAMP + timedelta(days=1)))
    assert [str(event["UID"]) for event in later] == identifiers
    other = _events(keeping_calendar(_keeping("Other"), STAMP))
    assert not {str(event["UID"]) for event in other} & set(identifiers)


def test_every_statement_names_its_authority() -> None:
    (last,) = [e for e in _events(keeping_calendar(_keeping(), STAMP)) if str(e["SUMMARY"]).startswith("Last day")]
    assert "Food Standards Agency (United Kingdom): cooked rice" in str(last["DESCRIPTION"])


def test_a_plan_without_guidance_is_still_a_calendar() -> None:
    events = _events(keeping_calendar(_keeping(names=("au_fsanz",)), STAMP))
    assert len(events) == 4
    assert all("No guidance covers this day." in str(event["DESCRIPTION"]) for event in events)


@given(st.text(st.characters(codec="utf-8"), min_size=1, max_size=100))
def test_any_title_comes_through(title: str) -> None:
    text = keeping_calendar(_keeping(title), STAMP)
    assert text.endswith("END:VCALENDAR\r\n")
    for line in text.encode("utf-8").split(b"\r\n"):
        assert len(line) <= LONGEST_LINE_OCTETS
        assert b"\n" not in line
        assert b"\r" not in line
    summary = str(_events(text)[0]["SUMMARY"])
    shown = summary.removeprefix("Freeze 3 containers: ")
    assert "".join(shown.split()) == "".join("".join(c for c in shown if not c.isspace()))
    for letter in filter(str.isalnum, title):
        assert letter in shown


@pytest.mark.parametrize("title", ["a;b,c\\d", "Soup \\n and stew", "x" * 120, "é" * 100, "飯" * 60])
def test_what_has_a_meaning_in_the_format_is_escaped(title: str) -> None:
    assert str(_events(keeping_calendar(_keeping(title), STAMP))[0]["SUMMARY"]) == f"Freeze 3 containers: {title}"
