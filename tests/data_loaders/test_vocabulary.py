"""The vocabulary of the loaders: keys, units, conversions, and that no component of USDA's definitions is missing."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from data_loaders.mapping import shipped_mapping, shipped_tables
from data_loaders.vocabulary import FURTHER_COMPONENTS, UNIT_WORDS, UnitError, component_of, conversion
from mealcalc.components import FOOD_COMPONENTS


def test_further_components_stay_apart_from_those_of_reports() -> None:
    assert not set(FURTHER_COMPONENTS) & set(FOOD_COMPONENTS)
    for key, further in FURTHER_COMPONENTS.items():
        suffix = {"µg": "UG"}.get(further.component.unit, further.component.unit.upper())
        assert key.endswith(f"_{suffix}")
        assert further.component.part_of == "" or component_of(further.component.part_of) is not None
        assert further.source


def test_every_tagname_of_usda_has_a_key(reference_data: Path) -> None:
    text = (reference_data / "data" / "sr28" / "NUTR_DEF.txt").read_text(encoding="latin-1")
    ours = {(c.tagname, c.unit) for c in FOOD_COMPONENTS.values()}
    ours |= {(further.component.tagname, further.component.unit) for further in FURTHER_COMPONENTS.values()}
    ours.add(("VITD", "IU"))  # VITD_IU here: one tagname in two units
    rows = [[part.strip("~") for part in line.split("^")] for line in text.splitlines()]
    assert len(rows) == 150
    assert {(tag, unit) for _, unit, tag, *_ in rows if tag} <= ours


@pytest.mark.parametrize(
    ("unit", "key", "factor"),
    [
        ("g", "FAT_G", 1),
        ("mg", "FAT_G", 0.001),
        ("mcg_RAE", "VITA_RAE_UG", 1),
        ("mg", "ID_UG", 1000),
        ("g", "NA_MG", 1000),
        ("g", "SE_UG", 1e6),
        ("IU", "VITD_UG", 0.025),
        ("kJ", "ENERC_KJ", 1),
    ],
)
def test_conversions(unit: str, key: str, factor: float) -> None:
    assert conversion(unit, key) == pytest.approx(factor, rel=1e-12)


# Vitamin A and E in IU depend on their form; energy in kJ is another column than energy in kcal.
@pytest.mark.parametrize(
    ("unit", "key"),
    [("IU", "VITA_RAE_UG"), ("IU", "TOCPHA_MG"), ("kJ", "ENERC_KCAL"), ("g", "ENERC_KJ"), ("oz", "FAT_G")],
)
def test_what_cannot_be_converted_is_refused(unit: str, key: str) -> None:
    with pytest.raises(UnitError, match=r"unit|turned"):
        conversion(unit, key)


@given(st.sampled_from(sorted(UNIT_WORDS)), st.sampled_from(sorted(FOOD_COMPONENTS)))
def test_a_conversion_is_above_zero_or_refused(unit: str, key: str) -> None:
    try:
        factor = conversion(unit, key)
    except UnitError:
        return
    assert factor > 0


def test_shipped_mappings_read() -> None:
    assert shipped_tables() == ["ausnut", "ciqual", "fndds"]
    for table in shipped_tables():
        assert shipped_mapping(table).table["code"] == table
