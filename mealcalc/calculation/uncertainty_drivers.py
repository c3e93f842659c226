"""What drives the uncertainty of a total: the variances of single inputs to first order, and what settling one gains.

The variance of a total is about the sum over its inputs of (amount x relative standard deviation) squared (JCGM
100:2008, GUM, 5.1.2), inputs being independent. No simulation is needed, nor numpy.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from mealcalc.calculation.composition import counts
from mealcalc.calculation.dish_records import FAT_KCAL_PER_G
from mealcalc.calculation.energy import KCAL_PER_G
from mealcalc.calculation.spreads import (
    LABEL_SD_SHARE,
    composition_advice,
    composition_sd,
    mass_advice,
    mass_sd,
    weighed_sd,
)
from mealcalc.components import MACRO_KEYS
from mealcalc.records import BatchResult, Contribution, Food
from mealcalc.reference.uncertainty import spreads
from mealcalc.values import amount_of

MOST_PER_TOTAL = 5
LEAST_SHARE = 0.01
"""Drivers named for each total: at most so many, none below this share of its variance."""

Alternatives = Mapping[int, Sequence[tuple[Food, float]]]
"""Index of an unsure line among the contributions -> foods it may be with their scores, the chosen one first."""

_ENERGY_KEYS = ("PROCNT_G", "FAT_G", "CHOCDF_G", "ALC_G")


@dataclass(frozen=True, slots=True)
class Driver:
    """One input and its part in the uncertainty of a total.

    key: food component of the total. what: `mass`, `composition`, `food` or `fat`. share: part of the variance (0 to
    1). width_if_settled: width of the interval, as a share of today's, if this input were settled as the advice says.
    advice: what the cook can do, '' for nothing.
    """

    key: str
    line: int
    name: str
    what: str
    share: float
    width_if_settled: float
    advice: str


@dataclass(frozen=True, slots=True)
class _Part:
    """A variance of a total, in squared units, and the share of it (0 to 1) that is left when its input is settled."""

    variance: float
    left: float
    driver: Driver


def drivers(result: BatchResult, alternatives: Alternatives | None = None) -> tuple[Driver, ...]:
    """The strongest drivers first, for energy and each macro.

    Parameters
    ----------
    result : BatchResult
        A calculated batch.
    alternatives : mapping, optional
        Foods that unsure lines may be, see `Alternatives`.
    """
    return tuple(d for key in MACRO_KEYS for d in _ranked(list(_parts(result, key, alternatives or {}))))


def probabilities(foods: Sequence[tuple[Food, float]]) -> list[float]:
    """Probability of each food that an unsure line may be, the chosen one first.

    The score of the chosen food is read as the probability that it is right; the others share the rest by their scores
    (our own judgement).
    """
    if len(foods) == 1:
        return [1.0]
    chosen = min(1.0, max(0.0, foods[0][1]))
    others = [max(0.0, score) for _, score in foods[1:]]
    if sum(others) <= 0.0:
        return [1.0, *(0.0 for _ in others)]
    return [chosen, *((1.0 - chosen) * score / sum(others) for score in others)]


def _parts(result: BatchResult, key: str, alternatives: Alternatives) -> Iterator[_Part]:
    by_food: dict[tuple[str, str], list[Contribution]] = defaultdict(list)
    for position, c in enumerate(result.contributions):
        amount, food = c.amounts.get(key), c.ingredient.matched.food
        if amount is None or food is None or not counts(c.ingredient):
            continue
        by_food[(food.table, food.code)].append(c)
        sd = mass_sd(c.ingredient)
        advice = mass_advice(c.ingredient)
        left = (weighed_sd(c.ingredient) / sd) ** 2 if advice and sd > 0 else 1.0
        yield _Part((amount * sd) ** 2, left, _driver(key, c, "mass", advice))
        foods = alternatives.get(position, ())
        if len(foods) > 1:
            advice = "decide which food it is with `mealcalc match`"
            yield _Part(_wrong_food_variance(c, key, foods), 0.0, _driver(key, c, "food", advice))
        if c.cooking.fat_lost_g > 0 and key in ("FAT_G", "ENERC_KCAL"):
            per_g = 1.0 if key == "FAT_G" else FAT_KCAL_PER_G
            variance = (c.cooking.fat_lost_g * spreads()["fat_poured_off"].relative_sd * per_g) ** 2
            yield _Part(variance, 0.0, _driver(key, c, "fat", "weigh the fat that you pour off"))
    for group in by_food.values():
        advice = composition_advice(group[0].ingredient)
        left = LABEL_SD_SHARE**2 if advice else 1.0
        largest = max(group, key=lambda c: c.amounts.get(key) or 0.0)
        yield _Part(_composition_variance(key, group), left, _driver(key, largest, "composition", advice))


def _ranked(parts: Sequence[_Part]) -> list[Driver]:
    variance = sum(part.variance for part in parts)
    if variance <= 0:
        return []
    best = sorted(parts, key=lambda part: -part.variance)[:MOST_PER_TOTAL]
    return [
        replace(
            part.driver,
            share=part.variance / variance,
            width_if_settled=math.sqrt(1.0 - part.variance * (1.0 - part.left) / variance),
        )
        for part in best
        if part.variance > LEAST_SHARE * variance
    ]


def _driver(key: str, c: Contribution, what: str, advice: str) -> Driver:
    return Driver(key, c.line.span.line, c.line.name, what, 0.0, 1.0, advice)


def _composition_variance(key: str, group: Sequence[Contribution]) -> float:
    """Variance of a total by the composition of one food, which several lines may share."""
    food = group[0].ingredient.matched.food
    assert food is not None

    def variance(of: str) -> float:
        return (sum(c.amounts.get(of) or 0.0 for c in group) * composition_sd(food, of)) ** 2

    if key != "ENERC_KCAL":
        return variance(key)
    return variance(key) + sum(KCAL_PER_G[part] ** 2 * variance(part) for part in _ENERGY_KEYS)


def _wrong_food_variance(c: Contribution, key: str, foods: Sequence[tuple[Food, float]]) -> float:
    chosen = c.amounts.get(key) or 0.0
    amounts = [chosen]
    for food, _ in foods[1:]:
        per_100g = amount_of(food.composition, key)
        amounts.append(chosen if per_100g is None else (c.ingredient.eaten_mass_g or 0.0) * per_100g / 100.0)
    shares = probabilities(foods)
    mean = sum(share * amount for share, amount in zip(shares, amounts, strict=True))
    return sum(share * (amount - mean) ** 2 for share, amount in zip(shares, amounts, strict=True))
