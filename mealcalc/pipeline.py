"""The order of the stages, and the only place that knows it: read, match, weigh, cook, add up.

A batch that another one uses as a food goes through all of them first.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from mealcalc.calculation.composition import total
from mealcalc.calculation.cooked import cook
from mealcalc.calculation.portions import filled
from mealcalc.calculation.states import in_food_state
from mealcalc.calculation.sub_batch_food import food_of
from mealcalc.calculation.weights import weigh
from mealcalc.components import FOOD_COMPONENTS, MACRO_KEYS
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import ConfigurationError, InputFileError, UsageError
from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.matching.decisions import Decisions, decisions_path, load_decisions
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
    SubBatch,
    Total,
    WeighedIngredient,
)
from mealcalc.units import METRIC

if TYPE_CHECKING:
    from mealcalc.calculation.uncertainty import PairedSureness, Sureness
    from mealcalc.calculation.uncertainty_drivers import Alternatives


def calculate(
    batch: Batch,
    database: FoodDatabase,
    decisions: Decisions | None = None,
    *,
    without_optional: bool = False,
    diagnostics: Sequence[Diagnostic] = (),
    weighed: Mapping[RecipeLine, WeighedIngredient] | None = None,
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
    weighed : mapping, optional
        Lines that were matched and weighed before, in a batch of the same region and the same own foods.

    Batches that this one uses as foods are read and calculated first, each once; `result.batch` keeps them, so that
    another run of a changed `result.batch` does not calculate them again.
    """
    region = batch.region or METRIC
    if without_optional:
        batch = _without_optional(batch)
    batch, of_sub_batches = with_sub_batches(batch, database, decisions)
    weighed = weighed or {}
    missing = [line for line in batch.lines if line not in weighed] if weighed else batch.lines
    found = iter(weigh_lines(missing, database, region, decisions, batch.known_foods) if missing else ())
    ingredients = [weighed[line] if line in weighed else next(found) for line in batch.lines]
    components = []
    position = 0
    for component in batch.components:
        part = ingredients[position : position + len(component.lines)]
        position += len(component.lines)
        components.append(filled(cook(component, part, batch.containers)))
    every_line = [c for component in components for c in component.contributions]
    return BatchResult(
        batch=batch,
        region=region,
        components=tuple(components),
        totals=_with_water_change(total(every_line, batch.containers), components),
        diagnostics=(
            *diagnostics,
            *of_sub_batches,
            *(d for ingredient in ingredients for d in diagnostics_of(ingredient)),
            *(d for component in components for d in component.diagnostics),
        ),
    )


def calculate_all(
    batches: Sequence[Batch], database: FoodDatabase, decisions: Decisions | None = None
) -> list[BatchResult]:
    """Calculate batches that have most lines in common, such as the variants of one: each distinct line is matched
    once.

    Parameters
    ----------
    batches : sequence of Batch
        Of one region, with the same own foods and sub-batches.
    database, decisions
        As for `calculate`.
    """
    if not batches:
        return []
    first, _ = with_sub_batches(batches[0], database, decisions)
    lines = list(dict.fromkeys(line for batch in batches for line in batch.lines))
    ingredients = weigh_lines(lines, database, first.region or METRIC, decisions, first.known_foods)
    weighed = dict(zip(lines, ingredients, strict=True))
    known = [replace(batch, sub_batches=first.sub_batches) for batch in batches]
    return [calculate(batch, database, decisions, weighed=weighed) for batch in known]


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


def with_sub_batches(
    batch: Batch, database: FoodDatabase, decisions: Decisions | None = None
) -> tuple[Batch, tuple[Diagnostic, ...]]:
    """The batch with every batch that it uses as a food read and calculated, and all that was found in them.

    A sub-batch is read with its own region, where it names one, and with the choices saved beside it before those of
    `decisions`. One that was calculated before is left as it is. One that cannot be calculated becomes a food of which
    nothing is known, with an error.
    """
    if all(sub.food is not None for sub in batch.sub_batches):
        return batch, ()
    chain = (Path(batch.file).resolve(),) if _is_file(batch.file) else ()
    return _SubBatches(database, decisions or Decisions()).calculated(batch, chain)


DEEPEST_CHAIN = 20
"""Batches inside batches beyond which the recipes are taken for a mistake (our judgement)."""

_MATTERS_ONLY_ALONE = ("containers-assumed", "bad-containers")


class _SubBatches:
    """Calculates the batches that a batch uses, each file once however many use it."""

    def __init__(self, database: FoodDatabase, decisions: Decisions) -> None:
        self._database = database
        self._decisions = decisions
        self._results: dict[tuple[Path, str | None], BatchResult | None] = {}

    def calculated(self, batch: Batch, chain: tuple[Path, ...]) -> tuple[Batch, tuple[Diagnostic, ...]]:
        """The batch, whose file ends `chain`, with its sub-batches calculated."""
        found: list[Diagnostic] = []
        subs = []
        for sub in batch.sub_batches:
            if sub.food is None:
                result = self._result(sub, batch, chain, found)
                sub = replace(sub, food=food_of(sub, result), result=result)
            subs.append(sub)
        return replace(batch, sub_batches=tuple(subs)), tuple(found)

    def _result(
        self, sub: SubBatch, batch: Batch, chain: tuple[Path, ...], found: list[Diagnostic]
    ) -> BatchResult | None:
        path = Path(batch.file).parent / sub.path
        resolved = path.resolve()
        refused = _refused(sub, batch, resolved, chain)
        if refused is not None:
            found.append(refused)
            return None
        known = (resolved, batch.region)
        if known not in self._results:
            self._results[known] = self._calculate(sub, path, batch.region, (*chain, resolved), found)
        result = self._results[known]
        if result is not None:
            found += _unknown_of(sub, result)
        return result

    def _calculate(
        self, sub: SubBatch, path: Path, region: str | None, chain: tuple[Path, ...], found: list[Diagnostic]
    ) -> BatchResult | None:
        try:
            read = read_batch(path, default_region=region)
        except InputFileError as error:
            found.append(
                Diagnostic("no-sub-batch", Severity.ERROR, f"'{sub.name}': {error.message}", sub.span, error.hint)
            )
            return None
        found += [d for d in read.diagnostics if d.code not in _MATTERS_ONLY_ALONE]
        if read.batch is None:
            message = f"'{sub.name}': {path} holds no batch that could be calculated"
            found.append(Diagnostic("no-sub-batch", Severity.ERROR, message, sub.span, f"`mealcalc check {path}`"))
            return None
        inner, of_inner = self.calculated(read.batch, chain)
        result = calculate(inner, self._database, self._decisions_of(path, sub, found), diagnostics=of_inner)
        found += result.diagnostics
        return result

    def _decisions_of(self, path: Path, sub: SubBatch, found: list[Diagnostic]) -> Decisions:
        try:
            return load_decisions(decisions_path(path)).before(self._decisions)
        except (ConfigurationError, OSError, ValueError, RecursionError) as error:
            message = error.message if isinstance(error, ConfigurationError) else str(error)
            hint = "mend the file or move it away"
            message = f"'{sub.name}': its saved decisions are not used: {message}"
            found.append(Diagnostic("unusable-decisions", Severity.ERROR, message, sub.span, hint))
            return self._decisions


def _refused(sub: SubBatch, batch: Batch, resolved: Path, chain: tuple[Path, ...]) -> Diagnostic | None:
    """Why a sub-batch must not be read: it would contain itself, or no file says which folder its path starts from."""
    if not _is_file(batch.file):
        return Diagnostic(
            "no-sub-batch",
            Severity.ERROR,
            f"'{sub.name}': a batch that is no file has no folder in which '{sub.path}' could stand",
            sub.span,
            f"save the batch as a file beside {sub.path}",
        )
    if resolved in chain:
        names = [path.name for path in (*chain[chain.index(resolved) :], resolved)]
        return Diagnostic(
            "batch-in-itself",
            Severity.ERROR,
            f"'{sub.name}' contains itself: {' -> '.join(names)}",
            sub.span,
            "a batch cannot be an ingredient of itself: take it out of one of these files",
        )
    if len(chain) >= DEEPEST_CHAIN:
        return Diagnostic(
            "no-sub-batch",
            Severity.ERROR,
            f"'{sub.name}': batches are used in batches more than {DEEPEST_CHAIN} deep",
            sub.span,
            "write some of them out",
        )
    return None


def _is_file(name: str) -> bool:
    try:
        return Path(name).is_file()
    except (OSError, ValueError):  # a name that no system takes
        return False


def _unknown_of(sub: SubBatch, result: BatchResult) -> list[Diagnostic]:
    """What is not known of a sub-batch that was calculated, as far as energy and macros go."""
    if not all(component.cooked_mass_known for component in result.components):
        what, hint = "its cooked weight is", "weigh the pot and write cooked_weight in its file"
    elif not result.complete:
        names = [FOOD_COMPONENTS[key].name.partition(",")[0] for key in MACRO_KEYS if not result.totals[key].complete]
        what, hint = f"{', '.join(names)} {'is' if len(names) == 1 else 'are'}", "see what is said about its own lines"
    else:
        return []
    message = f"'{sub.name}' ({sub.path}): {what} not known, so lines that use it are incomplete"
    return [Diagnostic("incomplete-sub-batch", Severity.WARNING, message, sub.span, hint)]


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

    return uncertainty.how_sure(result, _alternatives(result, database))


def how_different(
    results: Sequence[BatchResult],
    database: FoodDatabase,
    measured_as: Sequence[Mapping[RecipeLine, RecipeLine]],
) -> "list[PairedSureness]":
    """90 % intervals of calculated batches and of how each differs from the first; numpy is imported only here.

    Parameters
    ----------
    results : sequence of BatchResult
        Calculated batches.
    database : FoodDatabase
        As for `how_sure`.
    measured_as : sequence of mapping
        For each batch: line -> the line of the first batch in whose place it stands.
    """
    from mealcalc.calculation import uncertainty

    return uncertainty.how_different(
        [
            uncertainty.Compared(result, _alternatives(result, database), places)
            for result, places in zip(results, measured_as, strict=True)
        ]
    )


def _alternatives(result: BatchResult, database: FoodDatabase) -> "Alternatives":
    """Foods that unsure lines may be with their scores, the chosen one first, by the number of the line."""
    unsure = {
        position: c.ingredient.matched
        for position, c in enumerate(result.contributions)
        if c.ingredient.matched.status is LineStatus.UNSURE and c.ingredient.matched.food is not None
    }
    keys = {(candidate.table, candidate.code) for matched in unsure.values() for candidate in matched.runners_up}
    foods = database.foods(keys) if keys else {}
    return {
        position: [
            (matched.food, matched.score),
            *((foods[(r.table, r.code)], r.score) for r in matched.runners_up if (r.table, r.code) in foods),
        ]
        for position, matched in unsure.items()
        if matched.food is not None
    }


def _without_optional(batch: Batch) -> Batch:
    components: list[BatchComponent] = [
        replace(component, lines=tuple(line for line in component.lines if not line.optional))
        for component in batch.components
    ]
    return replace(batch, components=tuple(components))
