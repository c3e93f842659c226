"""Second measures: a weight in brackets, another system of units, what one pack holds; and arithmetic on amounts."""

from typing import NamedTuple

from mealcalc.recipe.lexicon import APPROXIMATE
from mealcalc.recipe.numbers import Quantity, read_quantity
from mealcalc.recipe.tokens import Kind, Tokens
from mealcalc.recipe.units_in_text import UnitKind, UnitReading, read_unit
from mealcalc.records import Amount
from mealcalc.units import MASS_G, measure

METRIC_VOLUMES = frozenset(("ml", "cl", "dl", "l"))
"""Volumes that are the same in every region, so they overrule cups and spoons."""

_EACH = frozenset(("each", "apiece", "ea"))
_TOTAL = frozenset(("total", "altogether", "all"))
_PER = frozenset(("per", "a"))
_EMPTY = frozenset(
    "net weight wt drained size sized dry cooked raw uncooked or so in packed loosely lightly when once the".split()
)
_NOT_FROM = frozenset("from for plus into makes yields serves cut in with per at".split())


class Measured(NamedTuple):
    """A mass, volume or length. `each`: of one piece; `total`: of all; `about`: estimated; `drained`: no liquid."""

    quantity: Quantity
    unit: UnitReading
    end: int
    each: bool = False
    total: bool = False
    about: bool = False
    drained: bool = False

    def amount(self, times: Quantity | None = None) -> Amount:
        """This measure as an amount, multiplied by `times` where given."""
        low, high = self.quantity.low * self.unit.factor, self.quantity.high * self.unit.factor
        if times is not None:
            low, high = low * times.low, high * times.high
        return Amount(_tidy(low), _tidy(high), self.unit.unit)


def skip_approximate(tokens: Tokens, i: int) -> int:
    """The index after words such as `about`, `approx.`, `up to`."""
    while tokens[i].low in APPROXIMATE and tokens[i].kind is not Kind.END:
        i += 1
        if tokens[i].low == "." and not tokens[i].spaced:
            i += 1
    return i


def read_measure(tokens: Tokens, i: int) -> Measured | None:
    """The mass, volume or length at token `i`, with `about` before and `each` or `total` around it, or None."""
    start = i
    each = tokens[i].low in _EACH
    drained = tokens[i].low == "drained" and tokens[i + 1].low == "weight"
    i += 2 if drained else 0
    if each or tokens[i].low in ("weighing", "weight", "total", "net", "yield", "yielding"):
        i += 1
        i += tokens[i].low in (":", "of")
    i = skip_approximate(tokens, i)
    quantity = read_quantity(tokens, i)
    if quantity is None:
        return None
    unit = read_unit(tokens, quantity.end)
    if unit is None or unit.kind is UnitKind.COUNT:
        return None
    end, told = unit.end, False
    if tokens[end].low in _EACH or (tokens[end].low in _PER and tokens[end + 1].kind is Kind.WORD):
        each, told = True, True
        end += 1 if tokens[end].low in _EACH else 2
    total = tokens[start].low == "total" or tokens[end].low in _TOTAL
    total = total or (tokens[end].low == "in" and tokens[end + 1].low in _TOTAL)
    return Measured(
        quantity, unit, end, each, total, about=not told and i > start, drained=drained or tokens[end].low == "drained"
    )


def read_bracket(tokens: Tokens, i: int) -> list[Measured] | None:
    """The measures inside a bracket that opens at token `i`, or None if it holds anything but measures.

    The `end` of the last one is the index after the closing bracket.
    """
    if tokens[i].low not in ("(", "[", "{"):
        return None
    found: list[Measured] = []
    j = i + 1
    while True:
        one = read_measure(tokens, j)
        if one is None:
            return None
        found.append(one)
        j = one.end
        while tokens[j].low in _EMPTY or tokens[j].low in _TOTAL or tokens[j].low in _EACH:
            j += 1
        if tokens[j].low in ("/", ",", ";", "-", "="):
            j += 1
            continue
        if tokens[j].kind is Kind.NUMBER:
            continue
        break
    if tokens[j].kind is not Kind.END and tokens[j].low not in (")", "]", "}"):
        return None
    closed = j if tokens[j].kind is Kind.END else j + 1
    found[-1] = found[-1]._replace(end=closed)
    return found


def best_measure(found: list[Measured]) -> Measured:
    """The measure to weigh by when several stand side by side: a mass before a metric volume before the rest."""
    return min(found, key=lambda one: _rank(one.unit))


def overrules(first: str, second: str) -> bool:
    """Whether unit `second` tells more about grams than `first`: mass, then metric volume, volume, count, length."""
    ranks = dict.fromkeys(MASS_G, 0) | dict.fromkeys(METRIC_VOLUMES, 1)
    other = {"cup": 2, "tbsp": 2, "tsp": 2, "dessertspoon": 2, "fl_oz": 2, "pint": 2, "quart": 2, "gallon": 2, "cm": 4}
    return (ranks | other).get(second, 3) < (ranks | other).get(first, 3) or (second == "cm" and first == "piece")


def find_measure(tokens: Tokens, i: int) -> Measured | None:
    """The first measure of the line after token `i`: in a bracket, after `about`, or as a comma phrase of its own.

    What follows `from`, `for` or `plus` speaks of something else.
    """
    start_of_phrase = True
    previous = ""
    for j in range(i, len(tokens) - 4):
        token = tokens[j]
        low = token.low
        if (
            start_of_phrase or low in APPROXIMATE or low in ("each", "weighing", "yield", "yielding", "drained")
        ) and previous not in _NOT_FROM:
            one = read_measure(tokens, j)
            if one is not None and one.unit.kind is not UnitKind.LENGTH and _stands_alone(tokens, one.end, token.depth):
                return one
        start_of_phrase = low in (",", ";", "(", "[", ":", "–", "—") or (low == "-" and token.spaced)
        previous = low
    return None


def total_in_smaller_unit(first: Amount, second: Amount, region: str) -> Amount | None:
    """The sum of two amounts in the smaller of their units, usually a whole number; None if they do not add up."""
    if "stick" in (first.unit, second.unit) and {"cup", "tbsp", "tsp"} & {first.unit, second.unit}:
        first, second = _stick_in_spoons(first), _stick_in_spoons(second)
    if first.unit == second.unit:
        return Amount(_tidy(first.low + second.low), _tidy(first.high + second.high), first.unit)
    try:
        one, other = measure(first.unit, region), measure(second.unit, region)
    except ValueError:
        return None
    if one.g is not None and other.g is not None:
        one_worth, other_worth = one.g, other.g
    elif one.ml is not None and other.ml is not None:
        one_worth, other_worth = one.ml, other.ml
    else:
        return None
    worth, unit = min((one_worth, first.unit), (other_worth, second.unit))
    low = (first.low * one_worth + second.low * other_worth) / worth
    high = (first.high * one_worth + second.high * other_worth) / worth
    return Amount(_tidy(low), _tidy(high), unit)


def _stick_in_spoons(amount: Amount) -> Amount:
    # A US stick of butter is half a cup, 8 tablespoons, beside its 4 oz (USDA SR28: 14.2 g per tablespoon of butter).
    return Amount(amount.low * 8, amount.high * 8, "tbsp") if amount.unit == "stick" else amount


def _stands_alone(tokens: Tokens, end: int, depth: int) -> bool:
    # In '(1 cup chopped)' or ', 1 cup chopped inner greens' the measure is of something else.
    following = tokens[end]
    if following.kind is Kind.END or following.depth < depth or following.low in (",", ";", ")", "/", ".", "]"):
        return True
    return following.low in _EACH | _TOTAL | _EMPTY | {"or", "and", "(", "of", "-"}


def _rank(unit: UnitReading) -> int:
    if unit.kind is UnitKind.MASS:
        return 0
    if unit.kind is UnitKind.VOLUME:
        return 1 if unit.unit in METRIC_VOLUMES else 2
    return 3


def _tidy(value: float) -> float:
    """Take off the dust of binary arithmetic, so that 1 lb 2 oz is 18 oz."""
    return round(value, 9)
