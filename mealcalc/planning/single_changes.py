"""Single changes that would explain other figures for the same batch: each a batch to run again, or another basis.

A change is one decision that someone else may have taken otherwise: a weight read as raw or cooked, fat kept or
drained, one container more, another tablespoon, an oil left out, figures in kJ or per 100 g.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.matching.fat_levels import series_of
from mealcalc.records import (
    Amount,
    Batch,
    BatchComponent,
    BatchResult,
    Contribution,
    Food,
    FoodState,
    LineStatus,
    RecipeLine,
)
from mealcalc.records.claims import SingleChange
from mealcalc.reference.cooking_vocabulary import cooking_words
from mealcalc.reference.tables import default_foods
from mealcalc.units import MASS_G, METRIC, REGIONS, VOLUME_ML
from mealcalc.values import amount_of

REGIONAL_UNITS = ("cup", "tbsp", "dessertspoon", "tsp", "fl_oz", "pint", "quart")
"""Measures that hold more in one region than in another."""

FRYING_FAT_PERCENT = 80.0
"""Foods with more fat than this, g per 100 g, are the oils that cooks do not count."""

UNCOUNTED_SPOONS = (1, 2, 3)
"""Tablespoons that an oil without amount may have been counted as."""

SAME_FAT_G = 0.5
"""Fat levels nearer than this, in g per 100 g, are the level that is counted already."""

_STATES = {"raw": FoodState.RAW, "dry": FoodState.DRY, "cooked": FoodState.COOKED}
_MEASURED_BY = frozenset(MASS_G) | frozenset(VOLUME_ML[METRIC])


def single_changes(result: BatchResult, *, energy_in_kj: bool = False) -> list[SingleChange]:
    """Every single change of a calculated batch, in the order of `kind`s below.

    Parameters
    ----------
    result : BatchResult
        The batch as calculated.
    energy_in_kj : bool
        Whether the other figures give energy in kJ, so that a mistaken unit would be kcal.
    """
    return [
        *_other_states(result),
        *_fat_poured_off(result.batch),
        *_containers(result.batch),
        *_measures(result),
        *_optional(result.batch),
        *_oils(result),
        *_used_shares(result),
        *_fat_levels(result),
        *_other_basis(result, energy_in_kj=energy_in_kj),
    ]


def _other_states(result: BatchResult) -> Iterator[SingleChange]:
    """Weights of foods whose state the line does not say, in each other state that the food is sold or eaten in."""
    for c in result.contributions:
        line, matched = c.line, c.ingredient.matched
        said = line.state or line.settings.state or line.settings.food or line.settings.mass_g
        if said or line.amount is None or line.amount.unit not in _MEASURED_BY or matched.food is None:
            continue
        known = _states_of(matched.default_food) | ({"cooked"} if matched.food_state in ("raw", "dry") else set())
        for name in sorted(known & set(_STATES) - {matched.food_state}):
            settings = replace(line.settings, state=_STATES[name])
            yield SingleChange(
                "state",
                f"'{line.name}' weighed {name}, not {matched.food_state or 'as it is'}",
                (line.span.line,),
                _with_line(result.batch, line, replace(line, settings=settings)),
            )


def _states_of(default_food: str) -> set[str]:
    return {row.state for row in default_foods() if row.food == default_food} if default_food else set()


def _fat_poured_off(batch: Batch) -> Iterator[SingleChange]:
    for component in batch.components:
        if not component.cooking:
            continue
        without_words = _without_pouring_off(component.cooking)
        if component.fat == "drained" or without_words != component.cooking:
            changed = replace(component, fat="kept", cooking=without_words)
            description = f"fat of '{component.name}' kept, not poured off"
        else:
            changed = replace(component, fat="drained")
            description = f"fat of '{component.name}' poured off, not kept"
        yield SingleChange("fat", description, (), _with_component(batch, component, changed))


def _without_pouring_off(cooking: str) -> str:
    """The cooking words of a component with those by which fat is poured off replaced by the bare method."""
    for words in cooking_words():
        if words.drippings is False:
            pattern = rf"(?<![a-z]){re.escape(words.words)}(?![a-z])"
            cooking = re.sub(pattern, _bare_words(words.method), cooking, flags=re.IGNORECASE)
    return cooking


def _bare_words(method: str) -> str:
    """Words for a method that say nothing else; '' for none."""
    for words in cooking_words():
        if method and words.method == method and (words.drained, words.covered, words.drippings) == (None, None, None):
            return words.words
    return ""


def _containers(batch: Batch) -> Iterator[SingleChange]:
    for containers in (batch.containers - 1, batch.containers + 1):
        if containers >= 1:
            description = f"{containers} container{'' if containers == 1 else 's'} instead of {batch.containers}"
            yield SingleChange("containers", description, (), replace(batch, containers=containers))


def _measures(result: BatchResult) -> Iterator[SingleChange]:
    """Spoons and cups of another region, all that differ from ours at once; equal sets of measures count once."""
    used = {c.line.amount.unit for c in result.contributions if c.line.amount is not None and _by_volume(c)}
    ours = VOLUME_ML[result.region]
    regions: dict[tuple[tuple[str, float], ...], list[str]] = defaultdict(list)
    for region in REGIONS:
        other = VOLUME_ML[region]
        differing = tuple((u, other[u]) for u in REGIONAL_UNITS if u in used and abs(other[u] - ours[u]) > 0.01)
        if differing:
            regions[differing].append(region)
    for differing, names in regions.items():
        factors = {unit: volume_ml / ours[unit] for unit, volume_ml in differing}
        shown = ", ".join(f"{unit.replace('_', ' ')} of {ml:.4g} ml" for unit, ml in differing)
        lines = [c.line for c in result.contributions if c.line.amount and c.line.amount.unit in factors]
        batch = _map_lines(result.batch, lambda line, factors=factors: _scaled(line, factors))  # type: ignore[misc]
        description = f"measures of region {', '.join(names)}: {shown}"
        yield SingleChange("measures", description, tuple(line.span.line for line in lines), batch)


def _by_volume(c: Contribution) -> bool:
    return c.line.settings.mass_g is None and c.line.measured is None and c.ingredient.mass_g is not None


def _scaled(line: RecipeLine, factors: Mapping[str, float]) -> RecipeLine:
    amount = line.amount
    if amount is None or amount.unit not in factors or line.settings.mass_g is not None or line.measured is not None:
        return line
    factor = factors[amount.unit]
    return replace(line, amount=replace(amount, low=amount.low * factor, high=amount.high * factor))


def _optional(batch: Batch) -> Iterator[SingleChange]:
    optional = [line for line in batch.lines if line.optional]
    for line in optional:
        yield SingleChange("optional", f"'{line.name}' left out", (line.span.line,), _without(batch, [line]))
    if len(optional) > 1:
        lines = tuple(line.span.line for line in optional)
        yield SingleChange("optional", "all optional lines left out", lines, _without(batch, optional))


def _oils(result: BatchResult) -> Iterator[SingleChange]:
    """Oils that the recipe gives no amount for, counted; oils that it counts, left out."""
    for c in result.contributions:
        line, matched = c.line, c.ingredient.matched
        if matched.food is None or not _is_frying_fat(matched.food):
            continue
        at = (line.span.line,)
        if matched.status is not LineStatus.NOT_COUNTED and c.ingredient.mass_g is not None:
            yield SingleChange("oil", f"'{line.name}' left out", at, _without(result.batch, [line]))
        elif line.amount is not None:
            counted = replace(line, to_taste=False, settings=replace(line.settings, counted=True))
            yield SingleChange("oil", f"'{line.name}' counted", at, _with_line(result.batch, line, counted))
        else:
            for spoons in UNCOUNTED_SPOONS:
                settings = replace(line.settings, counted=True)
                counted = replace(line, amount=Amount(spoons, spoons, "tbsp"), to_taste=False, settings=settings)
                description = f"'{line.name}' counted as {spoons} tablespoon{'s' if spoons > 1 else ''}"
                yield SingleChange("oil", description, at, _with_line(result.batch, line, counted))


def _is_frying_fat(food: Food) -> bool:
    fat = amount_of(food.composition, "FAT_G")
    return fat is not None and fat >= FRYING_FAT_PERCENT


def _used_shares(result: BatchResult) -> Iterator[SingleChange]:
    """What is eaten in part (a marinade, a frying oil), counted in full: all of one component at once."""
    for part in result.components:
        lines = [c.line for c in part.contributions if c.ingredient.used_share != 1.0]
        if not lines:
            continue
        numbers = frozenset(line.span.line for line in lines)

        def in_full(line: RecipeLine, numbers: frozenset[int] = numbers) -> RecipeLine:
            if line.span.line not in numbers:
                return line
            return replace(line, settings=replace(line.settings, used_share=1.0))

        names = ", ".join(f"'{line.name}'" for line in lines[:3]) + (" and others" if len(lines) > 3 else "")
        yield SingleChange(
            "used", f"{names} counted in full", tuple(sorted(numbers)), _map_lines(result.batch, in_full)
        )


def _fat_levels(result: BatchResult) -> Iterator[SingleChange]:
    """Minced meat and milk at the published fat levels next to the one that is counted."""
    for c in result.contributions:
        line, matched = c.line, c.ingredient.matched
        if matched.food is None or line.settings.food is not None:
            continue
        levels = series_of((matched.food.code,), matched.default_food, matched.food_state)
        fat_g = line.fat_percent if line.fat_percent is not None else amount_of(matched.food.composition, "FAT_G")
        if not levels or fat_g is None:
            continue
        below = [level.fat_percent for level in levels if level.fat_percent < fat_g - SAME_FAT_G]
        above = [level.fat_percent for level in levels if level.fat_percent > fat_g + SAME_FAT_G]
        for other in (*below[-1:], *above[:1]):
            yield SingleChange(
                "fat level",
                f"'{line.name}' of {other:g} % fat, not {fat_g:.3g} %",
                (line.span.line,),
                _with_line(result.batch, line, replace(line, fat_percent=other)),
            )


def _other_basis(result: BatchResult, *, energy_in_kj: bool) -> Iterator[SingleChange]:
    """The same food, its figures given on another basis."""
    figures = {key: total.amount for key, total in result.per_container.items()}
    factor = 1.0 / KJ_PER_KCAL if energy_in_kj else KJ_PER_KCAL
    units = ("kcal", "kJ") if energy_in_kj else ("kJ", "kcal")
    description = f"energy in {units[0]} given as {units[1]}"
    yield SingleChange("unit of energy", description, figures=figures, energy_factor=factor)
    if result.batch.containers > 1:
        whole = {key: total.amount for key, total in result.totals.items()}
        yield SingleChange("basis", "figures of the whole batch", figures=whole)
    mass_g = sum(part.cooked_mass_g for part in result.components) / result.batch.containers
    if mass_g > 0 and all(part.cooked_mass_known for part in result.components):
        per_100g = {key: amount / mass_g * 100.0 for key, amount in figures.items() if key in FOOD_COMPONENTS}
        yield SingleChange("basis", "figures per 100 g of the cooked batch", figures=per_100g)


# --- changed batches --------------------------------------------------------------------------------------------------


def _map_lines(batch: Batch, change: Callable[[RecipeLine], RecipeLine]) -> Batch:
    components = tuple(replace(part, lines=tuple(change(line) for line in part.lines)) for part in batch.components)
    return replace(batch, components=components)


def _with_line(batch: Batch, old: RecipeLine, new: RecipeLine) -> Batch:
    return _map_lines(batch, lambda line: new if line == old else line)


def _without(batch: Batch, lines: list[RecipeLine]) -> Batch:
    components = tuple(
        replace(part, lines=tuple(line for line in part.lines if line not in lines)) for part in batch.components
    )
    return replace(batch, components=components)


def _with_component(batch: Batch, old: BatchComponent, new: BatchComponent) -> Batch:
    return replace(batch, components=tuple(new if part is old else part for part in batch.components))
