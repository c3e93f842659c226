"""A result as a pandas DataFrame, for notebooks; pandas is imported only here and only when asked for."""

from typing import TYPE_CHECKING

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import BatchResult
from mealcalc.reports.machine import LEFT_OUT, contributed

if TYPE_CHECKING:
    import pandas as pd


def to_frame(result: BatchResult) -> "pd.DataFrame":
    """Contributions of the lines to the whole batch: one row per line, one column per food component.

    Returns
    -------
    DataFrame
        Columns `component`, `line`, `food`, `mass_g` (edible, g) and the food component keys, in the unit that the key
        names, for all containers together. Unknown amounts are missing values, never 0; lines that are
        not to be counted have 0.

    Raises
    ------
    ImportError
        If pandas is not installed: `pip install mealcalc[frames]`.
    """
    import pandas as pd

    rows = [
        {
            "component": c.line.component,
            "line": c.line.text.strip(),
            "food": "" if c.ingredient.matched.food is None else c.ingredient.matched.food.description,
            "mass_g": 0.0 if c.ingredient.matched.status in LEFT_OUT else c.ingredient.eaten_mass_g,
            **contributed(c),
        }
        for c in result.contributions
    ]
    return pd.DataFrame(rows, columns=["component", "line", "food", "mass_g", *FOOD_COMPONENTS])
