"""`mealcalc keep`: how long a batch keeps by named authorities, and the plan of dates."""

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import foods, read_recipe, saved_decisions, uncounted
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.errors import UsageError
from mealcalc.recipe.result import MOST_CONTAINERS
from mealcalc.text_files import write_whole

DAY_HELP = "like 2026-11-24; default today"
_CALENDAR_START = b"BEGIN:VCALENDAR"


def authority_option(command: app.Command) -> app.Command:
    """Whose guidance counts."""
    return click.option(
        "--authority",
        "authority",
        multiple=True,
        metavar="NAME",
        help="Whose guidance counts: a name such as uk_fsa, or a region such as uk. May be given again. Default: all.",
    )(command)


def today() -> date:
    """The day it is here."""
    return datetime.now().astimezone().date()


def day(text: str | None, option: str) -> date | None:
    """The date of an option; UsageError if it is none."""
    if text is None:
        return None
    if text.strip().lower() == "today":
        return today()
    try:
        found = date.fromisoformat(text.strip())
    except ValueError:
        raise UsageError(f"{option} '{text}' is no date", "write it like 2026-11-24") from None
    if not 2000 <= found.year <= 2100:
        raise UsageError(f"{option} {found}: the year is not between 2000 and 2100", "check the date")
    return found


@click.command("keep")
@app.file_argument
@app.region_option
@click.option("--containers", metavar="N", type=click.IntRange(1, MOST_CONTAINERS), help="Overrules the file.")
@click.option("--cooked", metavar="DATE", help=f"Day of cooking, {DAY_HELP}.")
@click.option(
    "--eat-per-day", type=click.IntRange(1, 1000), default=1, show_default=True, metavar="N", help="Containers a day."
)
@click.option("--from", "eat_from", metavar="DATE", help="First day of eating; default the day after cooking.")
@authority_option
@click.option("--all", "everything", is_flag=True, help="All topics, every statement, and the sources.")
@app.json_option
@app.csv_option
@click.option("--ics", type=click.Path(dir_okay=False, path_type=Path), metavar="PATH", help="Write a calendar file.")
def command(
    file: str,
    region: str | None,
    containers: int | None,
    cooked: str | None,
    eat_per_day: int,
    eat_from: str | None,
    authority: tuple[str, ...],
    everything: bool,
    as_json: bool,
    as_csv: bool,
    ics: Path | None,
) -> None:
    """How long the batch in FILE keeps: guidance of named authorities side by side, strictest first.

    With a plan of dates: which containers stay in the refrigerator, which are frozen, when each thaws, its last day.
    The guidance is quoted, never a promise; local food law and your own thermometer come first.
    """
    app.refuse_both(as_json, as_csv)
    from mealcalc import pipeline
    from mealcalc.planning.keeping import keep
    from mealcalc.reference.keeping_tables import chosen_authorities

    now = today()
    chosen = chosen_authorities(name for names in authority for name in names.split(","))
    cooked_on, first = day(cooked, "--cooked") or now, day(eat_from, "--from")
    read = read_recipe(file, region)
    if read.batch is None:
        app.tell_diagnostics(read.diagnostics, notes=False)
        raise SystemExit(app.BAD_DATA)
    batch = read.batch if containers is None else replace(read.batch, containers=containers)
    given = ("containers-assumed", "bad-containers") if containers is not None else ()
    decisions, unusable = saved_decisions(file)
    with foods() as database:
        result = pipeline.calculate(
            batch, database, decisions, diagnostics=(*unusable, *(d for d in read.diagnostics if d.code not in given))
        )
    keeping, found = keep(result, chosen, cooked_on, eaten_per_day=eat_per_day, eat_from=first, today=now)
    diagnostics = (*result.diagnostics, *found)
    if ics is not None:
        from mealcalc.reports.keeping_calendar import keeping_calendar

        _write_calendar(ics, keeping_calendar(keeping, datetime.now().astimezone()))
        tell(f"calendar written to {ics}")
    if as_json:
        from mealcalc.reports.keeping_json import keeping_shape

        print_json(keeping_shape(keeping, diagnostics))
    elif as_csv:
        from mealcalc.reports.keeping_json import plan_csv

        print_text(plan_csv(keeping))
    else:
        from mealcalc.reports.keeping_text import keeping_text

        print_text(keeping_text(keeping, screen(), everything=everything))
    app.tell_diagnostics(diagnostics, notes=False)
    app.leave(diagnostics, uncounted=uncounted(result.contributions))


def _write_calendar(path: Path, text: str) -> None:
    """Write the calendar; UsageError where something else stands at that place, or the place refuses."""
    try:
        if path.exists() and path.stat().st_size:
            with path.open("rb") as stream:
                if stream.read(len(_CALENDAR_START)) != _CALENDAR_START:
                    raise UsageError(f"{path} is not a calendar file, and is left as it is", "name another file")
        write_whole(path, text)
    except OSError as error:
        raise UsageError(f"{path}: cannot be written: {error.strerror or error}", "name another place") from error
