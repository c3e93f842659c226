"""A weight from the scale against what went in and what its foods allow."""

import pytest

from mealcalc.diagnostics import Severity
from mealcalc.records import Food
from tests.calculation.kitchen import codes, cooked_dish, weighed

Foods = dict[str, Food]
RICE, WATER = "20444", "14411"


def noticed(foods: Foods, words: str, parts: list[tuple[str, float]], weighed_g: float) -> list[str]:
    result = cooked_dish(words, *(weighed(foods[code], mass) for code, mass in parts), cooked_mass_g=weighed_g)
    assert result.cooked_mass_g == weighed_g
    return [code for code in codes(result) if code.startswith("cooked-weight")]


@pytest.mark.parametrize(
    ("words", "parts", "weighed_g", "expected"),
    [
        # Congee may take up ten times its weight, meat may not.
        ("simmered 1 h", [(RICE, 200)], 2200, ["cooked-weight-above-all-in"]),
        ("simmered 1 h", [(RICE, 200)], 3000, ["cooked-weight-high"]),
        ("simmered 1 h", [("13803", 1000)], 1200, ["cooked-weight-high"]),
        ("roasted", [("05062", 1000)], 700, []),
        ("roasted", [("05062", 1000)], 1250, ["cooked-weight-high"]),
        ("roasted", [("05062", 1000)], 320, ["cooked-weight-low"]),
        # Less than the dry matter cannot be.
        ("roasted", [("05062", 1000)], 200, ["cooked-weight-impossible"]),
        # More than all that went in though the water is listed.
        ("absorbed", [(RICE, 400), (WATER, 800)], 1190, []),
        ("absorbed", [(RICE, 400), (WATER, 800)], 1500, ["cooked-weight-above-all-in"]),
        # Water that is poured off is not what went in.
        ("boiled and drained", [("20420", 500), (WATER, 5000)], 1200, ["cooked-weight-above-all-in"]),
        ("boiled and drained", [("20420", 500), (WATER, 5000)], 4000, ["cooked-weight-high"]),
        # What swells alone weighs more cooked than dry; in a sauce it takes its water from there.
        ("absorbed", [(RICE, 400)], 450, ["cooked-weight-low"]),
        ("simmered", [("16069", 200), ("11531", 800)], 800, []),
        ("simmered", [("11531", 800)], 780, []),
        # Nothing said of cooking: any method may be meant.
        ("", [(RICE, 400)], 1150, ["cooked-weight-above-all-in"]),
        ("", [("05062", 500)], 380, []),
        ("", [("05062", 500)], 700, ["cooked-weight-high"]),
    ],
)
def test_what_the_foods_allow(
    all_foods: Foods, words: str, parts: list[tuple[str, float]], weighed_g: float, expected: list[str]
) -> None:
    assert noticed(all_foods, words, parts, weighed_g) == expected


def test_scales_are_believed_to_two_percent(all_foods: Foods) -> None:
    assert noticed(all_foods, "simmered", [("11531", 1000), (WATER, 200)], 1215) == []
    assert noticed(all_foods, "simmered", [("11531", 1000), (WATER, 200)], 1240) == ["cooked-weight-above-all-in"]


@pytest.mark.parametrize(
    ("parts", "weighed_g", "severity", "words"),
    [
        ([("05062", 1000)], 200, Severity.ERROR, "less than the dry matter"),
        ([("05062", 1000)], 1300, Severity.WARNING, "at most 1050 g"),
        ([("05062", 1000)], 330, Severity.WARNING, "at least 350 g"),
        ([(RICE, 400), (WATER, 800)], 1300, Severity.WARNING, "more than all that went in, 1200 g"),
        ([(RICE, 400)], 1100, Severity.NOTE, "counted as water taken up"),
    ],
)
def test_the_message_says_how_much_and_what_to_do(
    all_foods: Foods, parts: list[tuple[str, float]], weighed_g: float, severity: Severity, words: str
) -> None:
    result = cooked_dish("cooked", *(weighed(all_foods[code], mass) for code, mass in parts), cooked_mass_g=weighed_g)
    (finding,) = [d for d in result.diagnostics if d.code.startswith("cooked-weight")]
    assert finding.severity is severity
    assert words in finding.message
    assert f"{weighed_g:.0f} g" in finding.message
    assert finding.hint == "check the scale, the tare, and that every line is listed"


def test_an_impossible_weight_is_used_with_no_water_in_it(all_foods: Foods) -> None:
    result = cooked_dish("roasted", weighed(all_foods["05062"], 1000), cooked_mass_g=200)
    assert result.totals["WATER_G"].amount == 0
    assert result.per_100g is not None
    assert result.per_100g["PROCNT_G"].amount == pytest.approx(result.totals["PROCNT_G"].amount / 2)


def test_without_a_scale_nothing_is_checked(all_foods: Foods) -> None:
    assert codes(cooked_dish("roasted", weighed(all_foods["05062"], 1000))) == []
