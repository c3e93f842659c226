"""A result as a pandas DataFrame."""

import pytest

from mealcalc.components import FOOD_COMPONENTS, MACRO_KEYS
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.recipe.reader import read_text
from mealcalc.reports.frames import to_frame

pytest.importorskip("pandas")


def test_lines_in_rows_and_food_components_in_columns(database: FoodDatabase) -> None:
    batch = read_text("Base:\n400 g brown rice, raw\n100 g zorgles\nRest:\n5 g honey [count no]\n", "x", "uk").batch
    assert batch is not None
    result = calculate(batch, database)
    frame = to_frame(result)
    assert list(frame.columns) == ["component", "line", "food", "mass_g", *FOOD_COMPONENTS]
    assert list(frame["component"]) == ["Base", "Base", "Rest"]
    assert list(frame["food"]) == ["Rice, brown, long-grain, raw", "", "Honey"]
    assert frame["mass_g"][0] == 400.0
    assert frame.loc[1, ["mass_g", *FOOD_COMPONENTS]].isna().all()  # unknown is missing
    assert (frame.loc[2, ["mass_g", *FOOD_COMPONENTS]] == 0.0).all()  # left out is nothing
    for key in MACRO_KEYS:
        assert frame[key].sum() == pytest.approx(result.totals[key].amount)
