"""What the commands about labels share: the scheme of a batch, its panel, options, files."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mealcalc.cli.app import Command
from mealcalc.errors import UsageError
from mealcalc.records import BatchResult
from mealcalc.reference.label_tolerances import SCHEME_OF_REGION, SCHEMES

if TYPE_CHECKING:
    from mealcalc.labelling.panel_input import PanelInput

HEAVIEST_G = 10_000_000.0
MOST_SERVINGS = 1000.0


_amount = click.FloatRange(0, HEAVIEST_G, min_open=True)
_reference_option = click.option(
    "--reference-amount",
    "reference_amount_g",
    type=_amount,
    metavar="G",
    help="Reference amount of the law for such food in g (us, ca): decides which claim criteria apply.",
)
_servings_option = click.option(
    "--servings",
    type=click.FloatRange(0, MOST_SERVINGS, min_open=True),
    default=1.0,
    metavar="N",
    help="Servings in one container; default 1.",
)
_volume_option = click.option(
    "--volume",
    "volume_ml",
    type=_amount,
    metavar="ML",
    help="Volume of the whole batch in ml, for a drink: figures per 100 ml.",
)
_weight_option = click.option(
    "--cooked-weight",
    "cooked_mass_g",
    type=_amount,
    metavar="G",
    help="Weight of the whole cooked batch in g, from the scale. Overrules the file.",
)


def scheme_option(command: Command) -> Command:
    """The labelling law."""
    return click.option(
        "--scheme", metavar="SCHEME", help=f"Labelling law: {' '.join(SCHEMES)}. Default: that of the region."
    )(command)


def package_options(command: Command) -> Command:
    """What the recipe cannot say about a package."""
    return _reference_option(_servings_option(_volume_option(_weight_option(command))))


def scheme_of(named: str | None, result: BatchResult) -> str:
    """The scheme that was named, or that of the region.

    Raises
    ------
    UsageError
        If the scheme is unknown, or none was named and the region has none.
    """
    from mealcalc.labelling.schemes import scheme_named

    if named is not None:
        return scheme_named(named).name
    found = SCHEME_OF_REGION.get(result.region)
    if found is None:
        raise UsageError(
            f"no labelling scheme is known for region '{result.region}'", f"name one: --scheme {'|'.join(SCHEMES)}"
        )
    return found


def dish_of(
    result: BatchResult,
    *,
    cooked_mass_g: float | None = None,
    volume_ml: float | None = None,
    servings: float = 1.0,
    reference_amount_g: float | None = None,
) -> "PanelInput":
    """What the panels of a calculated batch are made from."""
    from mealcalc.planning.label import panel_input

    return panel_input(
        result,
        cooked_mass_g=cooked_mass_g,
        volume_ml=volume_ml,
        servings_per_package=servings,
        reference_amount_g=reference_amount_g,
    )


def write_answer(path: Path | None, answer: bytes) -> None:
    """Write an answer to a file, or as it is to standard output.

    Raises
    ------
    UsageError
        If the file cannot be written.
    """
    if path is None:
        # Bytes as they are: what a file or a pipe gets must not depend on the encoding of this terminal.
        sys.stdout.flush()
        sys.stdout.buffer.write(answer)
        sys.stdout.buffer.flush()
        return
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(answer)
    except OSError as error:
        raise UsageError(f"{path}: cannot be written: {error.strerror or error}", "name another place") from error


def to_terminal(path: Path | None) -> bool:
    """Whether an answer would go to a terminal."""
    return path is None and sys.stdout.isatty()
