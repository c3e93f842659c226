"""How sure a total is: a 90 % interval by Monte Carlo with a fixed seed.

Each mass, factor and table value has a relative standard deviation with a stated ground (`reference/uncertainty.csv`).
Lines of one food share the error of its composition, lines of one pot that of retention. Energy follows protein, fat,
carbohydrate and alcohol by general factors, with a little of its own. An unsure line also draws among its runners-up.
(GUM Supplement 1, JCGM 101:2008: propagation of distributions by a Monte Carlo method.)

Errors of composition are normal, so that their sum over foods, the masses being drawn, is normal too: it is drawn once
with the summed variance instead of food by food. That is the same distribution for a tenth of the time.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mealcalc.calculation.composition import counts
from mealcalc.calculation.energy import KCAL_PER_G
from mealcalc.calculation.line_cooking import FATTY_ACIDS, is_water
from mealcalc.calculation.spreads import composition_sd, mass_sd
from mealcalc.calculation.uncertainty_drivers import Alternatives, Driver, drivers, probabilities
from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.records import BatchResult, ComponentResult, Contribution, CookedMassSource, Food
from mealcalc.reference.uncertainty import spreads
from mealcalc.values import amount_of

DRAWS = 10_000
SEED = 20_250_101
LEVEL = 0.9
"""Probability that an interval holds."""

SD_PER_WIDTH = 1.0 / (2.0 * 1.6449)
"""Standard deviation of a normal distribution per width of its 90 % interval."""

LEAST_MASS_SHARE = 0.2
"""A cooked mass is not drawn below this share of the believed one."""

_KEYS = tuple(FOOD_COMPONENTS)
_POSITION = {key: position for position, key in enumerate(_KEYS)}
_WATER = _POSITION["WATER_G"]
_ENERGY_PARTS = tuple((_POSITION[key], KCAL_PER_G[key]) for key in ("PROCNT_G", "FAT_G", "CHOCDF_G", "ALC_G"))

Array = NDArray[np.float32]
FoodKey = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Interval:
    """A 90 % interval, in the unit of the food component."""

    low: float
    high: float

    @property
    def sd(self) -> float:
        """Standard deviation of the normal distribution with this interval, in the same unit."""
        return (self.high - self.low) * SD_PER_WIDTH


@dataclass(frozen=True, slots=True)
class Sureness:
    """Intervals of a batch; None for a food component that is unknown on some line, since nothing bounds it.

    per_100g: by component of the batch, in its order; None too where the cooked mass is unknown. drivers: the strongest
    first, for energy and each macro.
    """

    per_container: Mapping[str, Interval | None]
    per_100g: tuple[Mapping[str, Interval | None], ...]
    drivers: tuple[Driver, ...]
    draws: int
    seed: int
    level: float = LEVEL


def how_sure(
    result: BatchResult, alternatives: Alternatives | None = None, *, draws: int = DRAWS, seed: int = SEED
) -> Sureness:
    """90 % intervals of every total per container and per 100 g, and what drives those of the macros.

    Parameters
    ----------
    result : BatchResult
        A calculated batch.
    alternatives : mapping, optional
        Foods that unsure lines may be: index of the contribution -> foods with scores, the chosen one first.
    draws, seed : int
        Size and seed of the simulation; the same seed gives the same intervals.
    """
    alternatives = alternatives or {}
    random = np.random.default_rng(seed)
    shared = _errors_of_shared_foods(result, random, draws)
    whole = np.zeros((draws, len(_KEYS)), dtype=np.float32)
    per_100g = []
    position = 0
    for component in result.components:
        lines = [(c, alternatives.get(position + k, ())) for k, c in enumerate(component.contributions)]
        position += len(lines)
        simulated = _Simulation(component, lines, shared, random, draws)
        totals, mass_g = simulated.totals(), simulated.cooked_mass_g
        whole += totals
        known = component.cooked_mass_known
        complete = {key: known and total.complete for key, total in component.totals.items()}
        totals *= (np.float32(100.0) / np.maximum(mass_g, np.float32(1e-6)))[:, None]
        per_100g.append(_intervals(totals, complete))
    whole /= np.float32(result.batch.containers)
    return Sureness(
        per_container=_intervals(whole, {key: total.complete for key, total in result.totals.items()}),
        per_100g=tuple(per_100g),
        drivers=drivers(result, alternatives),
        draws=draws,
        seed=seed,
    )


def _errors_of_shared_foods(result: BatchResult, random: np.random.Generator, draws: int) -> dict[FoodKey, Array]:
    """Standard normal errors (draws x food components) of the foods that stand in several components of the batch."""
    places: dict[FoodKey, set[int]] = defaultdict(set)
    for number, component in enumerate(result.components):
        for c in component.contributions:
            if _takes_part(c):
                places[_food_key(c)].add(number)
    return {
        key: random.standard_normal((draws, len(_KEYS)), dtype=np.float32)
        for key, numbers in places.items()
        if len(numbers) > 1
    }


class _Simulation:
    """Draws of one component of a batch: its masses first, then all that depends on them."""

    def __init__(
        self,
        component: ComponentResult,
        lines: Sequence[tuple[Contribution, Sequence[tuple[Food, float]]]],
        shared: Mapping[FoodKey, Array],
        random: np.random.Generator,
        draws: int,
    ) -> None:
        taking_part = [(c, foods) for c, foods in lines if _takes_part(c)]
        self._component = component
        self._lines = [c for c, _ in taking_part]
        self._foods = [foods for _, foods in taking_part]
        self._shared = shared
        self._random = random
        self._draws = draws
        self._factors = self._mass_factors()
        self._amounts = _matrix([[c.amounts.get(key) or 0.0 for key in _KEYS] for c in self._lines])
        self.cooked_mass_g = self._cooked_mass()

    def totals(self) -> Array:
        """Amounts of the component: draws x food components, in their units, never below 0."""
        totals: Array = self._errors()
        certain = self._amounts.copy()
        for row, foods in enumerate(self._foods):
            if len(foods) > 1:
                totals += self._as_one_of(row)
                certain[row] = 0.0
        totals += self._factors @ certain
        totals[:, _WATER] += self._water_change()
        floored: Array = np.maximum(totals, np.float32(0.0))
        return floored

    def _normal(self, *shape: int) -> Array:
        drawn: Array = self._random.standard_normal((self._draws, *shape), dtype=np.float32)
        return drawn

    def _mass_factors(self) -> Array:
        """Draws x lines: factors with mean 1, log-normal so that no mass is negative."""
        sds = np.array([mass_sd(c.ingredient) for c in self._lines])
        sigmas = np.sqrt(np.log1p(sds**2)).astype(np.float32)
        factors: Array = np.exp(self._normal(len(sds)) * sigmas - sigmas**2 / 2)
        return factors

    def _errors(self) -> Array:
        """Errors of composition, retention and poured-off fat, draws x food components, in their units."""
        errors = self._composition_errors()
        lossy = np.array(
            [[c.cooking.retention.get(key, 1.0) < 1.0 for key in _KEYS] for c in self._lines], dtype=bool
        ).reshape(self._amounts.shape)
        if lossy.any():
            # A component that is kept whole by rule has no error of retention.
            sd = np.float32(spreads()["retention"].relative_sd)
            errors += self._normal()[:, None] * sd * (self._factors @ np.where(lossy, self._amounts, np.float32(0.0)))
        for row, c in enumerate(self._lines):
            if c.cooking.fat_lost_g > 0:
                self._add_fat_errors(errors, row, c)
        for part, kcal_per_g in _ENERGY_PARTS:
            errors[:, _POSITION["ENERC_KCAL"]] += np.float32(kcal_per_g) * errors[:, part]
        errors[:, _POSITION["ENERC_KJ"]] = np.float32(KJ_PER_KCAL) * errors[:, _POSITION["ENERC_KCAL"]]
        errors[:, _POSITION["CHOAVLDF_G"]] = errors[:, _POSITION["CHOCDF_G"]] - errors[:, _POSITION["FIBTG_G"]]
        return errors

    def _composition_errors(self) -> Array:
        by_food: dict[FoodKey, list[int]] = defaultdict(list)
        for row, c in enumerate(self._lines):
            by_food[_food_key(c)].append(row)
        sds = self._amounts * _matrix([_composition_sds(c) for c in self._lines])
        alone = [rows[0] for key, rows in by_food.items() if len(rows) == 1 and key not in self._shared]
        variance = self._factors[:, alone] ** 2 @ sds[alone] ** 2
        errors = np.zeros((self._draws, len(_KEYS)), dtype=np.float32)
        for key, rows in by_food.items():
            if key in self._shared:
                errors += (self._factors[:, rows] @ sds[rows]) * self._shared[key]
            elif len(rows) > 1:
                variance += (self._factors[:, rows] @ sds[rows]) ** 2
        errors += np.sqrt(variance) * self._normal(len(_KEYS))
        return errors

    def _add_fat_errors(self, errors: Array, row: int, c: Contribution) -> None:
        sd_g = np.float32(c.cooking.fat_lost_g * spreads()["fat_poured_off"].relative_sd)
        error_g = sd_g * self._normal() * self._factors[:, row]
        errors[:, _POSITION["FAT_G"]] -= error_g
        left_g = c.amounts.get("FAT_G") or 0.0
        for key in FATTY_ACIDS:
            if left_g > 0:
                errors[:, _POSITION[key]] -= np.float32((c.amounts.get(key) or 0.0) / left_g) * error_g

    def _as_one_of(self, row: int) -> Array:
        """Amounts of an unsure line, as the food that each draw picks; what that food lacks is the chosen one's."""
        c, foods = self._lines[row], self._foods[row]
        mass_g = c.ingredient.eaten_mass_g or 0.0
        amounts = np.repeat(self._amounts[row][None, :], len(foods), axis=0)
        for k, (food, _) in enumerate(foods[1:], start=1):
            for key, position in _POSITION.items():
                per_100g = amount_of(food.composition, key)
                if per_100g is not None:
                    amounts[k, position] = mass_g * per_100g / 100.0 * c.cooking.retention.get(key, 1.0)
        picked = self._random.choice(len(foods), size=self._draws, p=probabilities(foods))
        chosen: Array = amounts[picked] * self._factors[:, row][:, None]
        return chosen

    def _cooked_mass(self) -> Array:
        """Cooked mass in g: from the scale, or moving with what went in, its yields and its steam."""
        component, source = self._component, self._component.cooked_mass_source
        believed_g = component.cooked_mass_g
        error = self._normal()
        if source is CookedMassSource.WEIGHED_POT:
            mass_g = believed_g * (1.0 + spreads()["weighed_pot"].relative_sd * error)
        elif source is CookedMassSource.YIELD:
            mass_g = self._mass_by_yields(believed_g, error)
        else:
            lost_g = float(sum(self._dish_masses_g())) - believed_g
            steam_g = lost_g - sum(c.cooking.fat_lost_g for c in self._lines)
            steam_sd = spreads()["steam"].relative_sd if source is CookedMassSource.STEAM else 0.0
            mass_g = self._in_dish_g() - lost_g - steam_g * steam_sd * error
        mass: Array = np.maximum(mass_g, LEAST_MASS_SHARE * believed_g).astype(np.float32)
        return mass

    def _mass_by_yields(self, believed_g: float, error: Array) -> Array:
        yields = [c.cooking.yield_share for c in self._lines]
        # Water that is taken up or poured off is in the yield of the food.
        kept = [
            0.0 if _is_water(c) and share is None else mass_g * (1.0 if share is None else share)
            for c, share, mass_g in zip(self._lines, yields, self._masses_g(), strict=True)
        ]
        changing = [mass_g if share not in (None, 1.0) else 0.0 for mass_g, share in zip(kept, yields, strict=True)]
        if not sum(kept):
            return np.full(self._draws, believed_g, dtype=np.float32)
        sd = spreads()["yield"].relative_sd
        mass: Array = self._factors @ _vector(kept) + sd * error * (self._factors @ _vector(changing))
        mass *= np.float32(believed_g / sum(kept))
        return mass

    def _water_change(self) -> Array:
        """Water taken up or given off, g: what the cooked mass differs from what went in and was not lost as fat."""
        change_g = self._component.water_change_g
        constant = change_g - (self._component.cooked_mass_g - float(sum(self._dish_masses_g())))
        change: Array = self.cooked_mass_g - self._in_dish_g() + np.float32(constant)
        return change

    def _masses_g(self) -> list[float]:
        return [c.ingredient.eaten_mass_g or 0.0 for c in self._lines]

    def _dish_masses_g(self) -> list[float]:
        return [0.0 if c.cooking.poured_off else c.ingredient.eaten_mass_g or 0.0 for c in self._lines]

    def _in_dish_g(self) -> Array:
        masses: Array = self._factors @ _vector(self._dish_masses_g())
        return masses


def _takes_part(c: Contribution) -> bool:
    return counts(c.ingredient) and bool(c.ingredient.eaten_mass_g) and c.ingredient.matched.food is not None


def _food_key(c: Contribution) -> FoodKey:
    food = c.ingredient.matched.food
    assert food is not None
    return food.table, food.code


def _is_water(c: Contribution) -> bool:
    food = c.ingredient.matched.food
    return food is not None and is_water(food)


def _composition_sds(c: Contribution) -> list[float]:
    food = c.ingredient.matched.food
    assert food is not None
    # Energy in kJ and available carbohydrate follow what they are derived from.
    return [0.0 if key in ("ENERC_KJ", "CHOAVLDF_G") else composition_sd(food, key) for key in _KEYS]


def _matrix(rows: Sequence[Sequence[float]]) -> Array:
    return np.array(rows, dtype=np.float32).reshape(len(rows), len(_KEYS))


def _vector(values: Sequence[float]) -> Array:
    return np.array(values, dtype=np.float32)


def _intervals(simulated: Array, complete: Mapping[str, bool]) -> dict[str, Interval | None]:
    draws = simulated.shape[0]
    low, high = (round(share * (draws - 1)) for share in ((1.0 - LEVEL) / 2.0, (1.0 + LEVEL) / 2.0))
    ordered = np.sort(np.ascontiguousarray(simulated.T), axis=1)
    return {
        key: Interval(float(ordered[position, low]), float(ordered[position, high])) if complete[key] else None
        for key, position in _POSITION.items()
    }
