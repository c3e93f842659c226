"""Recompute USDA's own survey dishes with our recipe methods, and compare with what USDA printed.

`load` reads a folder that holds the survey releases in `fndds-2017-2018`, `fndds-2003-2004` and `fndds-moistnfatadjust`
(see `FILES` for the files, `readers.survey_dishes` for their formats). SR28 is the table that the package ships. This
module calculates, `agreement_report` writes.

A figure agrees within 1 % if it differs from the printed one by no more than 1 % of it, or by no more than half the
last printed digit, which rounding explains. The same for 2 % and 5 %.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from data_loaders.readers.survey_dishes import (
    NUTRIENT_COLUMNS,
    Changes,
    SurveyDish,
    read_changes,
    read_ingredient_values,
    read_linked_recipes,
    read_nutrient_values,
    read_recipes,
)
from mealcalc.calculation.recipe_methods import (
    DishComposition,
    FatChange,
    MethodIngredient,
    RecipeMethodError,
    survey_method,
)
from mealcalc.reference.cooking_factors import retention_factors
from mealcalc.values import Composition, amount_of

FILES: Mapping[str, tuple[str, str]] = {
    "published": ("fndds-2017-2018", "fndds-nutrient-values-2017-2018.export.csv.gz"),
    "recipes": ("fndds-2017-2018", "fndds2017_moisture.csv.gz"),
    "ingredient values": ("fndds-2017-2018", "fndds_all_ingredient_nutrient_values.csv.gz"),
    "changes 2013-2014": ("fndds-moistnfatadjust", "fndds2013_MoistNFatAdjust.csv.gz"),
    "links 2003-2004": ("fndds-2003-2004", "FnddsSRLink.txt.gz"),
    "descriptions 2003-2004": ("fndds-2003-2004", "MainFoodDesc.txt.gz"),
    "changes 2003-2004": ("fndds-2003-2004", "MoistureFatAdj.txt.gz"),
}

TOLERANCES = (0.01, 0.02, 0.05)
MACROS = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "WATER_G")
LAST_DIGIT = {key: 10.0**-decimals for key, decimals in NUTRIENT_COLUMNS.values()}
KEYS = tuple(LAST_DIGIT)
_EXACT = 1e-9


@dataclass(frozen=True)
class SurveyData:
    """The 2017-18 release and the tables beside it; compositions per 100 g by code."""

    published: Mapping[str, Composition]
    recipes: Mapping[str, SurveyDish]
    ingredient_values: Mapping[str, Composition]
    sr28: Mapping[str, Composition]
    changes_2013: Mapping[str, Changes]
    recipes_2003: Mapping[str, SurveyDish]

    @cached_property
    def sr28_values(self) -> Mapping[str, Composition]:
        """SR28, and survey foods as published."""
        return {**self.sr28, **self.published}

    @cached_property
    def newest_values(self) -> Mapping[str, Composition]:
        """The values that the release itself used, as far as they can be seen.

        A survey food that is one ingredient and nothing else (no retention, no moisture change) prints that
        ingredient's values. Where there is none, the table of ingredient values.
        """
        seen: dict[str, Composition] = {}
        for dish in self.recipes.values():
            (first, *others) = dish.ingredients
            if not (others or first.is_dish or first.retention_code or dish.changes.moisture_percent):
                seen.setdefault(first.code, self.published[dish.code])
        return {**self.ingredient_values, **seen, **self.published}

    @cached_property
    def comparable(self) -> tuple[SurveyDish, ...]:
        """Dishes of several ingredients that are all in SR28 or survey foods themselves."""
        return tuple(
            dish
            for dish in self.recipes.values()
            if len(dish.ingredients) > 1 and all(i.code in self.sr28_values for i in dish.ingredients)
        )

    @cached_property
    def with_retention(self) -> tuple[SurveyDish, ...]:
        """Foods and dishes with at least one retention code."""
        return tuple(d for d in self.recipes.values() if any(i.retention_code for i in d.ingredients))


@dataclass(frozen=True, slots=True)
class Agreement:
    """How many of `compared` figures agree within each of `TOLERANCES`; figures with a missing part are left out."""

    compared: int
    within: tuple[int, ...]

    def share(self, tolerance: float) -> float:
        """Share of the compared figures that agree, percent."""
        return 100.0 * self.within[TOLERANCES.index(tolerance)] / self.compared if self.compared else float("nan")


def load(folder: Path, sr28: Mapping[str, Composition]) -> SurveyData:
    """Read the survey releases; `sr28` maps five-digit NDB numbers to compositions.

    Raises
    ------
    InputFileError
        If a file is missing or damaged.
    """
    path = {name: folder.joinpath(*parts) for name, parts in FILES.items()}
    return SurveyData(
        published=read_nutrient_values(path["published"]),
        recipes=read_recipes(path["recipes"]),
        ingredient_values=read_ingredient_values(path["ingredient values"]),
        sr28=sr28,
        changes_2013=read_changes(path["changes 2013-2014"]),
        recipes_2003=read_linked_recipes(
            path["links 2003-2004"], path["descriptions 2003-2004"], path["changes 2003-2004"]
        ),
    )


def retention_shares() -> dict[str, dict[str, float]]:
    """Retention code -> share (0 to 1) by component key; only what is below 1."""
    return {
        code: {key: percent / 100.0 for key, percent in row.percent.items() if percent != 100.0}
        for code, row in retention_factors().items()
    }


def recompute(
    dish: SurveyDish, values: Mapping[str, Composition], retention: Mapping[str, Mapping[str, float]]
) -> DishComposition:
    """A survey dish by the survey method, its nested dishes as `values` has them.

    Parameters
    ----------
    dish : SurveyDish
        With its changes.
    values : mapping
        Composition per 100 g of every ingredient, nested dish and fat, by code.
    retention : mapping
        Shares by retention code; an unknown code counts as none.

    Raises
    ------
    KeyError
        If `values` lacks a code.
    RecipeMethodError
        If more leaves than there is.
    """
    ingredients = [
        MethodIngredient(i.mass_g, values[i.code], retention.get(i.retention_code, {}), i.code)
        for i in dish.ingredients
    ]
    changes = dish.changes
    fat = FatChange(changes.fat_percent, values[changes.fat_code], changes.fat_code) if changes.fat_code else None
    return survey_method(ingredients, changes.moisture_percent, fat)


def recompute_expanded(
    recipes: Mapping[str, SurveyDish],
    values: Mapping[str, Composition],
    retention: Mapping[str, Mapping[str, float]],
) -> dict[str, Composition]:
    """Every dish from its ingredients alone, nested dishes recomputed too; left out where a value is not to be had.

    Parameters are those of `recompute`; `values` needs no dishes.
    """
    known: dict[str, Composition] = dict(values)
    under_way: set[str] = set()
    unknown: set[str] = set()

    def compute(code: str) -> bool:
        if code in known:
            return True
        if code in unknown or code in under_way or code not in recipes:
            return False
        under_way.add(code)
        dish = recipes[code]
        needed = [i.code for i in dish.ingredients] + ([dish.changes.fat_code] if dish.changes.fat_code else [])
        if all(compute(part) for part in needed):
            known[code] = recompute(dish, known, retention).per_100g
        else:
            unknown.add(code)
        under_way.discard(code)
        return code in known

    return {code: known[code] for code in recipes if compute(code)}


def compositions(
    dishes: Iterable[SurveyDish], values: Mapping[str, Composition], retention: Mapping[str, Mapping[str, float]]
) -> dict[str, Composition]:
    """Recomputed composition per 100 g of each dish, by code."""
    return {dish.code: recompute(dish, values, retention).per_100g for dish in dishes}


def agrees(key: str, computed: float, printed: float, tolerance: float) -> bool:
    """Whether a figure agrees with the printed one within a relative tolerance or half the last printed digit."""
    return abs(computed - printed) <= max(tolerance * abs(printed), LAST_DIGIT[key] / 2) + _EXACT


def agreement(computed: Mapping[str, Composition], published: Mapping[str, Composition], key: str) -> Agreement:
    """Agreement of one food component over all dishes in `computed`."""
    compared = 0
    within = [0] * len(TOLERANCES)
    for code, composition in computed.items():
        ours, theirs = amount_of(composition, key), amount_of(published[code], key)
        if ours is None or theirs is None:
            continue
        compared += 1
        for n, tolerance in enumerate(TOLERANCES):
            within[n] += agrees(key, ours, theirs, tolerance)
    return Agreement(compared, tuple(within))


def disagreeing(
    computed: Mapping[str, Composition], published: Mapping[str, Composition], keys: Sequence[str]
) -> dict[str, tuple[str, ...]]:
    """Code -> which of `keys` disagree by more than 1 %, for the dishes where any does."""
    found = {}
    for code, composition in computed.items():
        off = tuple(
            key
            for key in keys
            if (ours := amount_of(composition, key)) is not None
            and (theirs := amount_of(published[code], key)) is not None
            and not agrees(key, ours, theirs, TOLERANCES[0])
        )
        if off:
            found[code] = off
    return found


def off_by_one_digit(ours: Composition, theirs: Composition, keys: Iterable[str]) -> bool:
    """Whether all `keys` differ by no more than one unit of the last printed digit."""
    return all(
        abs((amount_of(ours, key) or 0.0) - (amount_of(theirs, key) or 0.0)) <= LAST_DIGIT[key] + _EXACT for key in keys
    )


def suspects(
    off: Collection[str], recipes: Mapping[str, SurveyDish], dishes: Sequence[SurveyDish]
) -> dict[str, list[str]]:
    """Ingredients that explain disagreeing dishes: at least half of the dishes that hold one disagree, and two or more.

    The one that explains most is taken first and its dishes set aside, so that an ingredient that only keeps its
    company (the herb in dishes of a certain cheese) is not named.

    Returns
    -------
    dict
        Ingredient code -> codes of the dishes that it explains, most first.
    """
    holding = Counter(code for dish in dishes for code in {i.code for i in dish.ingredients})
    left = set(off)
    found: dict[str, list[str]] = {}
    while left:
        held = Counter(code for dish in left for code in {i.code for i in recipes[dish].ingredients})
        able = [(n, n / holding[code], code) for code, n in held.items() if n >= 2 and 2 * n >= holding[code]]
        if not able:
            return found
        _, _, best = max(able)
        found[best] = sorted(dish for dish in left if best in {i.code for i in recipes[dish].ingredients})
        left -= set(found[best])
    return found


def implied_value(data: SurveyData, dish: SurveyDish, code: str, key: str) -> float:
    """Amount per 100 g that an ingredient must have for the dish to come out as printed (newest values otherwise)."""
    printed = amount_of(data.published[dish.code], key) or 0.0
    rest = replace(dish, ingredients=tuple(i for i in dish.ingredients if i.code != code))
    others = sum(i.mass_g * (amount_of(data.newest_values[i.code], key) or 0.0) / 100.0 for i in rest.ingredients)
    in_dish = printed * dish.mass_g * (1.0 + dish.changes.moisture_percent / 100.0) / 100.0
    return 100.0 * (in_dish - others) / (dish.mass_g - rest.mass_g)


@dataclass(frozen=True, slots=True)
class FriedDish:
    """A dish that took up a named fat in 2013-14 and has the same fat among its ingredients in 2017-18.

    fat_per_100g_g: grams of that fat per 100 g of the other ingredients in 2017-18.
    """

    dish: SurveyDish
    changes: Changes
    fat_per_100g_g: float

    @property
    def as_before(self) -> SurveyDish:
        """The recipe of 2017-18 without its fat, with the changes of 2013-14."""
        kept = tuple(i for i in self.dish.ingredients if i.code != self.changes.fat_code)
        return replace(self.dish, ingredients=kept, changes=self.changes)

    @property
    def without_fat(self) -> SurveyDish:
        """The same with no fat change either."""
        return replace(self.as_before, changes=Changes(self.changes.moisture_percent))

    @property
    def on_one_base(self) -> SurveyDish:
        """`as_before` with the moisture change of 2017-18, restated in percent of the ingredients without the fat."""
        moisture_percent = self.dish.changes.moisture_percent * (1.0 + self.changes.fat_percent / 100.0)
        return replace(self.as_before, changes=replace(self.changes, moisture_percent=moisture_percent))


def fried_dishes(data: SurveyData) -> tuple[FriedDish, ...]:
    """All such dishes; those that name the fat twice are left out, since one of the two is not the frying fat."""
    found = []
    for code, changes in data.changes_2013.items():
        dish = data.recipes.get(code)
        if dish is None or changes.fat_percent <= 0:
            continue
        fat_masses_g = [i.mass_g for i in dish.ingredients if i.code == changes.fat_code]
        if len(fat_masses_g) == 1:
            found.append(FriedDish(dish, changes, 100.0 * fat_masses_g[0] / (dish.mass_g - fat_masses_g[0])))
    return tuple(found)


def older_dishes(data: SurveyData) -> dict[str, DishComposition | str]:
    """The 2003-04 dishes with a fat change, from SR28, nested dishes recomputed; a reason instead where that fails."""
    retention = retention_shares()
    known = {**data.sr28, **recompute_expanded(data.recipes_2003, data.sr28, retention)}
    found: dict[str, DishComposition | str] = {}
    for code, dish in data.recipes_2003.items():
        if not dish.changes.fat_code:
            continue
        lacking = sorted({i.code for i in dish.ingredients} - known.keys())
        if dish.changes.fat_code not in known:
            lacking.append(dish.changes.fat_code)
        if lacking:
            found[code] = f"not in SR28: {', '.join(lacking)}"
            continue
        try:
            found[code] = recompute(dish, known, retention)
        except RecipeMethodError as error:
            found[code] = error.message
    return found
