"""`mealcalc foods`: look into the food tables."""

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import foods
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.errors import UsageError
from mealcalc.fooddb import BUNDLED_TABLE


@click.group("foods")
def command() -> None:
    """Search and show foods of the loaded tables."""


@command.command("search")
@click.argument("words", nargs=-1, required=True)
@click.option("--limit", default=20, show_default=True, type=click.IntRange(1, 500), help="Foods to show at most.")
@app.json_option
def search(words: tuple[str, ...], limit: int, as_json: bool) -> None:
    """Find foods whose description or names hold WORDS.

    Exit status 1 when there is none.
    """
    with foods() as database:
        found = database.search(" ".join(words), limit=limit)
    if as_json:
        from mealcalc.reports.machine import header_shape

        print_json([header_shape(header) for header in found])
    elif found:
        from mealcalc.reports.food_text import headers_text

        print_text(headers_text(found, screen()))
    if not found:
        tell(f"no food found for '{' '.join(words)}'\n  hint: try fewer or other words")
        raise SystemExit(app.BAD_DATA)


@command.command("show")
@click.argument("code", metavar="[TABLE:]CODE")
@app.json_option
def show(code: str, as_json: bool) -> None:
    """Show one food whole: composition, measures, refuse, energy factors.

    Values that the table leaves blank are shown as missing, never as 0.
    """
    table, _, bare = code.strip().rpartition(":")
    table = table or BUNDLED_TABLE
    with foods() as database:
        food = database.food(table, bare)
        if food is None:
            raise UsageError(
                f"no loaded food table holds '{code}'",
                "look it up with `mealcalc foods search WORDS`; codes keep their zeros in front, such as sr28:01123",
            )
        group = database.groups(table).get(food.group, "")
    if as_json:
        from mealcalc.reports.machine import food_shape

        print_json(food_shape(food, group))
        return
    from mealcalc.reports.food_text import food_text

    print_text(food_text(food, group, screen()))
