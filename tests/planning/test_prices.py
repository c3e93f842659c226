"""Which price serves which line."""

import pytest

from mealcalc.fooddb import FoodDatabase
from mealcalc.planning.prices import match_prices, packs_needed, whole_packs
from mealcalc.records.purchases import CostStatus
from tests.planning.shop import bought, costed, prices


def served_by(database: FoodDatabase, line: str, *rows: str) -> str | None:
    """The item and pack of the price that serves a line."""
    price_list, _ = match_prices(prices(*rows), database, "uk")
    price = price_list.best(bought(database, line))
    return None if price is None else f"{price.row.item}, {price.row.pack}"


@pytest.mark.parametrize(
    ("line", "rows", "chosen"),
    [
        ("400 g brown rice", ["white rice,1 kg,1,EUR", "brown rice,1 kg,3,EUR"], "brown rice, 1 kg"),
        ("2 brown onions", ["onions,1 kg,2,EUR", "red onions,1 kg,1,EUR"], "onions, 1 kg"),
        ("2 brown onions", ["onions,1 kg,2,EUR", "brown onions,1 kg,3,EUR"], "brown onions, 1 kg"),  # its own words
        ("2 red onions", ["onions,1 kg,2,EUR"], "onions, 1 kg"),  # the same food of the table
        ("500 g beef mince, 12% fat", ["beef mince 5% fat,1 kg,9,EUR"], None),  # another fat level is another food
        ("500 g beef mince, 12% fat", ['"beef mince, 12% fat",1 kg,9,EUR'], "beef mince, 12% fat, 1 kg"),
        (
            "400 g can chickpeas, drained",
            ["dried chickpeas,1 kg,3,EUR", "chickpeas,400 g can,1,EUR"],
            "chickpeas, 400 g can",
        ),
        ("500 g frozen peas", ["fresh peas,500 g,1,EUR", "frozen peas,1 kg,3,EUR"], "frozen peas, 1 kg"),
        ("4 cloves garlic", ["garlic,1 bulb,1,EUR"], "garlic, 1 bulb"),
        ("2 tbsp chopped coriander", ["coriander,1 bunch,2,EUR"], "coriander, 1 bunch"),
        ("100 g zorgles", ["zorgles,200 g jar,4,EUR", "zorgle paste,1 kg,1,EUR"], "zorgles, 200 g jar"),
        ("2 tbsp zorgle sauce", ["zorgle sauce,200 ml,4,EUR"], "zorgle sauce, 200 ml"),
        ("2 tbsp zorgle sauce", ["zorgle sauce,200 g,4,EUR"], None),  # no density of what no table holds
        ("2 packs zorgles", ["zorgles,1 pack,4,EUR"], "zorgles, 1 pack"),
        ("200 g smoked tofu", ["something,1 kg,9,EUR,,,,sr28:16126"], None),
        ("400 g brown rice", ["whatever it says,1 kg,9,EUR,,,,sr28:20036"], "whatever it says, 1 kg"),
    ],
)
def test_the_price_of_the_same_food_serves(
    database: FoodDatabase, line: str, rows: list[str], chosen: str | None
) -> None:
    assert served_by(database, line, *rows) == chosen


@pytest.mark.parametrize(
    ("line", "chosen"),
    [
        ("300 g brown rice", "brown rice, 500 g"),
        ("900 g brown rice", "brown rice, 1 kg"),
        ("4 kg brown rice", "brown rice, 5 kg"),
    ],
)
def test_of_several_packs_the_cheapest_for_the_amount_is_bought(database: FoodDatabase, line: str, chosen: str) -> None:
    rows = ("brown rice,500 g,2.00,EUR", "brown rice,1 kg,3.20,EUR", "brown rice,5 kg,10.00,EUR")
    assert served_by(database, line, *rows) == chosen


def test_of_two_stores_the_cheaper_one_is_taken(database: FoodDatabase) -> None:
    cost = costed(
        database, ["400 g brown rice"], ["brown rice,1 kg,3.00,EUR,,,market", "brown rice,1 kg,2.50,EUR,,,corner"]
    )
    (line,) = cost.lines
    assert line.purchases[0].price is not None
    assert line.purchases[0].price.row.store == "corner"


def test_trim_loss_counts(database: FoodDatabase) -> None:
    """890 g edible carrots are 1 kg as purchased (SR28 11124: refuse 11 %)."""
    price_list, _ = match_prices(prices("carrots,1 kg,2,EUR"), database, "uk")
    (purchase,) = bought(database, "890 g carrots, peeled")
    assert packs_needed(purchase, price_list.prices[0]) == pytest.approx(1.0)


@pytest.mark.parametrize(("packs", "whole"), [(0.0, 0), (1e-9, 1), (1.0, 1), (1.0 + 1e-9, 1), (1.01, 2), (3.0, 3)])
def test_packs_are_rounded_up(packs: float, whole: int) -> None:
    assert whole_packs(packs) == whole


@pytest.mark.parametrize("pack", ["3 blobs", "some", "0 g"])
def test_a_pack_size_that_says_nothing_is_refused(database: FoodDatabase, pack: str) -> None:
    price_list, found = match_prices(prices(f"brown rice,{pack},3,EUR"), database, "uk")
    assert price_list.prices == ()
    assert [d.code for d in found] == ["bad-pack-size"]


def test_a_price_that_cannot_be_compared_is_told(database: FoodDatabase) -> None:
    cost = costed(database, ["2 tbsp zorgle sauce"], ["zorgle sauce,200 g,4,EUR"])
    assert [line.status for line in cost.lines] == [CostStatus.NOT_COMPARABLE]
    assert [d.code for d in cost.diagnostics] == ["price-not-comparable"]
    assert not cost.complete


def test_a_guessed_price_is_told_only_where_it_is_used(database: FoodDatabase) -> None:
    rows = ("sourdough breadcrumbs,500 g,4,EUR", "brown rice,1 kg,3,EUR")
    unused = costed(database, ["100 g brown rice"], rows)
    used = costed(database, ["100 g sourdough breadcrumbs"], rows)
    assert [d.code for d in unused.diagnostics] == []
    assert [d.code for d in used.diagnostics] == ["unsure-price"]
