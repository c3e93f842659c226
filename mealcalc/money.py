"""Sums of money: exact decimals until the end, then half up to the smallest coin, in parts that add up."""

from collections.abc import Mapping, Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

ZERO = Decimal(0)

USUAL_DECIMALS = 2

DECIMALS: Mapping[str, int] = {
    **dict.fromkeys("CLP ISK JPY KRW PYG UGX UYI VND XAF XOF XPF".split(), 0),
    **dict.fromkeys("BHD IQD JOD KWD LYD OMR TND".split(), 3),
}
"""Decimals of currencies that have not two (ISO 4217, from memory)."""


def decimals_of(currency: str) -> int:
    """Decimals of the smallest coin of a currency; 2 for one that is not known."""
    return DECIMALS.get(currency.upper(), USUAL_DECIMALS)


def rounded(amount: Decimal, currency: str) -> Decimal:
    """`amount` half up to the smallest coin of the currency."""
    return amount.quantize(_coin(currency), ROUND_HALF_UP)


def split(total: Decimal, parts: Sequence[Decimal], currency: str) -> list[Decimal]:
    """Exact `parts` rounded so that they add up to the rounded `total`, by the largest remainder.

    Every part gets its whole coins; the coins that are then missing go to the largest remainders, one each, and a coin
    too many is taken from the smallest remainder. What costs nothing gets nothing.

    Parameters
    ----------
    total : Decimal
        What they are to add up to, in whole coins of the currency: their sum, rounded.
    parts : sequence of Decimal
        Exact amounts, none below 0.
    currency : str
        Its smallest coin counts.

    Raises
    ------
    ValueError
        If there is a total above 0 and no part that it could go to.
    """
    coin = _coin(currency)
    coins = [int((part / coin).to_integral_value(ROUND_FLOOR)) for part in parts]
    remainders = [part / coin - number for part, number in zip(parts, coins, strict=True)]
    missing = int(total / coin) - sum(coins)
    paid = [n for n, part in enumerate(parts) if part > ZERO]
    if missing and not paid:
        raise ValueError(f"{total} cannot be split into parts that cost nothing")
    largest_first = sorted(paid, key=lambda n: -remainders[n])
    while missing > 0:
        for n in largest_first[:missing]:
            coins[n] += 1
        missing -= len(largest_first[:missing])
    for n in reversed(largest_first):
        if missing < 0 and coins[n] > 0:
            coins[n] -= 1
            missing += 1
    return [number * coin for number in coins]


def _coin(currency: str) -> Decimal:
    return Decimal(1).scaleb(-decimals_of(currency))
