"""`mealcalc claimed`: figures that someone published for a batch, judged."""

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import uncounted
from mealcalc.cli.streams import print_json, print_text, screen
from mealcalc.reference.label_tolerances import SCHEME_OF_REGION, SCHEMES


@click.command("claimed")
@app.file_argument
@click.option("--energy", metavar="N", help="Claimed energy of one container, kcal (kJ with --kj).")
@click.option("--protein", metavar="G", help="Claimed protein of one container, g.")
@click.option("--fat", metavar="G", help="Claimed fat, g.")
@click.option("--carbohydrate", metavar="G", help="Claimed carbohydrate, g, whether or not fibre is in it.")
@click.option("--fibre", metavar="G", help="Claimed fibre, g.")
@click.option("--kj", "in_kj", is_flag=True, help="The claimed energy is in kJ.")
@click.option(
    "--scheme",
    type=click.Choice(SCHEMES, case_sensitive=False),
    help="Labelling law whose tolerance is named; that of the region where none is given.",
)
@app.region_option
@click.option("--variant", metavar="NAME", help="Compare with a variant that the file defines.")
@app.json_option
def command(
    file: str,
    energy: str | None,
    protein: str | None,
    fat: str | None,
    carbohydrate: str | None,
    fibre: str | None,
    in_kj: bool,
    scheme: str | None,
    region: str | None,
    variant: str | None,
    as_json: bool,
) -> None:
    """Judge figures that someone published for one container of the batch in FILE.

    Says whether our interval and a legal tolerance contain each figure, whether energy agrees with the macros, whether
    carbohydrate was counted with fibre, and which single change would explain the difference best. Write figures with
    the digits they were published with.
    """
    from mealcalc.planning.claim import claim_as_written
    from mealcalc.planning.claimed import judge_claim

    written = {"energy": energy, "protein": protein, "fat": fat, "carbohydrate": carbohydrate, "fibre": fibre}
    claim = claim_as_written({name: text for name, text in written.items() if text is not None}, energy_in_kj=in_kj)
    with calculated(file, region, variant) as (result, database, decisions):
        law = scheme or SCHEME_OF_REGION.get(result.region, "")
        report = judge_claim(result, claim, database, decisions, scheme=law)
    if as_json:
        from mealcalc.reports.claimed_json import claim_shape

        print_json(claim_shape(report))
    else:
        from mealcalc.reports.claimed_text import claim_text

        print_text(claim_text(report, screen()))
    app.tell_diagnostics(result.diagnostics, notes=False)
    app.leave(result.diagnostics, uncounted=uncounted(result.contributions))
