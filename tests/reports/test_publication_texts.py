"""Measures side by side, sheets of labels, figures in words."""

import pytest

from mealcalc.errors import UsageError
from mealcalc.reports.kitchen_measures import us_volume
from mealcalc.reports.publication import both_masses
from mealcalc.reports.sheets import SHEETS, sheet_named, usual_sheet


@pytest.mark.parametrize(
    ("volume_ml", "words"),
    [
        (236.588, "1 US cup"),
        (473.18, "2 US cups"),
        (900, "3 3/4 US cups"),
        (59.15, "1/4 US cup"),
        (15, "1 US tbsp"),
        (20, "1 1/2 US tbsp"),
        (5, "1 US tsp"),
        (1.25, "1/4 US tsp"),
        (0.3, "less than 1/4 US tsp"),
    ],
)
def test_volumes_in_us_measures(volume_ml: float, words: str) -> None:
    # NIST Handbook 44, appendix C: cup 236.5882 ml, tablespoon 14.78676 ml, teaspoon 4.928922 ml.
    assert us_volume(volume_ml) == words


def test_masses_in_both_systems() -> None:
    # 1 oz = 28.349523125 g, exact.
    assert both_masses(28.349523125) == "28 g (1.0 oz)"
    assert both_masses(1.5) == "1.5 g"


@pytest.mark.parametrize("name", SHEETS)
def test_labels_lie_on_the_paper_and_do_not_overlap(name: str) -> None:
    sheet = SHEETS[name]
    places = list(sheet.places())
    assert len(places) == sheet.count
    for left, top in places:
        assert left >= 0
        assert top >= 0
        assert left + sheet.width_mm <= sheet.paper_mm[0] + 0.01
        assert top + sheet.height_mm <= sheet.paper_mm[1] + 0.01
    assert sheet.column_pitch_mm >= sheet.width_mm
    assert sheet.row_pitch_mm >= sheet.height_mm
    # Sheets are cut in the middle: the right margin is the left one, the bottom margin the top one.
    right = sheet.paper_mm[0] - places[-1][0] - sheet.width_mm
    bottom = sheet.paper_mm[1] - places[-1][1] - sheet.height_mm
    assert right == pytest.approx(sheet.left_mm, abs=0.1)
    assert bottom == pytest.approx(sheet.top_mm, abs=0.1)


def test_an_unknown_sheet_lists_those_there_are() -> None:
    with pytest.raises(UsageError) as raised:
        sheet_named("b5")
    assert "a4-14 (99.1 x 38.1 mm)" in raised.value.hint
    assert usual_sheet("us").name.startswith("letter")
    assert usual_sheet("uk").name.startswith("a4")
