"""The order of the stages, and the only place that knows it: read, match, weigh, cook, add up."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from mealcalc.calculation.composition import total
from mealcalc.calculation.cooked import cook
from mealcalc.calculation.states import in_food_state
from mealcalc.calculation.weights import weigh
from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.matching.decisions import Decisions
from mealcalc.matching.matcher import Matcher
from mealcalc.recipe.reader import read_batch
from mealcalc.records import (
    Batch,
    BatchComponent,
    BatchResult,
    ComponentResult,
    Food,
    LineStatus,
    RecipeLine,
    Total,
    WeighedIngredient,
)
from mealcalc.units import METRIC

if TYPE_CHECKING:
    from mealcalc.calculation.uncertainty import Sureness


def calculate(
    batch: Batch,
    database: FoodDatabase,
    decisions: Decisions | None = None,
    *,
    without_optional: bool = False,
    diagnostics: Sequence[Diagnostic] = (),
) -> BatchResult:
    """Run a batch that was read through matching, weighing and calculation.

    Parameters
    ----------
    batch : Batch
        The recipe as read; its region decides measures and names ('metric' where it has none).
    database : FoodDatabase
        Where foods come from.
    decisions : Decisions, optional
        The cook's saved choices.
    without_optional : bool
        Leave out the lines marked as optional.
    diagnostics : sequence of Diagnostic
        What was found while reading; the result carries it on.
    """
    region = batch.region or METRIC
    if without_optional:
        batch = _without_optional(batch)
    ingredients = weigh_lines(batch.lines, database, region, decisions, batch.own_foods)
    components = []
    position = 0
    for component in batch.components:
        part = ingredients[position : position + len(component.lines)]
        position += len(component.lines)
        components.append(cook(component, part, batch.containers))
    every_line = [c for component in components for c in component.contributions]
    return BatchResult(
        batch=batch,
        region=region,
        components=tuple(components),
        totals=_with_water_change(total(every_line, batch.containers), components),
        diagnostics=(
            *diagnostics,
            *(d for ingredient in ingredients for d in diagnostics_of(ingredient)),
            *(d for component in components for d in component.diagnostics),
        ),
    )


def _with_water_change(totals: dict[str, Total], components: Sequence[ComponentResult]) -> dict[str, Total]:
    """Water given off or taken up belongs to no line; it is known for components only."""
    water = totals["WATER_G"]
    amount = sum(component.totals["WATER_G"].amount for component in components)
    return totals | {"WATER_G": Total(amount, water.unknown_lines, water.known_share)}


def weigh_lines(
    lines: Sequence[RecipeLine],
    database: FoodDatabase,
    region: str,
    decisions: Decisions | None = None,
    own_foods: Sequence[Food] = (),
) -> list[WeighedIngredient]:
    """Match and weigh lines, in order."""
    matcher = Matcher(database, region, decisions, own_foods)
    return [in_food_state(weigh(matched, region)) for matched in matcher.match(lines)]


def diagnostics_of(ingredient: WeighedIngredient) -> Iterable[Diagnostic]:
    """All that was found about one line: while reading, matching and weighing."""
    yield from ingredient.matched.line.diagnostics
    yield from ingredient.matched.diagnostics
    yield from ingredient.diagnostics


def run(
    source: str | Path,
    region: str | None = None,
    *,
    decisions: Decisions | None = None,
    without_optional: bool = False,
    database: FoodDatabase | None = None,
) -> BatchResult:
    """Read a batch file and calculate it: the whole job in one call.

    Parameters
    ----------
    source : str or Path
        A batch file in YAML, a plain text list, or schema.org JSON-LD alone or inside HTML.
    region : str, optional
        Overrules the region that the file names.
    decisions, without_optional
        As for `calculate`.
    database : FoodDatabase, optional
        An open food database; by default the user's own, built on first use.

    Raises
    ------
    InputFileError
        If the file cannot be read at all.
    UsageError
        If the file holds no recipe that could be calculated, or the region is unknown.
    FoodDatabaseError
        If the food database can be neither opened nor built.
    """
    found = read_batch(source, region)
    if found.batch is None:
        first = found.diagnostics[0].message if found.diagnostics else "nothing was found in it"
        raise UsageError(f"{source}: no recipe to calculate: {first}", "`mealcalc check` shows every finding")
    if database is not None:
        return calculate(
            found.batch, database, decisions, without_optional=without_optional, diagnostics=found.diagnostics
        )
    with open_database() as opened:
        return calculate(
            found.batch, opened, decisions, without_optional=without_optional, diagnostics=found.diagnostics
        )


def how_sure(result: BatchResult, database: FoodDatabase) -> "Sureness":
    """90 % intervals of a calculated batch, and what drives them; numpy is imported only here.

    Parameters
    ----------
    result : BatchResult
        A calculated batch.
    database : FoodDatabase
        Where the runners-up of unsure lines come from: the food they are counted as may be the wrong one.
    """
    from mealcalc.calculation import uncertainty

    unsure = {
        position: c.ingredient.matched
        for position, c in enumerate(result.contributions)
        if c.ingredient.matched.status is LineStatus.UNSURE and c.ingredient.matched.food is not None
    }
    keys = {(candidate.table, candidate.code) for matched in unsure.values() for candidate in matched.runners_up}
    foods = database.foods(keys) if keys else {}
    alternatives = {
        position: [
            (matched.food, matched.score),
            *((foods[(r.table, r.code)], r.score) for r in matched.runners_up if (r.table, r.code) in foods),
        ]
        for position, matched in unsure.items()
        if matched.food is not None
    }
    return uncertainty.how_sure(result, alternatives)


def _without_optional(batch: Batch) -> Batch:
    components: list[BatchComponent] = [
        replace(component, lines=tuple(line for line in component.lines if not line.optional))
        for component in batch.components
    ]
    return replace(batch, components=tuple(components))
