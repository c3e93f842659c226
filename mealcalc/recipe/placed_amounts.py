"""Amounts that do not start the line: `juice of 1 lemon`, `Chicken breast 500 g`, `2 garlic cloves`."""

from dataclasses import dataclass, field, replace

from mealcalc.recipe.amount_reading import Reading
from mealcalc.recipe.amounts import read_amount
from mealcalc.recipe.lexicon import ABBREVIATED_NUMBER, CLOVE_FOODS, FEW, SIZES, STALK_FOODS, TRAILING_UNITS
from mealcalc.recipe.measures import skip_approximate
from mealcalc.recipe.names import NameReading
from mealcalc.recipe.numbers import read_quantity
from mealcalc.recipe.phrases import ADVERBS, PARTICIPLES
from mealcalc.recipe.tokens import Kind, Tokens
from mealcalc.records import Amount

ENDS = frozenset(", ; ) ] ( . / or for to plus each".split())
"""Tokens that end the phrase of an amount."""

PARTS = frozenset(
    "juice zest rind peel leaves kernels flesh meat seeds whites yolks greens pulp white yolk tops fronds".split()
)
"""Parts of a food that are named before it: juice of 1 lemon, kernels from 3 ears of corn."""

_ZEST = {"rind": "zest", "peel": "zest"}
_MOST_WORDS_BEFORE_PART = 6
_MOST_BARE_NUMBER = 100.0
_SHORTEST_GLUED_WORD = 3


@dataclass(frozen=True, slots=True)
class PartReading:
    """An amount after `juice of` and the like; `prefix` is the part of the food."""

    prefix: str
    reading: Reading


@dataclass(frozen=True, slots=True)
class AfterReading:
    """An amount written after the food; `left_out` are the tokens it takes."""

    reading: Reading
    left_out: frozenset[int] = field(default_factory=frozenset)


def read_part_of(tokens: Tokens, start: int, region: str) -> PartReading | None:
    """`juice of 1 lemon`, `zest of 2 limes`, `leaves from 6 sprigs thyme`: the amount of the whole, and the part."""
    part = ""
    for n in range(start, min(start + _MOST_WORDS_BEFORE_PART + 3, len(tokens) - 4)):
        low = tokens[n].low
        if low in PARTS:
            # Of juice and zest, the juice carries the energy.
            part = part if part == "juice" else _ZEST.get(low, low)
        elif low in ("of", "from"):
            break
        elif tokens[n].kind is Kind.NUMBER or (low == "," and not part and n > start + 2):
            return None
    else:
        return None
    if not part:
        return None
    i = n + 1 + (tokens[n + 1].low == "the")
    reading = read_amount(tokens, i, region)
    if reading is None or reading.amount is None:
        return PartReading("" if part == "leaves" else part, Reading(i)) if part in ("juice", "zest") else None
    if part == "leaves":
        reading.words.add("leaves")
        return PartReading("", reading)
    return PartReading(part, reading)


def read_written_after(tokens: Tokens, start: int, region: str) -> AfterReading | None:
    """`Chicken breast 500 g`, `Flour: 2 cups`, `Onions (2)`, `Eggs x 3`: the first amount that ends its phrase."""
    last = len(tokens) - 5
    if last > start and tokens[last].low == "few":
        first = last - (tokens[last - 1].low == "a")
        return AfterReading(
            Reading(last + 1, Amount(FEW["few"], FEW["few"], "piece", implied=True)), frozenset((first, last))
        )
    comma = False
    for n in range(start + 1, len(tokens) - 4):
        token, before = tokens[n], tokens[n - 1]
        comma = comma or before.low == ","
        opens = before.low in (",", ":", "(", "–", "—", "|", "=") or (before.low == "-" and before.spaced)
        if token.low in ("x", "×") and tokens[n + 1].kind is Kind.NUMBER:
            continue
        if token.low in ("a", "an", "about") and not comma and (of_unit := _ending_with_unit(tokens, n, region)):
            return AfterReading(of_unit, frozenset(range(n, of_unit.end)))
        if not opens and token.kind is not Kind.NUMBER:
            continue
        if before.low in ABBREVIATED_NUMBER or (before.low == "." and tokens[n - 2].low in ABBREVIATED_NUMBER):
            continue
        i = skip_approximate(tokens, n)
        quantity = read_quantity(tokens, i)
        glued = before.low == "-" and not before.spaced
        if quantity is None or (glued and len(tokens[n - 2].low) < _SHORTEST_GLUED_WORD):
            continue
        found = _ending(tokens, i, quantity.end, opens or glued, before.low in ("x", "×"), region)
        if found is None:
            continue
        first = n - 1 if before.low in ("x", "×") else n
        return AfterReading(found, frozenset(range(first, found.end)))
    return None


def _ending(tokens: Tokens, i: int, after_number: int, opens: bool, times: bool, region: str) -> Reading | None:
    reading = read_amount(tokens, i, region)
    if reading is None or reading.amount is None or reading.unknown is not None:
        return None
    following = tokens[reading.end]
    ends = following.kind is Kind.END or following.low in ENDS
    if reading.amount.unit == "piece" and reading.end == after_number:
        if following.low in SIZES:
            reading.size, reading.end = SIZES[following.low], reading.end + 1
            following = tokens[reading.end]
            ends = opens or following.kind is Kind.END or following.low in ENDS
        closed = opens or times or following.kind is Kind.END or following.low in ("(", ",")
        if not (ends and closed and reading.amount.high <= _MOST_BARE_NUMBER):
            return None
        return reading if not any(t.low in PARTICIPLES | ADVERBS for t in tokens[max(0, i - 2) : i]) else None
    if reading.amount.unit == "cm":
        return reading if following.kind is Kind.END and not any(t.low == "," for t in tokens[:i]) else None
    if not (ends or (opens and following.low in PARTICIPLES)):
        return None
    return reading


def _ending_with_unit(tokens: Tokens, n: int, region: str) -> Reading | None:
    """`Turmeric - a pinch`: an article and a unit that end the line."""
    reading = read_amount(tokens, n, region)
    if reading is None or reading.amount is None or reading.amount.unit == "piece":
        return None
    return reading if tokens[reading.end].kind is Kind.END or tokens[reading.end].low in (",", ")") else None


def move_trailing_unit(name: NameReading) -> str:
    """The unit of a counted food whose unit stands last (`garlic cloves`); taken off unless part of the name."""
    if len(name.tokens) < 2:
        return "piece"
    last = name.tokens[-1].low
    found = TRAILING_UNITS.get(last)
    if found is None:
        return "piece"
    unit, keep = found
    others = {token.low for token in name.tokens[:-1]}
    if unit == "clove" and not others & CLOVE_FOODS:
        return "piece"
    if unit == "stalk" and not others & STALK_FOODS:
        return "piece"
    if unit == "head" and not others & {"garlic", "lettuce", "cabbage", "broccoli", "cauliflower", "fennel"}:
        return "piece"
    if not keep:
        name.tokens.pop()
        while len(name.tokens) > 1 and name.tokens[-1].low in ("on", "the"):
            name.tokens.pop()  # corn on the cob
    return unit


def multiply_at_end(tokens: Tokens, reading: Reading) -> frozenset[int]:
    """`400 g tin tomatoes x 2`: multiply the amount; returns the tokens that this takes."""
    last = len(tokens) - 5
    if reading.amount is None or last < reading.end + 1 or tokens[last].value is None:
        return frozenset()
    times = tokens[last].value
    if tokens[last - 1].low not in ("x", "×") or not times:
        return frozenset()
    reading.amount = replace(reading.amount, low=reading.amount.low * times, high=reading.amount.high * times)
    return frozenset((last - 1, last))
