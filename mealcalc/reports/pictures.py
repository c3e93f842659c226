"""Pictures: figures of matplotlib, imported when a picture is asked for, with words that say what they show."""

import io
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from mealcalc.errors import UsageError
from mealcalc.reports.plain import one_line

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ENDINGS = (".png", ".svg", ".pdf")
_NO_GLYPH = "Glyph .* missing from"


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture: a matplotlib figure, and `words` for those who do not see it. A notebook shows it by itself."""

    figure: "Figure"
    words: str

    def save(self, path: str | Path) -> None:
        """Write it to a file that ends in .png, .svg or .pdf; the same picture gives the same file.

        Raises
        ------
        UsageError
            If the ending is no picture's, or the place refuses.
        """
        write_picture(self.figure, Path(path))

    def _repr_png_(self) -> tuple[bytes, dict[str, str]]:
        """The picture as notebooks ask for it, with its words as metadata."""
        stream = io.BytesIO()
        with warnings.catch_warnings():
            warnings.filterwarnings("ignore", message=_NO_GLYPH, category=UserWarning)
            self.figure.savefig(stream, format="png", dpi=100)
        return stream.getvalue(), {"alt": self.words}


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
            warnings.filterwarnings("ignore", message=_NO_GLYPH, category=UserWarning)
            figure.savefig(path, metadata=undated.get(path.suffix.lower()))
    except OSError as error:
        raise UsageError(f"{path}: cannot be written: {error.strerror or error}", "name another place") from error
