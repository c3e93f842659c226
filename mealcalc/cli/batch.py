"""Reads and calculates the batch of a command, with everything found on the way."""

from collections.abc import Iterator
from contextlib import contextmanager

from mealcalc.cli import app
from mealcalc.cli.inputs import foods, read_recipe, saved_decisions
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.records import BatchResult


@contextmanager
def calculated(
    file: str, region: str | None, variant: str | None, as_cooked: str | None = None
) -> Iterator[tuple[BatchResult, FoodDatabase, Decisions]]:
    """The calculated batch of FILE, as a variant makes it, with the open food database and the saved decisions.

    as_cooked: the day of a recorded cooking, or `recorded.LATEST`: its pots, containers and variant count.

    Raises
    ------
    SystemExit
        If the file holds no recipe; what is wrong with it has been told.
    UsageError
        If there is no such file, region, variant or recorded cooking.
    """
    from mealcalc import pipeline

    found = read_recipe(file, region)
    if found.batch is None:
        app.tell_diagnostics(found.diagnostics, notes=False)
        raise SystemExit(app.BAD_DATA)
    batch, differences = found.batch, found.diagnostics
    if as_cooked is not None:
        from mealcalc.cli.recorded import as_recorded

        batch, of_cooking = as_recorded(batch, file, as_cooked, variant, retitled=False)
        differences = (*differences, *of_cooking)
    elif variant is not None:
        from mealcalc.planning.variants import apply_variant

        batch = apply_variant(batch, variant)
    decisions, unusable = saved_decisions(file)
    with foods() as database:
        diagnostics = (*unusable, *differences)
        yield pipeline.calculate(batch, database, decisions, diagnostics=diagnostics), database, decisions
