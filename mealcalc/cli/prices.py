"""`mealcalc prices`: a price list to start from, and how a price list is understood; the options that use one."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import chosen_region, configured_region, foods, saved_decisions
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.errors import InputFileError, UsageError

if TYPE_CHECKING:
    from mealcalc.diagnostics import Diagnostic
    from mealcalc.records.purchases import PriceRow


def read_prices(file: str) -> "tuple[tuple[PriceRow, ...], tuple[Diagnostic, ...]]":
    """The usable rows of a price list and all findings; UsageError where there is no such file."""
    from mealcalc.cli.keep import today
    from mealcalc.planning.price_rows import read_price_rows

    try:
        return read_price_rows(file, today())
    except InputFileError as error:
        if isinstance(error.__cause__, FileNotFoundError) or Path(file).is_dir():
            raise UsageError(error.message, error.hint) from error
        raise


@click.command("prices")
@click.argument("file", metavar="FILE", type=str, required=False)
@click.option("--template", is_flag=True, help="Print an empty price list to fill in.")
@click.option("--demo", is_flag=True, help="Print a price list for the example batches (invented prices).")
@app.region_option
@app.json_option
def command(file: str | None, template: bool, demo: bool, region: str | None, as_json: bool) -> None:
    """Which food each price of the list in FILE stands for; without FILE, a list to start from.

    A price list is a CSV file: item, pack size, price, currency, date, and if you like shop section, store and food
    code. Items are understood as recipe lines are.
    """
    if sum((template, demo, file is not None)) != 1:
        raise UsageError(
            "name a price list, or ask for --template or --demo", "mealcalc prices --template > prices.csv"
        )
    if template:
        from mealcalc.planning.price_rows import TEMPLATE

        print_text(TEMPLATE)
        return
    if demo:
        from mealcalc.examples import demo_prices

        print_text(demo_prices())
        return
    assert file is not None
    from mealcalc.planning.prices import match_prices

    default, of_configuration = configured_region()
    rows, found = read_prices(file)
    decisions, unusable = saved_decisions("-")
    with foods() as database:
        prices, of_packs = match_prices(rows, database, chosen_region(region) or default, decisions)
    diagnostics = (*of_configuration, *unusable, *found, *of_packs)
    if as_json:
        from mealcalc.reports.cost_machine import prices_shape

        print_json(prices_shape(prices.prices, diagnostics))
    else:
        from mealcalc.reports.cost_text import prices_text

        print_text(prices_text(prices.prices, screen()))
    app.tell_diagnostics(diagnostics, notes=True)
    if not rows:
        tell("no price can be used")
        raise SystemExit(app.BAD_DATA)
    app.leave(diagnostics)
