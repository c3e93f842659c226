"""`mealcalc check`: every finding about a file, nothing else."""

from collections import Counter
from collections.abc import Sequence

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import foods, guessed, read_recipe, saved_decisions, uncounted
from mealcalc.cli.streams import fit_to_show, print_json, print_text
from mealcalc.diagnostics import Diagnostic, Severity, render_text
from mealcalc.records import Contribution


@click.command("check")
@app.file_argument
@app.region_option
@app.strict_option
@app.json_option
def command(file: str, region: str | None, strict: bool, as_json: bool) -> None:
    """Show every error, warning and note about FILE and its variants, with line and column.

    Exit status 1 when there is an error, 0 otherwise.
    """
    from mealcalc import pipeline
    from mealcalc.planning.variants import apply_variant

    found = read_recipe(file, region)
    diagnostics = found.diagnostics
    contributions: list[Contribution] = []
    if found.batch is not None:
        decisions, unusable = saved_decisions(file)
        diagnostics = (*unusable, *diagnostics)
        batches = [found.batch, *(apply_variant(found.batch, variant.name) for variant in found.batch.variants)]
        with foods() as database:
            for batch in batches:
                result = pipeline.calculate(batch, database, decisions)
                diagnostics = (*diagnostics, *result.diagnostics)
                contributions += result.contributions
    findings = app.in_order(diagnostics)
    if as_json:
        from mealcalc.reports.machine import diagnostics_shape

        print_json(diagnostics_shape(findings))
    else:
        print_text("".join(f"{fit_to_show(text)}\n" for text in (*map(render_text, findings), _summary(findings))))
    app.leave(findings, uncounted=uncounted(contributions), guessed=strict and guessed(contributions))


def _summary(diagnostics: Sequence[Diagnostic]) -> str:
    counts = Counter(diagnostic.severity for diagnostic in diagnostics)
    return ", ".join(
        f"{count} {severity.value}{'' if count == 1 else 's'}" for severity in Severity for count in [counts[severity]]
    )
