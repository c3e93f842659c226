"""Dishes of the FAO/INFOODS Food Composition Table for Western Africa (2019), by the mixed method.

The figures may not be shipped: they are read from outside, file names as below. FAO weighed each dish once or several
times; the published composition is the mean of the per-100-g results of these recipes (user guide and sheets 05, 09).
Ingredients are given as printed in sheet 05: energy in whole kcal, grams to 0.1. FAO calculated from unrounded values.
"""

import csv
import re
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean, median

import pytest

from mealcalc.calculation.recipe_methods import FAO_ENERGY_FACTORS, DishComposition, MethodIngredient, mixed_method
from mealcalc.values import Composition, Value, amount_of

INGREDIENTS = "recipe-vectors-fao-ingredients.csv"
RESULTS = "recipe-vectors-fao-results.csv"
EXAMPLES = "recipe-vectors.csv"

INGREDIENT_COLUMNS = {
    "kcal_100g": "ENERC_KCAL",
    "water_100g": "WATER_G",
    "protein_100g": "PROCNT_G",
    "fat_100g": "FAT_G",
    "cho_available_100g": "CHOAVLDF_G",
    "fibre_100g": "FIBTG_G",
    "ash_100g": "ASH_G",
    "sodium_mg_100g": "NA_MG",
}
RESULT_COLUMNS = {
    "published_kcal": "ENERC_KCAL",
    "published_water_g": "WATER_G",
    "published_protein_g": "PROCNT_G",
    "published_fat_g": "FAT_G",
    "published_cho_available_g": "CHOAVLDF_G",
}
HALF_DIGIT = {"ENERC_KCAL": 0.5, "WATER_G": 0.05, "PROCNT_G": 0.05, "FAT_G": 0.05, "CHOAVLDF_G": 0.05}
# Beyond rounding. FAO's water lies some 0.1 g below the balance in 13 of the 14 dishes, why is not known; carbohydrate
# is a difference of five rounded figures; fried potatoes (02_081) are 0.005 g of fat off.
BEYOND_ROUNDING = {"WATER_G": 0.1, "CHOAVLDF_G": 4 * 0.05, "FAT_G": 0.01}

DISHES = (
    *("01_156", "01_158", "01_168", "02_081", "02_082", "02_085", "03_143", "07_135"),
    *("14_001", "14_002", "14_003", "14_010", "14_027", "14_034"),
)
SOURCE = "FAO/INFOODS WAFCT 2019 sheets 05 and 09 dish {}".format


@dataclass(frozen=True)
class Observation:
    """One weighed recipe of a dish."""

    ingredients: tuple[MethodIngredient, ...]
    dish_yield: float

    def cooked(self, energy: Mapping[str, Mapping[str, float]] | None) -> DishComposition:
        return mixed_method(self.ingredients, self.dish_yield, energy=energy)

    def input_rounding(self, key: str) -> float:
        """What half a printed digit of every ingredient can do to 100 g of the dish."""
        return HALF_DIGIT[key] / self.dish_yield


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@pytest.fixture(scope="module")
def observations(reference_data: Path) -> dict[str, list[Observation]]:
    ingredients: dict[tuple[str, str], list[MethodIngredient]] = defaultdict(list)
    yields: dict[tuple[str, str], float] = {}
    for row in rows(reference_data / "reference" / INGREDIENTS):
        recipe = row["dish_code"], row["observation"]
        yields[recipe] = float(row["yield_factor"])
        composition: Composition = {
            **{key: Value(float(row[column])) for column, key in INGREDIENT_COLUMNS.items()},
            # None of the ingredients is a drink.
            "ALC_G": Value(0.0),
        }
        ingredients[recipe].append(
            MethodIngredient(float(row["raw_edible_weight_g"]), composition, label=row["ingredient"])
        )
    found: dict[str, list[Observation]] = defaultdict(list)
    for recipe, parts in ingredients.items():
        found[recipe[0]].append(Observation(tuple(parts), yields[recipe]))
    return found


@pytest.fixture(scope="module")
def published(reference_data: Path) -> dict[str, dict[str, float]]:
    return {
        row["dish_code"]: {key: float(row[column]) for column, key in RESULT_COLUMNS.items()}
        for row in rows(reference_data / "reference" / RESULTS)
    }


def mean_per_100g(recipes: list[Observation], key: str, energy: Mapping[str, Mapping[str, float]] | None) -> float:
    amounts = [amount_of(recipe.cooked(energy).per_100g, key) for recipe in recipes]
    assert None not in amounts
    return fmean(amount for amount in amounts if amount is not None)


@pytest.mark.parametrize("code", DISHES, ids=SOURCE)
def test_composition_of_a_dish(
    code: str, observations: dict[str, list[Observation]], published: dict[str, dict[str, float]]
) -> None:
    recipes = observations[code]
    for key, printed in published[code].items():
        # Wider than half the printed digit by what the rounding of the ingredients can do, and by the above.
        tolerance = HALF_DIGIT[key] + fmean(recipe.input_rounding(key) for recipe in recipes)
        tolerance += BEYOND_ROUNDING.get(key, 0.0)
        assert mean_per_100g(recipes, key, None) == pytest.approx(printed, abs=tolerance), key


@pytest.mark.parametrize("code", DISHES, ids=SOURCE)
def test_energy_of_a_dish_recomputed_from_what_it_holds(
    code: str, observations: dict[str, list[Observation]], published: dict[str, dict[str, float]]
) -> None:
    recipes = observations[code]
    rounding_kcal = sum(
        factor * fmean(HALF_DIGIT.get(key, 0.05) / recipe.dish_yield for recipe in recipes)
        for key, factor in FAO_ENERGY_FACTORS["ENERC_KCAL"].items()
        if key != "ALC_G"
    )
    energy_kcal = mean_per_100g(recipes, "ENERC_KCAL", FAO_ENERGY_FACTORS)
    assert energy_kcal == pytest.approx(published[code]["ENERC_KCAL"], abs=0.5 + rounding_kcal)


@pytest.mark.parametrize(
    ("key", "at_most"),
    [("ENERC_KCAL", 0.7), ("WATER_G", 0.15), ("PROCNT_G", 0.05), ("FAT_G", 0.05)],
    ids=lambda value: f"FAO/INFOODS WAFCT 2019 {value}" if isinstance(value, str) else f"median at most {value}",
)
@pytest.mark.parametrize("energy", [None, FAO_ENERGY_FACTORS], ids=["energy summed", "energy recomputed"])
def test_median_difference_of_the_dishes_with_ingredients(
    key: str,
    at_most: float,
    energy: Mapping[str, Mapping[str, float]] | None,
    observations: dict[str, list[Observation]],
    published: dict[str, dict[str, float]],
) -> None:
    assert set(observations) == set(DISHES)
    differences = [
        abs(mean_per_100g(recipes, key, energy) - published[code][key]) for code, recipes in observations.items()
    ]
    assert median(differences) <= at_most


def test_energy_of_every_published_dish_leaves_room_for_its_fibre(published: dict[str, dict[str, float]]) -> None:
    """Fibre is not among the published results: it must account for the rest of the energy and fit into 100 g."""
    assert len(published) == 94
    for code, printed in published.items():
        composition = {key: Value(amount) for key, amount in printed.items()} | {
            "FIBTG_G": Value(0.0),
            "ALC_G": Value(0.0),
        }
        dish = mixed_method([MethodIngredient(100.0, composition)], 1.0, energy=FAO_ENERGY_FACTORS)
        energy_kcal = dish.amount("ENERC_KCAL")
        assert energy_kcal is not None
        # Energy is printed to 1 kcal, the others to 0.1 g: 0.5 + (4 + 9 + 4) x 0.05 kcal.
        rounding_kcal = 1.35
        left_kcal = printed["ENERC_KCAL"] - energy_kcal
        assert left_kcal >= -rounding_kcal, code
        room_g = 100.0 - sum(printed[key] for key in ("WATER_G", "PROCNT_G", "FAT_G", "CHOAVLDF_G")) + 4 * 0.05
        assert left_kcal / FAO_ENERGY_FACTORS["ENERC_KCAL"]["FIBTG_G"] <= room_g + rounding_kcal / 2, code


def test_energy_in_both_units_of_one_dish(reference_data: Path) -> None:
    """Dish 14_027: both energies from its protein, fat, available carbohydrate and fibre (WAFCT 2019, sheet 05)."""
    (row,) = (row for row in rows(reference_data / "reference" / EXAMPLES) if row["id"] == "R-ENERGY-FAO")
    amounts = re.findall(r"(protein|fat|available carbohydrate|fibre) ([0-9.]+)", row["inputs"])
    keys = {"protein": "PROCNT_G", "fat": "FAT_G", "available carbohydrate": "CHOAVLDF_G", "fibre": "FIBTG_G"}
    composition = {keys[name]: Value(float(amount)) for name, amount in amounts}
    assert len(composition) == 4
    printed = {unit: float(number) for number, unit in re.findall(r"published ([0-9]+) (kcal|kJ)", row["result"])}
    food = MethodIngredient(100.0, {**composition, "WATER_G": Value(80.0), "ALC_G": Value(0.0)})
    dish = mixed_method([food], 1.0, energy=FAO_ENERGY_FACTORS)
    assert dish.amount("ENERC_KCAL") == pytest.approx(printed["kcal"], abs=0.5)
    assert dish.amount("ENERC_KJ") == pytest.approx(printed["kJ"], abs=0.5)
