"""What all tests share: a data folder of their own, one built database, the way to data that are not shipped."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from mealcalc.fooddb import BUNDLED_TABLE, FoodDatabase, open_database
from mealcalc.records import Food

# A loaded machine is no fault of the code: no test has a time limit.
settings.register_profile("mealcalc", deadline=None)
settings.load_profile("mealcalc")


@pytest.fixture(scope="session", autouse=True)
def data_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder in place of the user's own, for the whole run."""
    folder = tmp_path_factory.mktemp("data")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("MEALCALC_DATA_DIR", str(folder))
        yield folder


@pytest.fixture(scope="session")
def database(data_folder: Path) -> Iterator[FoodDatabase]:
    """The bundled food database, built once."""
    with open_database(data_folder / "foods.sqlite") as opened:
        yield opened


@pytest.fixture(scope="session")
def all_foods(database: FoodDatabase) -> dict[str, Food]:
    """Code -> food, for every food of the bundled table."""
    keys = [(header.table, header.code) for header in database.headers(BUNDLED_TABLE)]
    return {code: food for (_, code), food in database.foods(keys).items()}


@pytest.fixture(scope="session")
def reference_data() -> Path:
    """The folder of published data that may not be shipped; the test is skipped where it is not at hand."""
    folder = os.environ.get("MEALCALC_REFERENCE_DATA")
    if not folder:
        pytest.skip("MEALCALC_REFERENCE_DATA is not set: data outside the package are not at hand")
    return Path(folder)
