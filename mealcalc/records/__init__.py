"""The frozen records handed from stage to stage.

    recipe text -> RecipeLine -> MatchedFood -> WeighedIngredient -> Contribution -> totals per component and container

Each record keeps its predecessor, so that any printed figure traces back to a line of the recipe, a food code, the
edition of a table and the ground of every factor.
"""

from mealcalc.records.foods import (
    EnergyFactors,
    Food,
    HouseholdMeasure,
)
from mealcalc.records.ingredients import (
    BlendPart,
    Candidate,
    MassSource,
    MatchedFood,
    WeighedIngredient,
)
from mealcalc.records.recipe import (
    Amount,
    Batch,
    BatchComponent,
    Eater,
    FoodState,
    LineKind,
    LineSettings,
    LineStatus,
    RecipeLine,
    SubBatch,
    Variant,
)
from mealcalc.records.results import (
    NOT_COOKED,
    BatchResult,
    ComponentResult,
    Contribution,
    CookedMassSource,
    LineCooking,
    Total,
)

__all__ = [
    "NOT_COOKED",
    "Amount",
    "Batch",
    "BatchComponent",
    "BatchResult",
    "BlendPart",
    "Candidate",
    "ComponentResult",
    "Contribution",
    "CookedMassSource",
    "Eater",
    "EnergyFactors",
    "Food",
    "FoodState",
    "HouseholdMeasure",
    "LineCooking",
    "LineKind",
    "LineSettings",
    "LineStatus",
    "MassSource",
    "MatchedFood",
    "RecipeLine",
    "SubBatch",
    "Total",
    "Variant",
    "WeighedIngredient",
]
