"""Every vector of rounding, printed exactly; the status of its clause stands in the test id."""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from mealcalc.labelling.printing import percent_of
from mealcalc.labelling.rounding import round_by_rule
from mealcalc.labelling.schemes import scheme_named
from mealcalc.reference.label_tables import ClauseStatus
from tests.labelling.vectors import FILE, Vector, read_vectors

VECTORS = read_vectors()
KEY_OF_DRV = {
    "total fat": "FAT_G",
    "saturated fat": "FASAT_G",
    "sodium": "NA_MG",
    "total carbohydrate": "CHOCDF_G",
    "dietary fiber": "FIBTG_G",
    "added sugars": "SUGAD_G",
}
OF_AMOUNT = re.compile(r"% DV (?P<nutrient>.+) \((?P<amount>\d+) of (?P<reference>\d+)\)")


def test_all_vectors_are_there() -> None:
    count = {scheme: sum(v.scheme == scheme for v in VECTORS) for scheme in ("us", "ca", "eu", "uk", "anz")}
    assert count == {"us": 74, "ca": 33, "eu": 17, "uk": 17, "anz": 11}


@pytest.mark.parametrize("vector", VECTORS, ids=[v.name for v in VECTORS])
@pytest.mark.parametrize("number", [Decimal, float], ids=["decimal", "float"])
def test_prints_exactly(vector: Vector, number: type[Decimal] | type[float]) -> None:
    rule = scheme_named(vector.scheme).rounding[vector.rule]
    assert round_by_rule(number(vector.raw), rule).text == vector.printed


# The rule for percentages of daily reference values was read; the amounts of those vectors are known in part.
@pytest.mark.parametrize("vector", [v for v in VECTORS if v.rule != "percent of DRV"], ids=lambda v: v.name)
def test_our_clause_is_as_sure_as_the_vector(vector: Vector) -> None:
    printed = round_by_rule(vector.raw, scheme_named(vector.scheme).rounding[vector.rule])
    assert printed.cited is not None
    assert printed.cited.status is vector.status
    assert printed.verified == (vector.status is ClauseStatus.READ)


@pytest.mark.parametrize("vector", [v for v in VECTORS if "is also allowed" in v.note], ids=lambda v: v.name)
def test_what_is_also_allowed(vector: Vector) -> None:
    printed = round_by_rule(vector.raw, scheme_named(vector.scheme).rounding[vector.rule])
    assert vector.note.split('"')[1] in printed.also


@pytest.mark.parametrize("vector", [v for v in VECTORS if OF_AMOUNT.match(v.nutrient)], ids=lambda v: v.name)
def test_percentage_from_amount_and_daily_value(vector: Vector) -> None:
    found = OF_AMOUNT.match(vector.nutrient)
    assert found is not None
    law = scheme_named(vector.scheme)
    reference = law.reference_value("DRV", KEY_OF_DRV[found["nutrient"]])
    assert reference is not None
    assert reference.amount == Decimal(found["reference"])
    assert percent_of(Decimal(found["amount"]), reference, law.rounding[vector.rule]).text == vector.printed


def test_the_copy_is_the_original(reference_data: Path) -> None:
    original = reference_data / "reference" / "labelling_test_vectors.csv"
    assert read_vectors(original) == VECTORS
    assert FILE.read_bytes() == original.read_bytes()


@pytest.mark.parametrize(
    ("amount", "printed"),
    [("4.9", "0"), ("4", "0"), ("2.4", "0")],
    ids=["21 CFR 101.9(c)(1) 4.9 kcal (in part)", "4 kcal (in part)", "2.4 kcal (in part)"],
)
def test_zero_below_5_calories_is_optional(amount: str, printed: str) -> None:
    calories = round_by_rule(Decimal(amount), scheme_named("us").rounding["calories"])
    assert calories.text == printed
    assert calories.also == (("5",) if Decimal(amount) >= Decimal("2.5") else ())


def test_zero_below_half_a_gram_of_fat_is_compulsory() -> None:
    assert round_by_rule(Decimal("0.4"), scheme_named("us").rounding["fat"]).also == ()


def test_eu_range_boundary_prints_as_the_range_above() -> None:
    # 9.96 g rounds to 10.0 in the range below 10 g; the range from 10 g has no decimals.
    rules = scheme_named("eu").rounding
    assert round_by_rule(9.96, rules["fat, carbohydrate, sugars, protein, fibre"]).text == "10 g"
    assert round_by_rule(0.996, rules["salt"]).text == "1.0 g"


def test_canada_prints_zero_only_where_the_food_is_free_of_it() -> None:
    rules = scheme_named("ca").rounding
    assert round_by_rule(3.2, rules["sodium"]).text == "3 mg"
    assert round_by_rule(3.2, rules["sodium"], free_of=True).text == "0 mg"
    assert round_by_rule(73, rules["sodium"], free_of=True).text == "75 mg"
