"""`mealcalc cost`: what a batch costs by a price list."""

from dataclasses import replace

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import foods, read_recipe, saved_decisions, uncounted
from mealcalc.cli.prices import read_prices
from mealcalc.cli.streams import print_json, print_text, screen
from mealcalc.recipe.result import MOST_CONTAINERS


@click.command("cost")
@app.file_argument
@click.option("--prices", required=True, metavar="CSV", help="The price list; see `mealcalc prices --template`.")
@app.region_option
@click.option("--containers", metavar="N", type=click.IntRange(1, MOST_CONTAINERS), help="Overrules the file.")
@click.option("--variant", metavar="NAME", help="The cost of a variant that the file defines.")
@click.option("--without-optional", is_flag=True, help="Leave out the lines marked as optional.")
@click.option("--brief", is_flag=True, help="Only the totals, without lines and packs.")
@click.option("--grounds", is_flag=True, help="Say of each line how its grams as purchased come about.")
@click.option("--notes", is_flag=True, help="Show notes too, not only warnings and errors.")
@app.json_option
@app.csv_option
def command(
    file: str,
    prices: str,
    region: str | None,
    containers: int | None,
    variant: str | None,
    without_optional: bool,
    brief: bool,
    grounds: bool,
    notes: bool,
    as_json: bool,
    as_csv: bool,
) -> None:
    """What the batch in FILE costs: per line, component, container, 100 g protein and 100 kcal.

    Two figures: the cost of what is used, and of the whole packs that must be bought for it. Amounts are as purchased,
    with trim loss. A line without a price is named and leaves the cost incomplete: exit status 1.
    """
    app.refuse_both(as_json, as_csv)
    from mealcalc import pipeline
    from mealcalc.planning.cost import cost_of
    from mealcalc.planning.prices import PriceBook

    rows, of_prices = read_prices(prices)
    found = read_recipe(file, region)
    if found.batch is None:
        app.tell_diagnostics(found.diagnostics, notes=notes)
        raise SystemExit(app.BAD_DATA)
    batch, diagnostics = found.batch, found.diagnostics
    if containers is not None:
        batch = replace(batch, containers=containers)
        diagnostics = tuple(d for d in diagnostics if d.code not in ("containers-assumed", "bad-containers"))
    if variant is not None:
        from mealcalc.planning.variants import apply_variant

        batch = apply_variant(batch, variant)
    decisions, unusable = saved_decisions(file)
    with foods() as database:
        result = pipeline.calculate(
            batch, database, decisions, without_optional=without_optional, diagnostics=(*unusable, *diagnostics)
        )
        cost = cost_of(result, PriceBook(rows, database, decisions), diagnostics=of_prices)
    told = (*result.diagnostics, *cost.diagnostics)
    if as_json:
        from mealcalc.reports.cost_machine import cost_shape

        print_json(cost_shape(cost, told))
    elif as_csv:
        from mealcalc.reports.cost_machine import cost_csv

        print_text(cost_csv(cost))
    else:
        from mealcalc.reports.cost_text import cost_text

        print_text(cost_text(cost, screen(), lines=not brief, grounds=grounds))
    app.tell_diagnostics(told, notes=notes)
    app.leave(told, uncounted=uncounted(result.contributions) or not cost.complete)
