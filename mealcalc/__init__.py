"""mealcalc: energy, fat, carbohydrate and protein of a cooked batch, with every figure traced to its source.

import mealcalc

result = mealcalc.run("pots.batch.yaml")
print(result.per_container["PROCNT_G"].amount, result.complete)
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mealcalc.diagnostics import Diagnostic, Severity, render_text
    from mealcalc.errors import MealcalcError
    from mealcalc.fooddb import FoodDatabase, open_database
    from mealcalc.matching.decisions import Decisions, load_decisions
    from mealcalc.pipeline import calculate, how_sure, run
    from mealcalc.planning.aim import aim
    from mealcalc.planning.comparison import compare
    from mealcalc.planning.variants import apply_variant
    from mealcalc.recipe.reader import read_batch
    from mealcalc.records import Batch, BatchResult, Eater, Food, LineStatus, RecipeLine, Total
    from mealcalc.reports.aim_plot import portions_picture
    from mealcalc.reports.comparison_plot import comparison_picture
    from mealcalc.reports.energy_chart import energy_picture
    from mealcalc.reports.frames import to_frame
    from mealcalc.reports.pictures import Picture

__all__ = [
    "Batch",
    "BatchResult",
    "Decisions",
    "Diagnostic",
    "Eater",
    "Food",
    "FoodDatabase",
    "LineStatus",
    "MealcalcError",
    "Picture",
    "RecipeLine",
    "Severity",
    "Total",
    "aim",
    "apply_variant",
    "calculate",
    "compare",
    "comparison_picture",
    "energy_picture",
    "how_sure",
    "load_decisions",
    "open_database",
    "portions_picture",
    "read_batch",
    "render_text",
    "run",
    "to_frame",
]

# A name is imported when it is first asked for: `mealcalc --version` need not wait for a database library.
_HOMES = {
    "mealcalc.diagnostics": ("Diagnostic", "Severity", "render_text"),
    "mealcalc.errors": ("MealcalcError",),
    "mealcalc.fooddb": ("FoodDatabase", "open_database"),
    "mealcalc.matching.decisions": ("Decisions", "load_decisions"),
    "mealcalc.pipeline": ("calculate", "how_sure", "run"),
    "mealcalc.planning.aim": ("aim",),
    "mealcalc.planning.comparison": ("compare",),
    "mealcalc.planning.variants": ("apply_variant",),
    "mealcalc.recipe.reader": ("read_batch",),
    "mealcalc.records": ("Batch", "BatchResult", "Eater", "Food", "LineStatus", "RecipeLine", "Total"),
    "mealcalc.reports.aim_plot": ("portions_picture",),
    "mealcalc.reports.comparison_plot": ("comparison_picture",),
    "mealcalc.reports.energy_chart": ("energy_picture",),
    "mealcalc.reports.frames": ("to_frame",),
    "mealcalc.reports.pictures": ("Picture",),
}
_HOME_OF = {name: module for module, names in _HOMES.items() for name in names}


def __getattr__(name: str) -> object:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'mealcalc' has no attribute '{name}'")
    return getattr(import_module(_HOME_OF[name]), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
