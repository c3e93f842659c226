"""The schema on the database systems it is written for."""

import pytest
from sqlalchemy import make_url
from sqlalchemy.schema import CreateTable

from mealcalc.fooddb.schema import STATUS_CODES, metadata
from mealcalc.values import ValueStatus


@pytest.mark.parametrize("url", ["sqlite://", "postgresql://"])
def test_every_table_can_be_expressed(url: str) -> None:
    dialect = make_url(url).get_dialect()()
    for table in metadata.sorted_tables:
        statement = str(CreateTable(table).compile(dialect=dialect))
        assert f"CREATE TABLE {table.name} (" in statement
        if "code" in table.c:
            assert "code TEXT NOT NULL" in statement


def test_every_status_but_missing_has_a_code_of_its_own() -> None:
    assert set(STATUS_CODES) == set(ValueStatus) - {ValueStatus.MISSING}
    assert len(set(STATUS_CODES.values())) == len(STATUS_CODES)
