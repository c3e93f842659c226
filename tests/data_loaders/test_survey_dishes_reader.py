"""The readers of the survey databases: every layout that was published, and what is wrong with a file."""

import gzip
from collections.abc import Callable
from pathlib import Path

import pytest

from data_loaders.agreement_survey import suspects
from data_loaders.readers.survey_dishes import (
    NUTRIENT_COLUMNS,
    Changes,
    SurveyDish,
    SurveyIngredient,
    read_changes,
    read_ingredient_values,
    read_linked_recipes,
    read_nutrient_values,
    read_recipes,
)
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.errors import InputFileError
from mealcalc.values import Value

EXCERPT = Path(__file__).parent.parent / "data" / "survey_excerpt"
RECIPE_HEADER = (
    "Food code,Main food description,Seq num,Ingredient code,Ingredient description,Ingredient weight (g),"
    "Retention code,Moisture change (%)\n"
)


def written(folder: Path, text: str, name: str = "table.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_every_column_is_a_component_of_the_vocabulary() -> None:
    assert {key for key, _ in NUTRIENT_COLUMNS.values()} <= FOOD_COMPONENTS.keys()


def test_nutrient_values() -> None:
    foods = read_nutrient_values(EXCERPT / "nutrient_values.csv")
    oil = foods["82101000"]
    assert (oil["ENERC_KCAL"], oil["FAT_G"], oil["WATER_G"]) == (Value(886.0), Value(100.0), Value(0.0))
    assert len(oil) == len(NUTRIENT_COLUMNS)


def test_recipes_with_nested_foods_and_codes_of_five_digits() -> None:
    dish = read_recipes(EXCERPT / "ingredients.csv")["26127140"]
    assert dish.changes == Changes(-15.0)
    assert dish.ingredients[1] == SurveyIngredient("01123", "Egg, whole, raw, fresh", 50.0, "103")
    assert [i.code for i in dish.ingredients if i.is_dish] == ["82101000"]
    assert dish.ingredients[3].retention_code == ""


def test_a_blank_moisture_change_counts_as_none(tmp_path: Path) -> None:
    path = written(tmp_path, RECIPE_HEADER + "27000001,Stew,1,2047,Salt,3,0,\n")
    assert read_recipes(path)["27000001"].changes == Changes(0.0)


def test_a_blank_value_is_missing(tmp_path: Path) -> None:
    head = ",".join(f'"{name}"' for name in NUTRIENT_COLUMNS)
    path = written(tmp_path, f"Ingredient code,{head}\n1001,{',' * (len(NUTRIENT_COLUMNS) - 1)}\n")
    assert read_ingredient_values(path) == {"01001": {}}


ASCII_CHANGES = "26127140^01/01/2003^12/31/2004^-15^8^4615^\n26127141^01/01/2003^12/31/2004^-2.5^0^0^\n"
CSV_CHANGES = """\ufeffFood code,Start date,End date,Moisture change,Fat change,Type of fat
26127140,01-Jan-13,31-Dec-14,-15,8,4615
26127141,01-Jan-13,31-Dec-14,-2.5,0,0
"""


@pytest.mark.parametrize(
    "text",
    [ASCII_CHANGES, f"foodCode:integer^start^end^moisture^fat^type\n{ASCII_CHANGES}", CSV_CHANGES],
    ids=["ascii", "ascii with a header", "csv"],
)
def test_changes_in_every_layout(tmp_path: Path, text: str) -> None:
    changes = read_changes(written(tmp_path, text))
    assert changes == {"26127140": Changes(-15.0, 8.0, "04615"), "26127141": Changes(-2.5)}


def test_recipes_of_an_older_release(tmp_path: Path) -> None:
    links = written(
        tmp_path,
        "26127140^a^b^1^15060^~PERCH,MXD SP,RAW~^1^~LB~^60919^2310^0^453.6^^^^\n"
        "26127140^a^b^2^82101000^~VEGETABLE OIL~^1^~TSP~^22000^0^0^4.5^^^^\n",
        "links.txt",
    )
    descriptions = written(tmp_path, "26127140^a^b^~Perch, fried~^~PERCH~\n", "names.txt")
    changes = written(tmp_path, "26127140^a^b^-20^5^4615^\n", "changes.txt")
    assert read_linked_recipes(links, descriptions, changes) == {
        "26127140": SurveyDish(
            "26127140",
            "Perch, fried",
            (
                SurveyIngredient("15060", "PERCH,MXD SP,RAW", 453.6, "2310"),
                SurveyIngredient("82101000", "VEGETABLE OIL", 4.5, ""),
            ),
            Changes(-20.0, 5.0, "04615"),
        )
    }


def test_packed_files_are_read_too(tmp_path: Path) -> None:
    path = tmp_path / "changes.txt.gz"
    path.write_bytes(gzip.compress(b"26127140^a^b^-20^5^4615^\n"))
    assert list(read_changes(path)) == ["26127140"]


@pytest.mark.parametrize(
    ("read", "text", "message"),
    [
        (read_recipes, RECIPE_HEADER + "27000001,Stew,1,2047,Salt,three,0,0\n", "table.csv:2: 'three' is no number"),
        (read_recipes, "A title row\n" + RECIPE_HEADER, "no column 'Food code'"),
        (read_nutrient_values, "Food code,Protein (g)\n11000000,1.03\n", "no single column 'Energy'"),
        (read_changes, "26127140^a^b^-20\n", "4 fields"),
        (read_changes, "26127140^a^b^-20^none^4615\n", "'none' is no number"),
    ],
)
def test_damage_is_told_with_its_place(tmp_path: Path, read: Callable[[Path], object], text: str, message: str) -> None:
    with pytest.raises(InputFileError) as caught:
        read(written(tmp_path, text))
    assert message in caught.value.message
    assert caught.value.hint


@pytest.mark.parametrize("content", [None, b"\x1f\x8b broken"])
def test_a_file_that_cannot_be_opened(tmp_path: Path, content: bytes | None) -> None:
    path = tmp_path / "table.csv.gz"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(InputFileError, match="cannot be read"):
        read_recipes(path)


def dish(code: str, *ingredients: str) -> SurveyDish:
    return SurveyDish(code, code, tuple(SurveyIngredient(i, i, 10.0, "") for i in ingredients))


def test_the_ingredient_that_explains_most_is_named_and_its_company_is_not() -> None:
    dishes = [
        dish("a", "cheese", "herb"),
        dish("b", "cheese", "herb"),
        dish("c", "cheese", "flour"),
        dish("d", "herb"),
        *(dish(f"good {n}", "flour") for n in range(5)),
        dish("e", "salt"),
    ]
    recipes = {d.code: d for d in dishes}
    assert suspects(["a", "b", "c", "e"], recipes, dishes) == {"cheese": ["a", "b", "c"]}
