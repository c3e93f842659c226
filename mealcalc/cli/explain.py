"""`mealcalc explain`: where one figure comes from."""

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import uncounted
from mealcalc.cli.recorded import as_cooked_option
from mealcalc.cli.streams import print_json, print_text, screen


@click.command("explain")
@app.file_argument
@click.option(
    "--of",
    "name",
    default="energy",
    show_default=True,
    metavar="WHAT",
    help="protein, fat, carbohydrate, available, energy, fibre, sodium, or a key such as VITC_MG.",
)
@click.option("--component", metavar="NAME", help="Only this component of the batch.")
@click.option("--line", type=click.IntRange(min=1), metavar="N", help="Only the ingredient on this line of the file.")
@as_cooked_option
@app.region_option
@click.option("--variant", metavar="NAME", help="Explain a variant that the file defines.")
@app.json_option
def command(
    file: str,
    name: str,
    component: str | None,
    line: int | None,
    as_cooked: str | None,
    region: str | None,
    variant: str | None,
    as_json: bool,
) -> None:
    """Show where one figure of FILE comes from: each line, its food, grams, factors with their sources, and the sum.

    Exit status as for `macros`.
    """
    from mealcalc.reports.explain import blend_keys, explain, key_of

    key = key_of(name)
    with calculated(file, region, variant, as_cooked) as (result, database, _):
        explanation = explain(result, key, database.foods(blend_keys(result)), component=component, line=line)
    if as_json:
        from mealcalc.reports.explain_json import explanation_shape

        print_json(explanation_shape(explanation))
    else:
        from mealcalc.reports.explain_text import explanation_text

        print_text(explanation_text(explanation, screen()))
    app.tell_diagnostics(result.diagnostics, notes=False)
    app.leave(result.diagnostics, uncounted=uncounted(result.contributions))
