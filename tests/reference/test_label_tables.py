"""Integrity of the tables of nutrition labelling: whole, closed, cited, and the figures of the law."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.errors import ReferenceDataError
from mealcalc.reference import label_rounding
from mealcalc.reference.label_rounding import RoundingPiece, rounding_rules
from mealcalc.reference.label_tables import (
    ClauseStatus,
    claim_conditions,
    energy_factors,
    label_definitions,
    label_rows,
    label_statements,
    nitrogen_factors,
    reference_values,
    sugar_sources,
)
from mealcalc.reference.tables import rows_of

SCHEMES = ("us", "eu", "uk", "anz", "ca")
TABLES = {
    "label_rows.csv": 96,
    "label_rounding.csv": 110,
    "label_reference_values.csv": 95,
    "label_energy_factors.csv": 46,
    "label_definitions.csv": 37,
    "label_statements.csv": 10,
    "label_claims.csv": 105,
    "label_sugar_sources.csv": 12,
    "label_nitrogen_factors.csv": 9,
}
NOT_IN_FOOD_TABLES = {"NACL_G", "SUGAD_G", "FATRN_G", "POLYL_G", "STARCH_G", "OA_G", "FIBSOL_G"}
SUBJECTS = {"authority", "law", "energy method", "protein factor", "carbohydrate", "basis", "ties", "percent from"}


def known_keys(key: str) -> bool:
    return all(part in FOOD_COMPONENTS or part in NOT_IN_FOOD_TABLES for part in key.split("+"))


@pytest.mark.parametrize(("file_name", "count"), TABLES.items())
def test_every_row_is_there_and_says_how_it_is_known(file_name: str, count: int) -> None:
    rows = [cells for _, cells in rows_of(file_name)]
    assert len(rows) == count
    statuses = {status.value for status in ClauseStatus}
    for row in rows:
        assert row["status"] in statuses, row
        assert row["source"], row
        assert set(row.get("schemes", "us").split()) <= set(SCHEMES), row
        if "clause" in row:
            assert row["clause"], row
            assert ("memory" in row["source"]) <= (row["status"] != "read"), row
            assert (row["status"] == "memory") <= ("memory" in row["source"]), row
            assert (row["status"] == "own practice") == (row["source"] == "practice of this project"), row


@pytest.mark.parametrize("scheme", SCHEMES)
def test_rows_name_what_there_is(scheme: str) -> None:
    rules = rounding_rules(scheme)
    rows = label_rows(scheme)
    assert len({row.row for row in rows}) == len(rows)
    assert len({row.key for row in rows}) == len(rows)
    for row in rows:
        assert known_keys(row.key), row
        component = FOOD_COMPONENTS.get(row.key)
        assert component is None or component.tagname == row.tagname, row
        assert row.key == row.tagname or row.key.startswith(f"{row.tagname}_"), row
        assert rules[row.rounding].unit == row.unit or (row.rounding == "calories" and row.unit == "kcal"), row
        assert bool(row.percent_key) == bool(row.percent_set) == bool(row.percent_rounding) == bool(row.percent_from)
        if row.percent_key:
            assert rules[row.percent_rounding].unit == "%", row
            references = [
                v for v in reference_values(scheme) if (v.set_name, v.key) == (row.percent_set, row.percent_key)
            ]
            assert len(references) == 1, row
            assert references[0].unit == row.unit.replace("mcg", "µg"), row


@pytest.mark.parametrize("scheme", SCHEMES)
def test_rounding_by_the_size_of_the_reference_value(scheme: str) -> None:
    # FDA guidance ties the step of a vitamin or mineral to its reference daily intake.
    for row in label_rows(scheme):
        if row.percent_set != "RDI":
            continue
        rdi = next(v.amount for v in reference_values(scheme) if (v.set_name, v.key) == ("RDI", row.key))
        band = "below 25" if rdi < 25 else "25 to 249" if rdi < 250 else "250 to 499" if rdi < 500 else "500 and more"
        assert row.rounding == f"RDI {band}, {row.unit}", row


@pytest.mark.parametrize("scheme", SCHEMES)
def test_every_scheme_is_defined(scheme: str) -> None:
    assert set(label_definitions(scheme)) >= SUBJECTS
    shown = {s.statement for s in label_statements(scheme)}
    assert "draft" in shown
    assert len(shown) == len(label_statements(scheme))


@pytest.mark.parametrize("scheme", SCHEMES)
def test_reference_values_are_single_and_have_units_of_their_keys(scheme: str) -> None:
    values = reference_values(scheme)
    assert len({(v.set_name, v.nutrient, v.unit) for v in values}) == len(values)
    for value in values:
        assert value.amount > 0
        if value.key in FOOD_COMPONENTS:
            assert FOOD_COMPONENTS[value.key].unit == value.unit, value


@pytest.mark.parametrize("scheme", SCHEMES)
def test_energy_factors_and_claims_name_known_components(scheme: str) -> None:
    for factor in energy_factors(scheme):
        assert not factor.key or known_keys(factor.key), factor
        assert factor.kj_per_g is not None or factor.kcal_per_g is not None
    sets = {v.set_name for v in reference_values(scheme)} | {"RDI"}
    for condition in claim_conditions(scheme):
        if condition.measure in ("amount", "energy share", "reference share"):
            assert known_keys(condition.key) or condition.key in sets, condition
            assert condition.limit is not None, condition
            assert condition.operator, condition
        else:
            assert condition.measure in ("comparison", "component"), condition
            assert condition.limit is None, condition


def test_the_last_nitrogen_factor_fits_all_foods() -> None:
    last = nitrogen_factors()[-1]
    assert (last.groups, last.words, last.factor) == (frozenset(), frozenset(), 6.25)
    assert all(5 < row.factor < 6.5 for row in nitrogen_factors())


def test_sugar_sources_have_groups_and_words() -> None:
    for source in sugar_sources():
        assert source.groups, source
        assert source.words, source
        assert not source.words & source.none_of, source


@pytest.mark.parametrize("scheme", SCHEMES)
def test_rounding_rules_cover_every_amount_once(scheme: str) -> None:
    for rule in rounding_rules(scheme).values():
        for piece in rule.pieces:
            for amount in (piece.start, piece.start + Decimal("0.0001"), piece.end):
                if amount is not None:
                    assert sum(other.holds(amount) for other in rule.pieces) == 1, (rule.name, amount)


@pytest.mark.parametrize("broken", ["gap", "overlap", "start", "end", "units"])
def test_a_rule_with_a_gap_is_refused(broken: str, monkeypatch: pytest.MonkeyPatch) -> None:
    pieces = list(rounding_rules("us")["sodium"].pieces)
    units = ["mg"] * len(pieces)
    if broken == "gap":
        del pieces[1]
    elif broken == "overlap":
        pieces.insert(1, pieces[1])
    elif broken == "start":
        del pieces[0]
    elif broken == "end":
        del pieces[-1]
    else:
        units[-1] = "g"

    def rows(*_: object) -> tuple[tuple[str, str, RoundingPiece], ...]:
        return tuple(("sodium", unit, piece) for unit, piece in zip(units, pieces, strict=False))

    monkeypatch.setattr(label_rounding, "rows_of_scheme", rows)
    with pytest.raises(ReferenceDataError, match="rule 'sodium' of us has a gap, an overlap or two units"):
        rounding_rules.__wrapped__("us")


SETS = {
    "US DRV adults >=4 y": ("us", "DRV"),
    "US RDI adults >=4 y": ("us", "RDI"),
    "EU RI": ("eu", "RI"),
    "EU NRV": ("eu", "NRV"),
    "AU/NZ DI": ("anz", "DI"),
    "CA DV (current)": ("ca", "DV"),
    "CA reference standard 2006-2016 (repealed)": ("ca", "repealed 2003"),
}
METHODS = {
    "EU": ("eu", "annex-xiv"),
    "AU/NZ": ("anz", "schedule-11"),
    "CA": ("ca", "general"),
    "US general (B)": ("us", "4-4-9"),
    "US general (C)": ("us", "4-4-9-less-fibre"),
    "US polyols (F)": ("us", "polyols"),
}
STATUS = {"R": ClauseStatus.READ, "P": ClauseStatus.IN_PART, "M": ClauseStatus.MEMORY}


def original(folder: Path, name: str) -> list[dict[str, str]]:
    with (folder / "reference" / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_reference_values_are_those_collected(reference_data: Path) -> None:
    compared = 0
    for row in original(reference_data, "labelling_reference_values.csv"):
        if row["set"] not in SETS:
            continue
        scheme, set_name = SETS[row["set"]]
        units = {row["unit"].split()[0].replace("mcg", "µg").replace("ug", "µg")}
        found = [
            v
            for v in reference_values(scheme)
            if v.set_name == set_name and v.nutrient == row["nutrient"] and v.unit in units
        ]
        assert [(v.amount, v.cited.status) for v in found] == [(Decimal(row["value"]), STATUS[row["status"]])], row
        compared += 1
    assert compared == TABLES["label_reference_values.csv"]


def test_energy_factors_are_those_collected(reference_data: Path) -> None:
    compared = 0
    for row in original(reference_data, "labelling_energy_factors.csv"):
        if row["regime"] not in METHODS:
            continue
        scheme, method = METHODS[row["regime"]]
        found = [f for f in energy_factors(scheme) if f.method == method and f.component == row["component"]]
        wanted = (
            float(row["kJ_per_g"]) if row["kJ_per_g"] else None,
            float(row["kcal_per_g"]) if row["kcal_per_g"] else None,
            STATUS[row["status"]],
        )
        assert [(f.kj_per_g, f.kcal_per_g, f.cited.status) for f in found] == [wanted], row
        compared += 1
    assert compared == 42
