"""What people read in the terminal about a batch: macros of a container, then line by line."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.text import Text

from mealcalc.calculation.energy import general_energy
from mealcalc.components import FOOD_COMPONENTS, MACRO_KEYS
from mealcalc.records import BatchResult, ComponentResult, Contribution, LineStatus, Total
from mealcalc.reports.machine import LEFT_OUT
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table
from mealcalc.reports.sureness import sureness_blocks
from mealcalc.units import METRIC

if TYPE_CHECKING:
    from mealcalc.calculation.uncertainty import Sureness

MACRO_ROWS: tuple[tuple[str, str, int], ...] = (
    ("ENERC_KCAL", "energy", 0),
    ("ENERC_KJ", "", 0),
    ("PROCNT_G", "protein", 1),
    ("FAT_G", "fat", 1),
    ("FASAT_G", "  saturated", 1),
    ("CHOCDF_G", "carbohydrate", 1),
    ("CHOAVLDF_G", "  available", 1),
    ("FIBTG_G", "  fibre", 1),
    ("NA_MG", "sodium", 0),
)
"""Rows of the table of macros: food component, label, decimals shown."""

_LINE_COLUMNS = (("ENERC_KCAL", 0), ("PROCNT_G", 1), ("FAT_G", 1), ("CHOCDF_G", 1))
"""What the account line by line shows of each line: food component and decimals."""

UNKNOWN = "?"

_WIDE = 116
"""Columns from which a line and the food it is counted as stand beside each other."""

_ROOMY = 72
"""Columns from which lines show protein, fat and carbohydrate beside energy."""

_LABEL_COLUMNS = 22
"""Columns taken by the labels and units of the table of macros."""

_REMARKS = {
    LineStatus.UNMATCHED: ("NOT COUNTED: no food found", "bold red"),
    LineStatus.NOT_COUNTED: ("no amount: not counted", "dim"),
    LineStatus.NOT_FOOD: ("no food", "dim"),
}


def macros_text(
    result: BatchResult,
    screen: Screen,
    sureness: "Sureness | None" = None,
    *,
    lines: bool = True,
    everything: bool = False,
    grounds: bool = False,
) -> str:
    """The answer of `mealcalc macros`.

    Parameters
    ----------
    result : BatchResult
        What was calculated.
    screen : Screen
        Width and colour.
    sureness : Sureness, optional
        Intervals, shown when given.
    lines : bool
        Whether the account line by line follows.
    everything : bool
        All food components that the tables hold instead of the macros.
    grounds : bool
        Whether each line says why we believe its grams.
    """
    containers = result.batch.containers
    measures = "metric measures" if result.region == METRIC else f"measures of region {result.region}"
    parts: list[RenderableType] = [
        Text(one_line(result.batch.title, LONGEST_TITLE), style="bold"),
        f"{containers} container{'' if containers == 1 else 's'}, {measures}",
        "",
        *_totals_tables(result, screen, everything),
        "",
        *_incomplete(result, None if everything else {key for key, _, _ in MACRO_ROWS}),
        *_footnotes(result),
    ]
    if sureness is not None:
        parts += ["", *sureness_blocks(result, sureness, screen)]
    if lines:
        parts += ["", *_lines(result.contributions, screen, containers, grounds)]
    return screen.render(*parts)


def lines_text(contributions: Sequence[Contribution], screen: Screen, *, grounds: bool = False) -> str:
    """The review table of `mealcalc match`: figures of the whole lines, not of a container."""
    return screen.render(*_lines(contributions, screen, 1, grounds))


def figure(total: Total, decimals: int) -> str:
    """A total as shown: '≥' in front when something is missing from it, '?' when nothing of it is known."""
    if total.complete:
        return f"{total.amount:.{decimals}f}"
    if total.amount == 0.0:
        return UNKNOWN
    return f"≥ {total.amount:.{decimals}f}"


def _totals_tables(result: BatchResult, screen: Screen, everything: bool) -> list[RenderableType]:
    """Food components in rows; in columns the container, then its components, in blocks that fit the width."""
    rows = MACRO_ROWS
    if everything:
        rows = tuple((key, component.name, component.decimals) for key, component in FOOD_COMPONENTS.items())
    containers = result.batch.containers
    label, whole = ("in one", "container") if containers > 1 else ("in the", "batch")
    columns = [(whole, result.per_container, _mass(result.components, containers))]
    if len(result.components) > 1:
        columns += [
            (
                one_line(part.component.name, LONGEST_NAME),
                {key: total.divided_by(containers) for key, total in part.totals.items()},
                _mass([part], containers),
            )
            for part in result.components
        ]
    label_columns = max(_LABEL_COLUMNS, 8 + max(len(label) for _, label, _ in rows))
    blocks: list[RenderableType] = []
    widths = [_column_width(name, totals, rows) for name, totals, _ in columns]
    first = 0
    while first < len(columns):
        last, room = first, screen.width - label_columns
        while last < len(columns) and (last == first or room >= widths[last] + 2):
            room -= widths[last] + 2
            last += 1
        if blocks:
            blocks.append("")
        blocks.append(_totals_table(columns[first:last], widths[first:last], rows, label, whole=first == 0))
        first = last
    return blocks


def _totals_table(
    columns: Sequence[tuple[str, Mapping[str, Total], str]],
    widths: Sequence[int],
    rows: Sequence[tuple[str, str, int]],
    label: str,
    *,
    whole: bool,
) -> RenderableType:
    block = table()
    block.add_column(label, no_wrap=True)
    block.add_column("", no_wrap=True)
    for number, ((name, _, _), width) in enumerate(zip(columns, widths, strict=True)):
        bold = whole and number == 0
        block.add_column(Text(name), justify="right", min_width=width, max_width=width, style="bold" if bold else "")
    for key, label, decimals in rows:
        cells = [Text(figure(t[key], decimals), style="" if t[key].complete else "yellow") for _, t, _ in columns]
        block.add_row(label, FOOD_COMPONENTS[key].unit, *cells)
    block.add_row("mass", "g", *(mass for _, _, mass in columns))
    return block


def _column_width(name: str, totals: Mapping[str, Total], rows: Sequence[tuple[str, str, int]]) -> int:
    figures = max(len(figure(totals[key], decimals)) for key, _, decimals in rows)
    return max(9, figures, min(16, max(map(len, name.split()), default=0)))


def _mass(components: Sequence[ComponentResult], containers: int) -> str:
    """Cooked mass in one container, in g; '≥' in front where an ingredient of unknown weight is missing from it."""
    unknown = tuple(
        c.line.span.line
        for part in components
        if part.component.cooked_mass_g is None
        for c in part.contributions
        if c.ingredient.mass_g is None and c.ingredient.matched.status not in LEFT_OUT
    )
    return figure(Total(sum(part.cooked_mass_g for part in components) / containers, unknown), 0)


def _incomplete(result: BatchResult, keys: set[str] | None) -> list[RenderableType]:
    """What the totals lack, by the lines that lack it, and how a line without an amount is mended."""
    without_amount = {
        c.line.span.line
        for c in result.contributions
        if c.ingredient.matched.status is LineStatus.NOT_COUNTED
        or (c.line.amount is None and c.ingredient.mass_g is None)
    }
    named = {line.span.line: one_line(line.name or line.text, 40) for line in result.batch.lines}
    by_lines: dict[tuple[int, ...], list[str]] = {}
    for key, lines in result.incomplete.items():
        if keys is None or key in keys:
            by_lines.setdefault(lines, []).append(key)
    notes: list[RenderableType] = []
    for lines, missing in by_lines.items():
        where = ", ".join(f"{number} ({named.get(number, UNKNOWN)})" for number in lines[:12])
        more = f" and {len(lines) - 12} more" if len(lines) > 12 else ""
        what = ", ".join(dict.fromkeys(FOOD_COMPONENTS[key].name.partition(",")[0] for key in missing))
        worst = any(key in MACRO_KEYS for key in missing)
        share = min(result.totals[key].known_share for key in missing)
        known = f"; known for {share:.0%} of the mass" if worst and share < 1.0 else ""
        hint = "; write an amount, [grams N] or [count no]" if worst and without_amount.intersection(lines) else ""
        notes.append(
            Text(
                f"INCOMPLETE: {what}: not known of line{'' if len(lines) == 1 else 's'} {where}{more}{known}{hint}",
                style="bold red" if worst else "yellow",
            )
        )
    return notes


def _footnotes(result: BatchResult) -> list[RenderableType]:
    general = general_energy(result.totals).divided_by(result.batch.containers)
    notes = [
        f"Energy: by the factors of the food table; by general factors (4-9-4-7) {figure(general, 0)} kcal.",
        "Carbohydrate: total by difference, fibre included; available is without fibre.",
    ]
    by_ground: dict[str, list[str]] = {}
    for part in result.components:
        by_ground.setdefault(part.cooked_mass_ground, []).append(one_line(part.component.name, LONGEST_NAME))
    notes += [
        f"Mass{f' of {_listed(names)}' if len(by_ground) > 1 else ''}: {one_line(ground, LONGEST_LINE)}."
        for ground, names in by_ground.items()
    ]
    tables = dict.fromkeys((f.table, f.edition) for c in result.contributions if (f := c.ingredient.matched.food))
    notes += [f"Foods {code}: {edition}." for code, edition in tables if edition]
    return [Text(note, style="dim") for note in notes]


def _listed(names: Sequence[str]) -> str:
    return " and ".join(name for name in (", ".join(names[:-1]), names[-1]) if name)


def _lines(
    contributions: Sequence[Contribution], screen: Screen, containers: int, grounds: bool
) -> Iterable[RenderableType]:
    wide, keys = screen.width >= _WIDE, _LINE_COLUMNS if screen.width >= _ROOMY else _LINE_COLUMNS[:1]
    block = table()
    block.add_column("line", justify="right", style="dim", no_wrap=True)
    block.add_column("grams", justify="right", no_wrap=True)
    block.add_column("kcal", justify="right", no_wrap=True, min_width=5)
    for heading in ("protein", "fat", "carb.")[: len(keys) - 1]:
        block.add_column(heading, justify="right", no_wrap=True, min_width=5)
    block.add_column("as written" if wide else "as written, counted as", ratio=2)
    if wide:
        block.add_column("counted as", ratio=3)
    blanks = [""] * len(block.columns)
    several = len({c.line.component for c in contributions}) > 1
    component = ""
    for c in contributions:
        if several and c.line.component != component:
            if component:
                block.add_row(*blanks)
            component = c.line.component
            block.add_row(*blanks[: 2 + len(keys)], Text(one_line(component, LONGEST_NAME), style="bold"))
        figures = [str(c.line.span.line), _grams(c), *(_figure(c, *key, containers) for key in keys)]
        written = Text(one_line(c.line.text, LONGEST_LINE))
        counted = _counted_as(c, grounds)
        block.add_row(*figures, *((written, counted) if wide else (Group(written, Padding(counted, (0, 0, 0, 2))),)))
    meaning = "of the whole line" if containers == 1 else "in one container"
    return [Text(f"Line by line: grams eaten of the whole batch, then energy and macros (g) {meaning}."), "", block]


def _figure(c: Contribution, key: str, decimals: int, containers: int) -> str:
    amount = c.amounts.get(key)
    if c.ingredient.matched.status in LEFT_OUT:
        return ""
    return UNKNOWN if amount is None else f"{amount / containers:.{decimals}f}"


def _grams(c: Contribution) -> str:
    mass_g = c.ingredient.eaten_mass_g
    if c.ingredient.matched.status in LEFT_OUT:
        return ""
    if mass_g is None:
        return UNKNOWN
    return f"{mass_g:.0f}" if mass_g >= 10 or mass_g == 0 else f"{mass_g:.1f}"


def _counted_as(c: Contribution, grounds: bool) -> RenderableType:
    """The food, what is particular about the line, and on request why we believe the grams; nothing for no food."""
    matched = c.ingredient.matched
    rows = []
    if matched.food is not None:
        code = f"{matched.food.table}:{matched.food.code}"
        if matched.blend:
            code = " + ".join(f"{part.share:.0%} {part.table}:{part.code}" for part in matched.blend)
        row = Text(f"{one_line(code, LONGEST_LINE)} {one_line(matched.food.description, LONGEST_LINE)}", "dim")
        rows.append(row.append_text(_remarks(c)))
    warning = _not_counted(c)
    if warning:
        rows.append(warning)
    if grounds and c.ingredient.ground and c.ingredient.mass_g is not None:
        rows.append(Text(f"grams: {one_line(c.ingredient.ground, LONGEST_LINE)}", "dim"))
    return Group(*rows)


def _remarks(c: Contribution) -> Text:
    parts = []
    if c.ingredient.matched.status is LineStatus.UNSURE:
        parts.append(Text(f"unsure, {c.ingredient.matched.score:.2f}", "yellow"))
    if c.line.optional:
        parts.append(Text("optional", "dim"))
    if c.ingredient.used_share != 1.0:
        parts.append(Text(f"{c.ingredient.used_share:.0%} eaten", "dim"))
    return Text.assemble(" (", Text(", ").join(parts), ")") if parts else Text()


def _not_counted(c: Contribution) -> Text:
    status = c.ingredient.matched.status
    if status is LineStatus.NOT_COUNTED and not c.line.settings.counted:
        return Text("not counted, as the line says", "dim")
    if status in _REMARKS:
        return Text(*_REMARKS[status])
    return Text("NOT COUNTED: weight unknown", "bold red") if c.ingredient.mass_g is None else Text()
