"""What follows the first amount of a line: second measures, multiplication signs, ranges with two units, and sums."""

from dataclasses import replace

from mealcalc.recipe.amount_reading import Reading, read_container
from mealcalc.recipe.lexicon import CAN_UNITS
from mealcalc.recipe.measures import (
    Measured,
    best_measure,
    read_bracket,
    read_measure,
    skip_approximate,
    total_in_smaller_unit,
)
from mealcalc.recipe.numbers import read_number, read_quantity
from mealcalc.recipe.tokens import Kind, Tokens
from mealcalc.recipe.units_in_text import UnitKind, UnitReading, read_unit
from mealcalc.records import Amount

TIMES = frozenset(("x", "×", "*", "✕", "✖"))
"""Multiplication signs as cooks write them."""

_SLASHES = frozenset(("/", "|", "=", "or"))
_SUMS = frozenset(("plus", "+", "and", "&"))


def read_further(tokens: Tokens, reading: Reading, region: str) -> None:
    """Second measures, multiplication signs and sums after the first amount; then `each` and `of`."""
    while reading.amount is not None:
        k = reading.end
        low = tokens[k].low
        if low in TIMES and (times := read_number(tokens, k + 1)) and read_unit(tokens, times[1]) is None:
            reading.amount = replace(
                reading.amount, low=reading.amount.low * times[0], high=reading.amount.high * times[0]
            )
            reading.end = times[1]
        elif low == "(" and (bracket := read_bracket(tokens, k)):
            reading.add_measured(best_measure(bracket))
            reading.end = bracket[-1].end
        elif low in _SLASHES and (other := read_measure(tokens, k + 1)) and other.unit.kind is not UnitKind.LENGTH:
            reading.add_measured(other)
            reading.end = other.end
            if not reading.container:
                read_container(tokens, reading, other.unit)
        elif reading.amount.unit in CAN_UNITS and (one := _holds(tokens, k)):
            reading.add_measured(one)
            reading.end = one.end
        elif not _add(tokens, reading, region):
            break
    if tokens[reading.end].low == "each":
        reading.each = True
        reading.end += 1
    if tokens[reading.end].low == "of":
        reading.end += 1
        if tokens[reading.end].low in ("a", "an", "the", "any"):
            reading.end += 1


def repeats_range(tokens: Tokens, reading: Reading, unit: UnitReading) -> bool:
    """`100 g - 150 g`, `1 cup to 2 cups`: the unit is written twice."""
    if tokens[reading.end].low not in ("-", "–", "—", "to"):
        return False
    second = read_quantity(tokens, reading.end + 1)
    again = second and read_unit(tokens, second.end)
    if (
        second is None
        or not again
        or again.unit != unit.unit
        or reading.amount is None
        or second.high <= reading.amount.low
    ):
        return False
    reading.amount = replace(reading.amount, high=second.high)
    reading.end = again.end
    return True


def _holds(tokens: Tokens, k: int) -> Measured | None:
    """`2 cans 400 g each`, `2 tins x 400 g`: what a pack holds, without a bracket."""
    if tokens[k].low in TIMES or tokens[k].low in ("of", "@"):
        k += 1
    if tokens[k].kind is not Kind.NUMBER:
        return None
    one = read_measure(tokens, k)
    return one if one is not None and one.unit.kind is not UnitKind.LENGTH else None


def _add(tokens: Tokens, reading: Reading, region: str) -> bool:
    """`1 cup plus 2 tbsp`, `1 lb 2 oz`, `1 pound, 2 ounces`: add the second amount; False if there is none."""
    assert reading.amount is not None
    k = reading.end
    comma = tokens[k].low == ","
    k += comma
    sign = tokens[k].low in _SUMS
    k += sign
    if reading.amount.unit == "piece" or reading.container:
        return False
    quantity = read_quantity(tokens, skip_approximate(tokens, k) if sign else k)
    if quantity is None:
        return False
    unit = read_unit(tokens, quantity.end)
    if unit is None or unit.kind not in (UnitKind.MASS, UnitKind.VOLUME):
        return False
    second = Amount(quantity.low, quantity.high, unit.unit)
    total = total_in_smaller_unit(reading.amount, second, region)
    if not sign and (total is None or total.unit == reading.amount.unit):
        return False  # side by side only a smaller unit of the same kind adds up: 1 lb 2 oz
    if total is None:
        reading.unlike = k
    else:
        reading.amount = total
    reading.end = unit.end + (tokens[unit.end].low == ",")
    return True
