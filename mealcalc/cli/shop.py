"""`mealcalc shop`: one shopping list for several batches."""

from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import foods, read_recipe, saved_decisions, uncounted
from mealcalc.cli.prices import read_prices
from mealcalc.cli.streams import print_json, print_text, screen
from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import InputFileError, UsageError
from mealcalc.matching.decisions import Decisions
from mealcalc.recipe.result import MOST_CONTAINERS
from mealcalc.records.shopping import BatchToShop, PantryRow

_NOT_ASKED = ("containers-assumed", "bad-containers")
"""Findings about the number of containers of a recipe that matter only where a container is asked about."""


@click.command("shop")
@click.argument("files", metavar="FILE...", type=str, nargs=-1, required=True)
@click.option("--have", metavar="CSV", help="What is at home: item, amount; an empty amount means enough.")
@click.option("--prices", metavar="CSV", help="A price list: packs to buy and what they cost.")
@click.option(
    "--containers",
    multiple=True,
    metavar="FILE=N",
    help="Make N containers of a batch, all amounts in proportion; N alone for a single FILE. May be repeated.",
)
@app.region_option
@click.option("--without-optional", is_flag=True, help="Leave out the lines marked as optional.")
@click.option("--lines", is_flag=True, help="Name the recipe lines that each item is needed for.")
@app.json_option
@app.csv_option
@click.option("--markdown", "as_markdown", is_flag=True, help="Answer as Markdown with boxes to tick.")
@click.option("--html", "as_html", is_flag=True, help="Answer as a page for the phone with boxes to tick.")
def command(
    files: tuple[str, ...],
    have: str | None,
    prices: str | None,
    containers: tuple[str, ...],
    region: str | None,
    without_optional: bool,
    lines: bool,
    as_json: bool,
    as_csv: bool,
    as_markdown: bool,
    as_html: bool,
) -> None:
    """What to buy for the batches in FILE...: merged by food, as purchased, grouped by the sections of a shop.

    What is at home is taken off. Lines whose food or weight is not known stay in the words of the recipe, and the exit
    status is 1.
    """
    if sum((as_json, as_csv, as_markdown, as_html)) > 1:
        raise click.UsageError("--json, --csv, --markdown and --html exclude each other")
    from mealcalc import pipeline
    from mealcalc.planning.prices import PriceBook
    from mealcalc.planning.shopping import shopping_list, with_containers

    wanted = _wanted(files, containers)
    rows, found = read_prices(prices) if prices is not None else ((), ())
    at_home, of_pantry = _at_home(have)
    told: list[Diagnostic] = [*found, *of_pantry]
    batches: list[BatchToShop] = []
    choices: list[Decisions] = []
    unread = False
    with foods() as database:
        for file in files:
            read = read_recipe(file, region)
            told += [d for d in read.diagnostics if d.code not in _NOT_ASKED]
            if read.batch is None:
                unread = True
                continue
            decisions, unusable = saved_decisions(file)
            result = pipeline.calculate(
                read.batch, database, decisions, without_optional=without_optional, diagnostics=unusable
            )
            told += result.diagnostics
            batch = BatchToShop(result)
            batches.append(with_containers(batch, wanted[file]) if file in wanted else batch)
            choices.append(decisions)
        if not batches:
            app.tell_diagnostics(told, notes=False)
            raise SystemExit(app.BAD_DATA)
        book = None if prices is None else PriceBook(rows, database, choices[0])
        shopping = shopping_list(batches, database, choices, at_home=at_home, book=book)
    told += shopping.diagnostics
    if as_json:
        from mealcalc.reports.shopping_machine import shopping_shape

        print_json(shopping_shape(shopping, told))
    elif as_csv:
        from mealcalc.reports.shopping_machine import shopping_csv

        print_text(shopping_csv(shopping))
    elif as_markdown:
        from mealcalc.reports.shopping_pages import shopping_markdown

        print_text(shopping_markdown(shopping))
    elif as_html:
        from mealcalc.reports.shopping_pages import shopping_page

        print_text(shopping_page(shopping))
    else:
        from mealcalc.reports.shopping_text import shopping_text

        print_text(shopping_text(shopping, screen(), lines=lines))
    app.tell_diagnostics(told, notes=False)
    not_counted = any(uncounted(batch.result.contributions) for batch in batches)
    app.leave(told, uncounted=unread or not_counted or bool(shopping.in_words))


def _at_home(have: str | None) -> tuple[tuple[PantryRow, ...], tuple[Diagnostic, ...]]:
    from mealcalc.planning.pantry import read_pantry_rows

    if have is None:
        return (), ()
    try:
        return read_pantry_rows(have)
    except InputFileError as error:
        if isinstance(error.__cause__, FileNotFoundError) or Path(have).is_dir():
            raise UsageError(error.message, error.hint) from error
        raise


def _wanted(files: tuple[str, ...], containers: tuple[str, ...]) -> dict[str, int]:
    """File -> number of containers, as asked for with --containers."""
    wanted: dict[str, int] = {}
    for text in containers:
        name, equals, number = (part.strip() for part in text.rpartition("="))
        if not equals:
            if len(set(files)) > 1:
                raise UsageError(f"--containers {text}: of which batch?", f"for example --containers {files[0]}={text}")
            name = files[0]
        meant = [file for file in dict.fromkeys(files) if name == file]
        meant = meant or [file for file in dict.fromkeys(files) if name in _short_names(file)]
        if len(meant) != 1:
            what = "is none of the files" if not meant else "means several of the files"
            raise UsageError(f"--containers {text}: '{name}' {what}", f"name one of: {', '.join(files)}")
        if not (number.isascii() and number.isdigit() and 1 <= int(number) <= MOST_CONTAINERS):
            raise UsageError(f"--containers {text}: '{number}' is no number of containers", f"1 to {MOST_CONTAINERS}")
        if meant[0] in wanted:
            raise UsageError(f"--containers names '{meant[0]}' twice", "say once how many containers to make of it")
        wanted[meant[0]] = int(number)
    return wanted


def _short_names(file: str) -> tuple[str, str]:
    """The name of a file without its folder, and without its endings."""
    name = Path(file).name
    return name, name.partition(".")[0]
