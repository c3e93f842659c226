"""How well cooked foods are predicted from raw ones, on every food that SR28 publishes in both states.

    python -m tests.published.agreement_cooked          write docs/agreement-cooked-foods.md anew

100 g of the raw food go through `calculation.cooked.cook` with the cook's words for the method, twice: once with
factors of independent publications only, once with the whole factor table but without any row derived from the pair or
from the same cut cooked the same way. Needs nothing but the bundled table.
"""

import tempfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from mealcalc.calculation.cooked import cook
from mealcalc.calculation.nearness import food_group
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Span
from mealcalc.fooddb import BUNDLED_TABLE, FoodDatabase, open_database
from mealcalc.matching.fat_levels import FatChoice, at_fat_level, mix_of, series_by_name
from mealcalc.records import (
    BatchComponent,
    ComponentResult,
    Food,
    LineStatus,
    MatchedFood,
    RecipeLine,
    WeighedIngredient,
)
from mealcalc.reference.cooking_factors import yield_factors
from mealcalc.reference.cooking_vocabulary import broader_groups
from mealcalc.values import amount_of
from tests.published.cooked_pairs import CookedPair

DOCUMENT = Path(__file__).parent.parent.parent / "docs" / "agreement-cooked-foods.md"

MACROS = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "WATER_G")
MICROS = (
    "VITC_MG",
    "THIA_MG",
    "RIBF_MG",
    "NIA_MG",
    "VITB6A_MG",
    "FOL_UG",
    "VITB12_UG",
    "VITA_RAE_UG",
    "CA_MG",
    "FE_MG",
    "MG_MG",
    "P_MG",
    "K_MG",
    "ZN_MG",
)
BLENDED = ("PROCNT_G", "FAT_G", "ENERC_KCAL", "CHOCDF_G", "WATER_G")

SMALLEST_G = 1.0
"""Of less protein, fat or carbohydrate than this, in g per 100 g cooked, a relative error says nothing."""

DIGITS_AT_LEAST = 10
"""A vitamin or mineral is compared where it is at least this many of its last printed digit."""

ALL_PAIRS = frozenset(pair for row in yield_factors() for pair in row.derived_from)


@dataclass(frozen=True)
class Prediction:
    """A pair, what was predicted of it, and by which factors."""

    pair: CookedPair
    result: ComponentResult

    @property
    def yield_ground(self) -> str:
        """The yield row with its source."""
        return self.result.contributions[0].cooking.yield_ground

    @property
    def found(self) -> bool:
        """Whether any yield serves the food."""
        return "NO YIELD" not in self.yield_ground

    @property
    def yield_share(self) -> float:
        """Cooked grams per gram raw."""
        return self.result.cooked_mass_g / 100.0

    @property
    def fat_lost_g(self) -> float:
        """Fat counted as poured off, g per 100 g raw."""
        return self.result.contributions[0].cooking.fat_lost_g

    @cached_property
    def errors(self) -> Mapping[str, float]:
        """Relative error by food component, only where the published value is large enough."""
        per_100g = self.result.per_100g
        assert per_100g is not None
        found = {}
        for key in (*MACROS, *MICROS):
            published = amount_of(self.pair.cooked.composition, key)
            if published is not None and published >= _least(key) and per_100g[key].complete:
                found[key] = per_100g[key].amount / published - 1.0
        return found

    @cached_property
    def errors_without_retention(self) -> Mapping[str, float]:
        """The same for vitamins and minerals, if none were lost."""
        found = {}
        for key in MICROS:
            published, raw = (amount_of(food.composition, key) for food in (self.pair.cooked, self.pair.raw))
            if published is not None and raw is not None and published >= _least(key):
                found[key] = raw / self.yield_share / published - 1.0
        return found


def predict(pair: CookedPair, without_pairs: frozenset[tuple[str, str]]) -> Prediction:
    """The cooked food per 100 g from 100 g of the raw one, without the rows of some pairs."""
    name = pair.raw.description
    line = RecipeLine(name, Span("sr28", 1, 1, len(name) + 1, name), name=name)
    ingredient = WeighedIngredient(MatchedFood(line, pair.raw, LineStatus.MATCHED, "code", 1.0), 100.0)
    flesh = broader_groups(food_group(pair.raw) or "mixed")[-1] in ("meat", "seafood")
    # Published cooked meat is the piece alone: what dripped off is not in it.
    component = BatchComponent(name, (line,), pair.cooking, "drained" if flesh else "kept")
    return Prediction(pair, cook(component, [ingredient], 1, without_pairs=without_pairs))


def independent(pairs: Iterable[CookedPair]) -> list[Prediction]:
    """Predictions by independent publications only; pairs for which they have no yield are left out."""
    return [p for pair in pairs if (p := predict(pair, ALL_PAIRS)).found]


def left_out(pairs: Sequence[CookedPair]) -> list[Prediction]:
    """Predictions by the whole table without the pair itself and without the same cut cooked the same way."""
    by_codes = {pair.codes: pair for pair in pairs}
    known = [by_codes[codes] for codes in ALL_PAIRS if codes in by_codes]
    predictions = []
    for pair in pairs:
        kin = {pair.codes}
        if pair.kind != "minced meat":
            kin |= {other.codes for other in known if other.cut == pair.cut and other.cooking == pair.cooking}
        prediction = predict(pair, frozenset(kin))
        if prediction.found:
            predictions.append(prediction)
    return predictions


def spread(errors: Iterable[float]) -> tuple[int, float, float]:
    """Number, median and 90th percentile of absolute relative errors, in percent; NaN where there are none."""
    ordered = sorted(abs(error) * 100.0 for error in errors)
    if not ordered:
        return 0, float("nan"), float("nan")
    return len(ordered), _quantile(ordered, 0.5), _quantile(ordered, 0.9)


def errors_of(predictions: Iterable[Prediction], key: str) -> list[float]:
    """Relative errors of a food component over predictions."""
    return [p.errors[key] for p in predictions if key in p.errors]


@dataclass(frozen=True, slots=True)
class BlendCheck:
    """A published fat level predicted from its neighbours. errors: relative, by food component."""

    series: str
    species: str
    state: str
    fat_percent: float
    neighbours: tuple[float, float]
    errors: Mapping[str, float]


def blend_checks(foods: Mapping[str, Food]) -> list[BlendCheck]:
    """Every interior level of every series, predicted by `matching.fat_levels` without it.

    Raw food and milk: at the fat that the level left out was analysed to hold, as a line states fat. Cooked food: at
    its label, which says what the raw meat was.
    """
    by_key = {(BUNDLED_TABLE, code): food for code, food in foods.items()}
    checks = []
    for name, levels in series_by_name().items():
        for level in levels[1:-1]:
            rest = [other for other in levels if other is not level]
            published = foods[level.code]
            wanted = level.fat_percent if level.state == "cooked" else _fat_g(published)
            mix = mix_of(rest, wanted)
            mixed, parts = at_fat_level(published, FatChoice(wanted, "level left out", mix, ()), by_key)
            percent = {other.code: other.fat_percent for other in rest}
            neighbours = (percent[mix[0][0]], percent[mix[1][0]])
            assert len(parts) == 2
            errors = _blend_errors(mixed, published)
            checks.append(BlendCheck(name, level.species, level.state, level.fat_percent, neighbours, errors))
    return checks


def _fat_g(food: Food) -> float:
    fat_g = amount_of(food.composition, "FAT_G")
    assert fat_g is not None
    return fat_g


def _blend_errors(mixed: Food, published: Food) -> dict[str, float]:
    errors = {}
    for key in BLENDED:
        value, expected = amount_of(mixed.composition, key), amount_of(published.composition, key)
        if value is not None and expected is not None and expected >= 0.5:
            errors[key] = value / expected - 1.0
    return errors


def _least(key: str) -> float:
    if key in MACROS:
        return SMALLEST_G
    component = FOOD_COMPONENTS[key]
    return float(DIGITS_AT_LEAST * 10.0**-component.decimals)


def _quantile(ordered: Sequence[float], share: float) -> float:
    """Linear between the two nearest, as most statistics packages do."""
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])


def all_foods_of(database: FoodDatabase) -> dict[str, Food]:
    """Code -> food of the bundled table."""
    keys = [(header.table, header.code) for header in database.headers(BUNDLED_TABLE)]
    return {code: food for (_, code), food in database.foods(keys).items()}


def main() -> None:
    """Write the document anew."""
    from tests.published.agreement_cooked_report import document

    with tempfile.TemporaryDirectory() as folder, open_database(Path(folder) / "foods.sqlite") as database:
        DOCUMENT.write_text(document(all_foods_of(database)), encoding="utf-8")


if __name__ == "__main__":
    main()
