"""What holds for every rounding rule of every scheme, whatever the amount."""

import re
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.labelling.rounding import AT_LEAST, NOT_DETERMINED, PrintedValue, at_least, round_by_rule, to_decimal
from mealcalc.labelling.schemes import SCHEMES
from mealcalc.reference.label_rounding import RoundingAction, RoundingRule, rounding_rules

RULES = [rule for scheme in SCHEMES for rule in rounding_rules(scheme).values()]
ANY_RULE = st.sampled_from(RULES)
AMOUNTS = st.decimals(min_value=0, max_value=20000, places=4, allow_nan=False)


def _order(printed: PrintedValue) -> Decimal:
    """Where a print stands among others: a statement of less lies just below the number that it names."""
    if printed.value is not None:
        return printed.value
    named = re.search(r"[0-9.]+", printed.text)
    assert named is not None
    return Decimal(named[0]) - Decimal("0.0001")


@given(rule=ANY_RULE, amounts=st.lists(AMOUNTS, min_size=2, max_size=12))
def test_more_never_prints_less(rule: RoundingRule, amounts: list[Decimal]) -> None:
    prints = [_order(round_by_rule(amount, rule)) for amount in sorted(amounts)]
    assert all(before <= after for before, after in pairwise(prints))


@pytest.mark.parametrize("rule", RULES, ids=[f"{rule.scheme} {rule.name}" for rule in RULES])
def test_monotone_across_every_boundary(rule: RoundingRule) -> None:
    dust = Decimal("0.0001")
    edges = {edge for piece in rule.pieces for edge in (piece.start, piece.end) if edge is not None}
    amounts = sorted({max(Decimal(0), edge + shift) for edge in edges for shift in (-dust, Decimal(0), dust)})
    prints = [_order(round_by_rule(amount, rule)) for amount in amounts]
    assert all(before <= after for before, after in pairwise(prints))


@given(rule=ANY_RULE, amount=AMOUNTS)
def test_a_print_lies_within_half_an_increment(rule: RoundingRule, amount: Decimal) -> None:
    printed, piece = round_by_rule(amount, rule), rule.piece_for(amount)
    if piece.action is RoundingAction.ZERO:
        assert printed.value == 0
    elif piece.action is RoundingAction.LESS_THAN:
        assert printed.value is None
    else:
        assert printed.value is not None
        if piece.action is RoundingAction.NEAREST:
            step = piece.step
        else:
            step = Decimal(1).scaleb((amount.adjusted() if amount else 0) - int(piece.step) + 1)
        assert abs(printed.value - amount) <= step / 2


@given(rule=ANY_RULE, amount=st.floats(min_value=-1e-10, max_value=1e6, allow_nan=False))
def test_no_print_has_a_minus(rule: RoundingRule, amount: float) -> None:
    for printed in (round_by_rule(amount, rule), round_by_rule(amount, rule, free_of=True), at_least(amount, rule)):
        assert "-" not in printed.text
        assert not any(text.startswith("-") for text in printed.also)


@given(rule=ANY_RULE, amount=AMOUNTS)
def test_the_text_says_the_number(rule: RoundingRule, amount: Decimal) -> None:
    printed = round_by_rule(amount, rule)
    if printed.value is not None:
        digits = printed.text.removesuffix(rule.unit).strip()
        assert Decimal(digits) == printed.value
        assert "E" not in digits


@given(rule=ANY_RULE, amount=AMOUNTS)
def test_at_least_is_true_and_prints_what_the_rule_could(rule: RoundingRule, amount: Decimal) -> None:
    printed = at_least(amount, rule)
    if printed.value is None:
        assert printed.text == NOT_DETERMINED
    else:
        assert printed.minimum
        assert printed.text.startswith(AT_LEAST)
        assert 0 < printed.value <= amount


@given(rule=ANY_RULE, amount=AMOUNTS)
def test_every_print_names_its_clause(rule: RoundingRule, amount: Decimal) -> None:
    assert round_by_rule(amount, rule).clause


@given(amount=st.decimals(min_value=0, max_value=20000, places=3, allow_nan=False))
def test_a_binary_number_is_the_decimal_that_was_meant(amount: Decimal) -> None:
    assert to_decimal(float(amount)) == amount


def test_worn_down_sums_are_ties() -> None:
    # Three times 0.75 is 2.25; a sum of binary thirds falls just short of it.
    short = 2.2499999999999996
    assert round_by_rule(short, rounding_rules("us")["fat"]).text == "2.5 g"


@pytest.mark.parametrize("amount", [float("nan"), float("inf"), float("-inf"), -1.0, Decimal("-0.01")])
def test_what_is_no_amount_is_refused(amount: float | Decimal) -> None:
    with pytest.raises(ValueError, match="an amount on a label"):
        round_by_rule(amount, rounding_rules("us")["fat"])


def test_negative_zero_has_no_sign() -> None:
    assert round_by_rule(-0.0, rounding_rules("eu")["energy, kJ"]).text == "0 kJ"
    assert round_by_rule(Decimal("-0"), rounding_rules("ca")["calories"]).text == "0"
