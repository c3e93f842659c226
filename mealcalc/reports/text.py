"""What people read in the terminal: tables of totals and lines, made with rich."""

from collections.abc import Iterable, Mapping, Sequence

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from mealcalc.calculation.energy import general_energy
from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import FoodHeader
from mealcalc.records import BatchResult, Contribution, Food, LineStatus, Total
from mealcalc.values import ValueStatus

MACRO_COLUMNS = (
    ("ENERC_KCAL", "energy\nkcal", 0),
    ("ENERC_KJ", "energy\nkJ", 0),
    ("PROCNT_G", "protein\ng", 1),
    ("FAT_G", "fat\ng", 1),
    ("FASAT_G", "saturated\ng", 1),
    ("CHOCDF_G", "carbohydrate\ntotal g", 1),
    ("CHOAVLDF_G", "available\ng", 1),
    ("FIBTG_G", "fibre\ng", 1),
    ("NA_MG", "sodium\nmg", 0),
)
"""Columns of the table of macros: food component, heading, decimals shown."""

_MARKS = {
    LineStatus.MATCHED: Text(""),
    LineStatus.UNSURE: Text("unsure", style="yellow"),
    LineStatus.UNMATCHED: Text("NOT COUNTED: no food", style="bold red"),
    LineStatus.NOT_COUNTED: Text("no amount: not counted", style="dim"),
    LineStatus.NOT_FOOD: Text("not a food", style="dim"),
}


def console(width: int | None = None) -> Console:
    """A console for standard output; rich itself respects NO_COLOR and pipes."""
    made = Console(width=width, highlight=False, soft_wrap=False, markup=False, emoji=False)
    if width is None and not made.is_terminal:
        # A pipe has no width; narrow tables would cut words that a program or a pager can take whole.
        return Console(width=120, highlight=False, soft_wrap=False, markup=False, emoji=False)
    return made


def print_macros(result: BatchResult, out: Console, *, lines: bool = True) -> None:
    """Print the answer of `mealcalc macros`: totals per container, then the line by line account."""
    containers = result.batch.containers
    out.print(Text(result.batch.title, style="bold"))
    plural = "" if containers == 1 else "s"
    out.print(f"{containers} container{plural}, measures of region '{result.region}'")
    out.print()
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, collapse_padding=True)
    table.add_column("in one container", no_wrap=False, min_width=16)
    for _, heading, _ in MACRO_COLUMNS:
        table.add_column(heading, justify="right", no_wrap=True)
    for component in result.components:
        per_container = {key: t.divided_by(containers) for key, t in component.totals.items()}
        table.add_row(component.component.name, *_macro_cells(per_container))
    table.add_section()
    table.add_row(Text("whole container", style="bold"), *_macro_cells(result.per_container, style="bold"))
    out.print(table)
    _print_footnotes(result, out)
    if lines:
        out.print()
        _print_lines(result.contributions, out, containers)


def print_lines(contributions: Sequence[Contribution], out: Console) -> None:
    """Print the review table of `mealcalc match`."""
    _print_lines(contributions, out, 1)


def print_headers(headers: Iterable[FoodHeader], out: Console) -> None:
    """Print foods found by a search."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("food", no_wrap=True)
    table.add_column("description")
    table.add_column("also called", style="dim")
    for header in headers:
        table.add_row(f"{header.table}:{header.code}", header.description, ", ".join(header.names))
    out.print(table)


def print_food(food: Food, out: Console) -> None:
    """Print one food whole: composition with the status of each value, measures, refuse and energy factors."""
    out.print(Text(food.description, style="bold"))
    out.print(f"{food.table}:{food.code}, {food.edition}; {food.group}")
    if food.names:
        out.print(f"also called: {', '.join(food.names)}")
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("per 100 g edible portion")
    table.add_column("amount", justify="right")
    table.add_column("unit")
    table.add_column("status", style="dim")
    for key, component in FOOD_COMPONENTS.items():
        value = food.composition.get(key)
        status = ValueStatus.MISSING if value is None else value.status
        shown = "-" if value is None or value.amount is None else f"{value.amount:.{component.decimals}f}"
        table.add_row(component.name, shown, component.unit, "" if status is ValueStatus.PUBLISHED else status.value)
    out.print(table)
    if food.measures:
        out.print("household measures (edible portion):")
        for measure in food.measures:
            out.print(f"  {measure.amount:g} {measure.description} = {measure.mass_g:g} g")
    if food.refuse_percent:
        out.print(f"refuse of the food as bought: {food.refuse_percent:g} % ({food.refuse_description})")
    factors = food.energy_factors
    if factors.protein is not None and factors.fat is not None and factors.carbohydrate is not None:
        out.print(
            f"energy factors, kcal per g: protein {factors.protein:g}, fat {factors.fat:g}, "
            f"carbohydrate {factors.carbohydrate:g}"
        )


def figure(total: Total, decimals: int) -> str:
    """A total as shown: '≥' in front when lines are missing from it, '?' when nothing of it is known."""
    if total.complete:
        return f"{total.amount:.{decimals}f}"
    if total.amount == 0.0:
        return "?"
    return f"≥ {total.amount:.{decimals}f}"


def _macro_cells(totals: Mapping[str, Total], style: str = "") -> list[Text]:
    return [
        Text(figure(totals[key], decimals), style=style if totals[key].complete else f"{style} yellow".strip())
        for key, _, decimals in MACRO_COLUMNS
    ]


def _print_footnotes(result: BatchResult, out: Console) -> None:
    general = general_energy(result.totals).divided_by(result.batch.containers)
    out.print(
        f"Energy by the factors of the food table; by general factors (4-9-4-7) {figure(general, 0)} kcal. "
        "Total carbohydrate includes fibre, available does not.",
        style="dim",
    )
    for component in result.components:
        out.print(
            f"{component.component.name}: {component.cooked_mass_g:.0f} g ({component.cooked_mass_ground})", style="dim"
        )
    named = {line.span.line: line.name or line.text for line in result.batch.lines}
    shown = {key: heading.replace("\n", ", ") for key, heading, _ in MACRO_COLUMNS}
    by_lines: dict[tuple[int, ...], list[str]] = {}
    for key, lines in result.incomplete.items():
        if key in shown:
            by_lines.setdefault(lines, []).append(FOOD_COMPONENTS[key].name)
    for lines, names in by_lines.items():
        where = "; ".join(f"line {line} ({named.get(line, '?')})" for line in lines)
        out.print(f"INCOMPLETE: {', '.join(dict.fromkeys(names))}: unknown on {where}", style="yellow")


def _print_lines(contributions: Sequence[Contribution], out: Console, containers: int) -> None:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("line", justify="right", style="dim", no_wrap=True)
    table.add_column("as written", ratio=3)
    table.add_column("counted as", ratio=4)
    table.add_column("grams", justify="right", no_wrap=True)
    table.add_column("kcal" if containers == 1 else "kcal per\ncontainer", justify="right", no_wrap=True)
    table.add_column("", no_wrap=False, ratio=2)
    for c in contributions:
        food = c.ingredient.matched.food
        energy = c.amounts.get("ENERC_KCAL")
        table.add_row(
            str(c.line.span.line),
            _cut(c.line.text.strip()),
            _counted_as(c),
            _grams(c),
            "" if energy is None else f"{energy / containers:.0f}",
            _remark(c) if food is not None or c.ingredient.matched.status is not LineStatus.MATCHED else "",
        )
    out.print(table)


def _counted_as(c: Contribution) -> str:
    matched = c.ingredient.matched
    if matched.food is None:
        return ""
    if matched.blend:
        return " + ".join(f"{part.share:.0%} {part.table}:{part.code}" for part in matched.blend) + (
            f" {matched.food.description}"
        )
    return f"{matched.food.table}:{matched.food.code} {matched.food.description}"


def _grams(c: Contribution) -> str:
    mass_g = c.ingredient.eaten_mass_g
    if mass_g is None:
        return ""
    return f"{mass_g:.0f}" if mass_g >= 10 else f"{mass_g:.1f}"


def _remark(c: Contribution) -> Text:
    status = c.ingredient.matched.status
    parts = [_MARKS[status]] if _MARKS[status].plain else []
    if status in (LineStatus.MATCHED, LineStatus.UNSURE) and c.ingredient.mass_g is None:
        parts.append(Text("NOT COUNTED: no weight", style="bold red"))
    if c.line.optional:
        parts.append(Text("optional", style="dim"))
    if c.ingredient.used_share != 1.0:
        parts.append(Text(f"{c.ingredient.used_share:.0%} eaten", style="dim"))
    return Text(", ").join(parts)


def _cut(text: str, longest: int = 200) -> str:
    return text if len(text) <= longest else f"{text[: longest - 1]}…"
