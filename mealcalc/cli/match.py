"""`mealcalc match`: review which food stands for each line, and save the choices."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import click

from mealcalc.cli import app
from mealcalc.cli.asking import ask, decision
from mealcalc.cli.configuration import user_decisions_path
from mealcalc.cli.inputs import (
    DAMAGE,
    STANDARD_INPUT,
    chosen_region,
    configured_region,
    foods,
    guessed,
    interactive,
    read_recipe,
    saved_decisions,
    uncounted,
)
from mealcalc.cli.streams import print_json, print_text, screen, tell
from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import InputFileError, UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decision, decisions_path, save_decisions
from mealcalc.records import Batch, Contribution, Food, RecipeLine
from mealcalc.units import METRIC


@dataclass(frozen=True, slots=True)
class _Read:
    """What is to be matched, and what was found while reading it."""

    lines: Sequence[RecipeLine]
    own_foods: Sequence[Food]
    region: str
    diagnostics: Sequence[Diagnostic]
    batch: Batch | None = None


@click.command("match")
@app.file_argument
@app.region_option
@click.option("--variant", metavar="NAME", help="The lines of a variant that the file defines.")
@click.option(
    "--choose",
    multiple=True,
    metavar="LINE=FOOD",
    help="Save a choice without asking: file line, then TABLE:CODE, CODE or 'none'. May be repeated.",
)
@click.option("--ask-all", is_flag=True, help="In a terminal, ask about sure matches too.")
@click.option("--no-ask", is_flag=True, help="Never ask, even in a terminal.")
@app.grounds_option
@app.strict_option
@app.json_option
@app.csv_option
def command(
    file: str,
    region: str | None,
    variant: str | None,
    choose: tuple[str, ...],
    ask_all: bool,
    no_ask: bool,
    grounds: bool,
    strict: bool,
    as_json: bool,
    as_csv: bool,
) -> None:
    """Show the food, grams, energy and macros of each line of FILE; - reads lines from standard input.

    In a terminal, doubtful lines are asked about and the answers are saved beside the recipe in a text file that you
    may edit. With --json each line is one JSON object on a line of its own. Exit status as for `macros`; for standard
    input it is 0 whatever the lines.
    """
    app.refuse_both(as_json, as_csv)
    read = _read(file, region, variant)
    with foods() as database:
        read = _with_sub_batches(file, read, database)
        new = [_parse_choice(text, read, database) for text in choose]
        if new:
            _save(file, new)
        contributions, diagnostics = _contributions(file, read, database)
        if as_json:
            from mealcalc.reports.machine import line_shape

            for c in contributions:
                print_json(line_shape(c), one_line=True)
        elif as_csv:
            from mealcalc.reports.tables import lines_csv

            print_text(lines_csv(contributions))
        elif contributions:
            from mealcalc.reports.text import lines_text

            print_text(lines_text(contributions, screen(), grounds=grounds))
            if interactive() and not no_ask and file != STANDARD_INPUT:
                answers = ask(contributions, read.own_foods, database, read.region, everything=ask_all)
                if answers:
                    _save(file, answers)
                    contributions, diagnostics = _contributions(file, read, database)
    app.tell_diagnostics(diagnostics, notes=False)
    if file != STANDARD_INPUT:
        app.leave(diagnostics, uncounted=uncounted(contributions), guessed=strict and guessed(contributions))


def _read(file: str, region: str | None, variant: str | None) -> _Read:
    if file == STANDARD_INPUT:
        from mealcalc.recipe.reader import read_lines
        from mealcalc.recipe.source import read_source

        if variant is not None:
            raise UsageError("standard input has no variants", "name a batch file instead of -")
        argument = chosen_region(region)
        default, found = configured_region()
        used = argument or default or METRIC
        source = read_source(file)
        return _Read(read_lines(source.text, source.name, used), (), used, (*found, *source.diagnostics))
    result = read_recipe(file, region)
    batch = result.batch
    if batch is None:
        return _Read((), (), METRIC, result.diagnostics)
    if variant is not None:
        from mealcalc.planning.variants import apply_variant

        batch = apply_variant(batch, variant)
    diagnostics = [d for d in result.diagnostics if d.code != "containers-assumed"]
    return _Read(batch.lines, batch.own_foods, batch.region or METRIC, diagnostics, batch)


def _with_sub_batches(file: str, read: _Read, database: FoodDatabase) -> _Read:
    """The same with the batches that the batch uses as foods among its own foods."""
    if read.batch is None or not read.batch.sub_batches:
        return read
    from mealcalc import pipeline

    batch, found = pipeline.with_sub_batches(read.batch, database, saved_decisions(file)[0])
    return replace(read, own_foods=batch.known_foods, diagnostics=(*read.diagnostics, *found), batch=batch)


def _contributions(file: str, read: _Read, database: FoodDatabase) -> tuple[list[Contribution], Sequence[Diagnostic]]:
    """What each line brings with the choices saved by now, and all findings."""
    from mealcalc import pipeline
    from mealcalc.calculation.composition import contribution

    decisions, unusable = saved_decisions(file)
    ingredients = pipeline.weigh_lines(read.lines, database, read.region, decisions, read.own_foods)
    of_lines = [d for ingredient in ingredients for d in pipeline.diagnostics_of(ingredient)]
    return [contribution(i) for i in ingredients], (*unusable, *read.diagnostics, *of_lines)


def _parse_choice(text: str, read: _Read, database: FoodDatabase) -> Decision:
    number, equals, food = (part.strip() for part in text.partition("="))
    if not equals or not (number.isascii() and number.isdigit()) or not food:
        raise UsageError(f"--choose '{text}' is not LINE=FOOD", "for example --choose 8=sr28:20036")
    line = next((line for line in read.lines if line.span.line == int(number)), None)
    if line is None:
        raise UsageError(f"--choose '{text}': there is no ingredient on line {number}", "see the column 'line'")
    return decision(line, food, read.own_foods, database, read.region)


def _save(file: str, decisions: Sequence[Decision]) -> None:
    path = user_decisions_path() if file == STANDARD_INPUT else decisions_path(Path(file))
    try:
        save_decisions(path, decisions)
    except OSError as error:
        raise InputFileError(
            f"{path}: the choices cannot be saved: {error.strerror or error}",
            "copy the recipe to a folder of your own",
        ) from error
    except DAMAGE as error:
        raise InputFileError(
            f"{path}: nothing is saved, since the file is damaged: {error}", "mend the file or move it away"
        ) from error
    tell(f"saved {len(decisions)} choice{'' if len(decisions) == 1 else 's'} in {path}")
