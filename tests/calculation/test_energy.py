"""Energy and carbohydrate by our own functions against the figures that USDA SR28 prints."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.calculation.energy import (
    KCAL_PER_G,
    carbohydrate_by_difference_g,
    general_energy,
    general_energy_kcal,
    kilojoules,
    specific_energy_kcal,
)
from mealcalc.records import EnergyFactors, Total
from tests.published.test_sr28_energy import FOODS, Printed

PRINTED = [Printed(*row) for row in FOODS]
IDS = [f"SR28 {row.code}" for row in PRINTED]

# USDA SR28 sets the carbohydrate of muscle meat and fish to 0 instead of taking the difference (its documentation).
WITH_CARBOHYDRATE = [row for row in PRINTED if row.carbohydrate_g]


@pytest.mark.parametrize("row", PRINTED, ids=IDS)
def test_specific_factors_give_the_printed_energy(row: Printed) -> None:
    factors = EnergyFactors(row.protein_kcal_per_g, row.fat_kcal_per_g, row.carbohydrate_kcal_per_g)
    found = specific_energy_kcal(factors, row.protein_g, row.fat_g, row.carbohydrate_g)
    # Printed in whole kcal, from terms with more digits than are printed.
    assert found == pytest.approx(row.energy_kcal, abs=0.51)


@pytest.mark.parametrize("row", WITH_CARBOHYDRATE, ids=[f"SR28 {row.code}" for row in WITH_CARBOHYDRATE])
def test_carbohydrate_by_difference_gives_the_printed_figure(row: Printed) -> None:
    found = carbohydrate_by_difference_g(row.water_g, row.protein_g, row.fat_g, row.ash_g)
    # Four printed terms, each rounded to 0.01 g, stand behind the difference.
    assert found == pytest.approx(row.carbohydrate_g, abs=0.025)


def test_minced_beef_is_no_case_for_the_difference() -> None:
    """SR28 23572: the proximates sum to 99.88 g and the printed carbohydrate is 0."""
    assert carbohydrate_by_difference_g(61.87, 17.17, 20.00, 0.84) == pytest.approx(0.12)


def test_alcohol_is_no_carbohydrate() -> None:
    assert carbohydrate_by_difference_g(80.0, 1.0, 2.0, 1.0, alcohol_g=10.0) == pytest.approx(6.0)


@pytest.mark.parametrize("missing", ["protein", "fat", "carbohydrate"])
def test_without_all_three_factors_there_is_no_specific_energy(missing: str) -> None:
    factors = {"protein": 4.0, "fat": 9.0, "carbohydrate": 4.0} | {missing: None}
    assert specific_energy_kcal(EnergyFactors(**factors), 1, 1, 1) is None


def test_general_factors() -> None:
    # Merrill & Watt 1973: 4, 9 and 4 kcal per g; alcohol 7 (6.93 rounded).
    assert general_energy_kcal(10, 10, 10, 10) == 40 + 90 + 40 + 70


def test_general_factors_on_every_food_of_the_dossier(reference_data: Path) -> None:
    path = reference_data / "reference" / "energy-vectors-sr28.csv"
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert rows
    for row in rows:
        found = general_energy_kcal(
            float(row["protein_g"]), float(row["fat_g"]), float(row["carbohydrate_published_g"])
        )
        assert found == pytest.approx(float(row["energy_4_9_4_kcal"]), abs=0.051), row["food"]


def test_one_kilocalorie_is_4_184_kilojoules() -> None:
    # Thermochemical calorie, exact (NIST SP 811, appendix B.8).
    assert kilojoules(1) == 4.184


def test_general_energy_of_totals_names_every_line_on_which_a_part_is_unknown() -> None:
    totals = {
        "PROCNT_G": Total(10.0, (3,), 0.9),
        "FAT_G": Total(5.0, (1, 3), 0.8),
        "CHOCDF_G": Total(20.0),
        "ALC_G": Total(0.0),
    }
    assert general_energy(totals) == Total(40.0 + 45.0 + 80.0, (1, 3), 0.8)


@given(
    st.dictionaries(st.sampled_from(sorted(KCAL_PER_G)), st.floats(0, 1e5), min_size=4, max_size=4), st.integers(2, 9)
)
def test_general_energy_is_proportional_to_the_amounts(amounts_g: dict[str, float], k: int) -> None:
    once = general_energy({key: Total(amount) for key, amount in amounts_g.items()})
    more = general_energy({key: Total(k * amount) for key, amount in amounts_g.items()})
    assert more.amount == pytest.approx(k * once.amount)
