"""`mealcalc keep` and `mealcalc freezer` through the real command."""

import csv
import io
import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import icalendar
import pytest

from tests.command import EXAMPLES, mealcalc, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"
PROMISES = re.compile(r"\b(is|are) safe\b|\bsafe to\b", re.IGNORECASE)
TODAY = datetime.now().astimezone().date()


def test_guidance_stands_side_by_side_strictest_first() -> None:
    answer = mealcalc("keep", SMOKY, "--cooked", TODAY.isoformat())
    assert answer.status == 0
    assert answer.err == ""
    text = answer.out
    places = [
        text.index(words)
        for words in (
            "Guidance, not a safety assurance",
            "In the refrigerator (strictest first)",
            "1 day     Food Standards Agency (United Kingdom)",
            "2 days    Food Standards Scotland (Scotland)",
            "3 days    Safefood (Ireland)",
            "3-4 days  USDA FSIS FoodKeeper (United States)",
            "7 days    FDA Food Code (United States)",
            "In the freezer (strictest first)",
            "Reheating (strictest first)",
            "Reheat once only (Food Standards Agency (United Kingdom)).",
            "local food law and your own thermometer come first",
        )
    ]
    assert places == sorted(places)


def test_the_plan_is_in_the_machine_shape() -> None:
    shape = mealcalc("keep", SMOKY, "--cooked", "2026-03-02", "--eat-per-day", "2", "--json").json
    assert shape["refrigerator_limit"]["authority"] == "uk_fsa"
    assert shape["refrigerator_limit"]["components"] == ["Brown rice"]
    assert shape["freezer_best_before"] == "2026-04-02"
    assert [(c["kept_in"], c["eat_on"], c["thaw_from"]) for c in shape["plan"]] == [
        ("refrigerator", "2026-03-03", None),
        ("refrigerator", "2026-03-03", None),
        ("freezer", "2026-03-04", "2026-03-03"),
        ("freezer", "2026-03-04", "2026-03-03"),
        ("freezer", "2026-03-05", "2026-03-04"),
        ("freezer", "2026-03-05", "2026-03-04"),
    ]
    for rows in shape["guidance"].values():
        for row in rows:
            assert row["jurisdiction"]
            assert row["source"]
            assert row["mark"]


def test_the_plan_is_a_table_for_spreadsheets() -> None:
    answer = mealcalc("keep", SMOKY, "--cooked", "2026-03-02", "--csv", "--containers", "3")
    rows = list(csv.DictReader(io.StringIO(answer.out)))
    assert [row["container"] for row in rows] == ["1", "2", "3"]
    assert rows[0]["authority"] == "Food Standards Agency"
    assert rows[0]["last_day"] == "2026-03-03"
    assert rows[1]["frozen_on"] == "2026-03-02"


def test_authorities_can_be_chosen() -> None:
    shape = mealcalc("keep", SMOKY, "--authority", "us", "--authority", "ie", "--cooked", "2026-03-02", "--json").json
    found = {row["authority"] for row in shape["guidance"]["refrigerator"]}
    assert found == {"us_foodkeeper", "us_usda", "us_illinois", "us_fda", "ie_safefood"}
    assert mealcalc("keep", SMOKY, "--authority", "uk_fsa,us_fda", "--json").json["plan"][0]["authority"] == "uk_fsa"


def test_an_unknown_authority_is_answered_with_the_known_ones() -> None:
    answer = mealcalc("keep", SMOKY, "--authority", "atlantis")
    assert answer.status == 2
    assert "error: no authority 'atlantis'" in answer.err
    assert "uk_fsa" in answer.err
    assert answer.out == ""


def test_all_shows_every_topic_with_its_source() -> None:
    answer = mealcalc("keep", SMOKY, "--all")
    for words in ("Cooking (strictest first)", "Keeping hot", "Headspace for freezing", "product ID"):
        assert words in answer.out


def test_a_calendar_is_written_and_another_file_is_left_alone(kitchen: Path) -> None:
    answer = mealcalc("keep", SMOKY, "--cooked", "2026-03-02", "--from", "2026-03-03", "--ics", "week.ics")
    assert "calendar written to week.ics" in answer.err
    calendar = icalendar.Calendar.from_ical((kitchen / "week.ics").read_bytes())
    events = calendar.walk("VEVENT")
    assert len(events) == 13
    assert {e.decoded("DTSTAMP").date() for e in events} <= {
        datetime.now(UTC).date(),
        datetime.now(UTC).date() - timedelta(1),
    }
    assert mealcalc("keep", SMOKY, "--ics", "week.ics").status == 0  # its own kind may be written over
    write(kitchen, "notes.txt", "my notes\n")
    answer = mealcalc("keep", SMOKY, "--ics", "notes.txt")
    assert answer.status == 2
    assert "notes.txt is not a calendar file, and is left as it is" in answer.err
    assert (kitchen / "notes.txt").read_text(encoding="utf-8") == "my notes\n"
    assert "cannot be written" in mealcalc("keep", SMOKY, "--ics", "notes.txt/x.ics").err


def test_dates_in_the_past_are_warned_about() -> None:
    answer = mealcalc("keep", SMOKY, "--cooked", (TODAY - timedelta(days=30)).isoformat())
    assert answer.status == 0
    assert "warning: the plan puts containers 1, 2, 3, 4, 5 and 6 before today" in answer.err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--cooked", "yesterday"], "--cooked 'yesterday' is no date"),
        (["--cooked", "2026-02-30"], "--cooked '2026-02-30' is no date"),
        (["--cooked", "0026-02-03"], "the year is not between 2000 and 2100"),
        (["--cooked", "2026-03-02", "--from", "2026-03-01"], "before cooking on 2026-03-02"),
        (["--eat-per-day", "0"], "--eat-per-day"),
        (["--containers", "0"], "--containers"),
        (["--json", "--csv"], "exclude each other"),
    ],
)
def test_wrong_usage(arguments: list[str], words: str) -> None:
    answer = mealcalc("keep", SMOKY, *arguments)
    assert answer.status == 2
    assert words in answer.err
    assert answer.out == ""


def test_a_file_that_is_no_recipe_ends_as_bad_data(kitchen: Path) -> None:
    write(kitchen, "empty.txt", "\n")
    assert mealcalc("keep", "empty.txt").status == 1
    assert mealcalc("keep", "nothing.txt").status == 2


def test_a_line_that_does_not_count_fails_the_command_but_not_the_answer() -> None:
    answer = mealcalc(
        "keep", "-", "--region", "uk", "--containers", "2", given="400 g brown rice\n300 g wobbleberries\n"
    )
    assert answer.status == 1
    assert "cooked rice" in answer.out


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.name)
@pytest.mark.parametrize("shape", [[], ["--all"], ["--json"], ["--csv"]])
def test_nothing_is_ever_called_safe(example: Path, shape: list[str]) -> None:
    answer = mealcalc("keep", example, *shape)
    assert answer.status == 0
    assert not PROMISES.search(answer.out + answer.err)


def test_containers_go_into_the_freezer_and_come_out(kitchen: Path) -> None:
    batch = write(kitchen, "smoky.batch.yaml", SMOKY.read_text(encoding="utf-8"))
    cooked = TODAY - timedelta(days=1)
    added = mealcalc("freezer", "add", batch, "--containers", "4", "--cooked", cooked.isoformat())
    assert added.status == 0
    assert "4 of Smoky bean and turkey pots added to" in added.err
    listed = mealcalc("freezer", "list", "--json").json
    assert [(row["batch"], row["containers"], row["cooked"], row["past"]) for row in listed] == [
        ("Smoky bean and turkey pots", 4, cooked.isoformat(), False)
    ]
    assert "USDA FSIS FoodKeeper (United States), poultry in gravy or broth" in listed[0]["guidance"]
    taken = mealcalc("freezer", "take", "smoky", "--containers", "3")
    assert "3 of Smoky bean and turkey pots taken out; containers left in freezer.yaml: 1" in taken.err
    text = mealcalc("freezer", "list").out
    assert "Smoky bean and turkey pots" in text
    assert not PROMISES.search(text)
    assert mealcalc("freezer", "take", "smoky").status == 0
    assert mealcalc("freezer", "list").out == "The freezer's list is empty.\n"
    assert mealcalc("freezer", "take", "smoky").status == 2


def test_what_is_frozen_late_or_past_its_months_is_told(kitchen: Path) -> None:
    late = date(2026, 1, 20).isoformat()
    answer = mealcalc(
        "freezer", "add", SMOKY, "--containers", "1", "--cooked", "2026-01-02", "--frozen", late, "--stock", "f.yaml"
    )
    assert "warning: frozen on 2026-01-20, after 2026-01-03" in answer.err
    assert (kitchen / "f.yaml").exists()
    write(
        kitchen,
        "freezer.yaml",
        "freezer:\n- {batch: Soup, containers: 1, cooked: 2020-01-01, frozen: 2020-01-01, best_before: 2020-03-01}\n",
    )
    assert ", past" in mealcalc("freezer", "list").out


def test_freezing_what_is_better_not_frozen_is_told(kitchen: Path) -> None:
    write(
        kitchen,
        "s.batch.yaml",
        "title: S\nregion: uk\ncontainers: 2\ncomponents:\n- name: Pasta salad\n  ingredients: 400 g dried penne\n",
    )
    answer = mealcalc("freezer", "add", "s.batch.yaml", "--containers", "1")
    assert answer.status == 0
    assert "pasta salad: freezing is not recommended" in answer.err


def test_a_damaged_freezer_list_is_told_and_kept(kitchen: Path) -> None:
    write(kitchen, "freezer.yaml", "freezer: nonsense\n")
    answer = mealcalc("freezer", "list")
    assert answer.status == 1
    assert "no list 'freezer'" in answer.err
    assert mealcalc("freezer", "add", SMOKY, "--containers", "1", "--stock", "freezer.yaml").status == 1
    assert (kitchen / "freezer.yaml").read_text(encoding="utf-8") == "freezer: nonsense\n"
