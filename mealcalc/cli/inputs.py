"""What commands need before they compute: the recipe, the configured region, saved decisions, an open food database.

A damaged configuration or decisions file does not stop a calculation: it becomes an error among the findings, and what
can be computed without it is.
"""

import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from mealcalc.cli.configuration import load_configuration, user_decisions_path
from mealcalc.cli.streams import tell
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import ConfigurationError, InputFileError, UsageError
from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.matching.decisions import Decisions, decisions_path, load_decisions
from mealcalc.recipe.reader import ReadResult, read_batch
from mealcalc.records import Contribution, LineStatus
from mealcalc.units import check_region

STANDARD_INPUT = "-"

DAMAGE = (ValueError, RecursionError)
"""What reading a damaged YAML file can raise beside errors of its own: a date that no calendar has, nesting beyond
sense."""


def chosen_region(option: str | None) -> str | None:
    """The region of the option, or None; raises `UsageError` when it is unknown."""
    return check_region(option.strip().lower()) if option is not None else None


def configured_region() -> tuple[str | None, list[Diagnostic]]:
    """The region of the configuration file for recipes that name none, and what is wrong with that file."""
    try:
        return load_configuration().region, []
    except ConfigurationError as error:
        return None, [_unusable("configuration", error.message, error.hint)]


def read_recipe(file: str, region: str | None) -> ReadResult:
    """The batch in FILE or on standard input, with all findings.

    Raises
    ------
    UsageError
        If `region` is unknown, or there is no such file.
    InputFileError
        If the file cannot be read.
    """
    argument = chosen_region(region)
    default, found = configured_region()
    try:
        read = read_batch(file, argument, default_region=default)
    except InputFileError as error:
        if isinstance(error.__cause__, FileNotFoundError) or (file != STANDARD_INPUT and Path(file).is_dir()):
            raise UsageError(error.message, error.hint) from error
        raise
    return ReadResult(read.batch, (*found, *read.diagnostics), read.region_ground)


def saved_decisions(file: str) -> tuple[Decisions, list[Diagnostic]]:
    """The decisions beside the recipe, then the user's own; and what is wrong with a file that was left out."""
    beside = [] if file == STANDARD_INPUT else [decisions_path(Path(file))]
    usable: list[Path] = []
    found: list[Diagnostic] = []
    for path in (*beside, user_decisions_path()):
        try:
            load_decisions(path)
        except ConfigurationError as error:
            found.append(_unusable("decisions", error.message, error.hint))
        except (OSError, *DAMAGE) as error:
            found.append(_unusable("decisions", f"{path}: {error}", "mend the file or move it away"))
        else:
            usable.append(path)
    return load_decisions(*usable), found


@contextmanager
def foods() -> Iterator[FoodDatabase]:
    """The food database, built with a word to the user on first use."""
    with open_database(progress=tell) as database:
        yield database


def interactive() -> bool:
    """Whether a person sits at both ends."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def uncounted(contributions: Iterable[Contribution]) -> bool:
    """Whether a line that should count does not: no food, or no weight."""
    left_out = (LineStatus.NOT_COUNTED, LineStatus.NOT_FOOD)
    return any(c.ingredient.mass_g is None and c.ingredient.matched.status not in left_out for c in contributions)


def guessed(contributions: Sequence[Contribution]) -> bool:
    """Whether the food of a line is a guess."""
    return any(c.ingredient.matched.status is LineStatus.UNSURE for c in contributions)


def _unusable(kind: str, message: str, hint: str) -> Diagnostic:
    return Diagnostic(f"unusable-{kind}", Severity.ERROR, f"the saved {kind} are not used: {message}", None, hint)
