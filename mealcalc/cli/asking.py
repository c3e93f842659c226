"""Asks the cook about doubtful lines in a terminal."""

from collections.abc import Sequence
from datetime import date

import click

from mealcalc.errors import UsageError
from mealcalc.fooddb import BUNDLED_TABLE, FoodDatabase
from mealcalc.matching.decisions import NONE, Decision, decision_phrase
from mealcalc.records import Contribution, Food, LineStatus, RecipeLine
from mealcalc.reports.plain import LONGEST_LINE, one_line

MOST_OFFERED = 9

_DOUBTFUL = (LineStatus.UNSURE, LineStatus.UNMATCHED)
_STOP = "stop"
_QUESTION = "number, other words to search, 'none', Enter to leave it, 'stop'"


def ask(
    contributions: Sequence[Contribution],
    own_foods: Sequence[Food],
    database: FoodDatabase,
    region: str,
    *,
    everything: bool,
) -> list[Decision]:
    """The cook's answers to the doubtful lines, or to all lines with a food.

    Ctrl-C or the end of input stops asking; what was answered before counts.
    """
    asked = [
        c
        for c in contributions
        if c.ingredient.matched.status in _DOUBTFUL
        or (everything and c.ingredient.matched.status is not LineStatus.NOT_FOOD)
    ]
    answers: list[Decision] = []
    try:
        for number, c in enumerate(asked, start=1):
            click.echo(f"\n{number} of {len(asked)}, line {c.line.span.line}: {one_line(c.line.text, LONGEST_LINE)}")
            food = _ask_one(c, database)
            if food == _STOP:
                break
            if food:
                answers.append(decision(c.line, food, own_foods, database, region))
    except click.Abort:
        click.echo()
    return answers


def decision(line: RecipeLine, food: str, own_foods: Sequence[Food], database: FoodDatabase, region: str) -> Decision:
    """The decision that `line` is `food`: TABLE:CODE, CODE of the bundled table, or 'none'.

    Raises
    ------
    UsageError
        If the line names no food, or no table holds the code.
    """
    if not line.name:
        raise UsageError(f"line {line.span.line} names no food that a choice could be saved for", "write it there")
    phrase = decision_phrase(line)
    today = date.today().isoformat()  # noqa: DTZ011 - the cook's own calendar day is meant
    state = line.state.value if line.state else ""
    if food == NONE:
        return Decision(phrase, BUNDLED_TABLE, NONE, state, region, date=today)
    table, _, code = food.rpartition(":")
    table = table or BUNDLED_TABLE
    own = next((own for own in own_foods if (own.table, own.code) == (table, code)), None)
    chosen = own or database.food(table, code)
    if chosen is None:
        raise UsageError(
            f"no loaded food table holds '{food}'",
            "look it up with `mealcalc foods search WORDS`; codes keep their zeros in front, such as sr28:01123",
        )
    return Decision(phrase, chosen.table, chosen.code, state, region, chosen.edition, today)


def _ask_one(c: Contribution, database: FoodDatabase) -> str:
    """The food that the cook names for a line, 'none', 'stop', or '' to leave the line as it is."""
    matched = c.ingredient.matched
    offered = [(f"{x.table}:{x.code}", x.description) for x in matched.runners_up if x.code != NONE]
    if matched.food is not None:
        offered.insert(0, (f"{matched.food.table}:{matched.food.code}", matched.food.description))
    while True:
        for number, (key, description) in enumerate(offered, start=1):
            click.echo(f"  {number}  {key}  {one_line(description, LONGEST_LINE)}")
        answer = click.prompt(_QUESTION, default="", show_default=False).strip()
        if answer in ("", _STOP, NONE):
            return str(answer)
        if answer.isascii() and answer.isdigit() and 1 <= int(answer) <= len(offered):
            return offered[int(answer) - 1][0]
        if database.food(*_as_key(answer)) is not None:
            return str(answer)
        found = database.search(answer, limit=MOST_OFFERED)
        offered = [(f"{header.table}:{header.code}", header.description) for header in found]
        if not offered:
            click.echo(f"  nothing found for '{one_line(answer, LONGEST_LINE)}'")


def _as_key(answer: str) -> tuple[str, str]:
    table, _, code = answer.rpartition(":")
    return table or BUNDLED_TABLE, code
