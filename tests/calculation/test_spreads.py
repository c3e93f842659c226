"""Relative standard deviations of masses and compositions: which steps count, and how they add up."""

import math

import pytest

from mealcalc.calculation.spreads import composition_advice, composition_sd, mass_advice, mass_sd, weighed_sd
from mealcalc.diagnostics import Span
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import Batch, BatchComponent, Food, MassSource, WeighedIngredient
from mealcalc.reference.uncertainty import composition_spread, spreads
from mealcalc.values import Value


def weighed(database: FoodDatabase, text: str, cooking: str = "") -> WeighedIngredient:
    line = parse_line(text, Span("batch", 1, 1, len(text) + 1, text), "us", "all")
    result = calculate(Batch("a batch", (BatchComponent("all", (line,), cooking),), "us"), database)
    return result.contributions[0].ingredient


def sd(name: str) -> float:
    return spreads()[name].relative_sd


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("400 g brown rice", ["scale"]),
        ("brown rice [grams 400]", ["settled"]),
        ("1 cup olive oil", ["volume_liquid"]),
        ("1 tbsp olive oil", ["volume_liquid", "spoon"]),
        ("1 cup brown rice", ["volume_bulk"]),
        ("2 onions", ["count"]),
        ("1 aubergine (about 450 g)", ["scale", "about"]),
        ("about 500 g carrots", ["scale", "about"]),
        ("1 pinch salt", ["small_measure"]),
        ("2 x 400 g cans black beans, drained", ["scale", "share", "net_weight"]),
        ("1 x 400 g can chopped tomatoes", ["scale", "net_weight"]),
        ("1 can chopped tomatoes", ["pack"]),
    ],
)
def test_the_steps_of_a_mass_add_up_in_squares(database: FoodDatabase, text: str, steps: list[str]) -> None:
    assert mass_sd(weighed(database, text)) == pytest.approx(math.sqrt(sum(sd(step) ** 2 for step in steps)))


def test_a_range_adds_that_of_a_uniform_distribution(database: FoodDatabase) -> None:
    # 300 to 500 g: the standard deviation of a uniform distribution is its width over the root of 12 (JCGM 100, 4.3.7).
    expected = math.hypot(sd("scale"), (200 / 400) / math.sqrt(12))
    assert mass_sd(weighed(database, "300-500 g carrots")) == pytest.approx(expected)


def test_a_settled_weight_has_no_range_left(database: FoodDatabase) -> None:
    assert mass_sd(weighed(database, "2-3 carrots [grams 180]")) == pytest.approx(sd("settled"))


@pytest.mark.parametrize(
    ("used", "share_of_the_guess"), [("20%", 1.0), ("50%", 1.0), ("80%", 0.25), ("100%", 0.0), ("0%", 0.0)]
)
def test_a_share_eaten_is_guessed_of_the_lesser_part(
    database: FoodDatabase, used: str, share_of_the_guess: float
) -> None:
    found = mass_sd(weighed(database, f"200 g yoghurt [used {used}]"))
    assert found == pytest.approx(math.hypot(sd("scale"), share_of_the_guess * sd("used_share_said")))


def test_a_share_by_words_is_less_sure_than_one_that_is_stated(database: FoodDatabase) -> None:
    by_words = weighed(database, "200 g yoghurt, half discarded")
    assert MassSource.USED_SHARE in by_words.sources
    assert mass_sd(by_words) > mass_sd(weighed(database, "200 g yoghurt [used 50%]"))


@pytest.mark.parametrize(
    ("text", "advice"),
    [
        ("400 g brown rice", ""),
        ("1 tbsp olive oil", "weigh it"),
        ("2 onions", "weigh it"),
        ("300-500 g carrots", "weigh it: the line gives a range or says about"),
        ("2 x 400 g cans black beans, drained", "weigh it drained"),
        ("1 kg bone-in pork spareribs", "weigh the edible part"),
        ("200 g yoghurt [used 40%]", "weigh what is left over"),
    ],
)
def test_advice_says_what_would_make_the_mass_surer(database: FoodDatabase, text: str, advice: str) -> None:
    assert mass_advice(weighed(database, text)) == advice


def test_weighing_never_makes_a_mass_less_sure(database: FoodDatabase) -> None:
    for text in ("400 g brown rice", "1 tbsp olive oil", "2 onions"):
        ingredient = weighed(database, text)
        assert weighed_sd(ingredient) <= mass_sd(ingredient)
        assert weighed_sd(ingredient) == sd("scale")


def test_what_fills_a_food_is_sure(database: FoodDatabase) -> None:
    oil, mince = database.food("sr28", "04053"), database.food("sr28", "23567")
    assert oil is not None
    assert mince is not None
    assert composition_sd(oil, "FAT_G") == 0.0  # SR28 04053: 100 g fat in 100 g
    # SR28 23567, beef, ground, 15 % fat: the room left is 85 g of 100 g.
    assert composition_sd(mince, "FAT_G") == pytest.approx(0.85 * composition_spread("FAT_G").relative_sd)


def test_minerals_and_vitamins_share_a_spread() -> None:
    assert composition_spread("FE_MG").name == "mineral"
    assert composition_spread("VITC_MG").name == "vitamin"
    assert composition_spread("NA_MG").name == "NA_MG"
    with pytest.raises(KeyError):
        composition_spread("NO_SUCH_G")


def test_a_pack_label_is_surer_than_a_table() -> None:
    def food(table: str) -> Food:
        return Food(table, "", "1", "bars", "", {"FAT_G": Value(20.0)})

    assert composition_sd(food("own"), "FAT_G") == pytest.approx(0.5 * composition_sd(food("other"), "FAT_G"))


def test_advice_to_read_a_label_only_where_there_is_one(database: FoodDatabase) -> None:
    assert composition_advice(weighed(database, "500 g carrots")) == ""
    assert "pack label" in composition_advice(weighed(database, "500 g turkey mince"))
