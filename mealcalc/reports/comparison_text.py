"""What people read about ways to make a batch: figures of one container, then how each differs from the batch as
written, with 90 % intervals."""

from collections.abc import Callable, Mapping, Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from mealcalc.records.comparison import (
    PROTEIN_FOR_MONEY,
    PROTEIN_RATIO,
    ComparedFigure,
    ComparedOption,
    Comparison,
    Measure,
    OptionKind,
    Verdict,
)
from mealcalc.reports.plain import LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table
from mealcalc.units import METRIC

UNKNOWN = "?"
UNSURE_MARK = "≈"

LONGEST_OPTION = 80
"""Characters shown of the name of a way to make the batch."""

_LEAST_NAME_COLUMN, _MOST_NAME_COLUMNS = 16, 32
_LEAST_COLUMN, _GAP = 7, 2

Cell = Callable[[Measure, ComparedFigure], tuple[Text, Text]]


def comparison_text(comparison: Comparison, screen: Screen) -> str:
    """The answer of `mealcalc compare`."""
    first = comparison.options[0]
    containers = first.result.batch.containers
    measures = "metric measures" if comparison.region == METRIC else f"measures of region {comparison.region}"
    parts: list[RenderableType] = [
        Text(one_line(comparison.title, LONGEST_TITLE), style="bold"),
        f"{containers} container{'' if containers == 1 else 's'} as written, {measures}",
        "",
        *_blocks(comparison, "in one container", comparison.options, _figure_cell, screen),
    ]
    others = comparison.options[1:]
    if others:
        parts += ["", *_blocks(comparison, "difference from as written", others, _difference_cell, screen)]
    parts += ["", *(Text(note, style="dim") for note in _notes(comparison))]
    return screen.render(*parts)


def heading_of(measure: Measure, currency: str) -> str:
    """A measure with its unit, as columns and pictures name it."""
    if measure is PROTEIN_FOR_MONEY:
        return f"g protein for 1 {currency}".rstrip()
    if measure is PROTEIN_RATIO:
        return "g protein per 100 kcal"
    return f"{measure.name}, {measure.unit or currency}".rstrip(", ")


def _blocks(
    comparison: Comparison, heading: str, options: Sequence[ComparedOption], cell: Cell, screen: Screen
) -> list[RenderableType]:
    """Options in rows, measures in columns, in blocks that fit the width."""
    cells = {m: [cell(m, option.figures[m.key]) for option in options] for m in comparison.measures}
    titles = {m: heading_of(m, comparison.currency) for m in cells}
    widths = {
        m: max([*map(len, titles[m].split()), *(len(row) for rows in cells[m] for row in rows), _LEAST_COLUMN])
        for m in cells
    }
    blocks: list[RenderableType] = []
    for measures in _beside_each_other(widths, screen.width - _LEAST_NAME_COLUMN):
        room = screen.width - sum(widths[m] + _GAP for m in measures)
        longest = max(len(name) for name in (heading, *(option.name for option in options)))
        width = max(_LEAST_NAME_COLUMN, min(longest, room, _MOST_NAME_COLUMNS))
        block = table()
        block.add_column("" if blocks else heading, min_width=width, max_width=width)
        for measure in measures:
            block.add_column(titles[measure], justify="right", min_width=widths[measure], max_width=widths[measure])
        for number, option in enumerate(options):
            name = Text(one_line(option.name, LONGEST_OPTION))
            end = option.option.kind is OptionKind.AS_WRITTEN
            block.add_row(name, *(Group(*cells[m][number]) for m in measures), end_section=end)
        blocks += ([""] if blocks else []) + [block]
    return blocks


def _beside_each_other(widths: Mapping[Measure, int], room: int) -> list[list[Measure]]:
    """Measures that stand in one block: as few blocks as fit `room` columns, about as many measures in each."""
    measures = list(widths)
    for blocks in range(1, len(measures) + 1):
        each = -(-len(measures) // blocks)
        parts = [measures[start : start + each] for start in range(0, len(measures), each)]
        if all(sum(widths[m] + _GAP for m in part) <= room for part in parts):
            return parts
    return [[measure] for measure in measures]


def _figure_cell(measure: Measure, figure: ComparedFigure) -> tuple[Text, Text]:
    decimals = measure.decimals
    if figure.amount is None:
        return Text(UNKNOWN, style="yellow"), Text()
    if not figure.complete:
        return Text(f"≥ {figure.amount:.{decimals}f}", style="yellow"), Text()
    between = "" if figure.low is None else f"{figure.low:.{decimals}f} to {figure.high:.{decimals}f}"
    return Text(f"{figure.amount:.{decimals}f}", style="bold"), Text(between, style="dim")


def _difference_cell(measure: Measure, figure: ComparedFigure) -> tuple[Text, Text]:
    decimals = measure.decimals
    if figure.difference is None or figure.verdict is Verdict.UNKNOWN:
        return Text(UNKNOWN, style="yellow"), Text()
    if figure.verdict is Verdict.SAME:
        return Text("same", style="dim"), Text()
    shown = signed(figure.difference, decimals)
    between = ""
    if figure.difference_low is not None and figure.difference_high is not None:
        between = f"{plain(figure.difference_low, decimals)} to {plain(figure.difference_high, decimals)}"
    if figure.verdict is Verdict.UNSURE:
        return Text(f"{UNSURE_MARK} {shown}", style="dim"), Text(between, style="dim")
    return Text(shown, style="bold"), Text(between, style="dim")


def signed(amount: float, decimals: int) -> str:
    """A difference with its sign; what rounds to zero has none."""
    shown = f"{amount:+.{decimals}f}"
    return shown[1:] if float(shown) == 0.0 else shown


def plain(amount: float, decimals: int) -> str:
    """A number without the sign of a zero that is negative."""
    shown = f"{amount:.{decimals}f}"
    return shown.removeprefix("-") if float(shown) == 0.0 else shown


def _notes(comparison: Comparison) -> list[str]:
    pairs = "Differences are drawn in pairs: what two ways have in common errs alike in both, so that a difference can"
    notes = [f"Below each figure: its 90 % interval. {pairs} be surer than either figure."]
    if any(f.verdict is Verdict.UNSURE for option in comparison.options for f in option.figures.values()):
        notes.append(
            f"{UNSURE_MARK} marks a difference that is smaller than its uncertainty: its interval holds zero, so do "
            "not choose by it."
        )
    lacking = [option for option in comparison.options if not option.result.complete]
    for option in lacking:
        lines = sorted({line for lines in option.result.incomplete.values() for line in lines})
        shown = ", ".join(map(str, lines[:12]))
        notes.append(
            f"INCOMPLETE: {one_line(option.name, LONGEST_OPTION)}: not all is known of line"
            f"{'' if len(lines) == 1 else 's'} {shown}; `≥` is a lower bound."
        )
    if comparison.currency or any(option.cost is not None for option in comparison.options):
        notes.append("Costs are those of the price list, taken as they are: they have no interval.")
    return notes
