"""`mealcalc compare`: ways to make a batch beside each other."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import uncounted
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.diagnostics import Diagnostic, Span

if TYPE_CHECKING:
    from mealcalc.records.comparison import Comparison


@click.command("compare")
@app.file_argument
@click.option("--fat-levels", is_flag=True, help="Every published fat level of the mince.")
@click.option("--optional", is_flag=True, help="Without each line that is marked as optional.")
@click.option(
    "--swap",
    "swaps",
    multiple=True,
    metavar="WORDS=LINE",
    help="Another line in the place of the one that WORDS mean: 'turkey mince=500 g chicken mince'. May be repeated.",
)
@click.option(
    "--containers", "containers", metavar="N,N", help="The same batch in other numbers of containers, such as 4,6,8."
)
@click.option("--prices", metavar="CSV", help="Price list, to compare costs too; see `mealcalc prices --template`.")
@click.option("--no-variants", is_flag=True, help="Leave out the variants that the file defines.")
@app.region_option
@click.option(
    "--plot", type=click.Path(dir_okay=False, path_type=Path), metavar="PATH", help="Draw a chart too (png, svg, pdf)."
)
@app.json_option
@app.csv_option
def command(
    file: str,
    fat_levels: bool,
    optional: bool,
    swaps: tuple[str, ...],
    containers: str | None,
    prices: str | None,
    no_variants: bool,
    region: str | None,
    plot: Path | None,
    as_json: bool,
    as_csv: bool,
) -> None:
    """Compare ways to make the batch in FILE: its variants, fat levels, optional lines, swaps, numbers of containers.

    Each figure of one container and each difference from the batch as written has a 90 % interval; a difference that is
    smaller than its uncertainty is called so. Exit status as for `macros`.
    """
    app.refuse_both(as_json, as_csv)
    from mealcalc.cli.pricing import batch_costs
    from mealcalc.planning.comparison import compare

    if plot is not None:
        from mealcalc.reports.pictures import check_picture

        check_picture(plot)
    with calculated(file, region, None) as (result, database, decisions):
        costs = batch_costs(prices, database, decisions)
        comparison = compare(
            result,
            database,
            decisions,
            variants=not no_variants,
            fat_levels=fat_levels,
            optional=optional,
            swaps=swaps,
            containers=_numbers(containers),
            cost=costs.cost_of,
            currency=costs.currency,
        )
    if as_json:
        from mealcalc.reports.comparison_json import comparison_shape

        print_json(comparison_shape(comparison))
    elif as_csv:
        from mealcalc.reports.comparison_json import comparison_csv

        print_text(comparison_csv(comparison))
    else:
        from mealcalc.reports.comparison_text import comparison_text

        print_text(comparison_text(comparison, screen()))
    if plot is not None:
        from mealcalc.reports.comparison_plot import comparison_picture

        comparison_picture(comparison).save(plot)
        tell(f"chart drawn in {plot}")
    diagnostics = [*costs.diagnostics, *_each_once(comparison)]
    app.tell_diagnostics(diagnostics, notes=False)
    app.leave(diagnostics, uncounted=any(uncounted(option.result.contributions) for option in comparison.options))


def _each_once(comparison: "Comparison") -> list[Diagnostic]:
    """Findings about the batch as written, and of the others what is new: the same about the same line is told once."""
    found: list[Diagnostic] = []
    told: set[tuple[str, Span | None]] = set()
    for option in comparison.options:
        new = [d for d in option.result.diagnostics if (d.code, d.span) not in told]
        found += new
        told |= {(d.code, d.span) for d in new}
    return found


def _numbers(text: str | None) -> list[int]:
    """The whole numbers of '4,6,8'."""
    if text is None:
        return []
    parts = [part.strip() for part in text.split(",")]
    if not all(part.isascii() and part.isdigit() and len(part) <= 6 for part in parts):
        raise click.BadParameter(f"'{text[:60]}' is no list of whole numbers such as 4,6,8", param_hint="--containers")
    return [int(part) for part in parts]
