"""Where the energy of a container comes from: a chart as SVG, with words that say the same."""

import io
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mealcalc.records import BatchResult
from mealcalc.reports.pictures import Picture, figure_class
from mealcalc.reports.plain import one_line

if TYPE_CHECKING:
    from matplotlib.figure import Figure

KCAL_PER_G = {"PROCNT_G": 4.0, "FAT_G": 9.0, "CHOAVLDF_G": 4.0, "FIBTG_G": 2.0, "ALC_G": 7.0}
"""General factors; fibre counts 2 kcal per g (Regulation (EU) No 1169/2011, Annex XIV)."""

NAMES = {"PROCNT_G": "protein", "FAT_G": "fat", "CHOAVLDF_G": "carbohydrate", "FIBTG_G": "fibre", "ALC_G": "alcohol"}
COLOURS = {
    "PROCNT_G": "#0f5c4b", "FAT_G": "#e0a030", "CHOAVLDF_G": "#3b6fb6", "FIBTG_G": "#9a6b3f", "ALC_G": "#8b4d8b",
}  # fmt: skip
_HATCHES = {"PROCNT_G": "", "FAT_G": "//", "CHOAVLDF_G": "", "FIBTG_G": "xx", "ALC_G": ".."}
LONGEST_LABEL = 24
MOST_BARS = 12


@dataclass(frozen=True, slots=True)
class EnergySource:
    """Energy of one component of the batch in one container, kcal by food component; what is known of it."""

    name: str
    kcal: dict[str, float]

    @property
    def total(self) -> float:
        """All of it, kcal."""
        return sum(self.kcal.values())


def energy_sources(result: BatchResult) -> tuple[EnergySource, ...]:
    """Energy that protein, fat, carbohydrate, fibre and alcohol of each component bring to a container."""
    containers = result.batch.containers
    return tuple(
        EnergySource(
            one_line(component.component.name, LONGEST_LABEL) or "the batch",
            {key: max(0.0, component.totals[key].amount) * factor / containers for key, factor in KCAL_PER_G.items()},
        )
        for component in result.components
    )


def in_words(sources: Sequence[EnergySource]) -> str:
    """What the chart shows, for those who do not see it."""
    parts = []
    for source in sources:
        shares = ", ".join(f"{NAMES[key]} {kcal:.0f}" for key, kcal in source.kcal.items() if kcal >= 0.5)
        parts.append(f"{source.name} {source.total:.0f} kcal{f' ({shares})' if shares else ''}")
    return f"Energy of one container by component, in kcal: {'; '.join(parts)}."


def energy_chart(sources: Sequence[EnergySource]) -> str:
    """A stacked bar for each component, the first on top, as an `svg` element; '' where there is no energy."""
    from matplotlib import rc_context
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    shown = sources[:MOST_BARS]
    longest = max((source.total for source in shown), default=0.0)
    if longest <= 0:
        return ""
    stream = io.StringIO()
    # Letters stay text, so that the reader's own fonts draw every script; the salt keeps the file the same every time.
    with (
        rc_context({"svg.fonttype": "none", "svg.hashsalt": "mealcalc", "font.size": 11, "hatch.linewidth": 0.6}),
        warnings.catch_warnings(),
    ):
        warnings.simplefilter("ignore")  # a letter that the measuring font lacks is drawn by the reader's font
        figure = Figure(figsize=(5.4, 1.5 + 0.45 * len(shown)), layout="constrained")
        FigureCanvasSVG(figure)
        _draw(figure, shown)
        figure.savefig(stream, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    return _for_page(stream.getvalue(), in_words(sources))


def energy_picture(result: BatchResult) -> Picture:
    """Where the energy of a container comes from: a bar for each component, by what brings it, by general factors.

    Raises
    ------
    UsageError
        If matplotlib is not installed.
    """
    sources = energy_sources(result)[:MOST_BARS]
    figure = figure_class()(figsize=(7.0, 1.5 + 0.45 * len(sources)), layout="constrained")
    _draw(figure, sources)
    return Picture(figure, in_words(sources))


def _draw(figure: "Figure", shown: Sequence[EnergySource]) -> None:
    """A stacked bar for each component, the first on top."""
    longest = max((source.total for source in shown), default=0.0)
    axes = figure.subplots()
    places = range(len(shown) - 1, -1, -1)
    starts = [0.0] * len(shown)
    for key, colour in COLOURS.items():
        widths = [source.kcal[key] for source in shown]
        if max(widths) < 0.5:
            continue
        axes.barh(
            places, widths, left=starts, height=0.62, color=colour, label=NAMES[key], hatch=_HATCHES[key],
            edgecolor="white",
        )  # fmt: skip
        starts = [start + width for start, width in zip(starts, widths, strict=True)]
    for place, source in zip(places, shown, strict=True):
        axes.text(source.total + longest * 0.01, place, f"{source.total:.0f}", va="center", parse_math=False)
    axes.set_yticks(list(places), [source.name for source in shown], parse_math=False)
    axes.set_xlabel("kcal in one container")
    axes.set_xlim(0, (longest or 1.0) * 1.12)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.tick_params(left=False)
    if longest > 0:
        figure.legend(loc="outside upper left", ncols=3, frameon=False, handlelength=1.2, columnspacing=1.0)


def _for_page(document: str, words: str) -> str:
    """The `svg` element of a document without its own size, with its description."""
    from markupsafe import escape

    start = document.index("<svg")
    element = document[start:]
    head, rest = element.split(">", 1)
    view = next(part for part in head.split('"') if part.startswith("0 0 "))
    metadata = rest.find("</metadata>")
    if metadata >= 0:
        rest = rest[metadata + len("</metadata>") :]
    opening = f'<svg xmlns:xlink="http://www.w3.org/1999/xlink" xmlns="http://www.w3.org/2000/svg" viewBox="{view}"'
    return f'{opening} role="img" aria-label="{escape(words)}">{rest}'
