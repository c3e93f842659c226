"""What is not known of a dish, how the panel prints it, and what it says about the way out."""

import pytest

from mealcalc.labelling.panel import make_panel
from mealcalc.labelling.schemes import SCHEMES
from tests.labelling.dishes import EVERYTHING, dish, line


def test_salt_to_taste_makes_sodium_a_minimum_and_says_what_to_enter() -> None:
    pot = dish(
        line(3, "400 g beans", 400.0, EVERYTHING, nitrogen_factor=6.25),
        line(
            4,
            "salt to taste",
            None,
            {},
            counted=False,
            incomplete_keys=frozenset(["NA_MG"]),
            per_gram={"NA_MG": 387.58},
        ),
        cooked_mass_g=400.0,
        portions=4,
    )
    panel = make_panel(pot, "anz")
    sodium = panel.row("sodium")
    assert sodium.printed_per_portion == "at least 50 mg"
    assert sodium.percent == "at least 2%"
    assert not sodium.complete
    assert sodium.raw_per_portion == 50.0
    assert sodium.known_share == 1.0
    assert "line 4 'salt to taste' has no amount: write one (each gram brings 97 mg per container)" in sodium.note
    assert panel.row("protein").complete
    assert not panel.complete
    found = next(d for d in panel.diagnostics if d.code == "line-without-amount")
    assert found.message == "line 4 'salt to taste' has no amount: sodium can be given as a minimum only"
    assert "6 g" in found.hint


def test_salt_rows_follow_sodium() -> None:
    salted = dish(
        line(1, "beans", 400.0, EVERYTHING),
        line(
            2, "salt to taste", None, {}, counted=False, incomplete_keys=frozenset(["NA_MG"]), per_gram={"NA_MG": 400.0}
        ),
    )
    salt = make_panel(salted, "eu").row("salt")
    assert salt.printed_per_portion == "at least 0.50 g"
    assert "each gram brings 1 g per container" in salt.note


def test_a_minimum_of_nothing_is_not_determined() -> None:
    plain = dish(
        line(1, "rice", 400.0, EVERYTHING | {"NA_MG": 3.0}),
        line(2, "salt to taste", None, {}, counted=False, incomplete_keys=frozenset(["NA_MG"])),
    )
    for scheme in SCHEMES:
        row = make_panel(plain, scheme).row("NACL_G" if scheme in ("eu", "uk") else "NA_MG")
        assert row.printed_per_portion == "not determined" or row.printed_per_portion.startswith("at least")
    assert make_panel(plain, "us").row("sodium").printed_per_portion == "not determined"


def test_a_gap_that_cannot_matter_is_said_and_not_shown() -> None:
    spiced = dish(
        line(1, "beans", 400.0, EVERYTHING),
        line(
            2, "1 bay leaf", 0.2, {**EVERYTHING, "SUGAR_G": None, "CHOCDF_G": 0.1, "CHOAVLDF_G": 0.08, "FIBTG_G": 0.05}
        ),
    )
    sugars = make_panel(spiced, "us").row("sugars")
    assert sugars.printed_per_portion == "3 g"
    assert sugars.complete
    assert sugars.known_share < 1
    assert "line 2 '1 bay leaf': no value in the food table" in sugars.note
    assert "changes nothing here" in sugars.note


def test_a_gap_that_can_matter_makes_a_minimum() -> None:
    pot = dish(line(1, "beans", 400.0, EVERYTHING), line(2, "millet", 400.0, {**EVERYTHING, "SUGAR_G": None}))
    panel = make_panel(pot, "us")
    assert panel.row("sugars").printed_per_portion == "at least 3 g"
    assert [d.code for d in panel.diagnostics] == ["value-not-in-table"]


def test_an_unmatched_line_leaves_every_row_open() -> None:
    unmatched = dish(line(1, "beans", 400.0, EVERYTHING), line(2, "black cardamom", None, {}), cooked_mass_g=None)
    panel = make_panel(unmatched, "us")
    assert all(
        "at least" in row.printed_per_portion or row.printed_per_portion == "not determined" for row in panel.rows
    )
    assert panel.row("calories").known_share == 0.5
    assert "line 2 'black cardamom': no food or no mass is known for it" in panel.row("calories").note
    assert "line-not-counted" in [d.code for d in panel.diagnostics]


def test_without_a_cooked_weight_nothing_is_stated_per_100g() -> None:
    unweighed = dish(line(1, "beans", 400.0, EVERYTHING), cooked_mass_g=None)
    panel = make_panel(unweighed, "eu")
    assert panel.row("fat").printed_per_100g == "not known"
    assert panel.row("fat").raw_per_100g is None
    assert panel.row("fat").printed_per_portion == "8.0 g"
    assert "weigh the cooked dish" in panel.serving[0]
    found = next(d for d in panel.diagnostics if d.code == "no-cooked-weight")
    assert "cooked_weight" in found.hint
    assert not panel.complete
    assert make_panel(unweighed, "us").row("fat").printed_per_portion == "8 g"


def test_an_estimated_weight_is_said() -> None:
    estimated = dish(line(1, "beans", 400.0, EVERYTHING), cooked_mass_estimated=True)
    assert [d.code for d in make_panel(estimated, "eu").diagnostics] == ["cooked-weight-estimated"]


@pytest.mark.parametrize("text", ["<b>beans</b>", '"; DROP', "🫘" * 20, "\u202eabc", "x" * 10_000])
def test_odd_texts_are_carried_and_cut(text: str) -> None:
    odd = dish(line(1, text, 400.0, EVERYTHING), line(2, text, 400.0, EVERYTHING | {"SUGAR_G": None}))
    note = make_panel(odd, "us").row("sugars").note
    assert len(note) < 400
    assert text[:10] in note


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_dish_without_lines_has_a_panel_without_figures(scheme: str) -> None:
    panel = make_panel(dish(), scheme)
    assert {row.printed_per_portion for row in panel.rows} == {"not determined"}
    assert all(row.raw_per_portion is None for row in panel.rows)
