"""`mealcalc macros`: the main job."""

from dataclasses import replace

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import foods, guessed, read_recipe, saved_decisions, uncounted
from mealcalc.cli.recorded import as_cooked_option, as_recorded
from mealcalc.cli.streams import print_json, print_text, screen
from mealcalc.errors import UsageError
from mealcalc.recipe.result import MOST_CONTAINERS


@click.command("macros")
@app.file_argument
@app.region_option
@click.option(
    "--containers",
    metavar="N",
    type=click.IntRange(1, MOST_CONTAINERS),
    help="Number of containers. Overrules the file.",
)
@click.option("--variant", metavar="NAME", help="Calculate a variant that the file defines.")
@as_cooked_option
@click.option("--without-optional", is_flag=True, help="Leave out the lines marked as optional.")
@click.option("--sure", is_flag=True, help="Show how sure the macros are: 90 % intervals, and what would narrow them.")
@click.option("--brief", is_flag=True, help="Only the totals, without the account line by line.")
@click.option("--all", "everything", is_flag=True, help="All food components that the tables hold, not only macros.")
@app.grounds_option
@click.option("--notes", is_flag=True, help="Show notes too, not only warnings and errors.")
@app.strict_option
@app.json_option
@app.csv_option
def command(
    file: str,
    region: str | None,
    containers: int | None,
    variant: str | None,
    as_cooked: str | None,
    without_optional: bool,
    sure: bool,
    brief: bool,
    everything: bool,
    grounds: bool,
    notes: bool,
    strict: bool,
    as_json: bool,
    as_csv: bool,
) -> None:
    """Energy, fat, carbohydrate and protein per component and container.

    FILE is a batch in YAML, a plain list of ingredients, or a schema.org recipe as JSON-LD or HTML; - reads standard
    input. Exit status 1 means that something was not counted or is wrong; everything that could be computed is still
    shown.
    """
    app.refuse_both(as_json, as_csv)
    from mealcalc import pipeline

    found = read_recipe(file, region)
    if found.batch is None:
        app.tell_diagnostics(found.diagnostics, notes=notes)
        raise SystemExit(app.BAD_DATA)
    batch, diagnostics = found.batch, found.diagnostics
    if containers is not None:
        if as_cooked is not None:
            raise UsageError("--as-cooked says how many containers were made", "leave out --containers")
        batch = replace(batch, containers=containers)
    if containers is not None or as_cooked is not None:
        diagnostics = tuple(d for d in diagnostics if d.code not in ("containers-assumed", "bad-containers"))
    if as_cooked is not None:
        batch, differences = as_recorded(batch, file, as_cooked, variant)
        diagnostics = (*diagnostics, *differences)
    elif variant is not None:
        from mealcalc.planning.variants import apply_variant

        batch = apply_variant(batch, variant)
    decisions, unusable = saved_decisions(file)
    with foods() as database:
        result = pipeline.calculate(
            batch,
            database,
            decisions,
            without_optional=without_optional,
            diagnostics=(*unusable, *diagnostics),
        )
        # Intervals cost the import of numpy: only who asks for them pays.
        sureness = pipeline.how_sure(result, database) if as_json or (sure and not as_csv) else None
    if as_json:
        from mealcalc.reports.machine import batch_shape

        print_json(batch_shape(result, sureness))
    elif as_csv:
        from mealcalc.reports.tables import totals_csv

        print_text(totals_csv(result))
    else:
        from mealcalc.reports.text import macros_text

        print_text(macros_text(result, screen(), sureness, lines=not brief, everything=everything, grounds=grounds))
    app.tell_diagnostics(result.diagnostics, notes=notes)
    app.leave(
        result.diagnostics,
        uncounted=uncounted(result.contributions),
        guessed=strict and guessed(result.contributions),
    )
