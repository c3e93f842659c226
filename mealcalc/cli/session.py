"""What commands need before they compute: the configured region, saved decisions, an open food database."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager

import click
from mealcalc.cli.configuration import load_configuration, user_decisions_path

from mealcalc.cli.app import recipe_path
from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.matching.decisions import Decisions, decisions_path, load_decisions
from mealcalc.units import check_region


def chosen_region(option: str | None) -> str | None:
    """The region of the option, or None; raises `UsageError` when it is unknown."""
    return check_region(option) if option else None


def configured_region() -> str | None:
    """The region of the configuration file, for recipes that name none."""
    return load_configuration().region


def saved_decisions(file: str) -> Decisions:
    """The decisions beside the recipe, then the user's own."""
    path = recipe_path(file)
    beside = [decisions_path(path)] if path is not None else []
    return load_decisions(*beside, user_decisions_path())


@contextmanager
def foods() -> Iterator[FoodDatabase]:
    """The food database, built with a word to the user on first use."""
    with open_database(progress=_say) as database:
        yield database


def _say(message: str) -> None:
    click.echo(message, err=True)


def interactive() -> bool:
    """Whether a person sits at both ends."""
    return sys.stdin.isatty() and sys.stdout.isatty()
