"""`mealcalc freezer`: what is in the freezer, in a text file beside the recipes."""

from datetime import date
from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.batch import calculated
from mealcalc.cli.inputs import STANDARD_INPUT
from mealcalc.cli.keep import DAY_HELP, authority_option, day, today
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.planning.freezer_stock import FILE_NAME, meant_batch, put_in, read_stock, take_out, write_stock
from mealcalc.records.keeping import FrozenContainers


def _stock_option(command: app.Command) -> app.Command:
    return click.option(
        "--stock",
        type=click.Path(dir_okay=False, path_type=Path),
        metavar="PATH",
        help=f"The freezer's list; default {FILE_NAME} beside the recipe, else in this folder.",
    )(command)


@click.group("freezer")
def command() -> None:
    """Add, take out and list containers in the freezer.

    The list is a text file, freezer.yaml, which may be edited by hand.
    """


@command.command("add")
@app.file_argument
@click.option("--containers", "count", type=click.IntRange(1, 1000), required=True, metavar="N", help="How many.")
@click.option("--cooked", metavar="DATE", help=f"Day of cooking, {DAY_HELP}.")
@click.option("--frozen", metavar="DATE", help="Day of freezing; default the day of cooking.")
@app.region_option
@authority_option
@_stock_option
def add(
    file: str,
    count: int,
    cooked: str | None,
    frozen: str | None,
    region: str | None,
    authority: tuple[str, ...],
    stock: Path | None,
) -> None:
    """Add containers of the batch in FILE, best before by the strictest guidance for its kinds of dish."""
    from mealcalc.planning.keeping import keep
    from mealcalc.reference.keeping_tables import chosen_authorities

    chosen = chosen_authorities(name for names in authority for name in names.split(","))
    cooked_on = day(cooked, "--cooked") or today()
    with calculated(file, region, None) as (result, _, _):
        keeping, _ = keep(result, chosen, cooked_on)
    limit = keeping.plan.freezer_limit
    new = FrozenContainers(
        title=keeping.title,
        containers=count,
        cooked=cooked_on,
        frozen=day(frozen, "--frozen") or cooked_on,
        best_before=keeping.plan.freezer_best_before,
        guidance="" if limit is None else f"{limit.authority.title}, {limit.dish.name}",
        mass_g=keeping.container_mass_g,
    )
    path = stock or _beside(file)
    write_stock(path, put_in(read_stock(path), new))
    tell(f"{count} of {keeping.title} added to {path}")
    if limit is not None and limit.guidance.unit == "not recommended":
        tell(f"warning: {limit.authority.title}: {limit.guidance.wording} [freezing-not-recommended]")
    _tell_late_freezing(new, keeping.plan.fridge_limit.last_day if keeping.plan.fridge_limit else None)


@command.command("take")
@click.argument("batch", metavar="BATCH")
@click.option(
    "--containers", "count", type=click.IntRange(1, 1000), default=1, show_default=True, metavar="N", help="How many."
)
@_stock_option
def take(batch: str, count: int, stock: Path | None) -> None:
    """Take containers of BATCH out, the oldest first. BATCH is its title, or words of it."""
    path = stock or Path(FILE_NAME)
    before = read_stock(path)
    after = take_out(before, batch, count)
    write_stock(path, after)
    left = sum(row.containers for row in after)
    tell(f"{count} of {meant_batch(before, batch)} taken out; containers left in {path}: {left}")


@command.command("list")
@_stock_option
@app.json_option
def list_stock(stock: Path | None, as_json: bool) -> None:
    """List what is in the freezer, the oldest first."""
    rows = read_stock(stock or Path(FILE_NAME))
    if as_json:
        from mealcalc.reports.keeping_json import stock_shape

        print_json(stock_shape(rows, today()))
    else:
        from mealcalc.reports.keeping_text import stock_text

        print_text(stock_text(rows, screen(), today()))


def _beside(file: str) -> Path:
    return Path(FILE_NAME) if file == STANDARD_INPUT else Path(file).with_name(FILE_NAME)


def _tell_late_freezing(new: FrozenContainers, last_day: date | None) -> None:
    if last_day is not None and new.frozen > last_day:
        tell(
            f"warning: frozen on {new.frozen}, after {last_day}, its last day in the refrigerator by the strictest "
            "guidance chosen [frozen-late]"
        )
