"""USDA's survey dishes, from recipe to printed digit.

Figures: USDA Food and Nutrient Database for Dietary Studies 2017-2018, At A Glance tables (April 2020); fat changes of
2013-2014. Six foods are at hand everywhere (tests/data/survey_excerpt); the rest is read from outside. Tolerance: half
the last printed digit.
"""

from collections.abc import Mapping
from pathlib import Path

import pytest

from data_loaders import agreement_survey
from data_loaders.agreement_report import DOCUMENT, document
from data_loaders.agreement_survey import LAST_DIGIT, SurveyData, recompute, recompute_expanded, retention_shares
from data_loaders.readers.survey_dishes import SurveyDish, read_changes, read_nutrient_values, read_recipes
from mealcalc.records import Food
from mealcalc.values import Composition, amount_of

EXCERPT = Path(__file__).parent.parent / "data" / "survey_excerpt"
RECIPES = read_recipes(EXCERPT / "ingredients.csv")
PRINTED = read_nutrient_values(EXCERPT / "nutrient_values.csv")


@pytest.fixture(scope="module")
def sr28(all_foods: Mapping[str, Food]) -> dict[str, Composition]:
    return {code: food.composition for code, food in all_foods.items()}


def assert_printed(composition: Composition, printed: Composition) -> None:
    off = {
        key: (ours, theirs)
        for key, digit in LAST_DIGIT.items()
        if (ours := amount_of(composition, key)) is None
        or (theirs := amount_of(printed, key)) is None
        or abs(ours - theirs) > digit / 2 + 1e-9
    }
    assert not off


@pytest.mark.parametrize("dish", RECIPES.values(), ids=lambda dish: f"FNDDS 2017-2018 food {dish.code}")
def test_every_printed_component_of_a_dish(dish: SurveyDish, sr28: Mapping[str, Composition]) -> None:
    assert len(LAST_DIGIT) == 42
    assert_printed(recompute(dish, {**sr28, **PRINTED}, retention_shares()).per_100g, PRINTED[dish.code])


@pytest.mark.parametrize("code", ["28310160", "27319010"], ids="FNDDS 2017-2018 food {}".format)
def test_a_nested_dish_recomputed_from_its_own_ingredients(code: str, sr28: Mapping[str, Composition]) -> None:
    expanded = recompute_expanded(RECIPES, sr28, retention_shares())
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "WATER_G", "VITC_MG", "THIA_MG", "FE_MG"):
        printed = amount_of(PRINTED[code], key)
        # The nested dish was itself rounded before USDA used it.
        assert amount_of(expanded[code], key) == pytest.approx(printed, abs=LAST_DIGIT[key])


@pytest.mark.parametrize(
    ("code", "fat_code"),
    [("26127140", "82101000"), ("41421020", "04615")],
    ids=["FNDDS 2013-2014 food 26127140", "FNDDS 2013-2014 food 41421020"],
)
def test_the_fat_change_is_the_frying_fat(code: str, fat_code: str, sr28: Mapping[str, Composition]) -> None:
    data = SurveyData(
        published=PRINTED,
        recipes=RECIPES,
        ingredient_values={},
        sr28=sr28,
        changes_2013=read_changes(EXCERPT / "MoistNFatAdjust.csv"),
        recipes_2003={},
    )
    fried = next(dish for dish in agreement_survey.fried_dishes(data) if dish.dish.code == code)
    assert fried.changes.fat_code == fat_code
    assert fried.fat_per_100g_g == pytest.approx(fried.changes.fat_percent, abs=0.05)
    composition = recompute(fried.on_one_base, data.sr28_values, retention_shares()).per_100g
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "FASAT_G", "CHOCDF_G", "WATER_G", "NA_MG"):
        # The fat change is printed to 0.1 % of the recipe, which is up to 0.05 g of fat per 100 g.
        printed = amount_of(PRINTED[code], key)
        assert amount_of(composition, key) == pytest.approx(printed, rel=0.004, abs=LAST_DIGIT[key] / 2)


@pytest.fixture(scope="module")
def survey(reference_data: Path, sr28: Mapping[str, Composition]) -> SurveyData:
    return agreement_survey.load(reference_data / "data", sr28)


@pytest.fixture(scope="module")
def report(survey: SurveyData) -> str:
    return document(survey)


def test_the_document_is_up_to_date(report: str) -> None:
    assert DOCUMENT.read_text(encoding="utf-8") == report


def test_as_many_dishes_agree_as_is_asked(report: str) -> None:
    section = report.partition("## What was asked")[2].partition("##")[0]
    rows = [line.strip("| ").split(" | ") for line in section.splitlines() if line.startswith("| ") and "%" not in line]
    shares = {name: (float(least), float(reached)) for name, least, reached in rows[2:]}
    assert len(shares) == 12
    assert not {name: both for name, both in shares.items() if both[1] < both[0]}


def test_the_dishes_are_those_of_the_release(survey: SurveyData) -> None:
    assert (len(survey.published), len(survey.recipes)) == (7083, 7083)
    assert sum(len(dish.ingredients) for dish in survey.recipes.values()) == 24896
    assert (len(survey.comparable), len(survey.with_retention)) == (4799, 2297)


def test_the_fat_change_is_in_percent_of_the_raw_recipe(survey: SurveyData) -> None:
    fried = agreement_survey.fried_dishes(survey)
    same = [dish for dish in fried if abs(dish.fat_per_100g_g - dish.changes.fat_percent) < 0.06]
    assert (len(same), len(fried)) == (119, 122)


def test_no_dish_of_2003_2004_loses_more_than_it_has(survey: SurveyData) -> None:
    reasons = {result for result in agreement_survey.older_dishes(survey).values() if isinstance(result, str)}
    assert all(reason.startswith("not in SR28") for reason in reasons)
