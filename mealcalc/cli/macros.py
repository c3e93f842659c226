"""`mealcalc macros`: the main job."""

import click

from mealcalc.cli import app
from mealcalc.cli.session import chosen_region, configured_region, foods, saved_decisions


@click.command("macros")
@app.file_argument
@app.region_option
@click.option("--variant", metavar="NAME", help="Calculate a variant that the file defines.")
@click.option("--without-optional", is_flag=True, help="Leave out the lines marked as optional.")
@click.option("--brief", is_flag=True, help="Only the totals, without the account line by line.")
@click.option("--notes", is_flag=True, help="Show notes too, not only warnings and errors.")
@click.option("--strict", is_flag=True, help="Fail when a food is a guess, too.")
@app.json_option
@app.csv_option
def command(
    file: str,
    region: str | None,
    variant: str | None,
    without_optional: bool,
    brief: bool,
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
    from mealcalc.recipe.reader import read_batch

    from mealcalc import pipeline
    from mealcalc.records import LineStatus

    found = read_batch(file, chosen_region(region), default_region=configured_region())
    if found.batch is None:
        app.print_diagnostics(found.diagnostics, notes=notes)
        raise SystemExit(app.BAD_DATA)
    batch = found.batch
    if variant is not None:
        from mealcalc.planning.variants import apply_variant

        batch = apply_variant(batch, variant)
    with foods() as database:
        result = pipeline.calculate(
            batch,
            database,
            saved_decisions(file),
            without_optional=without_optional,
            diagnostics=found.diagnostics,
        )
    if as_json:
        from mealcalc.reports.machine import batch_shape

        app.print_json(batch_shape(result))
    elif as_csv:
        from mealcalc.reports.tables import totals_csv

        click.echo(totals_csv(result), nl=False)
    else:
        from mealcalc.reports.text import console, print_macros

        print_macros(result, console(), lines=not brief)
    app.print_diagnostics(result.diagnostics, notes=notes)
    unsure = any(c.ingredient.matched.status is LineStatus.UNSURE for c in result.contributions)
    app.leave(result.diagnostics, strict=strict, unsure=unsure)
