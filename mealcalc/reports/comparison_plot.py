"""Ways to make a batch as a picture: one panel for each measure, one row for each way, with 90 % intervals.

Colours are of the palette of Okabe and Ito, which the colour-blind tell apart; whether a difference is smaller than its
uncertainty is told by the shape of the mark as well.
"""

from typing import TYPE_CHECKING

from mealcalc.records.comparison import (
    ENERGY,
    FAT,
    PROTEIN,
    SHOWN,
    ComparedFigure,
    ComparedOption,
    Comparison,
    Measure,
    Verdict,
)
from mealcalc.reports.comparison_text import heading_of, signed
from mealcalc.reports.pictures import Picture, figure_class, label_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

LONGEST_LABEL = 34
LONGEST_TITLE = 70

AS_WRITTEN, SURE, UNSURE = "#000000", "#0072B2", "#D55E00"
_BAND, _RULE = "#EDEDED", "#BDBDBD"
_ROW_INCHES, _PANEL_INCHES, _LABEL_INCHES, _FRAME_INCHES = 0.44, 2.1, 2.2, 1.5


def comparison_picture(comparison: Comparison) -> Picture:
    """The picture of a comparison, as `mealcalc compare --plot` writes it.

    Raises
    ------
    UsageError
        If matplotlib is not installed.
    """
    shown = (PROTEIN.key, FAT.key, ENERGY.key)
    ways = (
        f"{option.name}: "
        + ", ".join(
            f"{m.name} {option.figures[m.key].amount:.{m.decimals}f} {m.unit}"
            for m in SHOWN
            if m.key in shown and option.figures[m.key].amount is not None
        )
        for option in comparison.options
    )
    return Picture(_figure(comparison), f"{comparison.title}, in one container. {'; '.join(ways)}.")


def _figure(comparison: Comparison) -> "Figure":
    options = comparison.options
    measures = [m for m in comparison.measures if any(o.figures[m.key].amount is not None for o in options)]
    width = _LABEL_INCHES + _PANEL_INCHES * len(measures)
    figure = figure_class()(figsize=(width, _FRAME_INCHES + _ROW_INCHES * len(options)), dpi=150, layout="constrained")
    panels = figure.subplots(1, max(1, len(measures)), sharey=True, squeeze=False)[0]
    for measure, axes in zip(measures, panels, strict=False):
        _panel(axes, measure, options, label_of(heading_of(measure, comparison.currency), LONGEST_LABEL))
    panels[0].set_yticks(range(len(options)), [label_of(option.name, LONGEST_LABEL) for option in options])
    panels[0].set_ylim(len(options) - 0.5, -0.5)
    figure.suptitle(f"{label_of(comparison.title, LONGEST_TITLE)}, in one container", fontsize=11, fontweight="bold")
    _legend(figure)
    return figure


def _panel(axes: "Axes", measure: Measure, options: tuple[ComparedOption, ...], heading: str) -> None:
    reference = options[0].figures[measure.key]
    if reference.low is not None and reference.high is not None:
        axes.axvspan(reference.low, reference.high, color=_BAND, lw=0, zorder=0)
    if reference.amount is not None and reference.complete:
        axes.axvline(reference.amount, color=_RULE, lw=1, zorder=1)
    for row, option in enumerate(options):
        _mark(axes, row, option.figures[measure.key], measure)
    axes.set_title(heading.replace(", ", "\n"), fontsize=9)
    axes.tick_params(axis="x", labelsize=8)
    axes.tick_params(axis="y", labelsize=9, length=0)
    axes.margins(x=0.2)
    axes.locator_params(axis="x", nbins=4)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.axhline(0.5, color=_RULE, lw=0.8)


def _mark(axes: "Axes", row: int, figure: ComparedFigure, measure: Measure) -> None:
    if figure.amount is None:
        axes.annotate("?", (0.5, row), xycoords=("axes fraction", "data"), ha="center", va="center", fontsize=9)
        return
    unsure = figure.verdict in (Verdict.UNSURE, Verdict.UNKNOWN)
    colour = AS_WRITTEN if figure.verdict in (Verdict.REFERENCE, Verdict.SAME) else UNSURE if unsure else SURE
    if figure.low is not None and figure.high is not None:
        axes.plot([figure.low, figure.high], [row, row], color=colour, lw=2, solid_capstyle="butt", zorder=2)
    face = "white" if unsure else colour
    shape = "o" if figure.complete else ">"
    axes.plot([figure.amount], [row], shape, color=colour, mfc=face, mew=1.5, ms=6, zorder=3)
    words = f"{figure.amount:.{measure.decimals}f}"
    if figure.difference is not None and figure.verdict is not Verdict.SAME:
        words += f" ({signed(figure.difference, measure.decimals)})"
    axes.annotate(words, (figure.amount, row), xytext=(0, 5), textcoords="offset points", ha="center", fontsize=7)


def _legend(figure: "Figure") -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    marks = [
        Line2D([], [], color=AS_WRITTEN, marker="o", ms=6, lw=2, label="as written, or the same"),
        Line2D([], [], color=SURE, marker="o", ms=6, lw=2, label="differs"),
        Line2D(
            [], [], color=UNSURE, marker="o", mfc="white", mew=1.5, ms=6, lw=2, label="smaller than its uncertainty"
        ),
        Patch(color=_BAND, label="90 % interval as written"),
    ]
    figure.legend(handles=marks, loc="outside lower center", ncols=4, frameon=False, fontsize=8)
