"""mealcalc: energy, fat, carbohydrate and protein of a cooked batch, with every figure traced to its source.

    import mealcalc

    result = mealcalc.run("pots.batch.yaml")
    print(result.per_container["PROCNT_G"].amount, result.complete)
"""

from mealcalc.diagnostics import Diagnostic, Severity, render_text
from mealcalc.errors import MealcalcError
from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.matching.decisions import Decisions, load_decisions
from mealcalc.pipeline import calculate, run
from mealcalc.planning.variants import apply_variant
from mealcalc.recipe.reader import read_batch
from mealcalc.records import Batch, BatchResult, Food, LineStatus, RecipeLine, Total
from mealcalc.reports.frames import to_frame

__all__ = [
    "Batch",
    "BatchResult",
    "Decisions",
    "Diagnostic",
    "Food",
    "FoodDatabase",
    "LineStatus",
    "MealcalcError",
    "RecipeLine",
    "Severity",
    "Total",
    "apply_variant",
    "calculate",
    "load_decisions",
    "open_database",
    "read_batch",
    "render_text",
    "run",
    "to_frame",
]
