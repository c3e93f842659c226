"""Amounts as one asks for them in a shop."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.fooddb import FoodDatabase
from mealcalc.planning.purchases import scaled
from mealcalc.planning.trade_amounts import rounded_up, trade_amounts
from tests.planning.shop import bought


def asked_for(database: FoodDatabase, *lines: str, left: float = 1.0) -> list[str]:
    amounts = trade_amounts(bought(database, *lines), left, "uk")
    return [f"{a.number:g} {a.unit}{'' if a.each_g is None else f' of {a.each_g:g}'}" for a in amounts]


@pytest.mark.parametrize(
    ("lines", "amounts"),
    [
        (["2 onions", "1 large onion"], ["3 piece"]),
        (["half an onion"], ["1 piece"]),
        (["2 onions", "100 g onions"], ["3 piece"]),  # 244 + 111 g as purchased, 122 g each
        (["400 g carrots"], ["450 g"]),  # 449.4 g with the trim
        (["1 kg beef mince"], ["1000 g"]),
        (["1.31 kg beef mince"], ["1350 g"]),
        (["2 x 400 g cans black beans, drained"], ["2 can of 400"]),
        (["2 x 400 g cans black beans, drained", "1 x 200 g can black beans"], ["2 can of 400", "1 can of 200"]),
        (["1 cup canned chickpeas, drained"], ["1 can of 400"]),
        (["2 jars passata"], ["2 jar"]),
        (["4 cloves garlic"], ["1 bulb"]),
        (["40 cloves garlic"], ["3 bulb"]),
        (["2 tbsp chopped parsley"], ["1 bunch"]),
        (["3 sprigs thyme"], ["1 bunch"]),
        (["1 tsp dried thyme"], ["1 g"]),
        (["2 tbsp olive oil", "1 tbsp olive oil"], ["45 ml"]),
        (["1.2 l chicken stock"], ["1200 ml"]),
        (["2 tbsp paprika"], ["15 g"]),  # a spoon of powder is weighed
        (["6 eggs", "2 egg whites"], ["8 piece"]),
        (["2 tbsp zorgle sauce"], ["30 ml"]),  # nothing but its volume is known
        (["2 packs zorgles", "1 pack zorgles"], ["3 pack"]),
    ],
)
def test_amounts_of_the_trade(database: FoodDatabase, lines: list[str], amounts: list[str]) -> None:
    assert asked_for(database, *lines) == amounts


def test_only_what_is_left_is_asked_for(database: FoodDatabase) -> None:
    assert asked_for(database, "4 onions", left=0.5) == ["2 piece"]
    assert asked_for(database, "4 onions", left=0.0) == []
    assert asked_for(database, "4 onions", left=1e-9) == []


@pytest.mark.parametrize(
    ("amount", "shown"),
    [(0.3, 1), (4.0, 4), (4.1, 5), (12, 15), (99.9, 100), (101, 110), (440.0000001, 440), (1001, 1050), (2267.9, 2300)],
)
def test_grams_are_rounded_up_sensibly(amount: float, shown: float) -> None:
    assert rounded_up(amount) == shown


@given(st.floats(1e-3, 1e5))
def test_never_less_than_needed_and_never_much_more(amount: float) -> None:
    shown = rounded_up(amount)
    assert shown >= amount * (1 - 1e-5)
    assert shown - amount <= max(1.0, 0.5 * amount)


@given(number=st.integers(1, 30), factor=st.floats(0.1, 9.0))
def test_whole_pieces_hold_what_is_needed(database: FoodDatabase, number: int, factor: float) -> None:
    purchases = [scaled(purchase, factor) for purchase in bought(database, f"{number} onions")]
    (amount,) = trade_amounts(purchases, 1.0, "uk")
    assert amount.exact == pytest.approx(number * factor)
    assert amount.number == max(1, math.ceil(amount.exact - 1e-6))
