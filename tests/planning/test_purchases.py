"""As purchased: what must be bought for a line. Refuse: USDA SR28, FOOD_DES.txt, as quoted."""

import pytest

from mealcalc.fooddb import FoodDatabase
from mealcalc.planning.purchases import as_purchased, scaled
from tests.planning.shop import bought


@pytest.mark.parametrize(
    ("line", "purchased_g"),
    [
        ("400 g carrots", 400 / 0.89),  # 11124: refuse 11 %
        ("400 g carrots, peeled and diced", 400 / 0.89),
        ("2 onions", 220 / 0.90),  # 11282: medium 110 g, refuse 10 %
        ("4 cloves garlic", 12 / 0.87),  # 11215: refuse 13 %
        ("3 bananas", 354 / 0.64),  # 09040: medium 118 g, refuse 36 %
        ("400 g carrots [as bought]", 400.0),
        ("1 kg bone-in pork spareribs", 1000.0),  # the weight with its bone is what is bought
        ("4 chicken drumsticks", 4 * 75 / 0.67),  # 75 g of flesh each in the UK; 05066: bone and cartilage 33 %
        ("500 g boneless skinless chicken thighs", 500.0),
        ("500 g peeled prawns", 500.0),
        ("500 g beef mince", 500.0),
        ("2 x 400 g cans black beans, drained", 800.0),
        ("240 g (drained weight) chickpeas", 240 / 0.60),
        ("1 tin chickpeas, drained", 400.0),
        ("500 g frozen spinach", 500.0),
        ("300 g natural yoghurt [used 40%]", 300.0),  # what is thrown away is bought all the same
        ("400 g canned tomatoes", 400.0),
        ("100 g zorgles", 100.0),  # no table holds it, but it has a weight
    ],
)
def test_what_is_bought_for_a_line(database: FoodDatabase, line: str, purchased_g: float) -> None:
    (purchase,) = bought(database, line)
    assert purchase.mass_g == pytest.approx(purchased_g, rel=1e-6)


def test_a_line_that_is_not_counted_is_bought(database: FoodDatabase) -> None:
    counted, not_counted = bought(database, "500 ml vegetable oil", "500 ml vegetable oil [count no]")
    assert not_counted.mass_g == counted.mass_g is not None


@pytest.mark.parametrize(
    ("line", "count", "unit", "pack_g"),
    [
        ("2 x 400 g cans black beans, drained", 2.0, "can", 400.0),
        ("400 g can black beans", 1.0, "can", 400.0),
        ("2 cans black beans, drained", 2.0, "can", None),
        ("1 bunch coriander", 1.0, "bunch", None),
        ("6 eggs", 6.0, "piece", None),
        ("4 cloves garlic", None, "", None),  # a part of a bulb
        ("400 g carrots", None, "", None),
    ],
)
def test_pieces_and_packs_are_counted(
    database: FoodDatabase, line: str, count: float | None, unit: str, pack_g: float | None
) -> None:
    (purchase,) = bought(database, line)
    assert (purchase.count, purchase.unit) == (count, unit)
    assert purchase.pack_g == (None if pack_g is None else pytest.approx(pack_g))


@pytest.mark.parametrize(
    ("line", "whole"),
    [("juice of 2 lemons", "2 lemons"), ("zest of 1 orange", "1 orange"), ("4 egg whites", "4 eggs")],
)
def test_a_part_is_bought_as_the_whole(database: FoodDatabase, line: str, whole: str) -> None:
    (part,) = bought(database, line)
    (of_whole,) = bought(database, whole)
    assert part.key == of_whole.key
    assert part.mass_g == pytest.approx(of_whole.mass_g)
    assert (part.count, part.unit) == (of_whole.count, of_whole.unit)


def test_juice_by_the_spoon_is_bought_as_juice(database: FoodDatabase) -> None:
    (juice,) = bought(database, "2 tbsp lemon juice")
    assert juice.key.default_food == "lemon juice"
    assert juice.volume_ml == pytest.approx(30.0)


def test_the_same_food_has_the_same_key(database: FoodDatabase) -> None:
    onions, brown, red = bought(database, "2 onions", "300 g brown onions, diced", "2 red onions")
    assert onions.key == brown.key != red.key


def test_a_can_drained_at_home_is_the_can_in_the_shop(database: FoodDatabase) -> None:
    drained, can, dry = bought(database, "400 g can black beans, drained", "400 g can black beans", "dried black beans")
    assert drained.key == can.key != dry.key


def test_fat_levels_and_frozen_food_are_other_foods(database: FoodDatabase) -> None:
    keys = [
        purchase.key
        for purchase in bought(
            database,
            "500 g beef mince, 12% fat",
            "500 g beef mince, 10% fat",
            "500 g watermelon",
            "500 g frozen watermelon",
        )
    ]
    assert len(set(keys)) == 4


def test_water_comes_from_the_tap(database: FoodDatabase) -> None:
    water, stock = bought(database, "900 ml water", "900 ml chicken stock")
    assert water.from_tap
    assert not stock.from_tap


def test_what_is_no_food_is_not_bought(database: FoodDatabase) -> None:
    assert bought(database, "100 g rice", "cooking spray can lid") != []
    assert len(bought(database, "100 g rice", "2 freezer bags")) == 1


def test_scaling_scales_every_amount(database: FoodDatabase) -> None:
    (purchase,) = bought(database, "2 x 400 g cans black beans, drained")
    twice = scaled(purchase, 2.5, "chilli")
    assert (twice.mass_g, twice.count, twice.pack_g, twice.used_in) == (2000.0, 5.0, 400.0, ("chilli",))


def test_weights_of_a_price_list_are_as_sold(database: FoodDatabase) -> None:
    (purchase,) = bought(database, "1 kg carrots")
    assert as_purchased(purchase.ingredient, "uk", as_sold=True).mass_g == 1000.0
    assert purchase.edible_share == pytest.approx(0.89)
