"""`mealcalc cool` through the real command."""

import csv
import io
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.command import EXAMPLES, ROOT, mealcalc, process_environment, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"
STEW = "--water 76 --protein 8 --fat 6 --carbohydrate 8 --fibre 1 --ash 1".split()
PROMISES = re.compile(r"\b(is|are) safe\b|\bsafe to\b", re.IGNORECASE)


def test_a_prediction_stands_against_the_limits_with_all_it_rests_on() -> None:
    answer = mealcalc("cool", SMOKY, "--depth", "5cm", "--authority", "us_fda")
    assert answer.status == 0
    assert answer.err == ""
    text = " ".join(answer.out.split())
    for words in (
        "plastic tray, food 5 cm deep, no lid, not stirred",
        "In refrigerator, still to moving air at 3 C",
        "not a safety assurance: check with a probe",
        "57 C to 21 C within 2 hours",
        "predicted to miss it",
        "Beans and turkey",
        "Stacked containers, or ones that touch, are worse.",
        "A refrigerator that the food warms, that is full or often opened is worse.",
        "engineering assumption",
        "shallow pans",
        "ice-water bath",
    ):
        assert words in text, words


def test_the_machine_shape_gives_bands_properties_and_sources() -> None:
    shape = mealcalc("cool", *STEW, "--depth", "2.5cm", "--place", "blast", "--json").json
    (food,) = shape["foods"]
    assert food["conductivity_w_mk"] == pytest.approx(0.537, abs=0.001)
    hours = food["hours_until_no_part_is_warmer"]["21"]
    assert hours["fast"] < hours["typical"] < hours["slow"]
    assert food["limits"][0]["outcome"] == "meets"
    assert food["limits"][0]["outcome_in_words"].endswith("check with a probe")
    assert all(limit["source"] and limit["jurisdiction"] for limit in food["limits"])
    assert len(food["curve"]["hours"]) == len(food["curve"]["slow_c"]) > 100


def test_never_is_null_for_programs_and_a_word_for_people() -> None:
    arguments = ("cool", *STEW, "--depth", "5cm", "--air", "7C", "--authority", "au_fsanz")
    answer = mealcalc(*arguments, "--json")
    assert answer.status == 0
    assert answer.json["foods"][0]["limits"][1]["hours"]["slow"] is None
    assert "warning: refrigerator, still to moving air at 7 C: food never gets colder than that" in answer.err
    assert "never" in mealcalc(*arguments).out


def test_the_table_for_spreadsheets_has_a_row_for_each_food_and_limit() -> None:
    rows = list(csv.DictReader(io.StringIO(mealcalc("cool", SMOKY, "--depth", "3cm", "--csv").out)))
    assert len(rows) == 3 * 8
    assert {row["jurisdiction"] for row in rows} == {"United States", "Australia", "Canada", "New Zealand"}


def test_the_depth_follows_from_the_weight_where_none_is_given() -> None:
    shape = mealcalc("cool", SMOKY, "--container", "box", "--length", "18cm", "--width", "12cm", "--json").json
    assert 2.5 < shape["depth_cm"] < 3.5  # about 650 g on 216 cm2
    round_pot = mealcalc("cool", SMOKY, "--container", "pot", "--diameter", "12cm", "--json").json
    assert round_pot["depth_cm"] == pytest.approx(shape["depth_cm"] * 0.18 * 0.12 / (3.14159 * 0.06**2), rel=1e-3)


def test_ice_bath_room_and_stirring_are_said() -> None:
    ice = mealcalc(
        "cool", *STEW, "--depth", "15cm", "--container", "pot", "--diameter", "24cm", "--ice-bath", "--stirred"
    )
    assert "In ice-water bath, stirred at 0.5 C" in ice.out
    assert "stirred all the time" in ice.out
    room = mealcalc("cool", *STEW, "--depth", "3cm", "--room", "21C", "--room-time", "90min", "--authority", "uk")
    assert "In room, still air at 21 C for 1.5 h, then refrigerator" in room.out
    assert "1.5 h is over it" in " ".join(room.out.split())


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_the_curve_is_drawn(kitchen: Path, ending: str) -> None:
    answer = mealcalc("cool", SMOKY, "--depth", "4cm", "--plot", f"curve.{ending}")
    assert answer.status == 0
    assert f"curve drawn in curve.{ending}" in answer.err
    content = (kitchen / f"curve.{ending}").read_bytes()
    assert len(content) > 5000
    assert content.startswith({"png": b"\x89PNG", "svg": b"<?xml", "pdf": b"%PDF"}[ending])
    if ending == "svg":
        assert b"check with a probe" in content or b"<path" in content


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([SMOKY], "how deep is the food?"),
        ([SMOKY, "--depth", "0cm"], "--depth '0cm' is not above 0"),
        ([SMOKY, "--depth", "5"], "--depth '5' is no length"),
        ([SMOKY, "--depth", "5m"], "at most 50 cm deep"),
        ([SMOKY, "--depth", "-5cm"], "is not above 0"),
        ([SMOKY, "--depth", "5cm", "--air", "-18C"], "the model knows no ice"),
        ([SMOKY, "--depth", "5cm", "--start", "-4C"], "food starts above 0"),
        ([SMOKY, "--depth", "5cm", "--start", "2C"], "nothing cools"),
        ([SMOKY, "--depth", "5cm", "--air", "70C"], "nothing cools"),
        ([SMOKY, "--depth", "5cm", "--room", "2C"], "warmer than what comes before"),
        ([SMOKY, "--depth", "5cm", "--room", "21C", "--room-time", "0h"], "--room-time '0h' is not above 0"),
        ([SMOKY, "--depth", "5cm", "--air", "4C", "--ice-bath"], "exclude each other"),
        ([SMOKY, "--depth", "5cm", "--container", "box"], "a box needs its length"),
        ([SMOKY, "--depth", "5cm", "--container", "pot"], "a pot needs its diameter"),
        ([SMOKY, "--depth", "5cm", "--material", "wood"], "no container material 'wood'"),
        ([SMOKY, "--depth", "5cm", "--authority", "atlantis"], "no authority 'atlantis'"),
        ([SMOKY, "--depth", "5cm", *STEW], "either a recipe file or a composition"),
        (["--depth", "5cm"], "either a recipe file or a composition"),
        (["--depth", "5cm", "--protein", "20"], "no composition"),
        (["--depth", "5cm", "--water", "20"], "add up to 20 g"),
        (["--depth", "5cm", "--water", "nan"], "water nan"),
        ([SMOKY, "--depth", "5cm", "--plot", "curve.gif"], "a picture ends in"),
        ([SMOKY, "--depth", "5cm", "--plot", "no/folder/curve.png"], "cannot be written"),
        ([SMOKY, "--depth", "5cm", "--json", "--csv"], "exclude each other"),
    ],
)
def test_bad_input_is_told_with_the_way_out(arguments: list[str], words: str) -> None:
    answer = mealcalc("cool", *arguments)
    assert answer.status == 2
    assert words in answer.err
    assert "hint: " in answer.err or "exclude each other" in answer.err
    assert answer.out == ""


def test_without_a_composition_there_is_no_prediction(kitchen: Path) -> None:
    write(kitchen, "unknown.txt", "300 g wobbleberries\n")
    answer = mealcalc("cool", "unknown.txt", "--depth", "5cm")
    assert answer.status == 1
    assert "its cooling cannot be predicted" in answer.err
    assert "--water" in answer.err
    assert answer.out == ""


@pytest.mark.parametrize(
    "extra", [[], ["--json"], ["--csv"], ["--ice-bath"], ["--lid", "--on", "shelf"], ["--ambient"]]
)
def test_nothing_is_ever_called_safe(extra: list[str]) -> None:
    answer = mealcalc("cool", SMOKY, "--depth", "1cm", *extra)
    assert answer.status == 0
    assert not PROMISES.search(answer.out + answer.err)


def test_no_part_of_the_sources_promises_safety() -> None:
    """The words stand nowhere that could be printed."""
    for path in (ROOT / "mealcalc").rglob("*"):
        if path.suffix in (".py", ".csv") and any(word in path.name for word in ("keep", "cool", "freezer", "dish")):
            assert not PROMISES.search(path.read_text(encoding="utf-8")), path


def test_macros_pays_nothing_for_physics() -> None:
    code = (
        "import sys\nfrom click.testing import CliRunner\nfrom mealcalc.cli.app import app\n"
        f"assert CliRunner().invoke(app, ['macros', {str(SMOKY)!r}]).exit_code == 0\n"
        "print([m for m in ('numpy', 'scipy', 'matplotlib') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=process_environment(), capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
