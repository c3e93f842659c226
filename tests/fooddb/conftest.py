"""Short cuts around the few seconds that a build takes."""

import shutil
from pathlib import Path

import pytest

from mealcalc.fooddb import FoodDatabase, bundled


@pytest.fixture
def quick_build(database: FoodDatabase, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a build copy the database that the tests have built already: the rest of it stays as it is."""
    monkeypatch.setattr(bundled, "_fill", lambda path, _: shutil.copyfile(database.place, path))


@pytest.fixture
def whole(database: FoodDatabase, tmp_path: Path) -> Path:
    """A copy of the built database, to be damaged."""
    path = tmp_path / "data" / "foods.sqlite"
    path.parent.mkdir()
    shutil.copyfile(database.place, path)
    return path
