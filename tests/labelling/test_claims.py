"""Nutrition claims: criteria by scheme, three answers, clauses and figures."""

import pytest

from mealcalc.labelling.claims import ClaimResult, Verdict, check_claims, claims_caution
from mealcalc.labelling.panel_input import PanelInput, Product, SugarKind
from mealcalc.labelling.schemes import SCHEMES, scheme_named
from tests.labelling.dishes import dish, line, per_100g

LEAN = {
    "ENERC_KCAL": 80.0, "ENERC_KJ": 335.0, "PROCNT_G": 8.0, "FAT_G": 1.0, "FASAT_G": 0.3, "CHOCDF_G": 10.0,
    "FIBTG_G": 3.2, "CHOAVLDF_G": 6.8, "SUGAR_G": 2.0, "ALC_G": 0.0, "CHOLE_MG": 12.0, "NA_MG": 90.0, "CA_MG": 30.0,
    "FE_MG": 2.5,
    "VITC_MG": 20.0, "ASH_G": 1.2,
}  # fmt: skip


def claims(of: PanelInput, scheme: str) -> dict[str, ClaimResult]:
    return {claim.claim: claim for claim in check_claims(of, scheme)}


@pytest.mark.parametrize("scheme", ["eu", "uk"])
@pytest.mark.parametrize(
    ("key", "amount", "claim", "verdict"),
    [
        ("FAT_G", 3.0, "low fat", Verdict.MET),
        ("FAT_G", 3.01, "low fat", Verdict.NOT_MET),
        ("SUGAR_G", 5.0, "low sugars", Verdict.MET),
        ("SUGAR_G", 5.01, "low sugars", Verdict.NOT_MET),
        ("NA_MG", 120.0, "low sodium/salt", Verdict.MET),
        ("NA_MG", 120.1, "low sodium/salt", Verdict.NOT_MET),
        ("NA_MG", 40.0, "very low sodium/salt", Verdict.MET),
        ("NA_MG", 5.0, "sodium-free or salt-free", Verdict.MET),
        ("FIBTG_G", 3.0, "source of fibre", Verdict.MET),
        ("FIBTG_G", 6.0, "high fibre", Verdict.MET),
        ("FIBTG_G", 0.5, "source of fibre", Verdict.NOT_MET),
        ("PROCNT_G", 0.5, "source of protein", Verdict.NOT_MET),
    ],
)
def test_limits_of_the_union_read_regulation_1924_2006(
    scheme: str, key: str, amount: float, claim: str, verdict: Verdict
) -> None:
    found = claims(per_100g(LEAN | {key: amount}), scheme)[claim]
    assert found.verdict is verdict
    assert found.clause.startswith("Regulation (EC) No 1924/2006 Annex")
    assert found.verified


def test_one_alternative_is_enough() -> None:
    # 2.5 g fibre is short of 3 g per 100 g but above 1.5 g per 100 kcal.
    fibre = claims(per_100g(LEAN | {"FIBTG_G": 2.5}), "eu")["source of fibre"]
    assert fibre.verdict is Verdict.MET
    assert len(fibre.figures) == 2
    assert fibre.limits == (">= 3 g per 100 g or ml", ">= 1.5 g per 100 kcal")


def test_what_is_unknown_is_not_determinable_unless_it_cannot_matter() -> None:
    open_sodium = line(2, "salt to taste", None, {}, counted=False, incomplete_keys=frozenset(["NA_MG"]))
    low = dish(line(1, "beans", 100.0, LEAN, nitrogen_factor=6.25), open_sodium, cooked_mass_g=100.0)
    assert claims(low, "eu")["low sodium/salt"].verdict is Verdict.NOT_DETERMINABLE
    assert claims(low, "eu")["low sodium/salt"].note == "sodium is not known on line 2"
    assert claims(low, "eu")["very low sodium/salt"].verdict is Verdict.NOT_MET
    high = dish(line(1, "beans", 100.0, LEAN | {"NA_MG": 300.0}), open_sodium, cooked_mass_g=100.0)
    assert claims(high, "eu")["low sodium/salt"].verdict is Verdict.NOT_MET


def test_trans_fat_is_not_taken_for_nothing() -> None:
    fatty = claims(per_100g(LEAN | {"FAT_G": 6.0, "FASAT_G": 1.0}), "eu")
    assert fatty["low saturated fat"].verdict is Verdict.NOT_DETERMINABLE
    # The fat leaves no room for more than the limit; and more than the limit is too much, whatever the trans fat is.
    assert claims(per_100g(LEAN), "anz")["low saturated fat"].verdict is Verdict.MET
    assert claims(per_100g(LEAN | {"FAT_G": 6.0, "FASAT_G": 2.0}), "eu")["low saturated fat"].verdict is Verdict.NOT_MET


def test_without_a_cooked_weight_nothing_per_100g_is_determinable() -> None:
    unweighed = dish(line(1, "beans", 100.0, LEAN, nitrogen_factor=6.25), cooked_mass_g=None)
    found = claims(unweighed, "eu")
    assert found["low fat"].verdict is Verdict.NOT_DETERMINABLE
    assert "cooked weight" in found["low fat"].note
    assert found["high protein"].verdict is Verdict.MET
    assert found["source of fibre"].verdict is Verdict.MET


@pytest.mark.parametrize("scheme", ["eu", "uk", "us", "anz"])
def test_comparative_claims_need_a_similar_product(scheme: str) -> None:
    comparative = [claim for claim in check_claims(per_100g(LEAN), scheme) if claim.kind == "comparative"]
    assert comparative
    assert all(claim.verdict is Verdict.NOT_DETERMINABLE for claim in comparative)
    assert all("similar product" in claim.note for claim in comparative)


def test_significant_amounts_of_vitamins_and_minerals() -> None:
    found = claims(per_100g(LEAN | {"FE_MG": 2.1, "VITC_MG": 24.0}, mass_g=400.0, servings_per_package=4), "eu")
    assert found["source of iron"].verdict is Verdict.MET
    assert found["high in iron"].verdict is Verdict.NOT_MET
    assert found["high in vitamin C"].verdict is Verdict.MET
    assert "source of biotin" not in found


def test_a_package_of_one_portion_counts_the_portion() -> None:
    several = claims(per_100g(LEAN | {"CA_MG": 35.0}, mass_g=400.0, servings_per_package=4), "eu")
    one = claims(per_100g(LEAN | {"CA_MG": 35.0}, mass_g=400.0), "eu")
    assert several["source of calcium"].verdict is Verdict.NOT_MET
    assert one["source of calcium"].verdict is Verdict.MET


def test_meals_and_other_foods_of_the_united_states() -> None:
    meal = claims(per_100g(LEAN, mass_g=400.0), "us")
    assert meal["low fat"].verdict is Verdict.MET
    assert meal["low calorie"].verdict is Verdict.MET
    assert meal["high in or good source of a nutrient, meals"].verdict is Verdict.NOT_DETERMINABLE
    assert "good source of dietary fiber" not in meal
    snack = per_100g(LEAN, mass_g=100.0, product=Product.OTHER)
    assert claims(snack, "us")["low fat"].verdict is Verdict.NOT_DETERMINABLE
    assert "reference amount" in claims(snack, "us")["low fat"].note
    looked_up = per_100g(LEAN, mass_g=100.0, product=Product.OTHER, reference_amount_g=140.0)
    assert claims(looked_up, "us")["low fat"].verdict is Verdict.MET
    assert claims(looked_up, "us")["good source of dietary fiber"].verdict is Verdict.MET
    assert claims(looked_up, "us")["high in dietary fiber"].verdict is Verdict.NOT_MET
    assert claims(looked_up, "us")["high in protein"].verdict is Verdict.NOT_DETERMINABLE
    assert "quality" in claims(looked_up, "us")["high in protein"].note


def test_per_serving_claims_of_australia_and_new_zealand() -> None:
    found = claims(per_100g(LEAN, mass_g=300.0), "anz")
    assert found["excellent source of dietary fibre"].verdict is Verdict.MET
    assert found["good source of protein"].verdict is Verdict.MET
    assert found["source of a vitamin or mineral"].verdict is Verdict.NOT_DETERMINABLE


def test_drinks_have_limits_of_their_own() -> None:
    shake = per_100g(LEAN | {"FAT_G": 2.0}, mass_g=1000.0, volume_ml=1000.0, product=Product.DRINK)
    found = claims(shake, "eu")["low fat"]
    assert found.verdict is Verdict.NOT_MET
    assert found.figures == ("fat 2 g per 100 ml",)


def test_the_symbol_of_canada_without_a_reference_amount() -> None:
    def symbol(sodium_mg: float) -> ClaimResult:
        return claims(per_100g(LEAN | {"NA_MG": sodium_mg}, mass_g=300.0), "ca")["front-of-package symbol"]

    assert symbol(300.0).verdict is Verdict.MET
    assert symbol(50.0).verdict is Verdict.NOT_DETERMINABLE
    assert "reference amount" in symbol(50.0).note


def test_smaller_reference_amounts_have_lower_thresholds_in_canada() -> None:
    def verdict(reference_amount_g: float, sodium_mg: float) -> Verdict:
        snack = per_100g(
            LEAN | {"NA_MG": sodium_mg}, mass_g=20.0, product=Product.OTHER, reference_amount_g=reference_amount_g
        )
        return claims(snack, "ca")["front-of-package symbol"].verdict

    # Daily value 2300 mg (from memory): 10 % of it in 30 g, 15 % in 50 g.
    assert verdict(30.0, 800.0) is Verdict.MET
    assert verdict(30.0, 700.0) is Verdict.NOT_MET
    assert verdict(50.0, 700.0) is Verdict.MET
    assert verdict(50.0, 600.0) is Verdict.NOT_MET


def test_printed_figures_that_say_otherwise_are_told() -> None:
    # 3.04 g is above the limit of 3 g, yet prints 3.0 g.
    found = claims(per_100g(LEAN | {"FAT_G": 3.04}), "eu")["low fat"]
    assert found.verdict is Verdict.NOT_MET
    assert found.printed_verdict is Verdict.MET
    assert not found.agrees
    assert "the printed figures say 'met'" in found.note


def test_added_sugars_decide_no_added_sugars() -> None:
    def verdict(kind: SugarKind) -> Verdict:
        only = dish(line(1, "a food", 100.0, LEAN, sugars=kind), cooked_mass_g=100.0)
        return claims(only, "eu")["with no added sugars"].verdict

    assert verdict(SugarKind.ADDED) is Verdict.NOT_MET
    assert verdict(SugarKind.UNKNOWN) is Verdict.NOT_DETERMINABLE
    assert verdict(SugarKind.NATURAL) is Verdict.MET


@pytest.mark.parametrize("scheme", SCHEMES)
def test_every_answer_has_its_clause_and_its_reason(scheme: str) -> None:
    found = check_claims(per_100g(LEAN), scheme)
    assert len({claim.claim for claim in found}) == len(found)
    for claim in found:
        assert claim.clause
        assert claim.figures or claim.note
        if claim.verdict is Verdict.NOT_DETERMINABLE:
            assert claim.note


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_check_defers_to_licensed_practice(scheme: str) -> None:
    assert "licensed practice" in claims_caution(scheme)
    assert scheme_named(scheme).authority in claims_caution(scheme)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_nothing_is_claimed_for_an_empty_dish(scheme: str) -> None:
    assert all(claim.verdict is not Verdict.MET for claim in check_claims(dish(), scheme))
