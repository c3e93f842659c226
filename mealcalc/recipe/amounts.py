"""The amount of a line: `400 g`, `2 x 400 g cans`, `1 (15 oz) can`, `1 cup plus 2 tbsp`, `a good glug`.

Rules, in the order they are tried at the start of a line:

* number, multiplication sign, number, unit: multiplied out; the pack named after it is the container;
* number, then a measure (bare, hyphenated or in brackets): packs and pieces of that weight, multiplied out; a length
  before a piece makes the piece that long, any other length is a size;
* number and unit, then a second measure, a multiplication sign, or a sum;
* number alone: pieces;
* article or no number before a unit: one of it. Gestures (`a good glug`) and vague numbers (`a few`) are implied.
"""

from mealcalc.recipe.amount_reading import Reading, note_modifiers, read_container, unit_after_modifiers
from mealcalc.recipe.further_amounts import TIMES, read_further, repeats_range
from mealcalc.recipe.lexicon import (
    CAN_UNITS,
    FEW,
    LENGTH_PIECES,
    NUMBERED_CAN_ML,
    ONE_WITHOUT_NUMBER,
    PART_WORDS,
    PRODUCT_NOUNS,
    PRODUCT_NUMBER_NOUNS,
    SIZES,
    TIME_WORDS,
    UNKNOWN_MEASURES,
    VAGUE_UNITS,
)
from mealcalc.recipe.measures import (
    Measured,
    best_measure,
    read_bracket,
    read_measure,
    skip_approximate,
)
from mealcalc.recipe.numbers import Quantity, read_number, read_quantity
from mealcalc.recipe.tokens import Kind, Token, Tokens
from mealcalc.recipe.units_in_text import UnitKind, UnitReading, read_unit, spelling_of_unit
from mealcalc.records import Amount
from mealcalc.units import is_other_unit

_LITTLE = frozenset("little bit touch lot hint whisper tad trace drop smidgen smear".split())

ONE = Quantity(1.0, 1.0, 0)
_LEAST_PACK_RATIO = 5


def read_amount(tokens: Tokens, i: int, region: str) -> Reading | None:
    """The amount that starts at token `i`, or None where no amount starts there."""
    k = skip_approximate(tokens, i)
    quantity = read_quantity(tokens, k)
    if quantity is None and k > i:
        k, quantity = i, read_quantity(tokens, i)
    if quantity is not None and _counts_lengths(tokens, k, quantity):
        quantity = Quantity(tokens[k].value or 1.0, tokens[k].value or 1.0, k + 1)
    reading = _without_number(tokens, k) if quantity is None else _after_quantity(tokens, quantity)
    if reading is None:
        return None
    read_further(tokens, reading, region)
    return reading


def _counts_lengths(tokens: Tokens, k: int, quantity: Quantity) -> bool:
    """`2 1/2-inch pieces`: before a plural the whole number counts and the fraction measures."""
    following = tokens[quantity.end + 2].low if tokens[quantity.end].low == "-" else ""
    return (
        quantity.end == k + 2
        and tokens[k + 1].fraction
        and (tokens[k].value or 0.0) > 1
        and tokens[quantity.end + 1].low == "inch"
        and following in LENGTH_PIECES
        and following.endswith("s")
    )


def read_sized(tokens: Tokens, i: int) -> tuple[str, int] | None:
    """A length that is a size (`8-inch`, `20 cm`, `1-by-3-inch`) and the index after it, or None."""
    quantity = read_quantity(tokens, i)
    if quantity is None:
        return None
    j = quantity.end
    while tokens[j].low in ("-", "by", "x", "×") and tokens[j].kind is not Kind.END:
        j += 1
    second = read_number(tokens, j) if j > quantity.end else None
    if second is not None:
        j = second[1]
    unit = read_unit(tokens, j)
    if unit is None or unit.kind is not UnitKind.LENGTH:
        return None
    end = unit.end
    while tokens[end].low == "-" or tokens[end].low in ("thick", "long", "wide", "square", "diameter", "diam", "round"):
        end += 1
    name = "inch" if unit.word in ("inch", "inches", "in", '"', "”", "″") else unit.word
    return f"{quantity.high:g} {name}", end


def _after_quantity(tokens: Tokens, quantity: Quantity) -> Reading | None:
    k = quantity.end
    if _is_no_amount(tokens, k, quantity):
        return None
    if tokens[k].low in TIMES:
        second = read_quantity(tokens, k + 1)
        if second is None:
            k += 1
        else:
            unit = read_unit(tokens, second.end)
            if unit is not None and unit.kind is not UnitKind.COUNT:
                return _packs(tokens, quantity, Measured(second, unit, unit.end), multiply=True)
            return _counted(
                tokens, Quantity(quantity.low * second.low, quantity.high * second.high, second.end), second.end
            )
    if tokens[k].low in ("no", "#", "number") and (numbered := _numbered_can(tokens, k, quantity)):
        return numbered
    measured_from = k
    while tokens[measured_from].low in ("whole", "fresh", "large", "small", "boneless", "thick"):
        measured_from += 1
    nested = _nested(tokens, measured_from, quantity)
    if nested is not None and (measured_from == k or tokens[measured_from].kind is Kind.NUMBER):
        if measured_from > k:
            nested.words |= {token.low for token in tokens[k:measured_from] if token.low in ("whole", "boneless")}
        return nested
    return _counted(tokens, quantity, k)


def _is_no_amount(tokens: Tokens, k: int, quantity: Quantity) -> bool:
    """Numbers that are no amounts: 10 %, 180 °C, 7-spice, four bean mix, 30 minutes."""
    after = tokens[k]
    if after.low in ("%", "percent", "°", "º") or (after.low == "per" and tokens[k + 1].low == "cent"):
        return True
    if after.low == "-" and not after.spaced and tokens[k + 1].kind is Kind.WORD and not tokens[k + 1].spaced:
        return read_unit(tokens, k) is None and tokens[k + 1].low not in SIZES
    if after.low in PRODUCT_NUMBER_NOUNS and tokens[k + 1].low in PRODUCT_NOUNS:
        return quantity.low > 1
    return after.low in TIME_WORDS and tokens[k + 1].low not in PRODUCT_NOUNS


def _counted(tokens: Tokens, quantity: Quantity, k: int) -> Reading:
    """Number and unit, or number alone."""
    if tokens[k].low == "no" and tokens[k + 1].low == "." and tokens[k + 2].kind is Kind.WORD:
        k += 2  # '2 no. onions': two in number
    sizes = _sizes_before_or(tokens, k)
    if sizes is not None:
        found = unit_after_modifiers(tokens, sizes)
        reading = Reading(
            found[0].end if found else sizes, Amount(quantity.low, quantity.high, found[0].unit if found else "piece")
        )
        reading.size = SIZES[tokens[k].low]
        return reading
    found = unit_after_modifiers(tokens, k)
    if found is None:
        reading = Reading(k, Amount(quantity.low, quantity.high, "piece"))
        _look_for_unknown_unit(tokens, k, quantity, reading)
        return reading
    unit, passed = found
    if unit.kind is UnitKind.LENGTH:
        return _length(tokens, quantity, unit)
    reading = Reading(unit.end, Amount(quantity.low * unit.factor, quantity.high * unit.factor, unit.unit))
    note_modifiers(reading, passed)
    if unit.kind is UnitKind.COUNT:
        if unit.keep:
            reading.kept.append(tokens[unit.end - 1])
    elif repeats_range(tokens, reading, unit):
        pass
    read_container(tokens, reading, unit)
    if (
        reading.container
        and quantity.low == int(quantity.low)
        and quantity.high >= _LEAST_PACK_RATIO * quantity.low > 0
    ):
        # '1 - 15 oz can' is one can of 15 oz, no range
        packs = Quantity(quantity.low, quantity.low, k)
        reading.amount = Amount(quantity.low * quantity.high, quantity.low * quantity.high, unit.unit)
        reading.packs = packs
    return reading


def _sizes_before_or(tokens: Tokens, k: int) -> int | None:
    """`1 large or 2 small cloves`: the index after the other number and size, or None. The first choice counts."""
    if tokens[k].low not in SIZES or tokens[k + 1].low != "or":
        return None
    other = read_quantity(tokens, k + 2)
    end = k + 2 if other is None else other.end
    return end + 1 if tokens[end].low in SIZES else None


def _length(tokens: Tokens, quantity: Quantity, unit: UnitReading) -> Reading:
    cm = Amount(round(quantity.low * unit.factor, 9), round(quantity.high * unit.factor, 9), "cm")
    following = tokens[unit.end + 1] if tokens[unit.end].low == "-" else tokens[unit.end]
    if following.low in LENGTH_PIECES:
        return Reading(unit.end + (tokens[unit.end].low == "-") + 1, cm)
    size = read_sized(tokens, quantity.end - 1)
    if following.low in ("thick", "long", "wide") or tokens[quantity.end].low == "-" or cm.low >= 12:
        return Reading(size[1] if size else unit.end, None, size=size[0] if size else "")
    return Reading(unit.end, cm)


def _nested(tokens: Tokens, k: int, quantity: Quantity) -> Reading | None:
    """A measure straight after a number: `4 6-ounce pieces`, `2 (400 g) cans`, `8 (8-inch) tortillas`."""
    bracket = read_bracket(tokens, k)
    if bracket is not None:
        found = best_measure(bracket)._replace(end=bracket[-1].end)
        if found.unit.kind is UnitKind.LENGTH:
            return _sized(tokens, quantity, found, k + 1)
        pack = unit_after_modifiers(tokens, found.end)
        if pack is None and (found.about or found.total) and not found.each:
            return Reading(found.end, Amount(quantity.low, quantity.high, "piece"), found.amount())
        if pack is not None and pack[0].unit not in CAN_UNITS and pack[0].kind is UnitKind.COUNT:
            reading = Reading(pack[0].end, Amount(quantity.low, quantity.high, pack[0].unit), found.amount(quantity))
            note_modifiers(reading, pack[1])
            return reading
        return _packs(tokens, quantity, found, multiply=not found.total)
    sized = read_sized(tokens, k)
    if sized is not None:
        one = read_measure(tokens, k)
        if one is None:
            return _sized_as(tokens, quantity, sized)
        return _sized(tokens, quantity, one, k)
    one = read_measure(tokens, k)
    if one is None:
        return None
    return _packs(tokens, quantity, one, multiply=True)


def _packs(tokens: Tokens, quantity: Quantity, found: Measured, *, multiply: bool) -> Reading:
    reading = Reading(found.end, found.amount(quantity if multiply else None), packs=quantity if multiply else None)
    if found.drained:
        reading.words.add("drained weight")
    read_container(tokens, reading, found.unit)
    return reading


def _sized(tokens: Tokens, quantity: Quantity, found: Measured, start: int) -> Reading:
    """Pieces of a stated length: a 2-inch piece weighs by its length, an 8-inch tortilla is a size of tortilla."""
    after = found.end + (tokens[found.end].low == "-")
    if tokens[after].low in LENGTH_PIECES and found.unit.kind is UnitKind.LENGTH:
        unit = read_unit(tokens, after)
        name = "piece" if unit is None or unit.kind is not UnitKind.COUNT else unit.unit
        reading = Reading(after + 1, Amount(quantity.low, quantity.high, name), found.amount(quantity))
        if unit is not None and unit.keep:
            reading.kept.append(tokens[after])
        return reading
    size = read_sized(tokens, start)
    end = max(found.end, size[1]) if size else found.end
    return _sized_as(tokens, quantity, (size[0] if size else "", end))


def _sized_as(tokens: Tokens, quantity: Quantity, size: tuple[str, int]) -> Reading:
    reading = _counted(tokens, quantity, size[1])
    reading.size = size[0]
    return reading


def _without_number(tokens: Tokens, i: int) -> Reading | None:
    """An article, `a few`, or a unit alone at the start of a line."""
    article = tokens[i].low in ("a", "an")
    k = i + article
    few = FEW.get(tokens[k].low)
    if few is not None:
        found = unit_after_modifiers(tokens, k + 1)
        if found is None and tokens[k].low == "some":
            return None
        unit = found[0].unit if found else "piece"
        return Reading(found[0].end if found else k + 1, Amount(few, few, unit, implied=True))
    if article:
        number = skip_approximate(tokens, k)
        nested = read_quantity(tokens, number)
        if nested is not None:
            return _nested(tokens, number, ONE) or _after_quantity(tokens, nested)
        if tokens[k].low in _LITTLE and tokens[k + 1].kind is Kind.WORD and unit_after_modifiers(tokens, k) is None:
            return Reading(k + 1)
    found = unit_after_modifiers(tokens, k)
    if found is None:
        if article and tokens[k].kind is Kind.WORD:
            return Reading(k, Amount(1.0, 1.0, "piece"))
        return None
    unit_found, passed = found
    of = tokens[unit_found.end].low == "of"
    if not article:
        counted = unit_found.kind is UnitKind.COUNT and not unit_found.keep
        alone = unit_found.unit in ONE_WITHOUT_NUMBER and tokens[unit_found.end].kind is Kind.WORD
        if not (alone or (of and (counted or unit_found.kind is not UnitKind.LENGTH))):
            return None
    reading = Reading(unit_found.end, Amount(1.0, 1.0, unit_found.unit, implied=unit_found.unit in VAGUE_UNITS))
    if unit_found.keep:
        reading.kept.append(tokens[unit_found.end - 1])
    note_modifiers(reading, passed)
    return reading


def _look_for_unknown_unit(tokens: Tokens, k: int, quantity: Quantity, reading: Reading) -> None:
    """A slip of a unit word is read as the unit; any other word before `of` that names no part of a food is unknown."""
    word = tokens[k]
    if word.kind is not Kind.WORD:
        return
    known = spelling_of_unit(word.low)
    if known is not None:
        unit = read_unit([replace_word(word, known), *tokens[k + 1 : k + 5], *tokens[-4:]], 0)
        if unit is not None:
            reading.amount = Amount(quantity.low, quantity.high, unit.unit)
            reading.end, reading.repaired = k + 1, (k, known)
            return
    of = tokens[k + 1].low == "of"
    if of and tokens[k + 2].kind is Kind.WORD:
        singular = word.low.removesuffix("s")
        stems = {word.low, singular, word.low.removesuffix("es"), singular + "e"}
        unknown = not stems & PART_WORDS and word.low not in SIZES
    else:
        unknown = word.low in UNKNOWN_MEASURES and tokens[k + 1].kind is Kind.WORD and tokens[k + 1].low[:6] != "noodle"
    if unknown and of and is_other_unit(word.low):
        name = word.low.removesuffix("s") if is_other_unit(word.low.removesuffix("s")) else word.low
        reading.amount, reading.end = Amount(quantity.low, quantity.high, name), k + 2
    elif unknown:
        reading.unknown, reading.end, reading.amount = k, k + 1 + of, None


def replace_word(token: Token, word: str) -> Token:
    """`token` with another word in its place."""
    return token._replace(text=word, low=word)


def _numbered_can(tokens: Tokens, k: int, quantity: Quantity) -> Reading | None:
    """`1 No. 10 can`: US can numbers, by their capacity."""
    n = k + 1 + (tokens[k + 1].low in (".", "#"))
    number = tokens[n]
    capacity = NUMBERED_CAN_ML.get(number.text)
    unit = read_unit(tokens, n + 1)
    if capacity is None or unit is None or unit.unit != "can":
        return None
    measured = Amount(quantity.low * capacity, quantity.high * capacity, "ml")
    return Reading(unit.end, Amount(quantity.low, quantity.high, "can"), measured)
