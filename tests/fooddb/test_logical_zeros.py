"""Logical zeros: each rule where it applies, and where it must not."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import with_logical_zeros, zeros_by_rule
from mealcalc.fooddb.logical_zeros import RULES, TINY_CARBOHYDRATE_G
from mealcalc.records import Food
from mealcalc.values import LOGICAL_ZERO, MISSING, Value, ValueStatus


def food(description: str, group: str, table: str = "sr28", **amounts: float | None) -> Food:
    """A food with these published amounts per 100 g; None is an explicit missing value."""
    composition = {key: MISSING if amount is None else Value(amount) for key, amount in amounts.items()}
    return Food(table, "edition", "00000", description, group, composition)


def rule_for(key: str, one: Food) -> str | None:
    rule = zeros_by_rule(one).get(key)
    return rule.name if rule else None


@pytest.mark.parametrize(
    ("one", "key", "rule"),
    [
        # parts of nothing
        (food("Oil, olive", "0400", CHOCDF_G=0.0), "SUGAR_G", "no carbohydrate"),
        (food("Oil, olive", "0400", CHOCDF_G=0.0), "FIBTG_G", "no carbohydrate"),
        (food("Beef, raw", "1300", CHOCDF_G=0.0), "SUGAR_G", "no carbohydrate"),
        (food("own powder", "", table="own", CHOCDF_G=0.0), "SUGAR_G", "no carbohydrate"),
        (food("Candy", "1900", CHOCDF_G=90.0), "SUGAR_G", None),
        (food("Candy", "1900"), "SUGAR_G", None),
        (food("Candy", "1900", CHOCDF_G=None), "SUGAR_G", None),
        (food("Water", "1400", FAT_G=0.0), "FASAT_G", "no fat"),
        (food("Wine", "1400", FAT_G=0.0), "CHOLE_MG", "drinks and sugars"),
        (food("Horchata", "1400", FAT_G=0.7), "CHOLE_MG", None),
        (food("Sugar, turbinado", "1900", FAT_G=0.0), "CHOLE_MG", "drinks and sugars"),
        (food("Candies, milk", "1900", FAT_G=0.0), "CHOLE_MG", None),
        (food("Cheese, nonfat", "0100", FAT_G=0.0), "CHOLE_MG", None),
        (food("Cheese", "0100", FAT_G=0.1), "CHOLE_MG", None),
        # flesh
        (food("Chicken, giblets, raw", "0500", CHOCDF_G=0.1), "FIBTG_G", "flesh"),
        (food("Chicken, giblets, raw", "0500", CHOCDF_G=0.1), "SUGAR_G", "flesh"),
        (food("Crab, raw", "1500", CHOCDF_G=TINY_CARBOHYDRATE_G), "SUGAR_G", "flesh"),
        (food("Chicken, fried, batter", "0500", CHOCDF_G=9.4), "FIBTG_G", None),
        (food("Oysters, breaded", "1500", CHOCDF_G=0.1), "SUGAR_G", None),
        (food("Pork, cured, ham", "1000", CHOCDF_G=0.1), "SUGAR_G", None),
        (food("Liver, raw", "0500", CHOCDF_G=0.3), "SUGAR_G", None),
        (food("Sausage", "0700", CHOCDF_G=0.1), "SUGAR_G", None),
        (food("Beef", "1300"), "SUGAR_G", None),
        (food("Beef", "1300", table="other", CHOCDF_G=0.1), "SUGAR_G", None),
        # fats and eggs
        (food("Margarine, 70% fat", "0400", CHOCDF_G=1.5), "FIBTG_G", "fats"),
        (food("Margarine, 70% fat", "0400", CHOCDF_G=1.5), "SUGAR_G", None),
        (food("Oil, flaxseed, contains added sliced flaxseed", "0400", CHOCDF_G=0.4), "FIBTG_G", None),
        (food("Salad dressing, sesame", "0400", CHOCDF_G=8.0), "FIBTG_G", None),
        (food("Egg, whole, dried", "0100", CHOCDF_G=2.4), "FIBTG_G", "eggs"),
        (food("Egg, whole, dried", "0100", CHOCDF_G=2.4), "SUGAR_G", None),
        (food("Cheese, cottage, with vegetables", "0100", CHOCDF_G=3.0), "FIBTG_G", None),
        (food("Yogurt, fruit", "0100", CHOCDF_G=18.0), "FIBTG_G", None),
        # plants
        (food("Pears, raw", "0900", FAT_G=0.1), "CHOLE_MG", "plants"),
        (food("Beans, navy, raw", "1600", FAT_G=1.5), "CHOLE_MG", "plants"),
        (food("Potatoes, hash brown, with butter sauce", "1100", FAT_G=6.7), "CHOLE_MG", None),
        (food("Bean burgers, BRANDNAME", "1600", FAT_G=6.0), "CHOLE_MG", None),
        (food("Beans, BRANDNAME", "1600", FAT_G=1.0), "CHOLE_MG", None),
        (food("USDA Commodity pears", "0900", FAT_G=0.2), "CHOLE_MG", "plants"),
        (food("Plantains, yellow, fried", "0900", FAT_G=7.5), "CHOLE_MG", None),
        (food("Seaweed, rehydrated", "1100", FAT_G=0.2), "CHOLE_MG", None),
        (food("Cookies", "1800", FAT_G=7.5), "CHOLE_MG", None),
        (food("Oil, avocado", "0400", FAT_G=100.0), "CHOLE_MG", "plants"),
        (food("Fish oil, herring", "0400", FAT_G=100.0), "CHOLE_MG", None),
        (food("Margarine, 80% fat", "0400", FAT_G=80.0), "CHOLE_MG", None),
        # alcohol
        (
            food("Onions, raw", "1100", WATER_G=89.11, PROCNT_G=1.1, FAT_G=0.1, ASH_G=0.35, CHOCDF_G=9.34),
            "ALC_G",
            "no room for alcohol",
        ),
        (
            food("Sauce, teriyaki", "0600", WATER_G=67.7, PROCNT_G=5.9, FAT_G=0.0, ASH_G=10.4, CHOCDF_G=15.6),
            "ALC_G",
            None,
        ),
        (
            food("Vinegar, cider", "0200", WATER_G=93.81, PROCNT_G=0.0, FAT_G=0.0, ASH_G=0.17, CHOCDF_G=0.93),
            "ALC_G",
            "no alcoholic food",
        ),
        (
            food("Beverages, coffee, brewed", "1400", WATER_G=99.3, PROCNT_G=0.1, FAT_G=0.0, ASH_G=0.1, CHOCDF_G=0.0),
            "ALC_G",
            "no alcoholic food",
        ),
        (food("Alcoholic beverage, wine", "1400", WATER_G=86.0), "ALC_G", None),
        (food("Vanilla extract", "0200"), "ALC_G", None),
        (food("Bread, white", "1800"), "ALC_G", "no alcoholic food"),
        (food("Candies, filled", "1900"), "ALC_G", None),
        (food("Something", "1800", table="other"), "ALC_G", None),
    ],
)
def test_rules(one: Food, key: str, rule: str | None) -> None:
    assert rule_for(key, one) == rule
    filled = with_logical_zeros(one).composition.get(key, MISSING)
    assert filled == (MISSING if rule is None else LOGICAL_ZERO)


def test_a_published_value_is_never_touched() -> None:
    cured = food("Ham, cured", "1000", CHOCDF_G=0.4, SUGAR_G=0.3, FIBTG_G=0.0)
    filled = with_logical_zeros(cured)
    assert filled.composition["SUGAR_G"] == Value(0.3)
    assert filled.composition["FIBTG_G"] == Value(0.0, ValueStatus.PUBLISHED)


def test_nothing_to_fill_gives_the_same_food_back() -> None:
    one = food("Candies", "1900", CHOCDF_G=90.0)
    assert with_logical_zeros(one) is one


values = st.one_of(
    st.none(), st.floats(0, 100).map(lambda amount: Value(amount)), st.just(MISSING), st.just(Value(0.0))
)


@given(
    composition=st.dictionaries(st.sampled_from(sorted(FOOD_COMPONENTS)), values, max_size=12),
    group=st.sampled_from(["0100", "0200", "0400", "0500", "0900", "1300", "1400", "1900", ""]),
    description=st.sampled_from(["Oil, x", "Egg, x", "Beef, x", "Alcoholic beverage, x", "Vanilla extract", "", "x"]),
    table=st.sampled_from(["sr28", "own"]),
)
def test_only_blanks_change_and_only_to_zero(
    composition: dict[str, Value | None], group: str, description: str, table: str
) -> None:
    known = {key: value for key, value in composition.items() if value is not None}
    one = replace(food(description, group, table), composition=known)
    filled = with_logical_zeros(one)
    for key, value in filled.composition.items():
        before = known.get(key, MISSING)
        assert value == before if before.amount is not None else value in (MISSING, LOGICAL_ZERO)
    assert with_logical_zeros(filled) == filled


def test_every_rule_says_what_and_why() -> None:
    assert len({rule.name for rule in RULES}) == len(RULES)
    for rule in RULES:
        assert rule.reason
        assert set(rule.keys) <= set(FOOD_COMPONENTS)


def test_what_the_rules_do_to_the_bundled_table(all_foods: dict[str, Food]) -> None:
    missing = Counter(
        key
        for one in all_foods.values()
        for key in ("FIBTG_G", "SUGAR_G", "CHOLE_MG", "ALC_G")
        if key not in one.composition
    )
    # Of 594, 1,832, 410 and 8,789 blanks of the release.
    assert missing == {"FIBTG_G": 459, "SUGAR_G": 1256, "CHOLE_MG": 296, "ALC_G": 75}
    bearing = {one.group for one in all_foods.values() if "ALC_G" not in one.composition}
    assert bearing == {"0600", "1900", "2200"}


def test_published_values_bear_the_rules_out(all_foods: dict[str, Food]) -> None:
    """Where the table gives a value, the rule that would fill a blank in its place must be right, but for slips."""
    contradictions: dict[str, dict[str, float]] = {}
    for code, one in all_foods.items():
        for key in ("FIBTG_G", "SUGAR_G", "CHOLE_MG", "FASAT_G", "FAMS_G", "FAPU_G"):
            value = one.composition.get(key)
            if value is None or value.status is not ValueStatus.PUBLISHED or not value.amount:
                continue
            blanked = replace(one, composition={k: v for k, v in one.composition.items() if k != key})
            rule = zeros_by_rule(blanked).get(key)
            if rule:
                found = contradictions.setdefault(rule.name, {})
                found[code] = max(found.get(code, 0.0), value.amount)
    assert set(contradictions) == {"no carbohydrate", "no fat", "flesh", "drinks and sugars"}
    # The table's own slips: sugars above a carbohydrate of 0 (a turkey, a diet tea, a steak).
    assert contradictions["no carbohydrate"] == {"05696": 0.05, "14190": 0.93, "36013": 0.55}
    # Fat printed 0.00 and fatty acids printed with three decimals.
    assert max(contradictions["no fat"].values()) == 0.015
    # Traces in turkey.
    assert max(contradictions["flesh"].values()) == 0.1
    # A juice drink with 1 mg.
    assert contradictions["drinks and sugars"] == {"14217": 1.0}
