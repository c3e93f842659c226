"""Integrity of the table of label tolerances, and its figures as published."""

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.reference.label_tolerances import (
    COUNTS_FIBRE,
    SCHEME_OF_REGION,
    SCHEMES,
    label_tolerances,
    tolerance_for,
)
from mealcalc.units import REGIONS

MARKS = {"read", "read (secondary)", "memory"}


def test_every_row_is_closed_and_sourced() -> None:
    assert len(label_tolerances()) == 16
    for row in label_tolerances():
        assert row.schemes <= set(SCHEMES), row
        assert set(row.keys) <= set(FOOD_COMPONENTS), row
        assert row.mark in MARKS, row
        assert row.name, row
        assert row.clause, row
        assert row.minus is not None or row.plus is not None, row
        assert row.unit == "percent" or {FOOD_COMPONENTS[key].unit for key in row.keys} == {row.unit}, row


@pytest.mark.parametrize("scheme", SCHEMES)
def test_ranges_of_a_component_follow_each_other_without_gap(scheme: str) -> None:
    for key in FOOD_COMPONENTS:
        rows = sorted(
            (row for row in label_tolerances() if scheme in row.schemes and key in row.keys),
            key=lambda row: row.per_100g_from,
        )
        if not rows:
            continue
        assert rows[0].per_100g_from == 0.0
        assert rows[-1].per_100g_below is None
        for lower, upper in pairwise(rows):
            assert lower.per_100g_below == upper.per_100g_from


def test_every_region_but_india_has_a_law() -> None:
    assert set(SCHEME_OF_REGION) == set(REGIONS) - {"in"}
    assert set(SCHEME_OF_REGION.values()) == set(SCHEMES) == set(COUNTS_FIBRE)


@pytest.mark.parametrize(
    ("key", "declared", "low", "high"),
    [
        # Commission guidance of December 2012, table 1, per 100 g (from memory): container of 100 g.
        ("PROCNT_G", 5.0, 3.0, 7.0),
        ("PROCNT_G", 20.0, 16.0, 24.0),
        ("PROCNT_G", 50.0, 42.0, 58.0),
        ("FAT_G", 5.0, 3.5, 6.5),
        ("FAT_G", 20.0, 16.0, 24.0),
        ("FAT_G", 1.0, 0.0, 2.5),
        ("FASAT_G", 3.0, 2.2, 3.8),
        ("FASAT_G", 5.0, 4.0, 6.0),
        ("NA_MG", 400.0, 250.0, 550.0),
        ("NA_MG", 1000.0, 800.0, 1200.0),
        ("VITC_MG", 20.0, 13.0, 30.0),
        ("FE_MG", 2.0, 1.3, 2.9),
    ],
)
@pytest.mark.parametrize("scheme", ["eu", "uk"])
def test_the_eu_guidance_by_ranges(scheme: str, key: str, declared: float, low: float, high: float) -> None:
    row = tolerance_for(scheme, key, declared, 100.0)
    assert row is not None
    assert row.limits(declared, 100.0) == pytest.approx((low, high))


def test_ranges_are_of_100_g_whatever_the_container() -> None:
    # 20 g in 400 g are 5 g per 100 g: 2 g more or less of them, 8 g of the container.
    row = tolerance_for("eu", "PROCNT_G", 20.0, 400.0)
    assert row is not None
    assert row.limits(20.0, 400.0) == pytest.approx((12.0, 28.0))
    assert tolerance_for("eu", "PROCNT_G", 20.0, None) is None


@pytest.mark.parametrize("scheme", ["us", "ca"])
def test_north_american_limits_are_one_sided(scheme: str) -> None:
    protein, fat = (tolerance_for(scheme, key, 50.0, None) for key in ("PROCNT_G", "FAT_G"))
    assert protein is not None
    assert fat is not None
    assert protein.limits(50.0, None) == (40.0, None)
    assert fat.limits(50.0, None) == (None, 60.0)


def test_no_law_is_made_up() -> None:
    assert tolerance_for("anz", "FAT_G", 10.0, 100.0) is None
    assert tolerance_for("eu", "ENERC_KCAL", 500.0, 100.0) is None


def test_carbohydrate_stands_under_the_law_s_own_definition() -> None:
    for scheme, with_fibre in COUNTS_FIBRE.items():
        rows = [row for row in label_tolerances() if scheme in row.schemes]
        keys = {key for row in rows for key in row.keys} & {"CHOCDF_G", "CHOAVLDF_G"}
        assert keys <= {"CHOCDF_G" if with_fibre else "CHOAVLDF_G"}


def test_the_figures_are_those_that_were_gathered(reference_data: Path) -> None:
    gathered = (reference_data / "reference" / "labelling_tolerances.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(gathered.splitlines()))
    ours = {(row.name.split(",")[0], row.keys, row.minus, row.plus) for row in label_tolerances()}
    wanted = {
        ("carbohydrate, sugars, protein, fibre", "< 10 g/100 g"): (2.0, 2.0),
        ("carbohydrate, sugars, protein, fibre", "> 40 g/100 g"): (8.0, 8.0),
        ("fat", "< 10 g/100 g"): (1.5, 1.5),
        ("sodium", "< 0.5 g/100 g"): (0.15, 0.15),
    }
    for (group, declared), (minus, plus) in wanted.items():
        (row,) = [r for r in rows if r["regime"] == "EU" and (r["group"], r["declared_range"]) == (group, declared)]
        assert row["lower_limit"] == f"-{minus:g} g"
        assert row["upper_limit"] == f"+{plus:g} g"
        factor = 1000.0 if group == "sodium" else 1.0
        assert any((minus * factor, plus * factor) == limits[2:] for limits in ours)
