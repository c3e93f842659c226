"""Checks of tables: what breaks them is found, with the food and by how much; the audit of a loaded table."""

from pathlib import Path

import pytest

from data_loaders.checks import audit, check_reader
from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb import FoodDatabase
from tests.data_loaders.sheets import MAPPING, SHEET, reader_of


def with_protein(sheet: str) -> str:
    """The sheet with protein in place of iodine, so that the proximates are all there."""
    return sheet.replace("Iodine (mg)", "Protein (g)").replace(";-;0,002;", ";-;1,1;").replace(";n.d.;", ";16;")


PROTEIN = MAPPING.replace('"Iodine (mg)" = "ID_UG mg"', '"Protein (g)" = "PROCNT_G g"')


def test_a_table_in_order_breaks_nothing(tmp_path: Path) -> None:
    report = check_reader(reader_of(tmp_path, with_protein(SHEET), PROTEIN))
    assert report.foods == 3
    assert report.checked["proximates near 100 g"] == 2
    assert [b.check for b in report.breaches] == []


@pytest.mark.parametrize(
    ("old", "new", "check", "code"),
    [
        ("001;Swede, raw;roots;150;90,5", "001;Swede, raw;roots;150;98", "proximates near 100 g", "001"),
        ("grains;1400;", "grains;335;", "energy by general factors", "002"),
    ],
)
def test_what_is_out_of_order_is_found(tmp_path: Path, old: str, new: str, check: str, code: str) -> None:
    sheet = with_protein(SHEET)
    assert old in sheet
    report = check_reader(reader_of(tmp_path, sheet.replace(old, new), PROTEIN))
    found = {b.check: b.code for b in report.breaches}
    assert found == {check: code}
    assert any(line.startswith(f"  {code} ") for line in report.lines())


def test_a_part_above_its_whole_is_found(tmp_path: Path) -> None:
    mapping = MAPPING.replace('"Iodine (mg)" = "ID_UG mg"', '"Saturated (g)" = "FASAT_G g"')
    sheet = SHEET.replace("Iodine (mg)", "Saturated (g)").replace(";-;0,002;", ";-;0,9;")
    found = check_reader(reader_of(tmp_path, sheet, mapping)).breaches
    assert [(b.check, b.code, round(b.excess, 3)) for b in found] == [("saturated fatty acids within fat", "001", 0.7)]


def test_half_a_limit_above_the_whole_is_no_breach(tmp_path: Path) -> None:
    mapping = MAPPING.replace('"Iodine (mg)" = "ID_UG mg"', '"Saturated (g)" = "FASAT_G g"')
    sheet = SHEET.replace("Iodine (mg)", "Saturated (g)").replace(";-;0,002;", ";-;< 1,8;")
    assert not check_reader(reader_of(tmp_path, sheet, mapping)).breaches


def test_audit_of_the_bundled_table(database: FoodDatabase) -> None:
    report = audit(database, "sr28")
    assert report.foods == 8789
    assert report.checked["unique codes"] == 8789
    # Baking soda: carbon dioxide is in no proximate.
    assert ("proximates near 100 g", "18372") in {(b.check, b.code) for b in report.breaches}
    for check, count in report.checked.items():
        assert sum(b.check == check for b in report.breaches) <= 0.03 * count, check


def test_audit_of_a_table_that_is_not_loaded(database: FoodDatabase) -> None:
    with pytest.raises(FoodDatabaseError, match="no table 'nowhere'") as raised:
        audit(database, "nowhere")
    assert "sr28" in raised.value.hint
