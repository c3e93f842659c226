"""The command group, its one catch point for errors, and the options that commands share."""

import sys
from collections.abc import Callable, Iterable
from importlib import import_module
from typing import Any, TypeVar

import click

from mealcalc.cli import STOPPED
from mealcalc.cli.streams import tell
from mealcalc.diagnostics import Diagnostic, Severity, has_errors, render_text
from mealcalc.errors import MealcalcError, UsageError

BAD_DATA = 1
WRONG_USAGE = 2

ALWAYS_TOLD = frozenset({"region-assumed", "containers-assumed"})
"""Notes that are shown unasked: they say what the figures rest on where the recipe says nothing."""

# Commands are imported when they are called, so that no command pays for another one's imports.
_COMMANDS = {
    "macros": "mealcalc.cli.macros",
    "match": "mealcalc.cli.match",
    "foods": "mealcalc.cli.foods",
    "explain": "mealcalc.cli.explain",
    "claimed": "mealcalc.cli.claimed",
    "compare": "mealcalc.cli.compare",
    "aim": "mealcalc.cli.aim",
    "panel": "mealcalc.cli.panel",
    "publish": "mealcalc.cli.publish",
    "freeze": "mealcalc.cli.freeze",
    "cost": "mealcalc.cli.cost",
    "prices": "mealcalc.cli.prices",
    "shop": "mealcalc.cli.shop",
    "scale": "mealcalc.cli.scale",
    "portion": "mealcalc.cli.portion",
    "keep": "mealcalc.cli.keep",
    "cool": "mealcalc.cli.cool",
    "freezer": "mealcalc.cli.freezer",
    "check": "mealcalc.cli.check",
    "example": "mealcalc.cli.example",
}

_SEVERITIES = list(Severity)

Command = TypeVar("Command", bound=Callable[..., Any])


class _Failure(click.ClickException):
    """An error of the library as the command line shows it: what, then the way out."""

    exit_code = BAD_DATA

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint

    def show(self, file: Any = None) -> None:  # noqa: ARG002 - click's signature
        tell(f"error: {self.message}")
        if self.hint:
            tell(f"  hint: {self.hint}")


class _WrongUsage(_Failure):
    """The same for a command called in a way it cannot serve."""

    exit_code = WRONG_USAGE


class LazyGroup(click.Group):
    """A group that imports a command's module when the command is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """Names in the order of a cook's work."""
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The command, imported now; None if there is none of that name."""
        if cmd_name not in _COMMANDS:
            return None
        command: click.Command = import_module(_COMMANDS[cmd_name]).command
        return command

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; errors end in a line with the way out, not in a traceback."""
        try:
            return super().invoke(ctx)
        except MealcalcError as error:
            failure = _WrongUsage if isinstance(error, UsageError) else _Failure
            raise failure(error.message, error.hint) from error
        except KeyboardInterrupt:
            tell("stopped")
            raise click.exceptions.Exit(STOPPED) from None


def _show_version(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if wanted:
        from importlib.metadata import PackageNotFoundError, version

        try:
            click.echo(f"mealcalc {version('mealcalc')}")
        except PackageNotFoundError:
            click.echo("mealcalc, run from its source without being installed")
        ctx.exit()


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.option(
    "--version", is_flag=True, is_eager=True, expose_value=False, callback=_show_version, help="Show the version."
)
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


def grounds_option(command: Command) -> Command:
    """The option to say where grams come from."""
    return click.option("--grounds", is_flag=True, help="Say of each line why we believe its grams.")(command)


def strict_option(command: Command) -> Command:
    """The option to fail on a guess."""
    return click.option("--strict", is_flag=True, help="Exit status 1 for a food that is a guess, too.")(command)


def file_argument(command: Command) -> Command:
    """The recipe file, or - for standard input."""
    return click.argument("file", metavar="FILE", type=str)(command)


def refuse_both(as_json: bool, as_csv: bool) -> None:
    """Stop a call that asks for two machine shapes at once."""
    if as_json and as_csv:
        raise click.UsageError("--json and --csv exclude each other")


def in_order(diagnostics: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Findings, each once: errors, then warnings, then notes, by file and line."""

    def place(diagnostic: Diagnostic) -> tuple[int, str, int, int]:
        span = diagnostic.span
        where = ("", 0, 0) if span is None else (span.file, span.line, span.column)
        return (_SEVERITIES.index(diagnostic.severity), *where)

    return sorted(dict.fromkeys(diagnostics), key=place)


def tell_diagnostics(diagnostics: Iterable[Diagnostic], *, notes: bool) -> None:
    """Print findings on standard error, the worst first, each once."""
    for diagnostic in in_order(diagnostics):
        if notes or diagnostic.severity is not Severity.NOTE or diagnostic.code in ALWAYS_TOLD:
            tell(render_text(diagnostic))


def leave(diagnostics: Iterable[Diagnostic], *, uncounted: bool = False, guessed: bool = False) -> None:
    """End the command with the exit status that its findings call for.

    uncounted: whether a line that should count does not. guessed: whether a guess is to fail the command.
    """
    if uncounted or guessed or has_errors(diagnostics):
        sys.exit(BAD_DATA)
