"""Amounts that a kitchen can measure."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.planning.kitchen_rounding import COUNT_STEPS, STEPS, is_egg, is_whole, rounded, shown
from mealcalc.units import COUNT_UNITS

amounts = st.fractions(min_value=Fraction(1, 1000), max_value=100_000, max_denominator=10_000)
units = st.sampled_from(sorted({*STEPS, *COUNT_UNITS, "cup"}))


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        ("0.44", "g", "0.4"), ("7.3", "g", "7.5"), ("63.4", "g", "63"), ("433.3", "g", "435"), ("1303", "g", "1300"),
        ("1.303", "kg", "1.3"), ("0.4333", "kg", "0.435"), ("0.6667", "tsp", "¾"), ("0.2", "tsp", "¼"),
        ("0.1", "tsp", "⅛"), ("0.01", "tsp", "⅛"), ("4.6", "tbsp", "4½"), ("0.7", "cup", "⅔"), ("1.3", "cup", "1⅓"),
        ("0.05", "cup", "¼"), ("5.3", "cup", "5½"), ("17.2", "fl_oz", "17"), ("1.3", "lb", "1¼"),
        ("1.3", "piece", "1½"), ("7.4", "piece", "7"), ("0.2", "piece", "½"), ("2.6", "clove", "3"),
        ("0.2", "clove", "1"), ("2.6", "can", "2½"), ("333", "ml", "330"), ("12.4", "ml", "12"), ("1.5", "pinch", "2"),
    ],
)  # fmt: skip
def test_steps(value: str, unit: str, expected: str) -> None:
    assert shown(rounded(Fraction(value), unit), unit) == expected


def test_eggs_are_whole() -> None:
    assert rounded(Fraction("1.4"), "piece", whole=True) == 1
    assert rounded(Fraction("0.2"), "piece", whole=True) == 1
    assert is_egg("free-range eggs")
    assert not is_egg("eggplant")
    assert is_whole("bay leaf")
    assert is_whole("bread rolls")
    assert not is_whole("onions")


@given(value=amounts, unit=units)
def test_never_nothing_and_rounding_again_changes_nothing(value: Fraction, unit: str) -> None:
    once = rounded(value, unit)
    assert once > 0
    assert rounded(once, unit) == once


@given(value=amounts, unit=st.sampled_from(sorted(STEPS)))
def test_an_amount_moves_by_half_a_step_at_most(value: Fraction, unit: str) -> None:
    step = next(step for below, step in STEPS[unit] if value < below)
    assert abs(rounded(value, unit) - value) <= step / 2 or rounded(value, unit) == step


def test_steps_are_in_order() -> None:
    for steps in (*STEPS.values(), *COUNT_STEPS.values()):
        assert list(steps) == sorted(steps)
