"""Draws of one component of a batch: its masses first, then all that depends on them.

Errors of composition are normal, so that their sum over foods, the masses being drawn, is normal too: where foods need
not be told apart it is drawn once with the summed variance instead of food by food. That is the same distribution for a
tenth of the time.
"""

from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence

import numpy as np

from mealcalc.calculation.composition import counts
from mealcalc.calculation.dish_records import FATTY_ACIDS
from mealcalc.calculation.energy import KCAL_PER_G
from mealcalc.calculation.line_cooking import is_water
from mealcalc.calculation.simulated_errors import Array, Errors
from mealcalc.calculation.spreads import composition_sd, mass_sd
from mealcalc.calculation.uncertainty_drivers import probabilities
from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.records import BlendPart, ComponentResult, Contribution, CookedMassSource, Food
from mealcalc.reference.uncertainty import spreads
from mealcalc.values import amount_of

LEAST_MASS_SHARE = 0.2
"""A cooked mass is not drawn below this share of the believed one."""

ALL_KEYS = tuple(FOOD_COMPONENTS)

FoodKey = tuple[str, str, tuple[BlendPart, ...]]
"""Table and code of a food, and its parts where it is a blend: another blend of the same foods is another product."""

LineWithFoods = tuple[Contribution, Sequence[tuple[Food, float]]]
"""A line, and the foods that it may be with their scores, the chosen one first; none where the food is sure."""

_ENERGY_PARTS = ("PROCNT_G", "FAT_G", "CHOCDF_G", "ALC_G")


def takes_part(c: Contribution) -> bool:
    """Whether a line has a part in the totals that could err."""
    return counts(c.ingredient) and bool(c.ingredient.eaten_mass_g) and c.ingredient.matched.food is not None


def food_key(c: Contribution) -> FoodKey:
    """What tells the food of a line that takes part from others."""
    food = c.ingredient.matched.food
    assert food is not None
    return food.table, food.code, c.ingredient.matched.blend


def _itself(c: Contribution) -> Hashable:
    return c.line


class Simulation:
    """Draws of one component of a batch.

    Parameters
    ----------
    component : ComponentResult
        The calculated component.
    lines : sequence
        Its lines, each with the foods that it may be.
    errors : Errors
        Where the errors come from.
    keys : sequence of str
        Food components to simulate. Energy needs protein, fat, carbohydrate and alcohol beside it, available
        carbohydrate needs total carbohydrate and fibre.
    name_of : callable
        By what the errors of a line's mass are remembered.
    """

    def __init__(
        self,
        component: ComponentResult,
        lines: Sequence[LineWithFoods],
        errors: Errors,
        keys: Sequence[str] = ALL_KEYS,
        name_of: Callable[[Contribution], Hashable] = _itself,
    ) -> None:
        taking_part = [(c, foods) for c, foods in lines if takes_part(c)]
        self._component = component
        self._name = component.component.name
        self._lines = [c for c, _ in taking_part]
        self._foods = [foods for _, foods in taking_part]
        self._names = [name_of(c) for c in self._lines]
        self._errors = errors
        self._keys = tuple(keys)
        self._position = {key: position for position, key in enumerate(keys)}
        self._factors = self._mass_factors()
        self._amounts = self._matrix([[c.amounts.get(key) or 0.0 for key in keys] for c in self._lines])
        self.cooked_mass_g = self._cooked_mass()

    def totals(self) -> Array:
        """Amounts of the component: draws x food components, in their units, never below 0."""
        totals: Array = self._all_errors()
        certain = self._amounts.copy()
        for row, foods in enumerate(self._foods):
            if len(foods) > 1:
                totals += self._as_one_of(row)
                certain[row] = 0.0
        totals += self._factors @ certain
        if "WATER_G" in self._position:
            totals[:, self._position["WATER_G"]] += self._water_change()
        floored: Array = np.maximum(totals, np.float32(0.0))
        return floored

    def _mass_factors(self) -> Array:
        """Draws x lines: factors with mean 1, log-normal so that no mass is negative."""
        sds = np.array([mass_sd(c.ingredient) for c in self._lines])
        sigmas = np.sqrt(np.log1p(sds**2)).astype(np.float32)
        factors: Array = np.exp(self._errors.of_lines(self._names) * sigmas - sigmas**2 / 2)
        return factors

    def _all_errors(self) -> Array:
        """Errors of composition, retention and poured-off fat, draws x food components, in their units."""
        errors = self._composition_errors()
        lossy = np.array(
            [[c.cooking.retention.get(key, 1.0) < 1.0 for key in self._keys] for c in self._lines], dtype=bool
        ).reshape(self._amounts.shape)
        if lossy.any():
            # A component that is kept whole by rule has no error of retention.
            sd = np.float32(spreads()["retention"].relative_sd)
            lost = self._factors @ np.where(lossy, self._amounts, np.float32(0.0))
            errors += self._errors.of(("retention", self._name))[:, None] * sd * lost
        for row, c in enumerate(self._lines):
            if c.cooking.fat_lost_g > 0:
                self._add_fat_errors(errors, row, c)
        at = self._position
        if "ENERC_KCAL" in at:
            for part in _ENERGY_PARTS:
                errors[:, at["ENERC_KCAL"]] += np.float32(KCAL_PER_G[part]) * errors[:, at[part]]
        if "ENERC_KJ" in at:
            errors[:, at["ENERC_KJ"]] = np.float32(KJ_PER_KCAL) * errors[:, at["ENERC_KCAL"]]
        if "CHOAVLDF_G" in at:
            errors[:, at["CHOAVLDF_G"]] = errors[:, at["CHOCDF_G"]] - errors[:, at["FIBTG_G"]]
        return errors

    def _composition_errors(self) -> Array:
        by_food: dict[FoodKey, list[int]] = defaultdict(list)
        for row, c in enumerate(self._lines):
            by_food[food_key(c)].append(row)
        sds = self._amounts * self._matrix([self._composition_sds(c) for c in self._lines])
        shape = (self._errors.draws, len(self._keys))
        errors, variance = np.zeros(shape, dtype=np.float32), np.zeros(shape, dtype=np.float32)
        alone = []
        for key, rows in by_food.items():
            own = self._errors.of_food(key)
            if own is not None:
                errors += (self._factors[:, rows] @ sds[rows]) * own
            elif len(rows) > 1:
                variance += (self._factors[:, rows] @ sds[rows]) ** 2
            else:
                alone += rows
        variance += self._factors[:, alone] ** 2 @ sds[alone] ** 2
        if variance.any():
            errors += np.sqrt(variance) * self._errors.of(("composition", self._name), len(self._keys))
        return errors

    def _composition_sds(self, c: Contribution) -> list[float]:
        food = c.ingredient.matched.food
        assert food is not None
        # Energy in kJ and available carbohydrate follow what they are derived from.
        return [0.0 if key in ("ENERC_KJ", "CHOAVLDF_G") else composition_sd(food, key) for key in self._keys]

    def _add_fat_errors(self, errors: Array, row: int, c: Contribution) -> None:
        if "FAT_G" not in self._position:
            return
        sd_g = np.float32(c.cooking.fat_lost_g * spreads()["fat_poured_off"].relative_sd)
        error_g = sd_g * self._errors.of(("fat poured off", self._names[row])) * self._factors[:, row]
        errors[:, self._position["FAT_G"]] -= error_g
        left_g = c.amounts.get("FAT_G") or 0.0
        for key in FATTY_ACIDS:
            if left_g > 0 and key in self._position:
                errors[:, self._position[key]] -= np.float32((c.amounts.get(key) or 0.0) / left_g) * error_g

    def _as_one_of(self, row: int) -> Array:
        """Amounts of an unsure line, as the food that each draw picks; what that food lacks is the chosen one's."""
        c, foods = self._lines[row], self._foods[row]
        mass_g = c.ingredient.eaten_mass_g or 0.0
        amounts = np.repeat(self._amounts[row][None, :], len(foods), axis=0)
        for k, (food, _) in enumerate(foods[1:], start=1):
            for key, position in self._position.items():
                per_100g = amount_of(food.composition, key)
                if per_100g is not None:
                    amounts[k, position] = mass_g * per_100g / 100.0 * c.cooking.retention.get(key, 1.0)
        picked = self._errors.picks(self._names[row], probabilities(foods))
        chosen: Array = amounts[picked] * self._factors[:, row][:, None]
        return chosen

    def _cooked_mass(self) -> Array:
        """Cooked mass in g: from the scale, or moving with what went in, its yields and its steam."""
        component, source = self._component, self._component.cooked_mass_source
        believed_g = component.cooked_mass_g
        error = self._errors.of(("cooked mass", self._name, source))
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
            return np.full(self._errors.draws, believed_g, dtype=np.float32)
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

    def _matrix(self, rows: Sequence[Sequence[float]]) -> Array:
        return np.array(rows, dtype=np.float32).reshape(len(rows), len(self._keys))


def _is_water(c: Contribution) -> bool:
    food = c.ingredient.matched.food
    return food is not None and is_water(food)


def _vector(values: Sequence[float]) -> Array:
    return np.array(values, dtype=np.float32)
