"""The published methods by which the composition of a dish follows from its ingredients.

| function | yield | losses of vitamins and minerals | source |
| --- | --- | --- | --- |
| `raw_sum` | none | none | INFOODS course material, 'not recommended' for cooked dishes |
| `weighed_dish` | the scale | none | Greenfield & Southgate, Food composition data, FAO 2003 |
| `ingredient_method` | of each ingredient | of each ingredient | INFOODS course material, Recipe Calculation |
| `mixed_method` | of the dish | of each ingredient | EuroFIR D2.2.9 (2008), recommended with INFOODS |
| `survey_method` | moisture and fat change of the dish | of each ingredient | USDA survey databases (FNDDS) |

All are pure: amounts in the food components' own units, masses in g, retention as fractions, changes in percent where
the source prints percent. Nothing is rounded. Missing stays missing: a food component that one ingredient lacks is
unknown for the dish, and `DishComposition.missing` names the ingredients. Input that no dish can have (a mass below
zero, a yield of nothing, more fat drained than there is) raises `RecipeMethodError`; whoever calls decides what to tell
the cook and how to go on.

Retention is true retention (Murphy, Criner & Gray 1975): the share of what 100 g raw food hold that is still in what
becomes of those 100 g. Protein, fat, carbohydrate, fibre, water and every mineral without a factor have 1.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from mealcalc.calculation.dish_records import (
    ENERGY_UNIT_PER_KCAL,
    FAT_KCAL_PER_G,
    FATTY_ACIDS,
    RETENTION_FOLLOWS,
    DishComposition,
    FatChange,
    MethodIngredient,
    RecipeMethodError,
    not_negative,
    positive,
    require,
)
from mealcalc.components import FOOD_COMPONENTS

__all__ = [
    "FAO_ENERGY_FACTORS",
    "RETENTION_FOLLOWS",
    "DishComposition",
    "EnergyFactorTable",
    "FatChange",
    "MethodIngredient",
    "RecipeMethodError",
    "ingredient_method",
    "mixed_method",
    "raw_sum",
    "survey_method",
    "weighed_dish",
]

EnergyFactorTable = Mapping[str, Mapping[str, float]]
"""Energy key -> food component key -> energy per gram, in the unit of the energy key."""

FAO_ENERGY_FACTORS: EnergyFactorTable = MappingProxyType(
    {
        "ENERC_KCAL": MappingProxyType(
            {"PROCNT_G": 4.0, "FAT_G": 9.0, "CHOAVLDF_G": 4.0, "FIBTG_G": 2.0, "ALC_G": 7.0}
        ),
        "ENERC_KJ": MappingProxyType(
            {"PROCNT_G": 17.0, "FAT_G": 37.0, "CHOAVLDF_G": 17.0, "FIBTG_G": 8.0, "ALC_G": 29.0}
        ),
    }
)
"""General factors on available carbohydrate: FAO Food and Nutrition Paper 77 (2003), as used in FAO/INFOODS tables."""

_ROUNDING_G = 1e-6


def raw_sum(ingredients: Sequence[MethodIngredient]) -> DishComposition:
    """Sum of the raw ingredients; nothing is taken off for cooking, retention is not looked at. Energy is summed.

    Raises
    ------
    RecipeMethodError
        If nothing has any mass.
    """
    return _mixture(ingredients, _RAW).dish


def weighed_dish(
    ingredients: Sequence[MethodIngredient],
    cooked_mass_g: float,
    *,
    fat_drained_g: float = 0.0,
    water_from_outside: bool = False,
) -> DishComposition:
    """Weighed-dish method: the ingredients summed, the change of weight counted as water; energy is summed.

    Source: Greenfield & Southgate, Food composition data, 2nd ed., FAO 2003, 'Calculation of the composition of dishes
    prepared from recipes'. For losses of vitamins besides, use `mixed_method` with the measured yield.

    Parameters
    ----------
    ingredients : sequence of MethodIngredient
        Everything that went in; retention is not looked at.
    cooked_mass_g : float
        Of the dish, in g, as weighed after cooking and draining.
    fat_drained_g : float
        Of that loss, grams of the dish's own fat that were poured off (see `mixed_method`).
    water_from_outside : bool
        Whether the dish may have taken up water that is no ingredient (rice in plenty of water).

    Raises
    ------
    RecipeMethodError
        If the cooked mass is not above 0, is above all that went in without water from outside, or more is lost than
        there is water and drained fat; or if more fat is drained than there is, or the fat is unknown.
    """
    mixture = _mixture(ingredients, _RAW)
    require(positive(cooked_mass_g), f"the cooked dish weighs {cooked_mass_g} g", "give a mass above 0 g")
    require(
        water_from_outside or cooked_mass_g <= mixture.mass_g + _ROUNDING_G,
        f"the cooked dish weighs {cooked_mass_g:g} g, more than the {mixture.mass_g:g} g that went in",
        "add the water or fat that it took up to the ingredients, or weigh again without the pot",
    )
    _change_mass(mixture, cooked_mass_g, fat_drained_g)
    return mixture.dish


def ingredient_method(
    ingredients: Sequence[MethodIngredient],
    yields: Sequence[float],
    *,
    fat_drained_g: float = 0.0,
    energy: EnergyFactorTable | None = None,
) -> DishComposition:
    """Ingredient method: yield and retention of each ingredient; the dish weighs what its ingredients weigh cooked.

    Parameters
    ----------
    ingredients : sequence of MethodIngredient
        Masses before cooking.
    yields : sequence of float
        Of each ingredient, in the same order: g cooked per g, on the basis of the mass given.
    fat_drained_g, energy
        As for `mixed_method`.

    Raises
    ------
    RecipeMethodError
        As `mixed_method`; and if there are not as many yields as ingredients.
    """
    require(
        len(yields) == len(ingredients),
        f"{len(yields)} yields for {len(ingredients)} ingredients",
        "give one yield for each ingredient, 1.0 for what keeps its mass",
    )
    for ingredient, factor in zip(ingredients, yields, strict=True):
        require(positive(factor), f"'{ingredient.label}' has a yield of {factor}", "give a yield above 0")
    cooked_mass_g = sum(i.mass_g * factor for i, factor in zip(ingredients, yields, strict=True))
    return _cooked_with_losses(ingredients, cooked_mass_g, fat_drained_g, energy)


def mixed_method(
    ingredients: Sequence[MethodIngredient],
    dish_yield: float,
    *,
    fat_drained_g: float = 0.0,
    energy: EnergyFactorTable | None = None,
) -> DishComposition:
    """Mixed method, recommended by EuroFIR and INFOODS: yield of the dish, retention of the ingredients.

    Sources: Vasquez-Caicedo, Bell & Hartmann, EuroFIR D2.2.9 (2008); FAO/INFOODS food composition tables.

    Parameters
    ----------
    ingredients : sequence of MethodIngredient
        Masses before cooking, water and fat that stay in the dish among them.
    dish_yield : float
        Mass of the dish divided by the mass of all `ingredients`: measured, or from a table of the same basis.
    fat_drained_g : float
        Grams of the dish's own fat poured off, already missing from the yield. Fatty acids leave in proportion;
        cholesterol and vitamins do not, they have retention of their own. The rest of the change of mass is water and
        lost alcohol.
    energy : mapping, optional
        Factors by which energy is recomputed from what the cooked dish holds, such as `FAO_ENERGY_FACTORS`. Without
        them it is the sum of the ingredients' published energies less that of lost alcohol (6.93 kcal/g) and drained
        fat (9.02 kcal/g): the same thing by each food's own factors.

    Raises
    ------
    RecipeMethodError
        If the yield is not above 0, more is lost than there is water and drained fat, more fat is drained than there
        is, or the fat to drain from is unknown.
    """
    require(positive(dish_yield), f"the dish has a yield of {dish_yield}", "give a yield above 0")
    cooked_mass_g = dish_yield * sum(ingredient.mass_g for ingredient in ingredients)
    return _cooked_with_losses(ingredients, cooked_mass_g, fat_drained_g, energy)


def survey_method(
    ingredients: Sequence[MethodIngredient],
    moisture_change_percent: float = 0.0,
    fat_change: FatChange | None = None,
) -> DishComposition:
    """USDA survey-food method: retention of the ingredients, moisture change and (older releases) fat change.

    Mass of the dish = mass of the ingredients + moisture change + fat change; moisture is water, fat is a named food
    with all that it holds. Energy is summed as published and not reduced for lost alcohol, as in USDA's figures.
    Sources: USDA Food and Nutrient Database for Dietary Studies; Powers & Hoover 1989 as cited there. That both changes
    are percent of the mass of the ingredients is measured on the releases (docs/agreement-survey-dishes.md).

    Parameters
    ----------
    ingredients : sequence of MethodIngredient
        Of the recipe; other dishes among them as published (`DishComposition.as_ingredient` for our own).
    moisture_change_percent : float
        Water gained (positive) or lost, percent of the mass of the ingredients.
    fat_change : FatChange, optional
        Fat gained or lost; None in releases from 2015-2016 on, where fat stands among the ingredients.

    Raises
    ------
    RecipeMethodError
        If more water or fat is lost than there is, or nothing is left.
    """
    mixture = _mixture(ingredients, _KEPT_ENERGY_WHOLE)
    moisture_g = mixture.mass_g * moisture_change_percent / 100.0
    if fat_change is not None and fat_change.percent:
        _move_named_fat(mixture, fat_change)
    require(
        positive(mixture.mass_g + moisture_g),
        f"a moisture change of {moisture_change_percent:g} % leaves nothing of the dish",
        "changes are in percent of the raw ingredients",
    )
    _add_water(mixture, moisture_g)
    return mixture.dish


# --- arithmetic shared by the methods ---------------------------------------------------------------------------------

_AmountOf = Callable[[MethodIngredient, str], float | None]

_RAW: Mapping[str, _AmountOf] = dict.fromkeys(FOOD_COMPONENTS, MethodIngredient.raw_amount)
_KEPT_ENERGY_WHOLE: Mapping[str, _AmountOf] = {
    key: MethodIngredient.raw_amount if key in ENERGY_UNIT_PER_KCAL else MethodIngredient.kept_amount
    for key in FOOD_COMPONENTS
}
_KEPT: Mapping[str, _AmountOf] = {
    key: MethodIngredient.energy_kept if key in ENERGY_UNIT_PER_KCAL else MethodIngredient.kept_amount
    for key in FOOD_COMPONENTS
}


@dataclass(slots=True)
class _Mixture:
    """Amounts while they are worked on; `missing` names the ingredients without a value, and stays as gathered."""

    amounts: dict[str, float]
    missing: dict[str, tuple[str, ...]]
    mass_g: float
    emptied: tuple[str, ...] = ()

    @property
    def dish(self) -> DishComposition:
        return DishComposition(self.amounts, self.mass_g, self.missing, self.emptied)


def _mixture(ingredients: Sequence[MethodIngredient], amount_of_each: Mapping[str, _AmountOf]) -> _Mixture:
    mass_g = sum(ingredient.mass_g for ingredient in ingredients)
    require(mass_g > 0, "the ingredients have no mass", "give at least one ingredient above 0 g")
    amounts: dict[str, float] = {}
    missing: dict[str, tuple[str, ...]] = {}
    for key, amount_in in amount_of_each.items():
        total = 0.0
        lacking = []
        for ingredient in ingredients:
            amount = amount_in(ingredient, key)
            if amount is None:
                lacking.append(ingredient.label)
            else:
                total += amount
        amounts[key] = total
        if lacking:
            missing[key] = tuple(lacking)
    return _Mixture(amounts, missing, mass_g)


def _change_mass(mixture: _Mixture, cooked_mass_g: float, fat_drained_g: float) -> None:
    """Take off drained fat; whatever else the mass changes by is water."""
    require(
        not_negative(fat_drained_g),
        f"{fat_drained_g} g of fat are drained",
        "give 0 g or more; added fat is an ingredient",
    )
    if fat_drained_g:
        _drain_fat(mixture, fat_drained_g)
    _add_water(mixture, cooked_mass_g - mixture.mass_g)
    mixture.mass_g = cooked_mass_g


def _cooked_with_losses(
    ingredients: Sequence[MethodIngredient],
    cooked_mass_g: float,
    fat_drained_g: float,
    energy: EnergyFactorTable | None,
) -> DishComposition:
    mixture = _mixture(ingredients, _KEPT)
    # What alcohol is driven off leaves with the water and must not be taken off it too.
    mixture.mass_g -= sum(ingredient.alcohol_lost_g() or 0.0 for ingredient in ingredients)
    _change_mass(mixture, cooked_mass_g, fat_drained_g)
    if energy is not None:
        _recompute_energy(mixture, energy)
    return mixture.dish


def _drain_fat(mixture: _Mixture, fat_g: float) -> None:
    lacking = mixture.missing.get("FAT_G")
    require(
        not lacking,
        f"fat is drained from a dish whose fat is unknown ({', '.join(lacking or ())})",
        "choose foods with a fat value",
    )
    before_g = mixture.amounts["FAT_G"]
    require(
        fat_g <= before_g + _ROUNDING_G,
        f"{fat_g:g} g of fat are drained from a dish that holds {before_g:g} g",
        "check the weight of the dripping: it holds water too",
    )
    left = max(0.0, 1.0 - fat_g / before_g) if before_g > 0 else 0.0
    for key in ("FAT_G", *FATTY_ACIDS):
        mixture.amounts[key] *= left
    for key, unit in ENERGY_UNIT_PER_KCAL.items():
        mixture.amounts[key] -= fat_g * FAT_KCAL_PER_G * unit
    mixture.mass_g -= fat_g


def _move_named_fat(mixture: _Mixture, change: FatChange) -> None:
    """Add or take away a named fat with all that it holds."""
    fat_g = mixture.mass_g * change.percent / 100.0
    fat = MethodIngredient(abs(fat_g), change.composition, label=change.label)
    emptied = []
    for key, before in mixture.amounts.items():
        moved = fat.raw_amount(key)
        if moved is None:
            mixture.missing[key] = (*mixture.missing.get(key, ()), change.label)
            continue
        after = before + math.copysign(moved, fat_g)
        if after < 0.0 and key not in mixture.missing:
            require(
                key != "FAT_G",
                f"{moved:g} g of fat leave a dish that holds {before:g} g",
                "the fat change is in percent of the raw ingredients",
            )
            after = 0.0
            emptied.append(key)
        mixture.amounts[key] = after
    mixture.emptied = tuple(emptied)
    mixture.mass_g += fat_g


def _add_water(mixture: _Mixture, gained_g: float) -> None:
    water_g = mixture.amounts["WATER_G"] + gained_g
    if "WATER_G" not in mixture.missing:
        require(
            water_g >= -_ROUNDING_G,
            f"{-gained_g:g} g of water leave a dish that holds {mixture.amounts['WATER_G']:g} g",
            "check the cooked mass or the yield, or say what else was lost",
        )
        water_g = max(0.0, water_g)
    mixture.amounts["WATER_G"] = water_g
    mixture.mass_g += gained_g


def _recompute_energy(mixture: _Mixture, energy: EnergyFactorTable) -> None:
    for energy_key, factors in energy.items():
        mixture.amounts[energy_key] = sum(factor * mixture.amounts[key] for key, factor in factors.items())
        labels = (label for key in factors for label in mixture.missing.get(key, ()))
        mixture.missing.pop(energy_key, None)
        if unknown := tuple(dict.fromkeys(labels)):
            mixture.missing[energy_key] = unknown
