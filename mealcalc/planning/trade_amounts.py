"""Amounts as one asks for them in a shop: whole pieces, bunches and cans, grams and millilitres rounded up."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from mealcalc.calculation.line_cooking import is_liquid
from mealcalc.calculation.piece_weights import piece_mass
from mealcalc.calculation.weights import PACKS
from mealcalc.planning.purchases import WHOLE_UNITS
from mealcalc.records import Food
from mealcalc.records.purchases import Purchase
from mealcalc.records.shopping import TradeAmount
from mealcalc.reference.shopping_tables import sold_by

STEPS: tuple[tuple[float, float], ...] = ((10.0, 1.0), (100.0, 5.0), (1000.0, 10.0), (math.inf, 50.0))
"""(below this many g or ml, rounded up to this step): our judgement."""

NEARLY = 1e-6
"""Share of a step by which an amount may be above a rounded one and still be that."""

CAN = "can"

_POURED = ("oil,", "vinegar", "sauce, fish", "soy sauce", "syrup")
"""Starts of descriptions of foods that are measured by volume beside those with much water."""


def rounded_up(amount: float) -> float:
    """Grams or millilitres rounded up to what a shop scale or a jug shows."""
    step = next(step for below, step in STEPS if amount < below)
    return math.ceil(amount / step - NEARLY) * step


def trade_amounts(purchases: Sequence[Purchase], left: float, region: str) -> tuple[TradeAmount, ...]:
    """How much to buy of one food.

    Packs that lines name stay packs, of each size its own number. What is sold by the piece or bunch is counted, and so
    is what every line counts. All else is weighed, liquids are measured.

    Parameters
    ----------
    purchases : sequence of Purchase
        What lines need of the food.
    left : float
        Share of it that is left to buy (0 to 1).
    region : str
        Region whose pieces count.

    Returns
    -------
    tuple of TradeAmount
        Empty where nothing is left to buy, or no amount is known.
    """
    if left <= NEARLY:
        return ()
    units = {purchase.unit for purchase in purchases}
    counts = [purchase.count for purchase in purchases if purchase.count is not None]
    counted_alike = len(counts) == len(purchases) and len(units) == 1
    if counted_alike and units <= set(PACKS):
        return _packs(purchases, left)
    sold = _sold_unit(purchases[0], region)
    if counted_alike and sold in ("", *units):
        return (_whole(sum(counts) * left, units.pop()),)
    grams = _sum([purchase.mass_g for purchase in purchases])
    for unit in (sold, *sorted(units & WHOLE_UNITS - set(PACKS))):
        each_g = _unit_g(unit, purchases[0], region) if unit else None
        if grams is not None and each_g is not None:
            size = float(round(each_g)) if unit in PACKS else None
            return (replace(_whole(grams * left / each_g, unit), each_g=size),)
    ml = _sum([purchase.volume_ml for purchase in purchases])
    food = purchases[0].ingredient.matched.food
    if ml is not None and (grams is None or (food is not None and _is_poured(food))):
        return (TradeAmount(rounded_up(ml * left), ml * left, "ml"),)
    return () if grams is None else (TradeAmount(rounded_up(grams * left), grams * left, "g"),)


def _packs(purchases: Sequence[Purchase], left: float) -> tuple[TradeAmount, ...]:
    by_size: dict[float | None, float] = defaultdict(float)
    for purchase in purchases:
        by_size[None if purchase.pack_g is None else float(round(purchase.pack_g))] += purchase.count or 0.0
    unit = purchases[0].unit
    return tuple(replace(_whole(count * left, unit), each_g=size) for size, count in by_size.items())


def _whole(exact: float, unit: str) -> TradeAmount:
    return TradeAmount(float(max(1, math.ceil(exact - NEARLY))), exact, unit)


def _sold_unit(purchase: Purchase, region: str) -> str:
    """The unit in which the food is sold whatever the line measures it in, '' for none."""
    matched = purchase.ingredient.matched
    if matched.food_state in ("canned", "drained"):
        return CAN if _unit_g(CAN, purchase, region) is not None else ""
    fresh = matched.food_state in ("", "raw", "any") and not purchase.key.frozen
    return sold_by().get(matched.default_food, "") if fresh else ""


def _unit_g(unit: str, purchase: Purchase, region: str) -> float | None:
    """Grams as purchased of one unit of the food."""
    matched = purchase.ingredient.matched
    if matched.food is None or not purchase.edible_share > 0.0:
        return None
    line = replace(matched.line, size="")
    found = piece_mass(unit, line, matched.food, matched.default_food, region)
    if found is None or unit in PACKS:
        return None if found is None else found.value  # with all that is in it
    return found.value / purchase.edible_share


def _is_poured(food: Food) -> bool:
    return is_liquid(food) or food.description.lower().startswith(_POURED)


def _sum(amounts: Sequence[float | None]) -> float | None:
    known = [amount for amount in amounts if amount is not None]
    return sum(known) if len(known) == len(amounts) else None
