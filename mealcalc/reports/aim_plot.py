"""Portions for targets as a picture: grams beside an even share, figures beside their limits.

Colours are of the palette of Okabe and Ito, which the colour-blind tell apart; components are told apart by hatching as
well, what is found from what would be without targets by filled and hollow marks.
"""

from typing import TYPE_CHECKING

from mealcalc.records.aimed import Aimed, AimedContainer
from mealcalc.records.targets import Bound, amount_text, name_of, unit_of
from mealcalc.reports.aim_text import decimals_of
from mealcalc.reports.pictures import Picture, figure_class, label_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

COLOURS = ("#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#F0E442", "#999999")
_HATCHES = ("", "//", "", "..", "", "xx", "")
FOUND, EVEN, MISSED, ALLOWED = "#000000", "#8C8C8C", "#D55E00", "#DCE9F3"
MOST_PANELS = 4
"""Quantities that stand beside the grams: those with targets first."""

LONGEST_NAME, LONGEST_TITLE = 26, 70
_ROW_INCHES, _PANEL_INCHES, _GRAMS_INCHES, _FRAME_INCHES = 0.75, 2.1, 4.2, 1.4


def portions_picture(aimed: Aimed) -> Picture:
    """The picture of what was aimed at: each eater's container with and without targets, and the limits.

    Raises
    ------
    UsageError
        If matplotlib is not installed.
    """
    rows = aimed.containers
    keys = list(dict.fromkeys([j.target.key for c in rows for j in c.judged] + ["ENERC_KCAL", "PROCNT_G"]))[
        :MOST_PANELS
    ]
    figure = figure_class()(
        figsize=(_GRAMS_INCHES + _PANEL_INCHES * len(keys), _FRAME_INCHES + _ROW_INCHES * len(rows)),
        dpi=150,
        layout="constrained",
    )
    ratios = [_GRAMS_INCHES, *(_PANEL_INCHES for _ in keys)]
    panels = figure.subplots(1, len(keys) + 1, sharey=True, squeeze=False, width_ratios=ratios)[0]
    _grams(panels[0], aimed)
    for key, axes in zip(keys, panels[1:], strict=True):
        _quantity(axes, key, rows, aimed.currency)
    panels[0].set_yticks(range(len(rows)), [_row_name(container) for container in rows])
    panels[0].set_ylim(len(rows) - 0.5, -0.5)
    ending = "" if aimed.kept else " (a compromise: not all limits can be kept)"
    figure.suptitle(f"{label_of(aimed.title, LONGEST_TITLE)}, one container{ending}", fontsize=11, fontweight="bold")
    _legend(figure, aimed)
    return Picture(figure, _words(aimed))


def _row_name(container: AimedContainer) -> str:
    number = f"{container.containers} container{'' if container.containers == 1 else 's'}"
    return f"{label_of(container.eater, LONGEST_NAME)}\n{number}" if container.eater else number


def _grams(axes: "Axes", aimed: Aimed) -> None:
    """Two stacked bars in each row: without targets above, as found below."""
    for row, container in enumerate(aimed.containers):
        for grams, place, alpha in ((container.even_g, row - 0.19, 0.35), (container.grams, row + 0.19, 1.0)):
            start = 0.0
            for number, name in enumerate(container.grams):
                colour = COLOURS[number % len(COLOURS)]
                hatch = _HATCHES[number % len(_HATCHES)]
                mass_g = grams.get(name, 0.0)
                axes.barh(
                    place, mass_g, left=start, height=0.34, color=colour, alpha=alpha, hatch=hatch, edgecolor="white"
                )
                if alpha == 1.0 and mass_g > 0.0:
                    box = {"boxstyle": "square,pad=0.1", "fc": "white", "ec": "none", "alpha": 0.75}
                    axes.text(
                        start + mass_g / 2, place, f"{mass_g:.0f}", ha="center", va="center", fontsize=7, bbox=box
                    )
                start += mass_g
    axes.set_title("grams", fontsize=9)
    _plain(axes)


def _quantity(axes: "Axes", key: str, rows: tuple[AimedContainer, ...], currency: str) -> None:
    """A quantity as found and without targets; what the limits allow is shaded."""
    amounts = [c.figures.get(key, 0.0) for c in rows] + [c.even_figures.get(key, 0.0) for c in rows]
    bounds = [j.target.amount for c in rows for j in c.judged if j.target.key == key]
    low, high = min(amounts + bounds), max(amounts + bounds)
    margin = 0.25 * ((high - low) or abs(high) or 1.0)
    axes.set_xlim(max(0.0, low - margin), high + margin)
    for row, container in enumerate(rows):
        limits = {j.target.bound: j.target.amount for j in container.judged if j.target.key == key}
        least, most = limits.get(Bound.AT_LEAST), limits.get(Bound.AT_MOST)
        if least is not None or most is not None:
            left = axes.get_xlim()[0] if least is None else least
            right = axes.get_xlim()[1] if most is None else most
            axes.barh(row, max(0.0, right - left), left=left, height=0.8, color=ALLOWED, lw=0, zorder=0)
        for bound in (least, most):
            if bound is not None:
                axes.plot([bound, bound], [row - 0.4, row + 0.4], color="#0072B2", lw=1.5, zorder=1)
        if Bound.ABOUT in limits:
            axes.plot([limits[Bound.ABOUT]] * 2, [row - 0.4, row + 0.4], color="#0072B2", lw=1.5, ls=":", zorder=1)
        missed = any(j.target.key == key and not j.met and j.target.bound is not Bound.ABOUT for j in container.judged)
        found, colour = container.figures.get(key, 0.0), MISSED if missed else FOUND
        axes.plot([container.even_figures.get(key, 0.0)], [row - 0.19], "o", color=EVEN, mfc="white", mew=1.5, ms=6)
        axes.plot([found], [row + 0.19], "D" if missed else "o", color=colour, ms=6)
        axes.annotate(
            f"{found:.{decimals_of(key)}f}",
            (found, row + 0.19),
            xytext=(0, -10),
            textcoords="offset points",
            ha="center",
            fontsize=7,
            bbox={"boxstyle": "square,pad=0.05", "fc": "white", "ec": "none", "alpha": 0.75},
        )
    unit = currency if unit_of(key) == "" else unit_of(key)
    axes.set_title(label_of(f"{name_of(key)}, {unit}".rstrip(", "), LONGEST_NAME), fontsize=9)
    axes.locator_params(axis="x", nbins=4)
    _plain(axes)


def _plain(axes: "Axes") -> None:
    axes.tick_params(axis="x", labelsize=8)
    axes.tick_params(axis="y", labelsize=9, length=0)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)


def _legend(figure: "Figure", aimed: Aimed) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    before = "as written" if aimed.lines else "even share"
    handles: list[Line2D | Patch] = [
        Patch(
            facecolor=COLOURS[k % len(COLOURS)],
            hatch=_HATCHES[k % len(_HATCHES)],
            edgecolor="white",
            label=label_of(name, LONGEST_NAME),
        )
        for k, name in enumerate(aimed.containers[0].grams)
    ]
    handles += [
        Line2D([], [], color=FOUND, marker="o", ls="", ms=6, label="found"),
        Line2D([], [], color=EVEN, marker="o", mfc="white", mew=1.5, ls="", ms=6, label=f"{before} (pale)"),
        Patch(color=ALLOWED, label="within the limits"),
    ]
    if not aimed.kept:
        handles.append(Line2D([], [], color=MISSED, marker="D", ls="", ms=6, label="limit missed"))
    figure.legend(handles=handles, loc="outside lower center", ncols=min(5, len(handles)), frameon=False, fontsize=8)


def _words(aimed: Aimed) -> str:
    parts = []
    for container in aimed.containers:
        grams = ", ".join(f"{name} {mass_g:.0f} g" for name, mass_g in container.grams.items())
        judged = ", ".join(
            f"{j.target.name} {amount_text(j.target.key, j.amount or 0.0, aimed.currency)} "
            f"({j.target.bound.value} {amount_text(j.target.key, j.target.amount, aimed.currency)})"
            for j in container.judged
        )
        whose = f"{container.eater}: " if container.eater else ""
        parts.append(f"{whose}{grams}; {judged}" if judged else f"{whose}{grams}")
    return f"{aimed.title}, one container. {'. '.join(parts)}."
