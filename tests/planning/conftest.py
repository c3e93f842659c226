"""Batches that the tests of planning share."""

from collections.abc import Callable
from pathlib import Path

import pytest

from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import run
from mealcalc.records import BatchResult

EXAMPLES = Path(__file__).parent.parent.parent / "mealcalc" / "examples"


@pytest.fixture(scope="session")
def smoky(database: FoodDatabase) -> BatchResult:
    """The shipped example of rice beside beans and turkey, six containers."""
    return run(EXAMPLES / "smoky-bean-turkey.batch.yaml", database=database)


@pytest.fixture
def calculated(database: FoodDatabase, tmp_path: Path) -> Callable[[str], BatchResult]:
    """Calculates a batch from its YAML text."""

    def calculate(text: str) -> BatchResult:
        path = tmp_path / "test.batch.yaml"
        path.write_text(text, encoding="utf-8")
        return run(path, database=database)

    return calculate
