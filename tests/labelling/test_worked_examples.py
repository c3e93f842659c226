"""Whole worked examples, through the functions of the package; source and status of each stand in its test id."""

from decimal import Decimal

import pytest

from mealcalc.labelling.claims import Verdict, check_claims
from mealcalc.labelling.energy import energy_by_factors_kcal, energy_sum, specific_factor_kcal_per_g
from mealcalc.labelling.panel import make_panel
from mealcalc.labelling.panel_input import SugarKind
from mealcalc.labelling.printing import percent_of
from mealcalc.labelling.quantities import quantity
from mealcalc.labelling.schemes import scheme_named
from mealcalc.labelling.tolerance import tolerance_for
from tests.labelling.dishes import dish, line, per_100g


@pytest.mark.parametrize("scheme", ["eu", "uk"])
def test_w1_protein_claim_read_food_labelling_in_the_uk_nutrition_claims(scheme: str) -> None:
    # Fat 1.7 g, protein 4.7 g, energy 334 kJ per 100 g: about 80 kJ and 24 % from protein. The carbohydrate is what
    # brings the energy of the example to 334 kJ.
    carbohydrate_g = (334 - 17 * 4.7 - 37 * 1.7) / 17
    cheese = per_100g(
        {"PROCNT_G": 4.7, "FAT_G": 1.7, "CHOCDF_G": carbohydrate_g, "FIBTG_G": 0.0, "ALC_G": 0.0, "FASAT_G": 1.0}
    )
    law = scheme_named(scheme)
    assert quantity(cheese, law, "ENERC_KJ").low == pytest.approx(334)
    assert energy_sum({"PROCNT_G": 4.7}, law, "annex-xiv", "kJ") == pytest.approx(79.9)
    claims = {claim.claim: claim for claim in check_claims(cheese, law)}
    assert claims["high protein"].verdict is Verdict.MET
    assert claims["high protein"].figures == ("protein 23.9 % of energy",)
    assert claims["low fat"].verdict is Verdict.MET
    assert claims["fat-free"].verdict is Verdict.NOT_MET


@pytest.mark.parametrize(
    ("key", "amount", "printed"),
    [
        ("FAT_G", "2.5", "4%"),
        ("FASAT_G+FATRN_G", "1.5", "8%"),
        ("NA_MG", "75", "3%"),
        ("CHOCDF_G", "25", "8%"),
        ("FIBTG_G", "0", "0%"),
    ],
)
def test_w2_percentages_read_health_canada_sample_table_before_2016(key: str, amount: str, printed: str) -> None:
    law = scheme_named("ca")
    reference = law.reference_value("repealed 2003", key)
    assert reference is not None
    assert percent_of(Decimal(amount), reference, law.rounding["percent"]).text == printed


def test_w2_energy_read_health_canada_sample_table_before_2016() -> None:
    # The sample prints 160 calories from unrounded amounts; the rounded ones give 154.5.
    grams = {"PROCNT_G": 8.0, "CHOCDF_G": 25.0, "FAT_G": 2.5}
    assert energy_sum(grams, scheme_named("ca"), "general", "kcal") == 154.5


def test_w3_specific_factors_in_part_cfia_guide_6_4_1_2_example_1() -> None:
    energy = energy_by_factors_kcal({"PROCNT_G": 3.0, "FAT_G": 1.0}, {"PROCNT_G": 3.46, "FAT_G": 8.37})
    assert energy["PROCNT_G"] == pytest.approx(10.38, abs=0.005)
    assert energy["FAT_G"] == pytest.approx(8.37, abs=0.005)


def test_w4_whole_panel_memory_fda_sample_label_of_2016() -> None:
    # Eight servings of 2/3 cup (55 g); amounts as on the label stand for the unrounded ones.
    amounts = {
        "ENERC_KCAL": 230.0, "FAT_G": 8.0, "FASAT_G": 1.0, "FATRN_G": 0.0, "CHOLE_MG": 0.0, "NA_MG": 160.0,
        "CHOCDF_G": 37.0, "FIBTG_G": 4.0, "PROCNT_G": 3.0, "VITD_UG": 2.0, "CA_MG": 260.0, "FE_MG": 8.0, "K_MG": 240.0,
    }  # fmt: skip
    rest = {key: 8 * amount for key, amount in amounts.items()} | {"SUGAR_G": 8 * 2.0}
    none = dict.fromkeys(amounts, 0.0) | {"SUGAR_G": 8 * 10.0}
    label = make_panel(
        dish(
            line(1, "the food", 360.0, rest, nitrogen_factor=6.25, sugars=SugarKind.NATURAL),
            line(2, "sugar", 80.0, none, sugars=SugarKind.ADDED),
            cooked_mass_g=440.0,
            servings_per_package=8,
        ),
        "us",
    )
    assert label.serving == ("8 servings per container", "Serving size 1/8 container (55 g)")
    assert label.complete
    assert [(row.name, row.printed_per_portion, row.percent) for row in label.rows] == [
        ("Calories", "230", ""),
        ("Total Fat", "8 g", "10%"),
        ("Saturated Fat", "1 g", "5%"),
        ("Trans Fat", "0 g", ""),
        ("Cholesterol", "0 mg", "0%"),
        ("Sodium", "160 mg", "7%"),
        ("Total Carbohydrate", "37 g", "13%"),
        ("Dietary Fiber", "4 g", "14%"),
        ("Total Sugars", "12 g", ""),
        ("Added Sugars", "10 g", "20%"),
        ("Protein", "3 g", ""),
        ("Vitamin D", "2 mcg", "10%"),
        ("Calcium", "260 mg", "20%"),
        ("Iron", "8 mg", "45%"),
        ("Potassium", "240 mg", "6%"),
    ]


W5 = {
    "WATER_G": 70.0, "PROCNT_G": 10.0, "FAT_G": 8.0, "CHOCDF_G": 10.5, "FIBTG_G": 2.0, "FIBSOL_G": 0.5, "ASH_G": 1.5,
    "ALC_G": 0.0, "FASAT_G": 2.0, "SUGAR_G": 1.0, "NA_MG": 100.0,
}  # fmt: skip


@pytest.mark.parametrize(
    ("scheme", "method", "key", "energy"),
    [
        ("eu", "annex-xiv", "ENERC_KJ", 626.5),
        ("eu", "annex-xiv", "ENERC_KCAL", 150.0),
        ("uk", "annex-xiv", "ENERC_KJ", 626.5),
        ("uk", "annex-xiv", "ENERC_KCAL", 150.0),
        ("anz", "schedule-11", "ENERC_KJ", 626.5),
        ("us", "4-4-9", "ENERC_KCAL", 154.0),
        ("us", "4-4-9-less-fibre", "ENERC_KCAL", 147.0),
    ],
)
def test_w5_one_food_by_the_methods_constructed(scheme: str, method: str, key: str, energy: float) -> None:
    assert quantity(per_100g(W5), scheme_named(scheme), key, method).low == pytest.approx(energy)


def test_w5_calories_of_australia_and_new_zealand_constructed() -> None:
    found = quantity(per_100g(W5), scheme_named("anz"), "ENERC_KCAL").low
    assert found == pytest.approx(149.9, abs=0.05)


def test_w5_prints_constructed() -> None:
    panel = make_panel(per_100g(W5), "eu")
    assert panel.row("ENERC_KJ").printed_per_100g == "627 kJ"
    assert panel.row("ENERC_KCAL").printed_per_100g == "150 kcal"
    assert quantity(per_100g(W5), scheme_named("us"), "CHOCDF_G").low == 10.5
    assert quantity(per_100g(W5), scheme_named("eu"), "CHOAVLDF_G").low == 8.5


@pytest.mark.parametrize("scheme", ["eu", "uk"])
@pytest.mark.parametrize(("sodium_mg", "salt_g"), [(400, 1.0), (120, 0.30), (40, 0.10), (2300, 5.75)])
def test_w6_salt_read_regulation_1169_2011_annex_i_point_11(scheme: str, sodium_mg: float, salt_g: float) -> None:
    found = quantity(per_100g({"NA_MG": sodium_mg}), scheme_named(scheme), "NACL_G")
    assert found.low == pytest.approx(salt_g)


@pytest.mark.parametrize(
    ("heat", "digestibility", "of_protein", "factor"),
    [
        (5.75, 0.97, True, 4.365),
        (5.65, 0.97, True, 4.268),
        (9.50, 0.95, False, 9.025),
        (9.25, 0.95, False, 8.788),
        (9.30, 0.90, False, 8.37),
        (5.80, 0.84, True, 3.822),
        (4.20, 0.99, False, 4.158),
    ],
    ids=["egg protein", "meat protein", "meat fat", "milk fat", "plant fat", "white rice protein", "white rice starch"],
)
def test_w7_specific_factors_memory_agriculture_handbook_74(
    heat: float, digestibility: float, of_protein: bool, factor: float
) -> None:
    found = specific_factor_kcal_per_g(heat, digestibility, of_protein=of_protein)
    # Half the last digit printed; 8.7875, printed as 8.788, lies exactly there.
    assert found == pytest.approx(factor, abs=0.000501)


@pytest.mark.parametrize(
    ("key", "declared", "analysed", "passes"),
    [("FAT_G", 5, 6.0, True), ("FAT_G", 5, 6.1, False), ("PROCNT_G", 20, 16.0, True), ("PROCNT_G", 20, 15.9, False)],
)
def test_w8_compliance_constructed_21_cfr_101_9_g(key: str, declared: float, analysed: float, passes: bool) -> None:
    tolerance = tolerance_for("us", key, declared, "g")
    assert tolerance is not None
    assert tolerance.accepts(analysed) is passes


@pytest.mark.parametrize(("key", "amount", "printed"), [("ENERC_KJ", "1230", "14%"), ("PROCNT_G", "28", "56%")])
def test_w9_daily_intake_constructed_food_standards_code_1_2_8_8(key: str, amount: str, printed: str) -> None:
    law = scheme_named("anz")
    reference = law.reference_value("DI", key)
    assert reference is not None
    assert percent_of(Decimal(amount), reference, law.rounding["percent"]).text == printed


@pytest.mark.parametrize(
    ("key", "amount", "required"),
    [
        ("FASAT_G", 6.0, True),
        ("FASAT_G", 5.99, False),
        ("SUGAR_G", 30.0, True),
        ("SUGAR_G", 29.9, False),
        ("NA_MG", 690.0, True),
        ("NA_MG", 689.0, False),
    ],
)
def test_w10_front_symbol_in_part_food_and_drug_regulations_b_01_350(key: str, amount: float, required: bool) -> None:
    amounts = {"FASAT_G": 0.0, "SUGAR_G": 0.0, "NA_MG": 0.0, "FAT_G": 10.0, "CHOCDF_G": 40.0, key: amount}
    main = dish(line(1, "main dish", 250.0, amounts), cooked_mass_g=250.0, reference_amount_g=250.0)
    symbol = next(claim for claim in check_claims(main, "ca") if claim.kind == "symbol")
    assert (symbol.verdict is Verdict.MET) is required
    assert symbol.verdict is not Verdict.NOT_DETERMINABLE
