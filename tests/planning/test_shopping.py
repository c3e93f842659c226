"""A shopping list over several batches: merged by food, grouped by section, nothing lost."""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.examples import demo_prices, examples, read_example
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.planning.pantry import pantry_rows
from mealcalc.planning.price_rows import price_rows
from mealcalc.planning.prices import PriceBook
from mealcalc.planning.purchases import all_purchases, purchases_of
from mealcalc.planning.shopping import shopping_list, with_containers
from mealcalc.recipe.reader import read_text
from mealcalc.recipe.source import make_source
from mealcalc.records.shopping import BatchToShop, ShoppingList
from mealcalc.reference.shopping_tables import SECTIONS
from tests.planning.shop import TODAY, calculated

FOODS = (
    "{} g brown rice", "{} g carrots", "{} onions", "{} g beef mince, 12% fat", "{} ml olive oil", "{} eggs",
    "{} x 400 g cans black beans, drained", "{} tsp paprika", "{} cloves garlic", "{} g frozen peas", "{} g zorgles",
    "{} tbsp chopped parsley", "{} ml water", "{} g honey (optional)",
)  # fmt: skip
batches = st.lists(
    st.lists(st.tuples(st.integers(1, 200), st.sampled_from(FOODS)), min_size=1, max_size=6), min_size=1, max_size=3
)


def shop(
    database: FoodDatabase, *recipes: Sequence[str], have: Sequence[str] = (), rows: Sequence[str] = ()
) -> ShoppingList:
    """The list for batches of these lines, made once each."""
    at_home, _ = pantry_rows(make_source("\n".join(("item,amount", *have)), "have.csv")) if have else ((), ())
    book = None
    if rows:
        text = "\n".join(("item,pack size,price,currency,date,section", *rows))
        book = PriceBook(price_rows(make_source(text, "prices.csv"), TODAY)[0], database)
    made = [BatchToShop(calculated(database, *lines)) for lines in recipes]
    return shopping_list(made, database, at_home=at_home, book=book)


def names(shopping: ShoppingList) -> list[str]:
    return [item.name for item in shopping.items]


def test_the_same_food_of_several_batches_is_one_item(database: FoodDatabase) -> None:
    shopping = shop(database, ["2 onions", "400 g rice, dry"], ["3 brown onions", "1 onion"])
    item = next(item for item in shopping.items if item.name == "onions")
    assert [needed.batch for needed in item.needed] == [0, 1, 1]
    assert (item.amounts[0].number, item.amounts[0].unit) == (6.0, "piece")
    assert item.needed_g == pytest.approx(6 * 110 / 0.9)
    assert len(shopping.items) == 2


def test_items_stand_in_their_sections_in_the_order_of_the_shop(database: FoodDatabase) -> None:
    lines = {
        "500 g carrots": "produce",
        "1 bunch coriander": "produce",
        "500 g beef mince": "meat",
        "500 g cod fillets": "fish",
        "200 g butter": "dairy",
        "6 eggs": "dairy",
        "300 g plain yoghurt": "dairy",
        "4 slices wholemeal bread": "bakery",
        "400 g brown rice": "grains",
        "200 g red lentils": "grains",
        "2 x 400 g cans black beans, drained": "tins",
        "1 tbsp tomato paste": "tins",
        "2 tbsp olive oil": "sauces",
        "2 tbsp soy sauce": "sauces",
        "1 tsp ground cumin": "spices",
        "1 tsp dried thyme": "spices",
        "200 g plain flour": "baking",
        "100 g walnuts": "baking",
        "100 g raisins": "baking",
        "200 ml red wine": "drinks",
        "500 g frozen peas": "frozen",
    }
    shopping = shop(database, list(lines))
    of_lines = {item.needed[0].purchase.line.text: item.section for item in shopping.items}
    assert of_lines == lines
    order = [list(SECTIONS).index(item.section) for item in shopping.items]
    assert order == sorted(order)


def test_optional_lines_stand_apart(database: FoodDatabase) -> None:
    shopping = shop(database, ["200 g honey", "100 g honey (optional)"])
    assert [item.needed_g for item in shopping.items] == [200.0]
    assert [item.needed_g for item in shopping.optional] == [100.0]


def test_foods_to_taste_are_named_once(database: FoodDatabase) -> None:
    shopping = shop(database, ["400 g rice, dry", "salt to taste", "oil, for frying"], ["salt to taste", "2 onions"])
    assert shopping.to_taste == ("oil", "salt")
    assert shop(database, ["salt to taste", "2 onions"], have=["salt,"]).to_taste == ()


def test_lines_that_are_not_understood_keep_their_words(database: FoodDatabase) -> None:
    shopping = shop(database, ["2 tbsp zorgle paste, heaped", "100 g zorgle flakes (optional)", "2 onions"])
    assert [(line.text, line.optional) for line in shopping.in_words] == [
        ("2 tbsp zorgle paste, heaped", False),
        ("100 g zorgle flakes (optional)", True),
    ]
    assert names(shopping) == ["onions"]


def test_a_priced_food_that_no_table_holds_is_an_item(database: FoodDatabase) -> None:
    shopping = shop(database, ["100 g zorgles", "150 g zorgles"], rows=["zorgles,200 g,4.00,EUR,,sauces"])
    (item,) = shopping.items
    assert (item.name, item.section, item.needed_g) == ("zorgles", "sauces", 250.0)
    assert item.packs is not None
    assert item.packs.packs == 2
    assert shopping.in_words == ()


def test_water_is_not_bought(database: FoodDatabase) -> None:
    assert names(shop(database, ["900 ml water", "2 onions"])) == ["onions"]


def test_what_is_at_home_serves_optional_lines_last(database: FoodDatabase) -> None:
    shopping = shop(database, ["100 g honey (optional)", "200 g honey"], have=["honey,250 g"])
    assert [item.name for item in shopping.at_home] == ["honey"]
    assert shopping.optional[0].at_home == pytest.approx(0.5)
    assert shopping.optional[0].to_buy_g == pytest.approx(50.0)


def test_containers_scale_a_batch(database: FoodDatabase) -> None:
    result = calculated(database, "2 onions", "300 g brown rice", containers=4)
    shopping = shopping_list([with_containers(BatchToShop(result), 10)], database)
    assert shopping.batches[0].containers == 10
    onions, rice = sorted(shopping.items, key=lambda item: item.name, reverse=True)
    assert onions.amounts[0].number == 5.0
    assert onions.amounts[0].exact == pytest.approx(5.0)
    assert rice.needed_g == pytest.approx(750.0)


def test_a_food_with_and_without_weight_loses_nothing(database: FoodDatabase) -> None:
    shopping = shop(database, ["100 g beef mince", "2 sprigs beef mince"])
    assert [item.needed_g for item in shopping.items] == [100.0]
    assert [line.text for line in shopping.in_words] == ["2 sprigs beef mince"]


def test_the_price_list_gives_packs_cost_and_section(database: FoodDatabase) -> None:
    rows = ["brown rice,1 kg,3.20,EUR,,other", "onions,1 piece,0.40,EUR"]
    shopping = shop(database, ["400 g brown rice", "2 onions"], ["700 g brown rice", "6 eggs"], rows=rows)
    found = {item.name: (item.section, item.packs.packs if item.packs else None) for item in shopping.items}
    assert found == {"onions": ("produce", 2), "eggs": ("dairy", None), "brown rice": ("other", 2)}
    assert str(shopping.cost) == "7.20"
    assert [item.name for item in shopping.without_price] == ["eggs"]
    assert (shopping.priced, shopping.currency) == (True, "EUR")


def test_a_guess_is_marked(database: FoodDatabase) -> None:
    shopping = shop(database, ["80 g sourdough breadcrumbs", "2 onions"])
    assert {item.name: item.sure for item in shopping.items} == {"onions": True, "sourdough breadcrumbs": False}


def test_nothing_to_shop_is_an_empty_list(database: FoodDatabase) -> None:
    shopping = shopping_list([], database)
    assert (shopping.items, shopping.in_words, shopping.to_taste) == ((), (), ())


# --- properties -------------------------------------------------------------------------------------------------------


@settings(max_examples=25)
@given(recipes=batches, factor=st.integers(1, 5))
def test_amounts_are_the_sum_of_the_lines(
    database: FoodDatabase, recipes: list[list[tuple[int, str]]], factor: int
) -> None:
    results = [calculated(database, *(line.format(number) for number, line in recipe)) for recipe in recipes]
    shopping = shopping_list([BatchToShop(result, factor) for result in results], database)
    found = [purchase for result in results for purchase in all_purchases(purchases_of(result, database))]
    needed = [purchase for purchase in found if not purchase.from_tap]
    items = (*shopping.items, *shopping.optional)
    assert sum(len(item.needed) for item in items) + len(shopping.in_words) == len(needed)
    for item in items:
        of_lines = [p.mass_g for p in needed if p.key == item.key and p.line.optional == (item in shopping.optional)]
        assert item.needed_g == pytest.approx(factor * sum(mass_g for mass_g in of_lines if mass_g is not None))
        assert item.to_buy_g == item.needed_g
        for amount in item.amounts:
            assert amount.number >= amount.exact - 1e-6
    assert len({item.key for item in shopping.items}) == len(shopping.items)


@settings(max_examples=25)
@given(recipes=batches, grams=st.integers(0, 3000), pieces=st.integers(0, 40))
def test_bought_and_at_home_together_are_what_is_needed(
    database: FoodDatabase, recipes: list[list[tuple[int, str]]], grams: int, pieces: int
) -> None:
    have = [f"brown rice,{grams} g"] * (grams > 0) + [f"onions,{pieces} pieces"] * (pieces > 0) + ["eggs,"]
    lines = [[line.format(number) for number, line in recipe] for recipe in recipes]
    without, shopping = shop(database, *lines), shop(database, *lines, have=have)
    all_items = (*shopping.items, *shopping.optional, *shopping.at_home)
    assert {item.key for item in all_items} == {item.key for item in (*without.items, *without.optional)}
    for item in all_items:
        assert 0.0 <= item.at_home <= 1.0
        if item.name == "brown rice" and item.needed_g is not None:
            assert item.at_home * item.needed_g == pytest.approx(min(float(grams), item.needed_g))
        if item.key.default_food == "egg":
            assert item in shopping.at_home
    assert all(item.amounts for item in (*shopping.items, *shopping.optional))


def test_the_examples_make_a_list_of_which_everything_is_priced(database: FoodDatabase) -> None:
    rows, _ = price_rows(make_source(demo_prices(), "demo"), TODAY)
    results = []
    for example in examples():
        batch = read_text(read_example(example.name), f"{example.name}.batch.yaml").batch
        assert batch is not None
        results.append(calculate(batch, database))
    shopping = shopping_list([BatchToShop(r) for r in results], database, book=PriceBook(rows, database))
    assert shopping.in_words == ()
    assert shopping.without_price == ()
    assert all(item.sure and item.section != "other" for item in shopping.items)
    assert "≥" not in str(shopping.cost)
