"""The vocabularies are closed trees, the cooks' words lead into them, and every food of SR28 finds its group."""

from collections import Counter

import pytest

from mealcalc.errors import UsageError
from mealcalc.records import Food
from mealcalc.reference.cooking_vocabulary import (
    broader_groups,
    broader_methods,
    cooking_methods,
    cooking_words,
    food_group_map,
    food_group_of,
    food_groups,
)
from mealcalc.reference.tables import rows_of


@pytest.mark.parametrize("file_name", ["food_groups.csv", "cooking_methods.csv", "cooking_words.csv"])
def test_the_first_column_names_each_row_once(file_name: str) -> None:
    names = Counter(next(iter(cells.values())) for _, cells in rows_of(file_name))
    assert [name for name, count in names.items() if count > 1 or not name] == []


def test_every_group_leads_to_a_top() -> None:
    assert broader_groups("beef") == ("beef", "red_meat", "meat")
    for name, group in food_groups().items():
        assert broader_groups(name)[0] == name
        assert group.description


def test_every_method_leads_to_a_top() -> None:
    assert broader_methods("boiled_drained") == ("boiled_drained", "boiled", "moist_heat", "cooked")
    for name, method in cooking_methods().items():
        assert broader_methods(name)[0] == name
        assert method.description
        assert method.heat in {"dry", "moist", "fat", "any", "none"}
        assert set(method.steps) <= set(cooking_methods())


def test_a_name_outside_the_vocabulary_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UsageError) as caught:
        broader_methods("flambeed")
    assert "'flambeed'" in caught.value.message
    assert "flamed" in caught.value.hint
    with pytest.raises(UsageError):
        broader_groups("unicorn")


def test_the_words_of_cooks_lead_into_the_vocabulary() -> None:
    for row in cooking_words():
        assert row.words == row.words.lower().strip()
        assert "," not in row.words
        assert row.method in cooking_methods() or row.method == ""
        assert row.method or (row.drained, row.covered, row.drippings) != (None, None, None), row.words


def test_drained_methods_are_drained_by_their_words() -> None:
    for row in cooking_words():
        if row.method in ("boiled_drained", "blanched", "parboiled"):
            assert row.drained is True, row.words
        if row.method == "absorbed":
            assert row.drained is False, row.words


def test_longer_words_come_first() -> None:
    lengths = [len(row.words.split()) for row in cooking_words()]
    assert lengths == sorted(lengths, reverse=True)


@pytest.mark.parametrize(
    ("words", "method"),
    [
        ("browned", "pan_browned"),
        ("fried off", "pan_browned"),
        ("sweated", "sauteed"),
        ("stir fried", "stir_fried"),
        ("slow cooked", "stewed"),
        ("pressure cooked", "pressure_cooked"),
        ("barbecued", "grilled_broiled"),
        ("griddled", "pan_broiled"),
        ("parboiled", "parboiled"),
        ("absorption method", "absorbed"),
        ("all water absorbed", "absorbed"),
        ("air fried", "roasted"),
        ("reduced", "simmered"),
        ("no cook", "raw"),
    ],
)
def test_words_of_the_kitchen(words: str, method: str) -> None:
    assert [row.method for row in cooking_words() if row.words == words] == [method]


def test_the_map_ends_each_group_with_a_rule_for_the_rest(database_groups: set[str]) -> None:
    last = {rule.group_code: rule for rule in food_group_map()}
    assert set(last) == database_groups
    assert [code for code, rule in last.items() if rule.alternatives] == []
    open_rules = Counter(rule.group_code for rule in food_group_map() if not rule.alternatives)
    assert set(open_rules.values()) == {1}
    assert {rule.food_group for rule in food_group_map()} <= set(food_groups())


@pytest.fixture(scope="module")
def database_groups(all_foods: dict[str, Food]) -> set[str]:
    return {food.group for food in all_foods.values()}


def test_every_food_of_the_bundled_table_has_a_group(all_foods: dict[str, Food]) -> None:
    assert [food.code for food in all_foods.values() if food_group_of(food.group, food.description) is None] == []


@pytest.mark.parametrize(
    ("code", "group"),
    [
        ("23572", "beef"),  # minced beef, 20 % fat
        ("10219", "pork"),
        ("10123", "cured_pork"),  # bacon
        ("05062", "chicken"),
        ("05305", "turkey"),
        ("05139", "poultry"),  # duck
        ("17224", "lamb"),
        ("17142", "veal"),
        ("17343", "game"),
        ("13325", "liver"),
        ("15149", "shellfish"),
        ("01123", "egg"),
        ("01009", "cheese"),
        ("01077", "milk"),
        ("20044", "rice"),
        ("20120", "pasta"),
        ("20133", "pasta"),  # rice noodles
        ("20081", "flour"),
        ("20035", "cereal_grain"),
        ("08120", "breakfast_cereal"),
        ("16069", "pulse"),
        ("16087", "nut"),  # peanuts
        ("11457", "leafy_vegetable"),
        ("11282", "root_vegetable"),
        ("11291", "other_vegetable"),  # spring onions
        ("11333", "other_vegetable"),
        ("11352", "potato"),
        ("11507", "sweet_potato"),
        ("11505", "leafy_vegetable"),  # sweet potato leaves
        ("11529", "tomato"),
        ("09152", "citrus_fruit"),
        ("09298", "dried_fruit"),
        ("09003", "fruit"),
        ("04053", "fat"),
        ("14084", "alcoholic_drink"),
        ("18375", "seasoning"),  # baker's yeast
    ],
)
def test_reviewed_groups(code: str, group: str, all_foods: dict[str, Food]) -> None:
    food = all_foods[code]
    assert food_group_of(food.group, food.description) == group, food.description


def test_fish_is_lean_or_oily_by_its_fat() -> None:
    # USDA's retention factors, release 6, part finfish at 5 % fat.
    assert food_group_of("1500", "Fish, cod, Atlantic, raw", 0.67) == "lean_fish"
    assert food_group_of("1500", "Fish, mackerel, Atlantic, raw", 13.89) == "oily_fish"
    assert food_group_of("1500", "Fish, mackerel, Atlantic, raw") == "fish"


def test_a_group_that_sr28_does_not_have_is_not_guessed() -> None:
    assert food_group_of("9999", "Beef, ground, raw") is None
