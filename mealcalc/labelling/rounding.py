"""Rounding by clause: what a label prints for an amount.

Decimal numbers, ties half up (the mode is a named constant: no text read fixes ties for every nutrient). An amount is
rounded once, when it is printed; no printed figure is ever rounded, added or scaled again.
"""

import math
from dataclasses import dataclass
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal

from mealcalc.reference.label_rounding import AlsoAllowed, RoundingAction, RoundingPiece, RoundingRule
from mealcalc.reference.label_tables import Citation

TIES = ROUND_HALF_UP
"""A tie goes up; see `ties` in `label_definitions.csv` for what supports it."""

SIGNIFICANT_DIGITS = 12
"""Digits kept of a binary number: 2.2499999999999996 is 2.25 that a sum has worn down, and a tie."""

NOT_DETERMINED = "not determined"
"""What stands where an amount is not known: never zero."""

AT_LEAST = "at least"


@dataclass(frozen=True, slots=True)
class PrintedValue:
    """What a label prints for an amount.

    text: number with unit, or a statement of less. value: the number printed, None where a statement or nothing stands.
    also: other texts that the clause allows for the same amount. minimum: more than that may be there.
    """

    text: str
    value: Decimal | None
    cited: Citation | None = None
    also: tuple[str, ...] = ()
    note: str = ""
    minimum: bool = False

    @property
    def clause(self) -> str:
        """The clause, '' where nothing was rounded."""
        return "" if self.cited is None else self.cited.clause

    @property
    def verified(self) -> bool:
        """Whether the text of the clause was read."""
        return self.cited is not None and self.cited.verified


UNKNOWN = PrintedValue(NOT_DETERMINED, None)


def round_by_rule(amount: Decimal | float, rule: RoundingRule, *, free_of: bool = False) -> PrintedValue:
    """What a label prints for an amount.

    Parameters
    ----------
    amount : Decimal or float
        Unrounded amount in the unit of the rule, zero or more.
    rule : RoundingRule
        A rule of `reference.label_rounding`; its pieces carry the clauses.
    free_of : bool
        Whether the food meets the conditions of the scheme's 'free of' claim, where the rule asks for them.

    Returns
    -------
    PrintedValue
        Text with unit, number, clause.

    Raises
    ------
    ValueError
        If the amount is negative, infinite or not a number.
    """
    exact = to_decimal(amount)
    piece = rule.piece_for(exact)
    also = _also_allowed(piece.also, exact, rule.unit)
    if piece.zero_if_free and free_of:
        return PrintedValue(_with_unit("0", rule.unit), Decimal(0), piece.cited, (), piece.note)
    if piece.action is RoundingAction.LESS_THAN:
        return PrintedValue(piece.text, None, piece.cited, also, piece.note)
    number = _rounded(exact, piece, TIES)
    printed_as = _piece_of_print(number, piece, rule)
    text = _with_unit(_digits(number, printed_as), rule.unit)
    return PrintedValue(text, number, piece.cited, tuple(a for a in also if a != text), piece.note)


def at_least(amount: Decimal | float, rule: RoundingRule) -> PrintedValue:
    """What a label may say of an amount of which `amount` is certain and more may be there.

    Rounded down to a number that the rule could print, so that what is said is true; `UNKNOWN` where the rule prints
    nothing, zero or a statement of less for what is certain.
    """
    exact = to_decimal(amount)
    piece = rule.piece_for(exact)
    if piece.action not in (RoundingAction.NEAREST, RoundingAction.FIGURES):
        return UNKNOWN
    number = _rounded(exact, piece, ROUND_FLOOR)
    if number == 0:
        return UNKNOWN
    text = f"{AT_LEAST} {_with_unit(_digits(number, piece), rule.unit)}"
    return PrintedValue(text, number, piece.cited, (), piece.note, minimum=True)


def to_decimal(amount: Decimal | float) -> Decimal:
    """An amount as a decimal number without binary dust; a zero has no sign.

    Raises
    ------
    ValueError
        If the amount is negative beyond the dust of a sum, infinite or not a number.
    """
    if not math.isfinite(amount):
        raise ValueError(f"an amount on a label is a finite number, not {amount}")
    exact = amount if isinstance(amount, Decimal) else Decimal(f"{amount:.{SIGNIFICANT_DIGITS}g}")
    if exact < Decimal("-1e-9"):
        raise ValueError(f"an amount on a label is never negative: {amount}")
    return max(exact, Decimal(0)) + Decimal(0)


def _rounded(amount: Decimal, piece: RoundingPiece, mode: str) -> Decimal:
    if piece.action is RoundingAction.ZERO or amount == 0:
        return Decimal(0)
    return _by_step(amount, piece.action, piece.step, mode)


def _by_step(amount: Decimal, action: RoundingAction, step: Decimal, mode: str) -> Decimal:
    if action is RoundingAction.FIGURES:
        return Context(prec=int(step), rounding=mode).create_decimal(amount)
    return (amount / step).to_integral_value(rounding=mode) * step


def _piece_of_print(number: Decimal, piece: RoundingPiece, rule: RoundingRule) -> RoundingPiece:
    """The piece whose decimals a rounded number takes: 9.96 g comes to 10, which prints as the range above does."""
    if piece.end is None or number < piece.end:
        return piece
    return rule.piece_for(number)


def _digits(number: Decimal, piece: RoundingPiece) -> str:
    if piece.fixed_decimals and piece.action is RoundingAction.NEAREST:
        return f"{number.quantize(piece.step):f}"
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _with_unit(digits: str, unit: str) -> str:
    if unit == "%":
        return f"{digits}%"
    return f"{digits} {unit}" if unit else digits


def _also_allowed(also: AlsoAllowed | None, amount: Decimal, unit: str) -> tuple[str, ...]:
    if also is None:
        return ()
    if also.action is None:
        return (also.text,)
    number = Decimal(0) if amount == 0 else _by_step(amount, also.action, also.step, TIES)
    text = f"{number:f}"
    return (_with_unit(text.rstrip("0").rstrip(".") if "." in text else text, unit),)
