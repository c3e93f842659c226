"""What lines contribute and how they add up: known, missing, zero, zero by rule, and foods without amount."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.calculation.composition import contribution, counts, total
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Span
from mealcalc.records import Food, LineSettings, LineStatus, MatchedFood, RecipeLine, Total, WeighedIngredient
from mealcalc.values import LOGICAL_ZERO, MISSING, Composition, Value

EVERYTHING: Composition = {key: Value(1.0) for key in FOOD_COMPONENTS}


def food(group: str = "1100", **amounts: Value | float | None) -> Food:
    """A food with 1 of everything per 100 g; None for what is missing."""
    values = {key: MISSING if v is None else v if isinstance(v, Value) else Value(v) for key, v in amounts.items()}
    return Food("sr28", "test", "1", "A food", group, {**EVERYTHING, **values})


SALT = food("0200", **dict.fromkeys(FOOD_COMPONENTS, 0.0) | {"NA_MG": 38758.0})
OIL = food("0400", **dict.fromkeys(FOOD_COMPONENTS, 0.0) | {"ENERC_KCAL": 884.0, "ENERC_KJ": 3699.0, "FAT_G": 100.0})


def weighed(
    of: Food | None,
    mass_g: float | None,
    *,
    line: int = 1,
    status: LineStatus = LineStatus.MATCHED,
    used_share: float = 1.0,
    counted: bool = True,
) -> WeighedIngredient:
    recipe_line = RecipeLine("a line", Span("recipe", line), settings=LineSettings(counted=counted))
    return WeighedIngredient(MatchedFood(recipe_line, of, status, "", 1.0), mass_g, used_share)


def totals(*ingredients: WeighedIngredient, containers: int = 1) -> dict[str, Total]:
    return total([contribution(ingredient) for ingredient in ingredients], containers)


# --- one line ---------------------------------------------------------------------------------------------------------


def test_a_line_contributes_by_its_eaten_mass() -> None:
    # N = m c used / 100 (Greenfield & Southgate, FAO 2003)
    found = contribution(weighed(food(PROCNT_G=20.0, NA_MG=70.0), 250.0, used_share=0.2))
    assert found.amounts["PROCNT_G"] == 10.0
    assert found.amounts["NA_MG"] == 35.0


def test_missing_zero_and_zero_by_rule_are_three_things() -> None:
    amounts = contribution(weighed(food(SUGAR_G=None, FIBTG_G=0.0, CHOLE_MG=LOGICAL_ZERO), 100.0)).amounts
    assert (amounts["SUGAR_G"], amounts["FIBTG_G"], amounts["CHOLE_MG"]) == (None, 0.0, 0.0)


@pytest.mark.parametrize(("of", "mass_g"), [(None, 100.0), (SALT, None), (None, None)])
def test_without_food_or_mass_everything_is_unknown(of: Food | None, mass_g: float | None) -> None:
    assert set(contribution(weighed(of, mass_g)).amounts.values()) == {None}


def test_of_nothing_eaten_nothing_is_unknown() -> None:
    assert contribution(weighed(food(SUGAR_G=None), 100.0, used_share=0.0)).amounts["SUGAR_G"] == 0.0


@pytest.mark.parametrize(
    ("status", "does"),
    [
        (LineStatus.MATCHED, True),
        (LineStatus.UNSURE, True),
        (LineStatus.UNMATCHED, True),  # it belongs to the dish, unknown as it is
        (LineStatus.NOT_COUNTED, False),
        (LineStatus.NOT_FOOD, False),
    ],
)
def test_which_lines_count(status: LineStatus, does: bool) -> None:
    assert counts(weighed(SALT, None, status=status)) is does


# --- totals -----------------------------------------------------------------------------------------------------------


def test_a_total_in_full() -> None:
    found = totals(
        weighed(food(SUGAR_G=4.0), 100.0, line=1),
        weighed(food(SUGAR_G=None), 300.0, line=2),
        weighed(food(SUGAR_G=LOGICAL_ZERO), 100.0, line=3),
    )
    assert found["SUGAR_G"] == Total(4.0, unknown_lines=(2,), known_share=0.4)
    assert not found["SUGAR_G"].complete
    assert found["FAT_G"] == Total(5.0)
    assert found["FAT_G"].complete


def test_an_unmatched_line_is_unknown_in_every_total() -> None:
    found = totals(weighed(food(), 100.0), weighed(None, None, line=7, status=LineStatus.UNMATCHED))
    assert {one.unknown_lines for one in found.values()} == {(7,)}
    # A line of unknown mass counts as a mean one.
    assert {one.known_share for one in found.values()} == {0.5}


def test_no_lines_no_amounts() -> None:
    assert set(totals().values()) == {Total(0.0)}


def test_nothing_but_an_unknown_line() -> None:
    assert set(totals(weighed(None, None, status=LineStatus.UNMATCHED)).values()) == {Total(0.0, (1,), 0.0)}


def test_a_container_holds_its_part_and_lacks_what_the_whole_lacks() -> None:
    assert Total(10.0, (2,), 0.8).divided_by(4) == Total(2.5, (2,), 0.8)


# --- foods without amount ---------------------------------------------------------------------------------------------

DISH = weighed(food(NA_MG=50.0, ENERC_KCAL=150.0, PROCNT_G=10.0, FAT_G=5.0), 500.0)


def incomplete(found: dict[str, Total]) -> set[str]:
    return {key for key, one in found.items() if not one.complete}


def test_salt_to_taste_leaves_sodium_unknown_and_protein_known() -> None:
    found = totals(DISH, weighed(SALT, None, line=2, status=LineStatus.NOT_COUNTED))
    assert incomplete(found) == {"NA_MG"}
    assert found["NA_MG"] == Total(250.0, (2,), 1.0)


def test_oil_for_frying_leaves_energy_and_fat_unknown() -> None:
    found = totals(DISH, weighed(OIL, None, line=2, status=LineStatus.NOT_COUNTED))
    assert incomplete(found) == {"ENERC_KCAL", "ENERC_KJ", "FAT_G"}


def test_a_garnish_that_hardly_weighs_leaves_nothing_unknown() -> None:
    assert incomplete(totals(DISH, weighed(food(), None, line=2, status=LineStatus.NOT_COUNTED))) == set()


def test_an_unknown_value_of_a_food_without_amount_matters_where_the_food_may_be_much_of_the_dish() -> None:
    sauce = weighed(food(SUGAR_G=None), None, line=2, status=LineStatus.NOT_COUNTED)
    little = weighed(food(), 20.0)
    assert incomplete(totals(DISH, sauce)) == set()
    assert "SUGAR_G" in incomplete(totals(little, sauce))


def test_an_unknown_food_without_amount_leaves_everything_unknown() -> None:
    assert incomplete(totals(DISH, weighed(None, None, status=LineStatus.NOT_COUNTED))) == set(FOOD_COMPONENTS)


def test_what_the_cook_does_not_count_and_what_is_no_food_is_left_alone() -> None:
    found = totals(
        DISH,
        weighed(SALT, None, status=LineStatus.NOT_COUNTED, counted=False),
        weighed(None, None, status=LineStatus.NOT_FOOD),
    )
    assert incomplete(found) == set()


def test_more_containers_more_salt_to_taste() -> None:
    """A nominal amount goes into every container: what is little of one batch may be much of another."""
    salty = weighed(food(NA_MG=3000.0), 500.0)
    to_taste = weighed(SALT, None, status=LineStatus.NOT_COUNTED)
    assert incomplete(totals(salty, to_taste, containers=1)) == {"NA_MG"}
    assert incomplete(totals(weighed(food(NA_MG=9000.0), 500.0), to_taste, containers=1)) == set()
    assert incomplete(totals(weighed(food(NA_MG=9000.0), 500.0), to_taste, containers=6)) == {"NA_MG"}


masses_g = st.lists(st.floats(0.0, 1e5), max_size=6)


@given(masses_g, st.lists(st.one_of(st.none(), st.floats(0.0, 100.0)), min_size=6, max_size=6))
def test_the_known_share_is_the_share_of_the_mass_with_a_value(masses: list[float], values: list[float | None]) -> None:
    lines = [
        weighed(food(SUGAR_G=value), mass_g, line=n)
        for n, (mass_g, value) in enumerate(zip(masses, values, strict=False), start=1)
    ]
    found = totals(*lines)["SUGAR_G"]
    pairs = list(zip(masses, values, strict=False))
    assert found.amount == pytest.approx(sum(m * v / 100.0 for m, v in pairs if v is not None))
    assert found.unknown_lines == tuple(n for n, (m, v) in enumerate(pairs, start=1) if v is None and m > 0)
    known_g, all_g = sum(m for m, v in pairs if v is not None), sum(masses)
    assert found.known_share == pytest.approx(known_g / all_g if all_g else 1.0)
