"""The food database: the bundled table and what its owner imports, searched and read as records."""

from mealcalc.fooddb.derived import with_derived_values
from mealcalc.fooddb.logical_zeros import with_logical_zeros, zeros_by_rule
from mealcalc.fooddb.opening import default_database_path, engine_for_import, open_database
from mealcalc.fooddb.repository import Edition, FoodDatabase, FoodHeader
from mealcalc.fooddb.shipped import BUNDLED_TABLE

__all__ = [
    "BUNDLED_TABLE",
    "Edition",
    "FoodDatabase",
    "FoodHeader",
    "default_database_path",
    "engine_for_import",
    "open_database",
    "with_derived_values",
    "with_logical_zeros",
    "zeros_by_rule",
]
