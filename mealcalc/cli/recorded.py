"""The option to calculate a batch as it was cooked, and what it reads."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.cli import app
from mealcalc.cli.inputs import STANDARD_INPUT
from mealcalc.errors import UsageError

if TYPE_CHECKING:
    from mealcalc.diagnostics import Diagnostic
    from mealcalc.records import Batch
    from mealcalc.records.portions import CookedBatch

LATEST = "latest"


def _checked(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """The value if it says a day; a usage error that says where FILE goes, before a file name is taken for it."""
    text = None if value is None else value.strip().lower()
    if text not in (None, LATEST):
        try:
            date.fromisoformat(text)
        except ValueError:
            message = f"'{value}' is no date such as 2026-11-24; FILE goes before --as-cooked"
            raise click.BadParameter(message, ctx, param) from None
    return text


def as_cooked_option(command: app.Command) -> app.Command:
    """The option for the real pot: with a day, or without one for the latest cooking."""
    return click.option(
        "--as-cooked",
        callback=_checked,
        is_flag=False,
        flag_value=LATEST,
        default=None,
        metavar="[DATE]",
        help="As recorded in <batch>.cooked.yaml: pots, residue, containers made. Without DATE the latest. Goes last.",
    )(command)


def recorded_day(option: str) -> date | None:
    """The day of the option; None for the latest cooking."""
    return None if option == LATEST else date.fromisoformat(option)


def cooked_day(file: str, option: str | None) -> date | None:
    """The day of the cooking that the option means; None without the option. Errors as of `as_recorded`."""
    return None if option is None else _cooking(file, option).day


def as_recorded(
    batch: "Batch", file: str, option: str, variant: str | None, *, retitled: bool = True
) -> "tuple[Batch, tuple[Diagnostic, ...]]":
    """The batch of FILE as it was cooked, and what differs from the plan.

    Raises
    ------
    UsageError
        If no such cooking is recorded, or that of another variant.
    ConfigurationError
        If the journal is damaged.
    """
    from mealcalc.planning.as_cooked import as_cooked

    return as_cooked(batch, _cooking(file, option), variant, retitled=retitled)


def _cooking(file: str, option: str) -> "CookedBatch":
    if file == STANDARD_INPUT:
        raise UsageError("standard input has no journal beside it", "save the batch as a file")
    from mealcalc.planning.cooked_record import cooked_path, cooking_of

    return cooking_of(cooked_path(Path(file)), recorded_day(option))
