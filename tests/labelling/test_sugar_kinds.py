"""Which foods bring added sugars for certain, which none, on foods of SR28 by code."""

import pytest

from mealcalc.labelling.panel_input import SugarKind
from mealcalc.labelling.sugar_kinds import sugar_kind
from mealcalc.records import Food
from mealcalc.reference.label_tables import nitrogen_factor

ADDED = [
    ("19335", "Sugars, granulated"), ("19334", "Sugars, brown"), ("19296", "Honey"), ("19304", "Molasses"),
    ("19353", "Syrups, maple"), ("19350", "Syrups, corn, light"), ("19912", "Sweetener, syrup, agave"),
]  # fmt: skip
NATURAL = [
    ("11282", "Onions, raw"), ("11124", "Carrots, raw"), ("09003", "Apples, raw, with skin"), ("01077", "Milk, whole"),
    ("01116", "Yogurt, plain, whole milk"), ("20044", "Rice, white, long-grain, regular, raw"), ("20120", "Pasta, dry"),
    ("16069", "Lentils, raw"), ("02028", "Spices, paprika"), ("01009", "Cheese, cheddar"),
    ("23562", "Beef, ground, raw"),
]  # fmt: skip
UNKNOWN = [
    ("11935", "Catsup"), ("16006", "Beans, baked, canned"), ("19348", "Syrups, chocolate, fudge-type"),
    ("01121", "Yogurt, fruit"), ("18064", "Bread, wheat"), ("11693", "Tomatoes, crushed, canned"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "kind"),
    [(c, SugarKind.ADDED) for c, _ in ADDED]
    + [(c, SugarKind.NATURAL) for c, _ in NATURAL]
    + [(c, SugarKind.UNKNOWN) for c, _ in UNKNOWN],
    ids=[f"{code} {name}" for code, name in (*ADDED, *NATURAL, *UNKNOWN)],
)
def test_kinds_of_sugars(all_foods: dict[str, Food], code: str, kind: SugarKind) -> None:
    assert sugar_kind(all_foods[code]) is kind, all_foods[code].description


def test_no_food_of_certain_added_sugars_is_a_dish(all_foods: dict[str, Food]) -> None:
    added = [food for food in all_foods.values() if sugar_kind(food) is SugarKind.ADDED]
    assert 20 < len(added) < 60
    assert {food.group for food in added} == {"1900"}


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("coconut sugar", SugarKind.ADDED),
        ("date syrup", SugarKind.ADDED),
        ("sugar snap peas", SugarKind.UNKNOWN),
        ("honey mustard", SugarKind.UNKNOWN),
        ("protein powder", SugarKind.UNKNOWN),
    ],
)
def test_own_foods_by_their_last_word(name: str, kind: SugarKind) -> None:
    assert sugar_kind(Food("own", "list", "1", name, "", {})) is kind


@pytest.mark.parametrize(
    ("group", "description", "factor"),
    [
        ("0100", "Egg, whole, dried", 6.25),
        ("0100", "Cheese, cheddar", 6.38),
        ("1200", "Nuts, almonds, oil roasted", 5.18),
        ("1200", "Nuts, walnuts, dry roasted", 5.30),
        ("2000", "Rice, brown, parboiled", 5.95),
        ("2000", "Wheat flour, white (industrial)", 5.83),
        ("2000", "Pasta, whole grain", 5.70),
        ("0500", "Turkey, ground, raw", 6.25),
        ("", "a food of another table", 6.25),
    ],
)
def test_nitrogen_factors_of_foods_that_print_none(group: str, description: str, factor: float) -> None:
    assert nitrogen_factor(group, description) == factor


def test_counts_behind_the_nitrogen_factors(all_foods: dict[str, Food]) -> None:
    def count(group: str, factor: float, words: set[str]) -> int:
        chosen = [f for f in all_foods.values() if f.group == group and f.nitrogen_factor == factor]
        return len([f for f in chosen if not words or words & set(f.description.lower().replace(",", " ").split())])

    assert count("0100", 6.38, set()) == 132
    assert count("1200", 5.30, set()) == 118
    assert count("2000", 5.95, {"rice"}) >= 31
