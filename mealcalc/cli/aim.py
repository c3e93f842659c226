"""`mealcalc aim`: portions, or amounts of lines, that come nearest to targets."""

from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import uncounted
from mealcalc.cli.streams import print_json, print_text, screen, tell


@click.command("aim")
@app.file_argument
@click.option(
    "--target",
    "wanted",
    multiple=True,
    metavar="TARGET",
    help="'protein at least 40 g', 'energy at most 600 kcal', 'carbohydrate 45 g to 70 g', 'fibre about 10 g', "
    "'cost at most 3.50', 'runner: energy at most 900 kcal'. May be repeated.",
)
@click.option("--most", metavar="WHAT", default="", help="As much as the limits allow of: protein, fibre, mass, ...")
@click.option("--least", metavar="WHAT", default="", help="As little as the limits allow of: energy, cost, ...")
@click.option(
    "--keep-ratio", multiple=True, metavar="NAMES", help="'Chicken : Tomato sauce': their ratio stays. May be repeated."
)
@click.option(
    "--change",
    multiple=True,
    metavar="WORDS",
    help="Seek the amount of this line, or of all lines of this component, instead of portions. May be repeated.",
)
@click.option(
    "--whole-packs",
    multiple=True,
    metavar="WORDS=PACK",
    help="'turkey mince=500 g': its amount changes by whole packs; only words where the line names its pack.",
)
@click.option("--eater", multiple=True, metavar="NAME=SHARE", help="Whose container, how large: 'runner=1.5x2'.")
@click.option("--prices", metavar="CSV", help="Price list, for targets of cost; see `mealcalc prices --template`.")
@click.option("--variant", metavar="NAME", help="A variant that the file defines.")
@app.region_option
@click.option(
    "--plot", type=click.Path(dir_okay=False, path_type=Path), metavar="PATH", help="Draw a chart too (png, svg, pdf)."
)
@app.json_option
def command(
    file: str,
    wanted: tuple[str, ...],
    most: str,
    least: str,
    keep_ratio: tuple[str, ...],
    change: tuple[str, ...],
    whole_packs: tuple[str, ...],
    eater: tuple[str, ...],
    prices: str | None,
    variant: str | None,
    region: str | None,
    plot: Path | None,
    as_json: bool,
) -> None:
    """Portions of the batch in FILE, or amounts of its lines, that keep limits and come nearest to wishes.

    Targets hold for one container; they stand in the file under 'targets:', and options join or overrule them. Says
    which limit binds and what loosening it would buy; where limits contradict each other it names them, and the nearest
    compromise: exit status 1.
    """
    from mealcalc.cli.pricing import line_costs
    from mealcalc.planning.aim import aim
    from mealcalc.planning.weighings import eaters_in

    if plot is not None:
        from mealcalc.reports.pictures import check_picture

        check_picture(plot)
    with calculated(file, region, variant) as (result, database, decisions):
        costs = line_costs(prices, result, database, decisions)
        aimed = aim(
            result,
            wanted,
            database,
            decisions,
            most=most,
            least=least,
            keep_ratio=[[name.strip() for name in names.split(":")] for names in keep_ratio],
            change=change,
            whole_packs=whole_packs,
            eaters=eaters_in(eater),
            costs=costs.lines,
            currency=costs.currency,
        )
    if as_json:
        from mealcalc.reports.aim_json import aim_shape

        print_json(aim_shape(aimed))
    else:
        from mealcalc.reports.aim_text import aim_text

        print_text(aim_text(aimed, screen()))
    if plot is not None:
        from mealcalc.reports.aim_plot import portions_picture

        portions_picture(aimed).save(plot)
        tell(f"chart drawn in {plot}")
    diagnostics = (*result.diagnostics, *aimed.result.diagnostics, *costs.diagnostics)
    app.tell_diagnostics(diagnostics, notes=False)
    if not aimed.kept:
        raise SystemExit(app.BAD_DATA)
    app.leave(diagnostics, uncounted=uncounted(aimed.result.contributions))
