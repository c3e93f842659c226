"""The cooling curve as a picture: the band of the warmest point and published limits; matplotlib is imported here."""

from pathlib import Path

from mealcalc.errors import UsageError
from mealcalc.records.cooling import CoolingPrediction, FoodCooling, Outcome
from mealcalc.reference.keeping_tables import authorities
from mealcalc.reports.plain import one_line

ENDINGS = (".png", ".svg", ".pdf")
SHORTEST_H = 8.0
LONGEST_H = 24.0
"""Hours that the picture shows at least and at most."""

_BAND, _LINE, _LIMIT, _AIR = "#9ecae1", "#08519c", "#cb181d", "#636363"


def plot_cooling(prediction: CoolingPrediction, path: Path) -> None:
    """Draw the slowest food's curve with its band and the limits, and write it to `path`.

    Raises
    ------
    UsageError
        If matplotlib is not installed, the ending is no picture's, or the place refuses.
    """
    if path.suffix.lower() not in ENDINGS:
        raise UsageError(f"{path}: a picture ends in {', '.join(ENDINGS)}", f"name it {path.stem}.png")
    try:
        from matplotlib.figure import Figure
        from matplotlib.ticker import MultipleLocator
    except ImportError as error:
        raise UsageError("matplotlib is not installed", "pip install 'mealcalc[plots]'") from error

    food = prediction.foods[0]
    last_h = min(max(food.curve.hours[-1], SHORTEST_H), LONGEST_H)
    figure = Figure(figsize=(9.0, 5.6), dpi=150, layout="constrained")
    axes = figure.add_subplot()
    curve = food.curve
    axes.fill_between(curve.hours, curve.fast_c, curve.slow_c, color=_BAND, alpha=0.7, lw=0, label="band, fast to slow")
    axes.plot(curve.hours, curve.typical_c, color=_LINE, lw=2, label="typical")

    corners = limit_points(food)
    if corners:
        steps = _staircase(corners, last_h)
        over = "over a published limit"
        axes.fill_between(*steps, prediction.start_c + 5.0, color=_LIMIT, alpha=0.12, lw=0, label=over)
        axes.plot([hours for hours, _ in corners], [to_c for _, to_c in corners], "o", color=_LIMIT, ms=6, zorder=5)
    for hours, text in _labels(corners).items():
        late = hours > 0.6 * last_h
        axes.annotate(
            text,
            (hours, max(to_c for h, to_c in corners if h == hours)),
            xytext=(-9 if late else 9, 7),
            textcoords="offset points",
            ha="right" if late else "left",
            fontsize=8,
            color=_LIMIT,
            bbox={"boxstyle": "square,pad=0.2", "fc": "white", "ec": "none", "alpha": 0.65},
            zorder=6,
        )
    axes.set_xlim(0.0, last_h)
    axes.xaxis.set_major_locator(MultipleLocator(1.0 if last_h <= 8.0 else 2.0 if last_h <= 16.0 else 4.0))
    axes.set_ylim(0.0, prediction.start_c + 5.0)
    axes.set_xlabel("hours from the start")
    axes.set_ylabel("temperature of the warmest point, C")
    axes.grid(color="0.9", lw=0.8)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    axes.legend(loc="upper right", frameon=True, framealpha=0.9, edgecolor="none", fontsize=9)
    title = one_line(prediction.title, 70)
    name = f"{title}: {one_line(food.name, 50)}" if food.name != prediction.title else title
    axes.set_title(
        f"{name}\n{one_line(prediction.container, 100)}\nin {one_line(prediction.surroundings, 100)}",
        loc="left",
        fontsize=10,
    )
    figure.supxlabel(
        "A prediction under stated assumptions, not a safety assurance: check with a probe.", fontsize=8, color=_AIR
    )
    try:
        figure.savefig(path, metadata={"Date": None} if path.suffix.lower() == ".svg" else None)
    except OSError as error:
        raise UsageError(f"{path}: cannot be written: {error.strerror or error}", "name another place") from error


def limit_points(food: FoodCooling) -> dict[tuple[float, float], list[str]]:
    """(hours from the start, temperature in C) that limits allow at most -> the authorities that do, in order.

    Where a stage's clock starts at the end of the one before, that one is taken to use all of its time.
    """
    found: dict[tuple[float, float], list[str]] = {}
    for stage in food.stages:
        limit = stage.limit
        if stage.outcome is Outcome.NOT_JUDGED:
            continue
        hours = limit.hours
        if limit.clock == "stage":
            hours += sum(
                other.limit.hours
                for other in food.stages
                if (other.limit.authority, other.limit.meant_for) == (limit.authority, limit.meant_for)
                and other.limit.stage < limit.stage
            )
        found.setdefault((hours, limit.to_c), []).append(authorities()[limit.authority].jurisdiction)
    return dict(sorted(found.items()))


def _staircase(corners: dict[tuple[float, float], list[str]], last_h: float) -> tuple[list[float], list[float]]:
    """Hours and temperatures of the lower edge of what is over any limit: it falls from limit to limit."""
    hours: list[float] = []
    lowest: list[float] = []
    edge = float("inf")
    for when, to_c in corners:
        if hours and to_c < edge:
            hours.append(when)
            lowest.append(edge)
        edge = min(edge, to_c)
        hours.append(when)
        lowest.append(edge)
    return [*hours, max(last_h, hours[-1])], [*lowest, edge]


def _labels(corners: dict[tuple[float, float], list[str]]) -> dict[float, str]:
    """Hours -> what is allowed by then, one line for each temperature."""
    found: dict[float, list[str]] = {}
    for (hours, to_c), names in sorted(corners.items(), key=lambda item: -item[0][1]):
        found.setdefault(hours, []).append(f"{to_c:g} C within {hours:g} h: {', '.join(names)}")
    return {hours: "\n".join(lines) for hours, lines in found.items()}
