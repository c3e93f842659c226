"""`mealcalc panel`: the nutrition panel of a batch by the rules of a labelling scheme."""

from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import uncounted
from mealcalc.cli.labelled import dish_of, package_options, scheme_of, scheme_option, to_terminal, write_answer
from mealcalc.cli.recorded import as_cooked_option
from mealcalc.cli.streams import json_text, print_json, print_text, screen, tell


@click.command("panel")
@app.file_argument
@scheme_option
@click.option("--component", metavar="NAME", help="The panel of one component of the batch alone.")
@click.option("--variant", metavar="NAME", help="The panel of a variant that the file defines.")
@as_cooked_option
@app.region_option
@package_options
@click.option(
    "--energy-method", metavar="NAME", help="Another method of energy; a wrong name lists those of the scheme."
)
@click.option("--also", multiple=True, metavar="ROW", help="A voluntary row, or all. May be given again.")
@click.option("--claims", "with_claims", is_flag=True, help="Test the scheme's nutrition claims, too.")
@click.option("--clauses", is_flag=True, help="Show for every row its clauses and which were not read whole.")
@app.json_option
@app.csv_option
@click.option("--html", "as_html", is_flag=True, help="Answer as a page that needs nothing beside itself.")
@click.option("--xlsx", "as_xlsx", is_flag=True, help="Answer as a workbook for spreadsheets.")
@click.option("--out", type=click.Path(dir_okay=False, path_type=Path), metavar="PATH", help="Write to this file.")
def command(
    file: str,
    scheme: str | None,
    component: str | None,
    variant: str | None,
    as_cooked: str | None,
    region: str | None,
    cooked_mass_g: float | None,
    volume_ml: float | None,
    servings: float,
    reference_amount_g: float | None,
    energy_method: str | None,
    also: tuple[str, ...],
    with_claims: bool,
    clauses: bool,
    as_json: bool,
    as_csv: bool,
    as_html: bool,
    as_xlsx: bool,
    out: Path | None,
) -> None:
    """Nutrition panel of one container of the batch in FILE, by the law of a country.

    A draft that states its grounds: each row carries its clauses, and whether their text was read. With --claims, --csv
    answers with the claims instead of the rows.
    """
    if as_json + as_csv + as_html + as_xlsx > 1:
        raise click.UsageError("--json, --csv, --html and --xlsx exclude each other")
    if as_xlsx and to_terminal(out):
        raise click.UsageError("a workbook is no text for a terminal: add --out panel.xlsx")
    from mealcalc.labelling.claims import check_claims, claims_caution
    from mealcalc.labelling.panel import make_panel
    from mealcalc.planning.one_component import component_named

    with calculated(file, region, variant, as_cooked) as (result, _, _):
        law = scheme_of(scheme, result)
        shown = result if component is None else component_named(result, component)
    dish = dish_of(
        shown,
        cooked_mass_g=cooked_mass_g,
        volume_ml=volume_ml,
        servings=servings,
        reference_amount_g=reference_amount_g,
    )
    panel = make_panel(dish, law, energy_method=energy_method, voluntary=also)
    claims = check_claims(dish, law, energy_method=energy_method) if with_claims else None
    caution = claims_caution(law)
    if as_xlsx:
        from mealcalc.reports.workbook import panel_workbook

        write_answer(out, panel_workbook([panel], {} if claims is None else {law: claims}))
    elif as_html:
        from mealcalc.reports.panel_page import panel_page

        write_answer(out, panel_page(panel, claims, caution).encode("utf-8"))
    elif as_csv:
        from mealcalc.reports.panel_json import claims_csv, panel_csv

        text = panel_csv([panel]) if claims is None else claims_csv(law, claims)
        print_text(text) if out is None else write_answer(out, text.encode("utf-8-sig"))
    elif as_json:
        from mealcalc.reports.panel_json import panel_shape

        shape = panel_shape(panel, claims, caution)
        print_json(shape) if out is None else write_answer(out, json_text(shape).encode("utf-8"))
    else:
        from mealcalc.reports.panel_text import panel_text

        text = panel_text(panel, screen(), claims, caution, clauses=clauses)
        print_text(text) if out is None else write_answer(out, text.encode("utf-8"))
    if out is not None:
        tell(f"written to {out}")
    diagnostics = (*shown.diagnostics, *panel.diagnostics)
    app.tell_diagnostics(diagnostics, notes=False)
    app.leave(diagnostics, uncounted=uncounted(shown.contributions))
