"""`mealcalc publish`: every format of one batch into a folder, in one go."""

from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import uncounted
from mealcalc.cli.keep import DAY_HELP, day, today
from mealcalc.cli.labelled import package_options, write_answer
from mealcalc.cli.recorded import as_cooked_option, cooked_day
from mealcalc.cli.streams import json_text, tell

MOST_COPIES = 1000
MOST_PLACES = 100


@click.command("publish")
@app.file_argument
@click.option(
    "--out", required=True, type=click.Path(file_okay=False, path_type=Path), metavar="FOLDER", help="Where to."
)
@click.option(
    "--scheme",
    "schemes",
    multiple=True,
    metavar="SCHEME",
    help="Labelling law: us eu uk anz ca. May be given again; all formats state the figures of the first.",
)
@click.option("--variant", metavar="NAME", help="Publish a variant that the file defines.")
@as_cooked_option
@app.region_option
@package_options
@click.option("--also", multiple=True, metavar="ROW", help="A voluntary row of the panels, or all.")
@click.option("--cooked", metavar="DATE", help=f"Day of cooking, {DAY_HELP}.")
@click.option("--eat-by", metavar="DATE", help="Last day on the stickers; default that of the strictest authority.")
@click.option("--sheet", metavar="NAME", help="Sheet of labels; a wrong name lists them. Default by region.")
@click.option("--copies", type=click.IntRange(1, MOST_COPIES), metavar="N", help="Stickers; default one per container.")
@click.option(
    "--first",
    type=click.IntRange(1, MOST_PLACES),
    default=1,
    metavar="N",
    help="First free place of a sheet that has been begun; default 1.",
)
@click.option("--net-quantity", metavar="TEXT", help="Retail label: what is filled, as weighed.")
@click.option("--storage", metavar="TEXT", help="Retail label: conditions of storage.")
@click.option("--instructions", metavar="TEXT", help="Retail label: how it is reheated.")
@click.option("--date-mark", metavar="TEXT", help="Retail label: use by or best before.")
@click.option("--business", metavar="TEXT", help="Retail label: name and address.")
@click.option("--lot", metavar="TEXT", help="Retail label: code of this batch.")
def command(
    file: str,
    out: Path,
    schemes: tuple[str, ...],
    variant: str | None,
    as_cooked: str | None,
    region: str | None,
    cooked_mass_g: float | None,
    volume_ml: float | None,
    servings: float,
    reference_amount_g: float | None,
    also: tuple[str, ...],
    cooked: str | None,
    eat_by: str | None,
    sheet: str | None,
    copies: int | None,
    first: int,
    net_quantity: str | None,
    storage: str | None,
    instructions: str | None,
    date_mark: str | None,
    business: str | None,
    lot: str | None,
) -> None:
    """Write every format of the batch in FILE into a folder, replacing those that stand there.

    recipe.jsonld (schema.org), post.txt, card.html, stickers.pdf, and for every scheme a panel (txt, csv, json, html,
    xlsx) and the draft of a retail label (txt, html).
    """
    from mealcalc.cli.publishing import Package, publication_of, scheme_names
    from mealcalc.records.published import MakersWords
    from mealcalc.reports.formats import formats
    from mealcalc.reports.sheets import sheet_named, usual_sheet

    said = {
        "net quantity": net_quantity,
        "storage": storage,
        "instructions": instructions,
        "date mark": date_mark,
        "business": business,
        "lot": lot,
    }
    cooked_on, last_day = day(cooked, "--cooked") or cooked_day(file, as_cooked) or today(), day(eat_by, "--eat-by")
    with calculated(file, region, variant, as_cooked) as (result, _, _):
        pass
    labels = usual_sheet(result.region) if sheet is None else sheet_named(sheet)
    publication, found = publication_of(
        result,
        scheme_names(schemes, result),
        Package(cooked_mass_g, volume_ml, servings, reference_amount_g),
        voluntary=also,
        cooked=cooked_on,
        eat_by=last_day,
        makers_words=MakersWords({key: text for key, text in said.items() if text}),
    )
    files, notes = formats(
        publication, labels, copies or result.batch.containers, (first - 1) % labels.count + 1, json_text
    )
    for name, content in files.items():
        write_answer(out / name, content)
        click.echo(str(out / name))
    for note in notes:
        tell(f"note: {note}")
    diagnostics = (*result.diagnostics, *found)
    app.tell_diagnostics(diagnostics, notes=False)
    app.leave(diagnostics, uncounted=uncounted(result.contributions))
