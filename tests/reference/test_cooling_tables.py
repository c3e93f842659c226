"""Integrity of the tables of cooling, and their figures against the collected sources where these are at hand."""

import csv
from pathlib import Path

import pytest

from mealcalc.reference.cooling_tables import (
    FOOD_PARTS,
    container_walls,
    cooling_advice,
    cooling_assumptions,
    cooling_limits,
    heat_transfer,
    thermal_properties,
)
from mealcalc.reference.keeping_tables import authorities
from mealcalc.reference.tables import rows_of

MARKS = {"read", "read (secondary)", "read (cross-checked)", "memory", "judgement"}
TABLES = {
    "cooling_limits.csv": 11,
    "cooling_advice.csv": 4,
    "thermal_properties.csv": 18,
    "heat_transfer.csv": 6,
    "container_walls.csv": 4,
    "cooling_assumptions.csv": 3,
}


@pytest.mark.parametrize(("file_name", "count"), TABLES.items())
def test_every_row_is_there_with_its_ground_and_mark(file_name: str, count: int) -> None:
    rows = [cells for _, cells in rows_of(file_name)]
    assert len(rows) == count
    for row in rows:
        ground = row.get("source") or row.get("ground") or ""
        assert ground, row
        assert row["mark"] in MARKS, row
        assert ("memory" in ground) == (row["mark"] == "memory"), row


def test_limits_follow_one_another() -> None:
    by_name: dict[tuple[str, str], list[int]] = {}
    for limit in cooling_limits():
        by_name.setdefault((limit.authority, limit.meant_for), []).append(limit.stage)
        assert authorities()[limit.authority]
        assert limit.from_c is None or limit.from_c > limit.to_c
        assert f"{limit.to_c:g} C" in limit.wording
        assert f"{limit.hours:g} hours" in limit.wording
        assert limit.clock == ("stage" if "further" in limit.wording else "start")
    assert all(stages == list(range(1, len(stages) + 1)) for stages in by_name.values())
    ends = {(limit.authority, limit.meant_for, limit.stage): limit.to_c for limit in cooling_limits()}
    for limit in cooling_limits():
        if limit.clock == "stage":
            assert ends[limit.authority, limit.meant_for, limit.stage - 1] == limit.from_c


def test_every_advice_has_an_authority() -> None:
    assert {row.authority for row in cooling_advice()} <= set(authorities())


def test_each_property_of_each_part_is_there_and_plausible() -> None:
    assert set(thermal_properties()) == {
        (name, part) for name in ("conductivity", "density", "specific_heat") for part in FOOD_PARTS
    }
    ranges = {"conductivity": (0.1, 0.7), "density": (800.0, 2500.0), "specific_heat": (1.0, 4.3)}
    for (name, _), row in thermal_properties().items():
        for temperature_c in (0.0, 30.0, 90.0):
            assert ranges[name][0] < row.at(temperature_c) < ranges[name][1], row


def test_water_has_the_constant_that_agrees_with_water_tables() -> None:
    water = thermal_properties()["specific_heat", "water"]
    assert water.c0 == 4.1762
    assert water.at(25.0) == pytest.approx(4.18, abs=0.005)  # water tables, from memory: 4.18 kJ/kg K at 25 C


def test_coefficients_are_the_collected_ones(reference_data: Path) -> None:
    path = reference_data / "reference" / "thermal-choi-okos.csv"
    names = {"k": "conductivity", "rho": "density", "cp": "specific_heat"}
    compared = 0
    for row in csv.DictReader(path.read_text(encoding="utf-8").splitlines()):
        part = row["component"].partition(" ")[0]
        if part == "ice" or "-40" in row["component"]:
            continue
        ours = thermal_properties()[names[row["property"]], part]
        assert (ours.c0, ours.c1_per_c, ours.c2_per_c2) == tuple(float(row[c]) for c in ("c0", "c1", "c2")), row
        compared += 1
    assert compared == 18


def test_bands_of_heat_transfer_are_in_order_and_call_themselves_assumptions() -> None:
    for row in heat_transfer().values():
        assert 0.0 < row.low_w_m2k < row.typical_w_m2k < row.high_w_m2k
        assert row.ground.startswith("engineering assumption of this project")
        assert row.mark == "judgement"
        assert row.air_c is None or row.air_c >= 0.0


def test_walls_resist_less_than_still_air() -> None:
    for wall in container_walls().values():
        assert 0.0 < wall.resistance_m2k_w < 0.1 / heat_transfer()["fridge"].low_w_m2k, wall
    assert {row.unit for row in cooling_assumptions().values()} == {"percent", "mm"}
