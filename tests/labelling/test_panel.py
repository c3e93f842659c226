"""Panels: rows in the order of the law, definitions by scheme, what is not known and what is said about it."""

import pytest

from mealcalc.errors import UsageError
from mealcalc.labelling.panel import Panel, make_panel
from mealcalc.labelling.panel_input import Product, SugarKind
from mealcalc.labelling.quantities import quantity
from mealcalc.labelling.schemes import SCHEMES, scheme_named
from mealcalc.reference.label_tables import label_rows
from tests.labelling.dishes import EVERYTHING, dish, line, per_100g

MANDATORY = {
    "us": [
        "Calories", "Total Fat", "Saturated Fat", "Trans Fat", "Cholesterol", "Sodium", "Total Carbohydrate",
        "Dietary Fiber", "Total Sugars", "Added Sugars", "Protein", "Vitamin D", "Calcium", "Iron", "Potassium",
    ],
    "eu": ["Energy", "Energy", "Fat", "of which saturates", "Carbohydrate", "of which sugars", "Protein", "Salt"],
    "uk": ["Energy", "Energy", "Fat", "of which saturates", "Carbohydrate", "of which sugars", "Protein", "Salt"],
    "anz": ["Energy", "Protein", "Fat, total", "- saturated", "Carbohydrate", "- sugars", "Sodium"],
    "ca": [
        "Calories", "Fat", "Saturated", "+ Trans", "Carbohydrate", "Fibre", "Sugars", "Protein", "Cholesterol",
        "Sodium", "Potassium", "Calcium", "Iron",
    ],
}  # fmt: skip
"""21 CFR 101.9 (order from memory); Regulation 1169/2011 Annex XV (read); Schedule 12, S12-2 (read); B.01.401 (read,
order of the published format from memory)."""


def names(panel: Panel) -> list[str]:
    return [row.name for row in panel.rows]


@pytest.mark.parametrize("scheme", MANDATORY)
def test_mandatory_rows_in_the_order_of_the_law(scheme: str) -> None:
    assert names(make_panel(per_100g(EVERYTHING), scheme)) == MANDATORY[scheme]


@pytest.mark.parametrize("scheme", MANDATORY)
def test_voluntary_rows_stand_in_their_place(scheme: str) -> None:
    panel = make_panel(per_100g(EVERYTHING), scheme, voluntary=["all"])
    assert names(panel) == [row.name for row in label_rows(scheme)]
    assert [row.name for row in panel.rows if row.mandatory] == MANDATORY[scheme]


def test_fibre_of_australia_stands_after_sugars_and_before_sodium() -> None:
    panel = make_panel(per_100g(EVERYTHING), "anz", voluntary=["FIBTG_G"])
    assert names(panel)[-3:] == ["- sugars", "Dietary fibre", "Sodium"]


def test_an_unknown_scheme_is_refused_with_those_there_are() -> None:
    with pytest.raises(UsageError) as refused:
        make_panel(per_100g(EVERYTHING), "jp")
    assert refused.value.message == "unknown labelling scheme 'jp'"
    assert all(name in refused.value.hint for name in ("us (", "eu (", "uk (", "anz (", "ca ("))


def test_a_row_that_no_scheme_has_is_refused_with_those_it_has() -> None:
    with pytest.raises(UsageError) as refused:
        make_panel(per_100g(EVERYTHING), "anz", voluntary=["caffeine"])
    assert "no row 'caffeine'" in refused.value.message
    assert "fibre" in refused.value.hint


@pytest.mark.parametrize(("scheme", "method"), [("eu", "specific"), ("us", "annex-xiv"), ("anz", "polyols")])
def test_a_method_of_energy_that_the_scheme_lacks_is_refused(scheme: str, method: str) -> None:
    with pytest.raises(UsageError) as refused:
        make_panel(per_100g(EVERYTHING), scheme, energy_method=method)
    assert scheme_named(scheme).energy_method in refused.value.hint


@pytest.mark.parametrize("scheme", MANDATORY)
def test_what_no_table_holds_is_not_determined_and_never_zero(scheme: str) -> None:
    panel = make_panel(per_100g(EVERYTHING), scheme, voluntary=["all"])
    lacking = [row for row in panel.rows if row.key in ("FATRN_G", "POLYL_G", "STARCH_G")]
    assert lacking
    for row in lacking:
        assert row.printed_per_portion == "not determined"
        assert row.printed_per_100g in ("not determined", "")
        assert row.raw_per_portion is None
        assert row.known_share == 0.0
        assert not row.complete


def test_trans_fat_is_not_determined_even_where_there_is_no_fat() -> None:
    panel = make_panel(per_100g(EVERYTHING | {"FAT_G": 0.0, "FASAT_G": 0.0}), "us")
    assert panel.row("trans fat").printed_per_portion == "not determined"
    assert not panel.complete


def test_carbohydrate_by_scheme() -> None:
    printed = {
        scheme: make_panel(per_100g(EVERYTHING), scheme).row(scheme_named(scheme).carbohydrate_key)
        for scheme in SCHEMES
    }
    assert {scheme: row.raw_per_100g for scheme, row in printed.items()} == {
        "us": 10.5, "eu": 8.5, "uk": 8.5, "anz": 8.5, "ca": 10.5,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("scheme", "protein_g", "carbohydrate_g"),
    [
        ("us", 7.0 * 6.25 / 5.95, 80.0 - 7.0 * (6.25 / 5.95 - 1)),
        ("eu", 7.0 * 6.25 / 5.95, 78.0 - 7.0 * (6.25 / 5.95 - 1)),
        ("uk", 7.0 * 6.25 / 5.95, 78.0 - 7.0 * (6.25 / 5.95 - 1)),
        ("anz", 7.0, 78.0),
        ("ca", 7.0, 80.0),
    ],
)
def test_protein_by_nitrogen_and_carbohydrate_by_difference_with_it(
    scheme: str, protein_g: float, carbohydrate_g: float
) -> None:
    # Rice protein is nitrogen x 5.95 in the food table.
    rice = dish(
        line(1, "rice", 100.0, {"PROCNT_G": 7.0, "CHOCDF_G": 80.0, "FIBTG_G": 2.0}, nitrogen_factor=5.95),
        cooked_mass_g=100.0,
    )
    law = scheme_named(scheme)
    assert quantity(rice, law, "PROCNT_G").low == pytest.approx(protein_g)
    assert quantity(rice, law, law.carbohydrate_key).low == pytest.approx(carbohydrate_g)


def test_protein_of_a_pack_is_taken_as_it_stands() -> None:
    powder = dish(line(1, "pea powder", 100.0, {"PROCNT_G": 80.0, "CHOCDF_G": 5.0}, nitrogen_factor=None))
    assert quantity(powder, scheme_named("eu"), "PROCNT_G").low == 80.0


def test_a_food_without_carbohydrate_loses_none() -> None:
    gelatine = dish(line(1, "gelatine", 10.0, {"PROCNT_G": 8.56, "CHOCDF_G": 0.0}, nitrogen_factor=5.55))
    assert quantity(gelatine, scheme_named("us"), "CHOCDF_G").low == 0.0


def test_kilojoules_and_kilocalories_are_two_sums() -> None:
    panel = make_panel(per_100g(EVERYTHING), "eu")
    kj, kcal = panel.row("ENERC_KJ").raw_per_100g, panel.row("ENERC_KCAL").raw_per_100g
    assert (kj, kcal) == (17 * 10 + 37 * 8 + 17 * 8.5 + 8 * 2, 4 * 10 + 9 * 8 + 4 * 8.5 + 2 * 2)


def test_united_states_take_the_energy_of_the_food_table_unless_asked_otherwise() -> None:
    table = make_panel(per_100g(EVERYTHING), "us")
    general = make_panel(per_100g(EVERYTHING), "us", energy_method="4-4-9")
    assert (table.energy_method, table.row("calories").raw_per_portion) == ("specific", 150.0)
    assert (general.energy_method, general.row("calories").raw_per_portion) == ("4-4-9", 154.0)
    assert any("method 4-4-9" in note.text for note in general.footnotes)


def test_alcohol_counts_in_energy() -> None:
    wine = per_100g(EVERYTHING | {"ALC_G": 5.0})
    dry = per_100g(EVERYTHING)
    for scheme, key, energy in (
        ("eu", "ENERC_KJ", 145),
        ("eu", "ENERC_KCAL", 35),
        ("anz", "ENERC_KJ", 145),
        ("ca", "ENERC_KCAL", 35),
    ):
        law = scheme_named(scheme)
        assert quantity(wine, law, key).low - quantity(dry, law, key).low == pytest.approx(energy)


def test_columns_by_scheme() -> None:
    panels = {scheme: make_panel(per_100g(EVERYTHING), scheme) for scheme in SCHEMES}
    assert {scheme: panel.hundred_name for scheme, panel in panels.items()} == {
        "us": "", "eu": "100 g", "uk": "100 g", "anz": "100 g", "ca": "",
    }  # fmt: skip
    assert all(row.printed_per_100g == "" for scheme in ("us", "ca") for row in panels[scheme].rows)
    assert all(row.printed_per_100g for scheme in ("eu", "uk", "anz") for row in panels[scheme].rows)


def test_a_portion_is_the_batch_divided() -> None:
    whole = make_panel(per_100g(EVERYTHING, mass_g=3000.0), "anz")
    parts = make_panel(per_100g(EVERYTHING, mass_g=3000.0, portions=6), "anz")
    assert parts.portion_mass_g == 500.0
    assert parts.row("sodium").raw_per_portion == pytest.approx((whole.row("sodium").raw_per_portion or 0) / 6)
    assert parts.row("sodium").raw_per_100g == whole.row("sodium").raw_per_100g == pytest.approx(200.0)
    assert parts.serving == ("Servings per package: 1", "Serving size: 500 g")


@pytest.mark.parametrize(
    ("scheme", "serving"),
    [
        ("us", ("1 serving per container", "Serving size 1 container (500 g)")),
        ("eu", ("Portion: 1 container (500 g)", "This pack contains 1 portion")),
        ("uk", ("Portion: 1 container (500 g)", "This pack contains 1 portion")),
        ("ca", ("Per 1 container (500 g)", "pour 1 contenant (500 g)")),
    ],
)
def test_serving_statements(scheme: str, serving: tuple[str, ...]) -> None:
    assert make_panel(per_100g(EVERYTHING, mass_g=3000.0, portions=6), scheme).serving == serving


@pytest.mark.parametrize(
    ("mass_g", "us", "ca"),
    [(4.3, "4.5 g", "4.3 g"), (1.97, "2 g", "2 g"), (0.32, "0.3 g", "0.3 g"), (9.96, "10 g", "10 g")],
)
def test_small_portions(mass_g: float, us: str, ca: str) -> None:
    tiny = per_100g(EVERYTHING, mass_g=mass_g)
    assert f"({us})" in make_panel(tiny, "us").serving[1]
    assert f"({ca})" in make_panel(tiny, "ca").serving[0]


def test_rounded_numbers_of_servings_are_about() -> None:
    def first(servings: float) -> str:
        return make_panel(per_100g(EVERYTHING, servings_per_package=servings), "us").serving[0]

    assert first(3.7) == "about 3.5 servings per container"
    assert first(5.4) == "about 5 servings per container"
    assert first(2.5) == "2.5 servings per container"
    assert first(1) == "1 serving per container"


def test_a_drink_is_declared_per_100_ml() -> None:
    shake = dish(
        line(1, "shake", 1030.0, EVERYTHING), cooked_mass_g=1030.0, volume_ml=1000.0, portions=4, product=Product.DRINK
    )
    panel = make_panel(shake, "anz")
    assert panel.hundred_name == "100 ml"
    assert panel.row("protein").raw_per_100g == pytest.approx(1.0)
    assert panel.serving[1] == "Serving size: 250 ml, 258 g"
    unmeasured = dish(line(1, "shake", 1030.0, EVERYTHING), product=Product.DRINK)
    assert make_panel(unmeasured, "anz").row("protein").printed_per_100g == "not known"


def test_canadian_minerals_take_the_percentage_from_the_rounded_amount() -> None:
    # 112 mg potassium prints 100 mg: 100 / 3400 = 2.9 %, 112 / 3400 = 3.3 %; 60 mg prints 50 mg, 1 % and not 2 %.
    panel = make_panel(per_100g(EVERYTHING | {"K_MG": 60.0, "CA_MG": 4.0, "FE_MG": 0.04}), "ca")
    assert (panel.row("potassium").printed_per_portion, panel.row("potassium").percent) == ("50 mg", "1%")
    assert (panel.row("calcium").printed_per_portion, panel.row("calcium").percent) == ("0 mg", "0%")
    assert (panel.row("iron").printed_per_portion, panel.row("iron").percent) == ("0 mg", "0%")


def test_canadian_saturated_and_trans_share_one_percentage() -> None:
    known = make_panel(per_100g(EVERYTHING | {"FATRN_G": 1.0}), "ca")
    assert (known.row("saturated").percent, known.row("trans").percent) == ("15%", "")
    unknown = make_panel(per_100g(EVERYTHING), "ca")
    assert unknown.row("saturated").percent == "at least 10%"


def test_added_sugars_are_what_is_certain() -> None:
    honey = line(1, "2 tbsp honey", 42.0, {**dict.fromkeys(EVERYTHING, 0.0), "SUGAR_G": 34.5}, sugars=SugarKind.ADDED)
    carrots = line(2, "carrots", 300.0, EVERYTHING, sugars=SugarKind.NATURAL)
    sauce = line(3, "chilli sauce", 60.0, EVERYTHING | {"SUGAR_G": 9.0}, sugars=SugarKind.UNKNOWN)
    certain = make_panel(dish(honey, carrots), "us").row("added sugars")
    assert (certain.printed_per_portion, certain.percent) == ("35 g", "69%")
    assert certain.complete
    minimum = make_panel(dish(honey, carrots, sauce), "us").row("added sugars")
    assert (minimum.printed_per_portion, minimum.percent) == ("at least 34 g", "at least 69%")
    assert "34 g is certain" in minimum.note or "35 g is certain" in minimum.note
    assert "line 3 'chilli sauce'" in minimum.note
    assert make_panel(dish(carrots, sauce), "us").row("added sugars").printed_per_portion == "not determined"
    assert make_panel(dish(carrots), "us").row("added sugars").printed_per_portion == "0 g"


@pytest.mark.parametrize("scheme", MANDATORY)
def test_every_panel_cautions_and_names_whom_to_ask(scheme: str) -> None:
    panel = make_panel(per_100g(EVERYTHING), scheme)
    assert "not legal advice" in panel.caution
    assert scheme_named(scheme).authority in panel.caution


def test_clauses_and_whether_they_were_read() -> None:
    us = make_panel(per_100g(EVERYTHING), "us")
    assert us.row("sodium").clause == "21 CFR 101.9(c)(4)"
    assert us.row("sodium").verified
    assert any("(c)(9)" in clause and "in part" in clause for clause in us.row("sodium").unverified)
    salt = make_panel(per_100g(EVERYTHING), "eu").row("salt")
    assert not salt.verified
    assert salt.unverified[0] == "Commission guidance, December 2012, rounding table (memory)"


def test_statements_of_the_law() -> None:
    def said(scheme: str) -> set[str]:
        return {note.text for note in make_panel(per_100g(EVERYTHING), scheme).footnotes}

    assert "Reference intake of an average adult (8 400 kJ/2 000 kcal)" in said("eu") & said("uk")
    assert "Percentage daily intakes are based on an average adult diet of 8 700 kJ" in said("anz")
    assert "All quantities above are averages." in said("anz")
    assert "*5% or less is a little, 15% or more is a lot" in said("ca")
