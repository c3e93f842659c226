"""The command group, its one catch point for errors, and the options that commands share."""

import json
import sys
from collections.abc import Callable, Iterable
from importlib import import_module
from pathlib import Path
from typing import Any, TypeVar

import click

from mealcalc.diagnostics import Diagnostic, Severity, has_errors, render_text
from mealcalc.errors import MealcalcError, UsageError

BAD_DATA = 1
WRONG_USAGE = 2

# Commands are imported when they are called, so that no command pays for another one's imports.
_COMMANDS = {
    "macros": "mealcalc.cli.macros",
    "match": "mealcalc.cli.match",
    "foods": "mealcalc.cli.foods",
    "check": "mealcalc.cli.check",
    "example": "mealcalc.cli.example",
}

Command = TypeVar("Command", bound=Callable[..., Any])


class _Failure(click.ClickException):
    """An error of the library as the command line shows it: what, then the way out."""

    def __init__(self, error: MealcalcError) -> None:
        super().__init__(error.message)
        self.hint = error.hint
        self.exit_code = WRONG_USAGE if isinstance(error, UsageError) else BAD_DATA

    def show(self, file: Any = None) -> None:
        stream = file or click.get_text_stream("stderr")
        click.echo(f"error: {self.message}", file=stream)
        if self.hint:
            click.echo(f"  hint: {self.hint}", file=stream)


class LazyGroup(click.Group):
    """A group that imports a command's module when the command is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order of a cook's work."""
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command, imported now; None if there is none of that name."""
        if cmd_name not in _COMMANDS:
            return None
        command: click.Command = import_module(_COMMANDS[cmd_name]).command
        return command

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; errors of the library end in one line each, not in a traceback."""
        try:
            return super().invoke(ctx)
        except MealcalcError as error:
            raise _Failure(error) from error


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="mealcalc")
def app() -> None:
    """Energy, fat, carbohydrate and protein of a cooked batch, per component and per container.

    Every figure traces back to a line of the recipe, a food of a named table and a stated ground.
    """


def region_option(command: Command) -> Command:
    """The one region option of all commands."""
    return click.option(
        "--region",
        metavar="REGION",
        help="au nz uk ie us ca in eu: decides spoons, cups, pack sizes and names. Overrules the file.",
    )(command)


def json_option(command: Command) -> Command:
    """The option to answer in JSON."""
    return click.option("--json", "as_json", is_flag=True, help="Answer as JSON for programs.")(command)


def csv_option(command: Command) -> Command:
    """The option to answer in CSV."""
    return click.option("--csv", "as_csv", is_flag=True, help="Answer as CSV for programs and spreadsheets.")(command)


def file_argument(command: Command) -> Command:
    """The recipe file, or - for standard input."""
    return click.argument("file", metavar="FILE", type=str)(command)


def refuse_both(as_json: bool, as_csv: bool) -> None:
    """Stop a call that asks for two machine shapes at once."""
    if as_json and as_csv:
        raise click.UsageError("--json and --csv exclude each other")


def print_json(shape: object) -> None:
    """Print one JSON document."""
    click.echo(json.dumps(shape, ensure_ascii=False, indent=2, allow_nan=False))


def print_diagnostics(diagnostics: Iterable[Diagnostic], *, notes: bool) -> None:
    """Print findings on standard error, the worst first, each once."""
    order = [Severity.ERROR, Severity.WARNING, Severity.NOTE]
    shown = [d for d in dict.fromkeys(diagnostics) if notes or d.severity is not Severity.NOTE]
    for diagnostic in sorted(shown, key=lambda d: order.index(d.severity)):
        click.echo(render_text(diagnostic), err=True)


def leave(diagnostics: Iterable[Diagnostic], *, strict: bool, unsure: bool = False) -> None:
    """End the command with the exit status that the findings call for."""
    if has_errors(diagnostics) or (strict and unsure):
        sys.exit(BAD_DATA)


def recipe_path(file: str) -> Path | None:
    """The recipe as a path, or None for standard input."""
    return None if file == "-" else Path(file)
