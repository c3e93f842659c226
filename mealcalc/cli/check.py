"""`mealcalc check`: every finding about a file, nothing else."""

from collections import Counter

import click

from mealcalc.cli import app
from mealcalc.cli.session import chosen_region, configured_region, foods, saved_decisions
from mealcalc.diagnostics import Diagnostic, Severity


@click.command("check")
@app.file_argument
@app.region_option
@click.option("--strict", is_flag=True, help="Fail when a food is a guess, too.")
@app.json_option
def command(file: str, region: str | None, strict: bool, as_json: bool) -> None:
    """Show every error, warning and note about FILE, with line and column.

    Exit status 1 when there is an error, 0 otherwise.
    """
    from mealcalc.recipe.reader import read_batch

    from mealcalc import pipeline

    found = read_batch(file, chosen_region(region), default_region=configured_region())
    diagnostics = found.diagnostics
    if found.batch is not None:
        with foods() as database:
            diagnostics = pipeline.calculate(
                found.batch, database, saved_decisions(file), diagnostics=found.diagnostics
            ).diagnostics
    diagnostics = tuple(dict.fromkeys(diagnostics))
    if as_json:
        from mealcalc.reports.machine import diagnostics_shape

        app.print_json(diagnostics_shape(diagnostics))
    else:
        app.print_diagnostics(diagnostics, notes=True)
        click.echo(_summary(diagnostics))
    app.leave(diagnostics, strict=strict, unsure=any(d.code == "unsure-food" for d in diagnostics))


def _summary(diagnostics: tuple[Diagnostic, ...]) -> str:
    counts = Counter(diagnostic.severity for diagnostic in diagnostics)
    return ", ".join(
        f"{count} {severity.value}{'' if count == 1 else 's'}" for severity in Severity for count in [counts[severity]]
    )
