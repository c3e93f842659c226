"""What is read about an amount, and the readers that several rules share: units behind adjectives, packs."""

from dataclasses import dataclass, field

from mealcalc.recipe.lexicon import (
    CAN_UNITS,
    DROPPED_AFTER_WEIGHT,
    SIZES,
    SMALL_MEASURE_SIZES,
    SMALL_MEASURES,
    UNIT_MODIFIERS,
)
from mealcalc.recipe.measures import Measured, overrules
from mealcalc.recipe.numbers import Quantity
from mealcalc.recipe.tokens import Token, Tokens
from mealcalc.recipe.units_in_text import UnitKind, UnitReading, read_unit
from mealcalc.records import Amount
from mealcalc.units import COUNT_UNITS, MASS_G

_LEVELS = {"heaped": "heaped", "heaping": "heaped", "rounded": "heaped", "level": "level", "packed": "packed"}
_MOST_MODIFIERS = 4


@dataclass(slots=True)
class Reading:
    """What the start of a line says about its amount; `end` is the index of the first token after it.

    kept: unit words that belong to the name of the food. unknown: index of a word that stands where a unit should.
    repaired: (index, unit word) of a unit whose spelling was repaired. unlike: index of a sum that does not add up.
    packs: number of packs that were multiplied out, None where none were.
    """

    end: int
    amount: Amount | None = None
    measured: Amount | None = None
    container: str = ""
    size: str = ""
    words: set[str] = field(default_factory=set)
    each: bool = False
    kept: list[Token] = field(default_factory=list)
    unknown: int | None = None
    repaired: tuple[int, str] | None = None
    unlike: int | None = None
    packs: Quantity | None = None

    def add_measured(self, found: Measured) -> None:
        """Keep a second measure if it says more about grams than what is known; a drained weight always does.

        What stands after packs is what one of them holds, unless the line says that it is the total.
        """
        count = self.packs
        if count is None and self.amount is not None and self.amount.unit not in MASS_G:
            count = Quantity(self.amount.low, self.amount.high, 0)
        per_piece = found.each or self.packs is not None or (self.amount is not None and self.amount.unit in CAN_UNITS)
        amount = found.amount(count if per_piece and not found.total else None)
        known = self.measured or self.amount
        if found.each and known is not None and known.unit not in COUNT_UNITS and self.packs is None:
            return
        if known is None or overrules(known.unit, amount.unit) or found.drained:
            self.measured = amount
        if found.drained:
            self.words.add("drained weight")


def unit_after_modifiers(tokens: Tokens, k: int) -> tuple[UnitReading, list[Token]] | None:
    """The unit at token `k` or after a few words such as `large`, `heaped`; with the words passed over."""
    passed: list[Token] = []
    for n in range(k, k + _MOST_MODIFIERS + 1):
        unit = read_unit(tokens, n)
        if unit is not None:
            return unit, passed
        token = tokens[n]
        if token.low in UNIT_MODIFIERS or (passed and token.low == "-" and not token.spaced):
            passed.append(token)
        elif token.low == "(" and tokens[n + 1].low in UNIT_MODIFIERS and tokens[n + 2].low == ")":
            return None
        else:
            return None
    return None


def note_modifiers(reading: Reading, passed: list[Token]) -> None:
    """Keep the size and the level that the words before a unit state."""
    small = reading.amount is not None and reading.amount.unit in SMALL_MEASURES
    for n, token in enumerate(passed):
        if token.low in SIZES:
            extra = n > 0 and passed[n - 1].low == "extra"
            reading.size = "extra large" if extra else SIZES[token.low]
        elif small and token.low in SMALL_MEASURE_SIZES:
            reading.size = reading.size or SMALL_MEASURE_SIZES[token.low]
        if token.low in _LEVELS:
            reading.words.add(_LEVELS[token.low])


def read_container(tokens: Tokens, reading: Reading, unit: UnitReading) -> None:
    """The pack after a weight (400 g tin), or a word that says nothing more (500 g piece of beef)."""
    if unit.kind is UnitKind.COUNT:
        return
    k = reading.end + (tokens[reading.end].low == "-" and not tokens[reading.end].spaced)
    found = unit_after_modifiers(tokens, k)
    if found is None or found[0].kind is not UnitKind.COUNT or found[0].keep:
        return
    pack = found[0]
    if pack.unit in CAN_UNITS:
        reading.container = pack.unit
        reading.end = pack.end
    elif pack.unit in DROPPED_AFTER_WEIGHT and not (pack.unit == "head" and tokens[pack.end].low == "and"):
        reading.end = pack.end
