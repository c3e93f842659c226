"""No command of a test sees the files or the configuration of whoever runs the tests."""

from pathlib import Path

import pytest

from mealcalc.fooddb import FoodDatabase


@pytest.fixture(autouse=True)
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, database: FoodDatabase) -> Path:  # noqa: ARG001
    """The food database built, a folder of its own to work in, and a configuration folder that holds nothing yet."""
    for name in ("COLUMNS", "NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(name, raising=False)
    folder = tmp_path / "kitchen"
    folder.mkdir()
    monkeypatch.setenv("MEALCALC_CONFIG", str(tmp_path / "configuration"))
    monkeypatch.chdir(folder)
    return folder
