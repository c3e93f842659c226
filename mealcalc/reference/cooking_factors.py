"""Cited factors of cooking: yield, moisture and fat change, nutrient retention, alcohol, frying fat, plausible limits.

Every row carries its source, the edition where there is one, and a mark: `read` (the text or data file itself was
read), `read (secondary)` (a figure of a named source, read in another publication), `read (derived)` (computed by this
project from published data), `memory` (common practice, no source) or `judgement` (set by this project). Food groups
and methods are those of `cooking_vocabulary`. Changes are in g per 100 g of the food that goes in; a gain is positive.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import FoodState
from mealcalc.reference.cooking_vocabulary import broader_groups, broader_methods
from mealcalc.reference.tables import optional_number, read_table

_NORMAL_97_5 = 1.959964
"""Quantile 0.975 of the standard normal distribution."""


class YieldBasis(StrEnum):
    """What the 100 g are that a yield speaks of. A factor is used with its own basis or not at all."""

    EDIBLE_RAW = "edible_raw"
    """Edible food as it goes in (raw, frozen, or cooked before); cooking water and frying fat not counted."""
    DRY = "dry"
    """Dry food; the water that it takes up not counted."""
    WITH_BONE = "with_bone"
    """Raw with bone, cooked without: the yield already takes the bone off, so no refuse is deducted beside it."""
    AS_PURCHASED = "as_purchased"
    """As bought; fat cut off and bone, if any, are not in the cooked weight, so no refuse is deducted beside it."""
    WITH_COOKING_WATER = "with_cooking_water"
    """Food and cooking water together."""
    WITHOUT_COOKING_WATER = "without_cooking_water"
    """All ingredients of a dish but its cooking water."""


@dataclass(frozen=True, slots=True)
class YieldFactor:
    """Cooked grams per 100 g of the basis, for a food, a method and a state.

    row_id: name of the row, shown with every figure that uses it. form: cut, shape or other words of the source.
    fat_level_percent: fat of the raw food in g per 100 g, of minced meat and the like.
    methods: the method, and others for which the source gives the same figure.
    state_after: cooked, or drained where liquid or fat is poured off. yield_percent: None where only changes are known.
    moisture_change_g, fat_change_g: g per 100 g of the basis, None where not given.
    cholesterol_retention_percent: true retention of cholesterol where fat runs out, as calculated: above 100 where raw
    and cooked samples differ. None where not given.
    spread: as the source gives it, in percent: `sd 3.0`, or `ci95 5` for the half width of a 95 % confidence interval
    of the mean. sample_size: number of samples behind the mean. derived_from: pairs of SR28 codes (raw, cooked) that
    the row was computed from: it must not be used to check them.
    """

    row_id: str
    food_group: str
    food: str
    form: str
    fat_level_percent: float | None
    methods: tuple[str, ...]
    state_before: FoodState
    state_after: str
    basis: YieldBasis
    yield_percent: float | None
    moisture_change_g: float | None
    fat_change_g: float | None
    cholesterol_retention_percent: float | None
    spread: str
    sample_size: int | None
    source: str
    edition: str
    mark: str
    derived_from: tuple[tuple[str, str], ...]
    note: str

    @property
    def method(self) -> str:
        """The method named first by the source."""
        return self.methods[0]

    @property
    def standard_deviation_percent(self) -> float | None:
        """Spread of single results about the mean, in percent of the basis; None where the source gives none.

        From a 95 % confidence interval of the mean by s = h sqrt(n) / t, with Student's t for n - 1 degrees of freedom.
        """
        if not self.spread:
            return None
        kind, value = self.spread.split()
        if kind == "sd":
            return float(value)
        if self.sample_size is None:
            return None
        return float(value) * math.sqrt(self.sample_size) / student_t_97_5(self.sample_size - 1)


@dataclass(frozen=True, slots=True)
class RetentionFactors:
    """True retention of vitamins, minerals and alcohol for a food group and a method, percent by food component key.

    USDA gives 100 as the ceiling and rounds to 5. Components that are not in `percent` have no factor in the table:
    energy, water, protein, fat, carbohydrate, fatty acids and cholesterol among them. Vitamin A is published for
    international units and retinol equivalents; the latter stands here under retinol activity equivalents, a count of
    the same substances.
    form: other words of the row (ground, in skin, little water). coating: whether coated with crumbs or batter.
    drippings: whether the juices are eaten. drained: whether the cooking water is poured off. minutes: shortest and
    longest cooking time. None or '' where the row does not say.
    """

    code: str
    description: str
    food_group: str
    form: str
    state_before: FoodState | None
    methods: tuple[str, ...]
    coating: bool | None
    drippings: bool | None
    drained: bool | None
    minutes: tuple[float, float] | None
    percent: Mapping[str, float]
    source: str
    mark: str
    note: str

    @property
    def method(self) -> str:
        """The method named first by the source."""
        return self.methods[0]


@dataclass(frozen=True, slots=True)
class AlcoholRetention:
    """Share of the alcohol (0 to 1) that is left after `minutes` of a method; `stirred_in` None where not said."""

    method: str
    stirred_in: bool | None
    minutes: float | None
    share: float
    retention_code: str
    source: str
    mark: str
    note: str


@dataclass(frozen=True, slots=True)
class OilUptake:
    """Frying fat that a food takes up, in g per 100 g ready to cook; `coating`: with crumbs or batter, counted in."""

    food_group: str
    food: str
    coating: bool
    method: str
    fat_g_per_100g: float
    source: str
    mark: str
    note: str


@dataclass(frozen=True, slots=True)
class YieldLimit:
    """Lowest and highest yield, in percent of edible raw or dry food, that is believed without asking.

    For a food group and the groups below it, a method and the methods below it, a state; None for any state.
    """

    food_group: str
    method: str
    state_before: FoodState | None
    lowest_percent: float
    highest_percent: float
    ground: str
    mark: str


@cache
def yield_factors() -> tuple[YieldFactor, ...]:
    """Yields with changes of moisture and fat: Health Canada, USDA, cited publications, and pairs of SR28."""
    return read_table("yield_factors.csv", _yield_factor)


@cache
def retention_factors() -> Mapping[str, RetentionFactors]:
    """The USDA Table of Nutrient Retention Factors, Release 6 (2007), whole, by its code."""
    return MappingProxyType({row.code: row for row in read_table("retention_factors.csv", _retention_factors)})


@cache
def alcohol_retention() -> tuple[AlcoholRetention, ...]:
    """Alcohol left by method and time, of the same release; between its times it says nothing."""
    return read_table(
        "alcohol_retention.csv",
        lambda r: AlcoholRetention(
            r["method"],
            _yes_no(r["stirred_in"]),
            optional_number(r["minutes"]),
            float(r["retained_share"]),
            r["retention_code"],
            r["source"],
            r["mark"],
            r["note"],
        ),
    )


@cache
def oil_uptake() -> tuple[OilUptake, ...]:
    """Frying fat taken up: Bognár's tables, and the fat changes of USDA's survey recipes.

    The fat change of the 2013-2014 release is in percent of the raw recipe: the grams of frying fat per 100 g of the
    other ingredients in the recipes of 2017-2018, which carry fat as an ingredient, are the same figure.
    """
    return read_table(
        "oil_uptake.csv",
        lambda r: OilUptake(
            r["food_group"],
            r["food"],
            r["coating"] == "with",
            r["method"],
            float(r["fat_uptake_g_per_100g"]),
            r["source"],
            r["mark"],
            r["note"],
        ),
    )


@cache
def yield_limits() -> tuple[YieldLimit, ...]:
    """Plausible yields, the judgement of this project."""
    return read_table(
        "yield_limits.csv",
        lambda r: YieldLimit(
            r["food_group"],
            r["method"],
            FoodState(r["state_before"]) if r["state_before"] else None,
            float(r["lowest_percent"]),
            float(r["highest_percent"]),
            r["ground"],
            r["mark"],
        ),
    )


def yield_limit_for(food_group: str, method: str, state_before: FoodState | None) -> YieldLimit | None:
    """The limit for a food: by the narrowest group, then the narrowest method, then the state; None where none is set.

    Raises
    ------
    UsageError
        If the group or the method is outside the vocabulary.
    """
    limits = {(limit.food_group, limit.method, limit.state_before): limit for limit in yield_limits()}
    for group in broader_groups(food_group):
        for name in broader_methods(method):
            for state in (state_before, None):
                if limit := limits.get((group, name, state)):
                    return limit
    return None


def student_t_97_5(degrees_of_freedom: int) -> float:
    """Quantile 0.975 of Student's t distribution, within 1 % from 3 degrees of freedom on.

    Series in 1/v about the normal quantile: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5.
    """
    x, v = _NORMAL_97_5, degrees_of_freedom
    first = (x**3 + x) / 4
    second = (5 * x**5 + 16 * x**3 + 3 * x) / 96
    third = (3 * x**7 + 19 * x**5 + 17 * x**3 - 15 * x) / 384
    return x + first / v + second / v**2 + third / v**3


def _yield_factor(row: dict[str, str]) -> YieldFactor:
    pairs = [pair.split("-") for pair in row["derived_from"].split()]
    return YieldFactor(
        row_id=row["id"],
        food_group=row["food_group"],
        food=row["food"],
        form=row["cut_or_form"],
        fat_level_percent=optional_number(row["fat_level_percent"]),
        methods=_methods(row),
        state_before=FoodState(row["state_before"]),
        state_after=row["state_after"],
        basis=YieldBasis(row["basis"]),
        yield_percent=optional_number(row["yield_percent"]),
        moisture_change_g=optional_number(row["moisture_change_g_per_100g"]),
        fat_change_g=optional_number(row["fat_change_g_per_100g"]),
        cholesterol_retention_percent=optional_number(row["cholesterol_retention_percent"]),
        spread=row["sd_or_ci"],
        sample_size=int(row["n"]) if row["n"] else None,
        source=row["source"],
        edition=row["edition"],
        mark=row["mark"],
        derived_from=tuple((raw, cooked) for raw, cooked in pairs),
        note=row["note"],
    )


def _retention_factors(row: dict[str, str]) -> RetentionFactors:
    return RetentionFactors(
        code=row["code"],
        description=row["description"],
        food_group=row["food_group"],
        form=row["form"],
        state_before=FoodState(row["state_before"]) if row["state_before"] else None,
        methods=_methods(row),
        coating=_with_without(row["coating"]),
        drippings=_with_without(row["drippings"]),
        drained=_yes_no(row["drained"]),
        minutes=(float(row["minutes_low"]), float(row["minutes_high"])) if row["minutes_low"] else None,
        percent=MappingProxyType({key: float(value) for key, value in row.items() if key in FOOD_COMPONENTS}),
        source=row["source"],
        mark=row["mark"],
        note=row["note"],
    )


def _methods(row: dict[str, str]) -> tuple[str, ...]:
    return (row["method"], *row["other_methods"].split())


def _yes_no(text: str) -> bool | None:
    return {"yes": True, "no": False, "": None}[text]


def _with_without(text: str) -> bool | None:
    return {"with": True, "without": False, "": None}[text]
