"""From a quantity that may have gaps to what the panel prints for it."""

import math
from decimal import Decimal

from mealcalc.labelling.quantities import Quantity
from mealcalc.labelling.rounding import UNKNOWN, PrintedValue, at_least, round_by_rule
from mealcalc.reference.label_rounding import RoundingRule
from mealcalc.reference.label_tables import ReferenceValue

NEGLIGIBLE_SHARE = 0.02
"""A gap of at most this share of the known amount is too small for a panel of average values to show: our judgement."""


def print_quantity(known: Quantity, rule: RoundingRule) -> PrintedValue:
    """What is printed for a quantity.

    Parameters
    ----------
    known : Quantity
        Per portion, per 100 g or in percent, in the unit of the rule.
    rule : RoundingRule
        How the scheme rounds it.

    Returns
    -------
    PrintedValue
        By the rule where the amount is known or its gap cannot matter; 'at least ...' where more may be there; 'not
        determined' where nothing is known.
    """
    if not known.determined:
        return UNKNOWN
    if known.complete or gap_is_harmless(known, rule):
        return round_by_rule(known.low, rule)
    return at_least(known.low, rule)


def gap_is_harmless(known: Quantity, rule: RoundingRule) -> bool:
    """Whether what is unknown of a quantity changes nothing that is printed, or next to nothing."""
    if not math.isfinite(known.high):
        return False
    if known.high - known.low <= NEGLIGIBLE_SHARE * known.low:
        return True
    return round_by_rule(known.low, rule).text == round_by_rule(known.high, rule).text


def print_percent(known: Quantity, reference: ReferenceValue, rule: RoundingRule) -> PrintedValue:
    """The percentage of a reference value, from a quantity per portion in the unit of the reference value."""
    return print_quantity(known.per(float(reference.amount) / 100.0), rule)


def as_declared(printed: PrintedValue) -> Quantity:
    """The printed amount as a quantity, for percentages that are taken from it."""
    if printed.value is None:
        return Quantity(0.0, math.inf, determined=False, known_share=0.0)
    amount = float(printed.value)
    return Quantity(amount, math.inf if printed.minimum else amount)


def percent_of(amount: Decimal | float, reference: ReferenceValue, rule: RoundingRule) -> PrintedValue:
    """The printed percentage of a reference value for a known amount in its unit.

    Raises
    ------
    ValueError
        If the amount is negative, infinite or not a number.
    """
    exact = amount if isinstance(amount, Decimal) else Decimal(repr(amount))
    return round_by_rule(exact / reference.amount * 100, rule)
