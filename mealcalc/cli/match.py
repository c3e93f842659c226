"""`mealcalc match`: review which food stands for each line, and save the choices."""

import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click
from mealcalc.cli.configuration import user_decisions_path

from mealcalc.cli import app
from mealcalc.cli.session import chosen_region, configured_region, foods, interactive, saved_decisions
from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import NONE, Decision, decisions_path, save_decisions
from mealcalc.matching.proposal import BUNDLED_TABLE
from mealcalc.records import Contribution, Food, LineStatus, RecipeLine


@click.command("match")
@app.file_argument
@app.region_option
@click.option(
    "--choose",
    multiple=True,
    metavar="LINE=FOOD",
    help="Save a choice without asking: file line, then TABLE:CODE, CODE or 'none'. May be repeated.",
)
@click.option("--ask-all", is_flag=True, help="In a terminal, ask about sure matches too.")
@click.option("--no-ask", is_flag=True, help="Never ask, even in a terminal.")
@app.json_option
@app.csv_option
def command(
    file: str,
    region: str | None,
    choose: tuple[str, ...],
    ask_all: bool,
    no_ask: bool,
    as_json: bool,
    as_csv: bool,
) -> None:
    """Show the food, grams and energy of each line of FILE; - reads lines from standard input.

    In a terminal, doubtful lines are asked about and the answers are saved beside the recipe in a text file that you
    may edit. With --json each line is one JSON object on a line of its own. Exit status is 0 whatever the lines.
    """
    app.refuse_both(as_json, as_csv)
    from mealcalc import pipeline
    from mealcalc.calculation.composition import contribution

    lines, own_foods, found_region, diagnostics = _read(file, chosen_region(region))
    with foods() as database:
        new = [_parse_choice(text, lines, database, found_region) for text in choose]
        if new:
            _save(file, new)
        ingredients = pipeline.weigh_lines(lines, database, found_region, saved_decisions(file), own_foods)
        contributions = [contribution(ingredient) for ingredient in ingredients]
        if as_json:
            from mealcalc.reports.machine import line_shape

            for c in contributions:
                click.echo(json.dumps(line_shape(c), ensure_ascii=False, allow_nan=False))
            return
        if as_csv:
            from mealcalc.reports.tables import lines_csv

            click.echo(lines_csv(contributions), nl=False)
            return
        from mealcalc.reports.text import console, print_lines

        print_lines(contributions, console())
        asking = interactive() and not no_ask and file != "-"
        if not asking:
            app.print_diagnostics(
                [*diagnostics, *(d for i in ingredients for d in pipeline.diagnostics_of(i))], notes=False
            )
            return
        answers = _ask(contributions, database, found_region, everything=ask_all)
    if answers:
        _save(file, answers)


def _read(file: str, region: str | None) -> tuple[Sequence[RecipeLine], Sequence[Food], str, Sequence[Diagnostic]]:
    from mealcalc.recipe.reader import read_batch, read_lines

    from mealcalc.recipe.source import read_source
    from mealcalc.units import METRIC

    if file == "-":
        source = read_source(file)
        used = region or configured_region() or METRIC
        return read_lines(source.text, source.name, used), (), used, source.diagnostics
    found = read_batch(file, region, default_region=configured_region())
    if found.batch is None:
        app.print_diagnostics(found.diagnostics, notes=False)
        return (), (), region or METRIC, ()
    return found.batch.lines, found.batch.own_foods, found.batch.region or METRIC, found.diagnostics


def _parse_choice(text: str, lines: Sequence[RecipeLine], database: FoodDatabase, region: str) -> Decision:
    number, equals, food = text.partition("=")
    if not equals or not number.strip().isdigit() or not food.strip():
        raise UsageError(f"--choose '{text}' is not LINE=FOOD", "for example --choose 8=sr28:20036")
    line = next((line for line in lines if line.span.line == int(number)), None)
    if line is None:
        raise UsageError(f"--choose '{text}': the file has no ingredient on line {number}", "see the first column")
    return _decision(line, food.strip(), database, region)


def _decision(line: RecipeLine, food: str, database: FoodDatabase, region: str) -> Decision:
    today = date.today().isoformat()  # noqa: DTZ011 - the cook's own calendar day is meant
    state = line.state.value if line.state else ""
    if food == NONE:
        return Decision(line.name, BUNDLED_TABLE, NONE, state, region, date=today)
    table, _, code = food.rpartition(":")
    chosen = database.food(table or BUNDLED_TABLE, code)
    if chosen is None:
        raise UsageError(f"no loaded food table holds '{food}'", "look it up with `mealcalc foods search WORDS`")
    return Decision(line.name, chosen.table, chosen.code, state, region, chosen.edition, today)


def _save(file: str, decisions: Sequence[Decision]) -> None:
    path = user_decisions_path() if file == "-" else decisions_path(Path(file))
    save_decisions(path, decisions)
    click.echo(f"saved {len(decisions)} choice{'' if len(decisions) == 1 else 's'} in {path}", err=True)


def _ask(
    contributions: Sequence[Contribution], database: FoodDatabase, region: str, *, everything: bool
) -> list[Decision]:
    doubtful = (LineStatus.UNSURE, LineStatus.UNMATCHED)
    answers: list[Decision] = []
    for c in contributions:
        matched = c.ingredient.matched
        if matched.status is LineStatus.NOT_FOOD or not (everything or matched.status in doubtful):
            continue
        answer = _ask_one(c, database, region)
        if answer == "stop":
            break
        if isinstance(answer, Decision):
            answers.append(answer)
    return answers


def _ask_one(c: Contribution, database: FoodDatabase, region: str) -> Decision | str | None:
    """Ask about one line until there is an answer: a decision, 'stop', or None to leave the line as it is."""
    matched = c.ingredient.matched
    offered = [(f"{x.table}:{x.code}", x.description) for x in matched.runners_up]
    if matched.food is not None:
        offered.insert(0, (f"{matched.food.table}:{matched.food.code}", matched.food.description))
    click.echo(f"\nline {c.line.span.line}: {c.line.text.strip()}")
    while True:
        for number, (key, description) in enumerate(offered, start=1):
            click.echo(f"  {number}  {key}  {description}")
        answer = click.prompt(
            "number, words to search, 'none' (no table holds it), Enter to leave it, 'stop'",
            default="",
            show_default=False,
        ).strip()
        if answer in ("", "stop"):
            return answer or None
        if answer == NONE:
            return _decision(c.line, NONE, database, region)
        if answer.isdigit() and 1 <= int(answer) <= len(offered):
            return _decision(c.line, offered[int(answer) - 1][0], database, region)
        found = database.search(answer, limit=9)
        offered = [(f"{header.table}:{header.code}", header.description) for header in found]
        if not offered:
            click.echo(f"  nothing found for '{answer}'")
