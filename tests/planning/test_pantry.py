"""What is at home: read, and taken off what is needed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.fooddb import FoodDatabase
from mealcalc.planning.pantry import Pantry, pantry_rows
from mealcalc.recipe.source import make_source
from mealcalc.records.shopping import PantryRow
from tests.planning.shop import bought


def rows(*lines: str, header: str = "item,amount,food code") -> tuple[PantryRow, ...]:
    return pantry_rows(make_source("\n".join((header, *lines)) + "\n", "have.csv"))[0]


def found(*lines: str, header: str = "item,amount,food code") -> list[str]:
    return [d.code for d in pantry_rows(make_source("\n".join((header, *lines)) + "\n", "have.csv"))[1]]


def taken(database: FoodDatabase, line: str, *lines: str) -> float:
    """Share of what a line needs that is at home."""
    return Pantry(rows(*lines), database, "uk").take(bought(database, line))


@pytest.mark.parametrize(
    ("line", "at_home", "share"),
    [
        ("400 g brown rice", "brown rice,100 g", 0.25),
        ("400 g brown rice", "brown rice,2 kg", 1.0),
        ("400 g brown rice", "brown rice,", 1.0),  # enough, without a number
        ("400 g brown rice", "white rice,2 kg", 0.0),
        ("3 onions", "onions,1 piece", 1 / 3),
        ("2 large onions", "onions,1 piece", 0.5),  # an onion is an onion
        ("2 red onions", "brown onions,5 pieces", 0.0),
        ("4 x 400 g cans black beans, drained", "black beans,1 x 400 g can", 0.25),
        ("6 eggs", "eggs,half a dozen", 1.0),
        ("89 g carrots", "carrots,50 g", 0.5),  # 89 g edible are 100 g as purchased
        ("500 ml olive oil", "olive oil,250 ml", 0.5),
        ("100 g zorgles", "zorgles,25 g", 0.25),
        ("4 tbsp zorgle sauce", "zorgle sauce,30 ml", 0.5),
        ("400 g brown rice", "anything,100 g,sr28:20036", 0.25),
    ],
)
def test_what_is_at_home_is_taken_off(database: FoodDatabase, line: str, at_home: str, share: float) -> None:
    assert taken(database, line, at_home) == pytest.approx(share)


def test_what_is_taken_is_gone(database: FoodDatabase) -> None:
    pantry = Pantry(rows("brown rice,500 g"), database, "uk")
    need = bought(database, "400 g brown rice")
    assert [pantry.take(need) for _ in range(3)] == [pytest.approx(share) for share in (1.0, 0.25, 0.0)]


def test_several_rows_of_a_food_add_up(database: FoodDatabase) -> None:
    assert taken(database, "400 g brown rice", "brown rice,100 g", "brown rice,1 kg") == 1.0
    assert taken(database, "400 g brown rice", "brown rice,100 g", "brown rice,60 g") == pytest.approx(0.4)


def test_an_amount_that_cannot_be_compared_is_told(database: FoodDatabase) -> None:
    pantry = Pantry(rows("zorgle sauce,1 jar"), database, "uk")
    assert pantry.take(bought(database, "2 tbsp zorgle sauce")) == 0.0
    assert [d.code for d in pantry.diagnostics] == ["not-comparable"]


@pytest.mark.parametrize(
    ("row", "code"),
    [(",100 g", "no-item"), ("rice,500", "amount-without-unit"), ("rice,1 kg,,,again", "too-many-cells")],
)
def test_a_row_that_cannot_be_used_is_told(row: str, code: str) -> None:
    assert rows(row) == ()
    assert found(row) == [code]


def test_an_amount_that_cannot_be_read_is_told(database: FoodDatabase) -> None:
    pantry = Pantry(rows("brown rice,3 blobs"), database, "uk")
    assert [d.code for d in pantry.diagnostics] == ["bad-amount"]
    assert pantry.take(bought(database, "400 g brown rice")) == 0.0


def test_the_list_may_name_items_only() -> None:
    assert [(row.item, row.pack) for row in rows("salt", "pepper", header="item")] == [("salt", ""), ("pepper", "")]


@given(st.text(max_size=200))
def test_no_text_makes_the_reader_raise(text: str) -> None:
    for whole in (text, f"item,amount\n{text}"):
        read, _ = pantry_rows(make_source(whole, "any"))
        assert all(row.item for row in read)
