"""How sure a total is: a 90 % interval by Monte Carlo with a fixed seed, and what drives it.

Each mass, factor and table value has a relative standard deviation with a stated ground (`reference/uncertainty.csv`).
Lines of one food share the error of its composition. Energy follows protein, fat and carbohydrate by general factors,
with a little of its own. An unsure line also draws among its runners-up, by score. (GUM Supplement 1, JCGM 101:2008:
propagation of distributions by a Monte Carlo method.)
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mealcalc.calculation.composition import counts
from mealcalc.calculation.energy import KCAL_PER_G
from mealcalc.calculation.line_cooking import FAT_KCAL_PER_G
from mealcalc.calculation.spreads import mass_sd, mass_words
from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL, MACRO_KEYS
from mealcalc.records import BatchResult, ComponentResult, Contribution, Food
from mealcalc.reference.uncertainty import composition_spread, spreads
from mealcalc.values import amount_of

DRAWS = 10_000
SEED = 20_250_101
LOW, HIGH = 0.05, 0.95
"""Quantiles of a 90 % interval."""

WEIGHED_SD = 0.01
"""Relative standard deviation of a weight from a kitchen scale."""

LABEL_SD_SHARE = 0.5
"""A pack label is taken to be twice as sure of its food as a table's mean (our own judgement)."""

_KEYS = tuple(FOOD_COMPONENTS)
_POSITION = {key: position for position, key in enumerate(_KEYS)}
_FOLLOWING_FAT = ("FAT_G", "FASAT_G", "FAMS_G", "FAPU_G")
_ENERGY_PARTS = tuple((key, KCAL_PER_G[key]) for key in ("PROCNT_G", "FAT_G", "CHOCDF_G", "ALC_G"))

# Per 100 g, what a food that is nothing else holds: 100 g of a macro, the sodium of pure salt.
_FULL_AT = {key: 100.0 for key, component in FOOD_COMPONENTS.items() if component.unit == "g"} | {"NA_MG": 39_340.0}

Array = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Interval:
    """A 90 % interval, in the unit of the food component."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Driver:
    """One input and its part in the uncertainty of a total.

    key: food component of the total. what: `mass`, `composition` or `food`. share: part of the variance (0 to 1).
    width_if_settled: width of the interval, as a share of today's, if this input were settled (weighed, taken from a
    pack label, decided). advice: what the cook can do.
    """

    key: str
    line: int
    name: str
    what: str
    share: float
    width_if_settled: float
    advice: str


@dataclass(frozen=True, slots=True)
class Sureness:
    """Intervals of a batch; None for a food component that is unknown on some line, since nothing bounds it.

    per_100g: by component of the batch, in its order. drivers: the strongest first, for energy and each macro.
    """

    per_container: Mapping[str, Interval | None]
    per_100g: tuple[Mapping[str, Interval | None], ...]
    drivers: tuple[Driver, ...]
    draws: int
    seed: int


Alternatives = Mapping[int, Sequence[tuple[Food, float]]]
"""Index of an unsure line among the contributions -> foods it may be, the chosen one first, with their weights."""


def how_sure(
    result: BatchResult, alternatives: Alternatives | None = None, *, draws: int = DRAWS, seed: int = SEED
) -> Sureness:
    """90 % intervals of every total per container and per 100 g, and what drives those of the macros.

    Parameters
    ----------
    result : BatchResult
        A calculated batch.
    alternatives : mapping, optional
        Foods that unsure lines may be, see `Alternatives`.
    draws, seed : int
        Size and seed of the simulation; the same seed gives the same interval.
    """
    alternatives = alternatives or {}
    random = np.random.default_rng(seed)
    # Errors of composition belong to foods, not lines: one food in two lines errs the same way in both.
    food_errors: dict[tuple[str, str], Array] = {}
    simulated: list[Array] = []
    position = 0
    for component in result.components:
        totals = np.zeros((draws, len(_KEYS)), dtype=np.float32)
        for c in component.contributions:
            if counts(c.ingredient) and c.ingredient.eaten_mass_g:
                totals += _simulate_line(c, alternatives.get(position, ()), food_errors, random, draws)
            position += 1
        simulated.append(totals)
    masses = [_simulate_cooked_mass(component, random, draws) for component in result.components]
    for component, totals, mass_g in zip(result.components, simulated, masses, strict=True):
        # Water taken up or given off follows the cooked mass that is believed.
        change = component.water_change_g + (mass_g - component.cooked_mass_g)
        totals[:, _POSITION["WATER_G"]] = np.maximum(totals[:, _POSITION["WATER_G"]] + change, 0.0)
    whole: Array = np.maximum(np.sum(simulated, axis=0, dtype=np.float32), np.float32(0.0))
    whole /= np.float32(result.batch.containers)
    return Sureness(
        per_container=_intervals(whole, {key: total.complete for key, total in result.totals.items()}),
        per_100g=tuple(
            _intervals(
                totals * (np.float32(100.0) / mass_g)[:, None],
                {key: total.complete for key, total in component.totals.items()},
            )
            for component, totals, mass_g in zip(result.components, simulated, masses, strict=True)
            if component.cooked_mass_g > 0
        ),
        drivers=_drivers(result, alternatives),
        draws=draws,
        seed=seed,
    )


def _simulate_line(
    c: Contribution,
    foods: Sequence[tuple[Food, float]],
    food_errors: dict[tuple[str, str], Array],
    random: np.random.Generator,
    draws: int,
) -> Array:
    """Simulated amounts of one line: draws x food components."""
    food = c.ingredient.matched.food
    assert food is not None
    errors = food_errors.get((food.table, food.code))
    if errors is None:
        errors = random.standard_normal((draws, len(_KEYS)), dtype=np.float32)
        food_errors[(food.table, food.code)] = errors
    base = np.array([c.amounts[key] or 0.0 for key in _KEYS], dtype=np.float32)
    spread = base * np.array([composition_sd(food, key) for key in _KEYS], dtype=np.float32)
    amounts: Array = errors * spread
    _let_dependents_follow(amounts)
    _add_retention_errors(amounts, base, c, random, draws)
    if c.cooking.fat_lost_g > 0:
        _add_fat_errors(amounts, c, random, draws)
    amounts += base
    if len(foods) > 1:
        amounts *= _wrong_food_ratios(c, base, foods, random, draws)
    amounts *= _mass_factor(mass_sd(c.ingredient), random, draws)[:, None]
    return amounts


def composition_sd(food: Food, key: str) -> float:
    """Relative standard deviation of a food component of a food about the table's value (0.12 is 12 %).

    It shrinks as a component fills the food: oil is fat and sugar is carbohydrate whatever the sample.
    """
    per_100g = amount_of(food.composition, key)
    room = 1.0
    if per_100g is not None and key in _FULL_AT:
        room = max(0.0, 1.0 - per_100g / _FULL_AT[key])
    return composition_spread(key).relative_sd * room


def _let_dependents_follow(errors: Array) -> None:
    """Let energy and available carbohydrate err as the components do that they are derived from."""
    for key, kcal_per_g in _ENERGY_PARTS:
        errors[:, _POSITION["ENERC_KCAL"]] += np.float32(kcal_per_g) * errors[:, _POSITION[key]]
    errors[:, _POSITION["ENERC_KJ"]] = np.float32(KJ_PER_KCAL) * errors[:, _POSITION["ENERC_KCAL"]]
    errors[:, _POSITION["CHOAVLDF_G"]] = errors[:, _POSITION["CHOCDF_G"]] - errors[:, _POSITION["FIBTG_G"]]


def _add_retention_errors(errors: Array, base: Array, c: Contribution, random: np.random.Generator, draws: int) -> None:
    # A component that is kept whole by rule has no error of retention.
    lossy = [_POSITION[key] for key, share in c.cooking.retention.items() if share < 1.0]
    if lossy:
        error = random.standard_normal(draws, dtype=np.float32) * np.float32(spreads()["retention"].relative_sd)
        errors[:, lossy] += error[:, None] * base[lossy]


def _add_fat_errors(errors: Array, c: Contribution, random: np.random.Generator, draws: int) -> None:
    left_g = c.amounts.get("FAT_G") or 0.0
    sd_g = c.cooking.fat_lost_g * spreads()["fat_poured_off"].relative_sd
    error_g = np.float32(sd_g) * random.standard_normal(draws, dtype=np.float32)
    for key in _FOLLOWING_FAT:
        if left_g > 0:
            errors[:, _POSITION[key]] -= np.float32((c.amounts.get(key) or 0.0) / left_g) * error_g
    for key, per_g in (("ENERC_KCAL", FAT_KCAL_PER_G), ("ENERC_KJ", FAT_KCAL_PER_G * KJ_PER_KCAL)):
        errors[:, _POSITION[key]] -= np.float32(per_g) * error_g


def _wrong_food_ratios(
    c: Contribution, base: Array, foods: Sequence[tuple[Food, float]], random: np.random.Generator, draws: int
) -> Array:
    """Amounts of the food that a draw picks, relative to the chosen one's; 1 where the chosen one has none or one lacks
    it."""
    mass_g = c.ingredient.eaten_mass_g or 0.0
    ratios = np.ones((len(foods), len(_KEYS)), dtype=np.float32)
    for row, (food, _) in enumerate(foods[1:], start=1):
        for key, position in _POSITION.items():
            per_100g = amount_of(food.composition, key)
            if per_100g is not None and base[position] > 0:
                kept = c.cooking.retention.get(key, 1.0)
                ratios[row, position] = mass_g * per_100g / 100.0 * kept / base[position]
    weights = np.array([weight for _, weight in foods])
    picked = random.choice(len(foods), size=draws, p=weights / weights.sum())
    chosen: Array = ratios[picked]
    return chosen


def _mass_factor(relative_sd: float, random: np.random.Generator, draws: int) -> Array:
    """Factors with mean 1, log-normal so that no mass is negative."""
    sigma = np.sqrt(np.log1p(relative_sd**2))
    factor: Array = np.exp(sigma * random.standard_normal(draws, dtype=np.float32) - sigma**2 / 2).astype(np.float32)
    return factor


def _simulate_cooked_mass(component: ComponentResult, random: np.random.Generator, draws: int) -> Array:
    """Cooked mass in g: weighed, or estimated by yields or by steam."""
    error = random.standard_normal(draws, dtype=np.float32)
    if component.component.cooked_mass_g is not None:
        sd_g = component.cooked_mass_g * spreads()["weighed_pot"].relative_sd
    elif any(c.cooking.yield_share not in (None, 1.0) for c in component.contributions):
        sd_g = component.cooked_mass_g * spreads()["yield"].relative_sd
    else:
        sd_g = abs(component.water_change_g) * spreads()["steam"].relative_sd
    mass: Array = np.maximum(component.cooked_mass_g + sd_g * error, 0.2 * component.cooked_mass_g).astype(np.float32)
    return mass


def _intervals(simulated: Array, complete: Mapping[str, bool]) -> dict[str, Interval | None]:
    draws = simulated.shape[0]
    low, high = int(LOW * (draws - 1)), int(HIGH * (draws - 1))
    ordered = np.partition(np.ascontiguousarray(simulated.T), (low, high), axis=1)
    return {
        key: Interval(float(ordered[position, low]), float(ordered[position, high])) if complete[key] else None
        for key, position in _POSITION.items()
    }


def _drivers(result: BatchResult, alternatives: Alternatives) -> tuple[Driver, ...]:
    """Variances of single inputs to first order: the square of amount times relative standard deviation."""
    lines = result.contributions
    drivers: list[Driver] = []
    for key in MACRO_KEYS:
        found: list[tuple[float, float, Driver]] = []
        by_food: dict[tuple[str, str], list[Contribution]] = defaultdict(list)
        for position, c in enumerate(lines):
            amount, food = c.amounts.get(key), c.ingredient.matched.food
            if amount is None or food is None or not counts(c.ingredient):
                continue
            by_food[(food.table, food.code)].append(c)
            sd = mass_sd(c.ingredient)
            left = min(1.0, WEIGHED_SD / sd) if sd > 0 else 1.0
            words = mass_words(c.ingredient)
            found.append(((amount * sd) ** 2, left**2, _driver(key, c, "mass", words)))
            wrong = _wrong_food_variance(c, key, alternatives.get(position, ()))
            if wrong > 0:
                found.append((wrong, 0.0, _driver(key, c, "food", "decide which food it is with `mealcalc match`")))
        for group in by_food.values():
            advice = "take its values from the pack label, under 'foods:'"
            variance = _composition_variance(key, group)
            found.append((variance, LABEL_SD_SHARE**2, _driver(key, group[0], "composition", advice)))
        drivers += _ranked(found)
    return tuple(drivers)


def _ranked(found: list[tuple[float, float, Driver]]) -> list[Driver]:
    variance = sum(item[0] for item in found)
    if variance <= 0:
        return []
    best = sorted(found, key=lambda item: -item[0])[:5]
    return [
        Driver(
            d.key,
            d.line,
            d.name,
            d.what,
            part / variance,
            float(np.sqrt(1.0 - part * (1.0 - left) / variance)),
            d.advice,
        )
        for part, left, d in best
        if part > 0.01 * variance
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
    return variance(key) + sum(factor**2 * variance(part) for part, factor in _ENERGY_PARTS)


def _wrong_food_variance(c: Contribution, key: str, foods: Sequence[tuple[Food, float]]) -> float:
    if len(foods) < 2:
        return 0.0
    mass_g = c.ingredient.eaten_mass_g or 0.0
    amounts = np.array([mass_g * (amount_of(food.composition, key) or 0.0) / 100.0 for food, _ in foods])
    weights = np.array([weight for _, weight in foods])
    weights = weights / weights.sum()
    mean = float(np.sum(weights * amounts))
    return float(np.sum(weights * (amounts - mean) ** 2))
