"""How sure the macros are: the block of `macros --sure`."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.text import Text

from mealcalc.components import FOOD_COMPONENTS, MACRO_KEYS
from mealcalc.records import BatchResult, ComponentResult, LineStatus, Total
from mealcalc.reference.uncertainty import spreads
from mealcalc.reports.plain import LONGEST_NAME, one_line
from mealcalc.reports.screen import Screen, table

if TYPE_CHECKING:  # numpy comes with it, and only those who ask for intervals pay for that
    from mealcalc.calculation.uncertainty import Interval, Sureness
    from mealcalc.calculation.uncertainty_drivers import Driver

SURE_ROWS: tuple[tuple[str, str, int], ...] = (
    ("ENERC_KCAL", "energy", 0),
    ("PROCNT_G", "protein", 1),
    ("FAT_G", "fat", 1),
    ("CHOCDF_G", "carbohydrate", 1),
    ("CHOAVLDF_G", "  available", 1),
    ("FIBTG_G", "  fibre", 1),
)
"""Rows of the block: food component, label, decimals shown."""

MOST_SENTENCES = 3
LEAST_NARROWING = 0.1
LEAST_OF_A_LINE = 0.03
"""Advice given: at most so many sentences, none that narrows no interval by this share of its width, and no line in
them that narrows none by the smaller share."""

_HALF = (0.45, 0.55)
_MOST_LINES_NAMED = 4
_LABEL_COLUMNS = 20
_COLUMN = 24
_NAMES = {key: label.strip() for key, label, _ in SURE_ROWS}


def sureness_blocks(result: BatchResult, sureness: "Sureness", screen: Screen) -> list[RenderableType]:
    """Intervals per container and per 100 g of each component, what narrows them, and what they cover.

    Parameters
    ----------
    result : BatchResult
        What was calculated.
    sureness : Sureness
        Its intervals.
    screen : Screen
        Width decides how many components stand side by side.
    """
    where = "in one container" if result.batch.containers > 1 else "in the whole batch"
    blocks: list[RenderableType] = [_container_table(result, sureness, where)]
    known = [
        (component, intervals)
        for component, intervals in zip(result.components, sureness.per_100g, strict=True)
        if component.cooked_mass_known
    ]
    beside = max(1, (screen.width - _LABEL_COLUMNS) // _COLUMN)
    for first in range(0, len(known), beside):
        blocks += ["", _per_100g_table(known[first : first + beside])]
    blocks += ["", *(Text(sentence) for sentence in advice(sureness.drivers) or [_NO_ADVICE])]
    return [*blocks, "", *(Text(sentence, "dim") for sentence in coverage(result, sureness))]


_NO_ADVICE = "No single line drives these intervals: weighing or labels would narrow none by a tenth."


def advice(drivers: "Sequence[Driver]") -> list[str]:
    """What the cook can do to narrow the intervals of the macros, the best first; equal advice is merged."""
    groups: dict[str, list[Driver]] = defaultdict(list)
    for driver in drivers:
        if driver.advice and 1.0 - driver.width_if_settled >= LEAST_OF_A_LINE:
            groups[driver.advice].append(driver)
    found: list[tuple[float, str]] = []
    for words, group in groups.items():
        # Settling several independent inputs takes their parts of the variance off together.
        widths = {
            key: math.sqrt(max(0.0, 1.0 - sum(1.0 - d.width_if_settled**2 for d in group if d.key == key)))
            for key in MACRO_KEYS
        }
        narrowed = {key: width for key, width in widths.items() if 1.0 - width >= LEAST_NARROWING}
        if narrowed:
            worth = [driver for driver in group if driver.key in narrowed]
            gain = sum(1.0 - width for width in narrowed.values())
            found.append((gain, f"{_lines(worth, words)}; it {_narrowing(narrowed)}."))
    return [sentence for _, sentence in sorted(found, key=lambda item: -item[0])[:MOST_SENTENCES]]


def coverage(result: BatchResult, sureness: "Sureness") -> list[str]:
    """What the intervals cover, what they do not, and on whose authority."""
    judged = sum(1 for spread in spreads().values() if spread.mark == "judgement")
    unsure = sum(1 for c in result.contributions if c.ingredient.matched.status is LineStatus.UNSURE)
    wrong = f", and that {unsure} unsure line{' is' if unsure == 1 else 's are'} another food" if unsure else ""
    covered = (
        f"90 % intervals from {sureness.draws:,} draws (seed {sureness.seed}). They cover how each amount was "
        f"measured, samples of a food about its table, retention, fat poured off, yields and steam{wrong}."
    )
    left_out = (
        "They do not cover a line that is missing, misread or counted raw for cooked, a wrong number of containers, "
        "or containers filled unequally."
    )
    grounds = f"Grounds: reference/uncertainty.csv; {judged} of its {len(spreads())} spreads are our own judgement."
    return [covered, left_out, grounds]


def _container_table(result: BatchResult, sureness: "Sureness", where: str) -> RenderableType:
    block = table()
    block.add_column("how sure", no_wrap=True)
    block.add_column("", no_wrap=True)
    block.add_column(where, justify="right", no_wrap=True, style="bold")
    block.add_column("90 % between", no_wrap=True)
    for key, label, decimals in SURE_ROWS:
        total = result.per_container[key]
        shown = _between(sureness.per_container[key], decimals, total)
        block.add_row(label, FOOD_COMPONENTS[key].unit, _value(total, decimals), shown)
    return block


def _per_100g_table(
    components: "Sequence[tuple[ComponentResult, Mapping[str, Interval | None]]]",
) -> RenderableType:
    block = table()
    block.add_column("in 100 g of", no_wrap=True)
    block.add_column("", no_wrap=True)
    for component, _ in components:
        name = one_line(component.component.name, LONGEST_NAME)
        block.add_column(Text(name), min_width=_COLUMN - 2, max_width=_COLUMN + 6)
    for key, label, decimals in SURE_ROWS:
        cells = []
        for component, intervals in components:
            total = (component.per_100g or {})[key]
            interval = intervals[key]
            between = "" if interval is None else f" ({interval.low:.{decimals}f} to {interval.high:.{decimals}f})"
            cells.append(f"{_value(total, decimals)}{between}")
        block.add_row(label, FOOD_COMPONENTS[key].unit, *cells)
    return block


def _value(total: Total, decimals: int) -> str:
    return f"{total.amount:.{decimals}f}" if total.complete else f"≥ {total.amount:.{decimals}f}"


def _between(interval: "Interval | None", decimals: int, total: Total) -> str:
    if interval is not None:
        return f"{interval.low:.{decimals}f} and {interval.high:.{decimals}f}"
    lines = ", ".join(map(str, total.unknown_lines[:6]))
    return f"unknown: line{'' if len(total.unknown_lines) == 1 else 's'} {lines} not known"


def _lines(group: "Sequence[Driver]", words: str) -> str:
    """'Line 16, olive oil: weigh it' or 'Lines 17 (onions) and 19 (peppers): weigh them'."""
    shares: dict[int, float] = defaultdict(float)
    for driver in group:
        shares[driver.line] += driver.share
    names = {driver.line: one_line(driver.name, 40) for driver in group}
    ordered = sorted(shares, key=lambda line: -shares[line])
    if len(ordered) == 1:
        return f"Line {ordered[0]}, {names[ordered[0]]}: {words}"
    named = [f"{line} ({names[line]})" for line in ordered[:_MOST_LINES_NAMED]]
    return f"Lines {_listed(named)}: {_of_several(words)}"


def _of_several(words: str) -> str:
    for one, several in (
        ("which food it is", "which foods they are"),
        ("its values", "their values"),
        (" it", " them"),
    ):
        if one in words:
            return words.replace(one, several, 1)
    return words


def _narrowing(widths: Mapping[str, float]) -> str:
    halved = [_NAMES[key] for key, width in widths.items() if _HALF[0] <= width <= _HALF[1]]
    narrowed = [
        f"{_NAMES[key]} by {100.0 * (1.0 - width):.0f} %"
        for key, width in widths.items()
        if not _HALF[0] <= width <= _HALF[1]
    ]
    parts = []
    if halved:
        parts.append(f"halves the interval of {_listed(halved)}")
    if narrowed:
        parts.append(f"narrows {'that' if halved else 'the interval'} of {_listed(narrowed)}")
    return " and ".join(parts)


def _listed(items: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(items[:-1]), items[-1]) if part)
