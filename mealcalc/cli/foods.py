"""`mealcalc foods`: look into the food tables."""

import click

from mealcalc.cli import app
from mealcalc.cli.session import foods
from mealcalc.errors import UsageError


@click.group("foods")
def command() -> None:
    """Search and show foods of the loaded tables."""


@command.command("search")
@click.argument("words", nargs=-1, required=True)
@click.option("--limit", default=20, show_default=True, type=click.IntRange(1, 500), help="Foods to show at most.")
@app.json_option
def search(words: tuple[str, ...], limit: int, as_json: bool) -> None:
    """Find foods whose description or names hold WORDS."""
    with foods() as database:
        found = database.search(" ".join(words), limit=limit)
    if as_json:
        app.print_json(
            [{"table": h.table, "code": h.code, "description": h.description, "names": list(h.names)} for h in found]
        )
    elif found:
        from mealcalc.reports.text import console, print_headers

        print_headers(found, console())
    else:
        click.echo(f"no food found for '{' '.join(words)}'", err=True)
    if not found:
        raise SystemExit(app.BAD_DATA)


@command.command("show")
@click.argument("code", metavar="[TABLE:]CODE")
@app.json_option
def show(code: str, as_json: bool) -> None:
    """Show one food whole: composition, measures, refuse, energy factors.

    Values that the table leaves blank are shown as missing, never as 0.
    """
    table, _, bare = code.rpartition(":")
    with foods() as database:
        food = database.food(table or "sr28", bare)
    if food is None:
        raise UsageError(f"no loaded food table holds '{code}'", "look it up with `mealcalc foods search WORDS`")
    if as_json:
        from mealcalc.reports.machine import food_shape

        app.print_json(food_shape(food))
        return
    from mealcalc.reports.text import console, print_food

    print_food(food, console())
