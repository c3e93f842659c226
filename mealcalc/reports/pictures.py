"""Pictures: matplotlib is imported here alone, when a picture is asked for, and written to a file."""

import warnings
from pathlib import Path
from typing import TYPE_CHECKING

from mealcalc.errors import UsageError
from mealcalc.reports.plain import one_line

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ENDINGS = (".png", ".svg", ".pdf")


def figure_class() -> "type[Figure]":
    """The class of figures, which needs no screen.

    Raises
    ------
    UsageError
        If matplotlib is not installed.
    """
    try:
        from matplotlib.figure import Figure
    except ImportError as error:
        raise UsageError("matplotlib is not installed", "pip install 'mealcalc[plots]'") from error
    return Figure


def label_of(text: str, longest: int) -> str:
    """`text` of a recipe as a label: on one line, of at most `longest` characters, dollar signs being no formulae."""
    return one_line(text, longest).replace("$", r"\$")


def check_picture(path: Path) -> None:
    """Raise `UsageError` if the ending of `path` is no picture's that can be written."""
    if path.suffix.lower() not in ENDINGS:
        raise UsageError(f"{path}: a picture ends in {', '.join(ENDINGS)}", f"name it {path.stem or 'chart'}.png")


def write_picture(figure: "Figure", path: Path) -> None:
    """Write a figure; the same figure gives the same file.

    Raises
    ------
    UsageError
        If the ending is no picture's, or the place refuses.
    """
    check_picture(path)
    undated = {".svg": {"Date": None}, ".pdf": {"CreationDate": None}}
    try:
        with warnings.catch_warnings():
            # A sign that the font lacks is drawn as a box.
            warnings.filterwarnings("ignore", message="Glyph .* missing from", category=UserWarning)
            figure.savefig(path, metadata=undated.get(path.suffix.lower()))
    except OSError as error:
        raise UsageError(f"{path}: cannot be written: {error.strerror or error}", "name another place") from error
