"""Money: half up to the smallest coin, parts that add up."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.money import decimals_of, rounded, split

amounts = st.lists(st.decimals(0, 10_000, places=7), min_size=1, max_size=30)


@pytest.mark.parametrize(
    ("amount", "currency", "shown"),
    [
        ("2.345", "AUD", "2.35"),  # half goes up, where bankers' rounding gives 2.34
        ("2.344999", "AUD", "2.34"),
        ("0.005", "EUR", "0.01"),
        ("99.5", "JPY", "100"),
        ("1.2345", "KWD", "1.235"),
        ("1.005", "", "1.01"),
    ],
)
def test_half_a_coin_goes_up(amount: str, currency: str, shown: str) -> None:
    assert str(rounded(Decimal(amount), currency)) == shown


def test_currencies_without_cents_are_known_in_any_case() -> None:
    assert (decimals_of("jpy"), decimals_of("AUD"), decimals_of("no currency")) == (0, 2, 2)


def test_the_coin_that_is_missing_goes_to_the_largest_remainder() -> None:
    parts = [Decimal("1.004"), Decimal("1.003"), Decimal("1.003")]
    assert split(Decimal("3.01"), parts, "AUD") == [Decimal("1.01"), Decimal("1.00"), Decimal("1.00")]


def test_a_coin_too_many_is_taken_from_the_smallest_remainder() -> None:
    parts = [Decimal("1.00"), Decimal("1.004")]
    assert split(Decimal("1.99"), parts, "AUD") == [Decimal("0.99"), Decimal("1.00")]


def test_what_costs_nothing_gets_nothing() -> None:
    assert split(Decimal("0.02"), [Decimal(0), Decimal("0.015")], "AUD") == [Decimal(0), Decimal("0.02")]
    with pytest.raises(ValueError, match="cannot be split"):
        split(Decimal("0.01"), [Decimal(0)], "AUD")


@given(amounts, st.sampled_from(["AUD", "JPY", "KWD"]))
def test_parts_add_up_and_none_is_off_by_a_coin(parts: list[Decimal], currency: str) -> None:
    total = rounded(sum(parts, Decimal(0)), currency)
    coin = Decimal(1).scaleb(-decimals_of(currency))
    shown = split(total, parts, currency)
    assert sum(shown) == total
    assert all(abs(one - part) < coin for one, part in zip(shown, parts, strict=True))
    assert all(one % coin == 0 for one in shown)


@given(amounts, st.integers(1, 12))
def test_parts_of_parts_add_up_too(parts: list[Decimal], number: int) -> None:
    """A component rounded so that components add up is split among its lines."""
    halves = [parts[: len(parts) // 2], parts[len(parts) // 2 :]]
    sums = [sum(half, Decimal(0)) / number for half in halves]
    total = rounded(sum(sums, Decimal(0)), "AUD")
    of_halves = split(total, sums, "AUD")
    for half, of_half in zip(halves, of_halves, strict=True):
        lines = split(of_half, [part / number for part in half], "AUD")
        assert sum(lines) == of_half
        assert min(lines, default=Decimal(0)) >= 0
