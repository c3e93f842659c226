"""What people read of `mealcalc explain`: the account of one figure in lines that add up."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from mealcalc.records import LineStatus
from mealcalc.reports.explain import ComponentAccount, Explanation, LineAccount
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen
from mealcalc.values import ValueStatus

_LONGEST_GROUND = 400
_LABEL_COLUMNS = 14


def explanation_text(explanation: Explanation, screen: Screen) -> str:
    """The answer of `mealcalc explain`."""
    figures = _Figures(explanation)
    lead = f"{explanation.name} in one container: {figures.total(explanation.per_container, explanation.unknown_lines)}"
    if explanation.containers == 1:
        lead = f"{explanation.name} in the whole batch: {figures.total(explanation.total, explanation.unknown_lines)}"
    parts: list[RenderableType] = [
        Text(one_line(explanation.title, LONGEST_TITLE), style="bold"),
        Text(lead, style="bold"),
    ]
    for component in explanation.components:
        parts += _component(component, explanation, figures)
    parts += ["", Text("Total", style="bold"), _grid(_total_rows(explanation, figures))]
    editions = {
        line.food.food.partition(":")[0]: line.food.edition
        for component in explanation.components
        for line in component.lines
        if line.food is not None and line.food.edition
    }
    notes = [Text(f"Foods {code}: {one_line(edition, LONGEST_LINE)}.", "dim") for code, edition in editions.items()]
    if notes:
        parts += ["", *notes]
    return screen.render(*parts)


class _Figures:
    """Shows amounts of one food component with its unit and decimals."""

    def __init__(self, explanation: Explanation) -> None:
        self._unit = explanation.unit
        self._decimals = explanation.decimals

    def __call__(self, amount: float) -> str:
        return f"{self.number(amount)} {self._unit}"

    def number(self, amount: float) -> str:
        """The amount without its unit; never a negative zero."""
        return f"{round(amount, self._decimals) + 0.0:.{self._decimals}f}"

    def is_nothing(self, amount: float) -> bool:
        """Whether the amount is shown as 0."""
        return round(amount, self._decimals) == 0.0

    def total(self, amount: float, unknown_lines: Sequence[int]) -> str:
        """A total; '≥' in front where something is missing from it."""
        return f"≥ {self(amount)}" if unknown_lines else self(amount)

    def per_100g(self, amount: float) -> str:
        """A value per 100 g, with two decimals more than a total, since it is multiplied."""
        shown = f"{amount:.{self._decimals + 2}f}".rstrip("0").rstrip(".")
        return f"{shown} {self._unit}"

    def rounding(self, parts: Sequence[float], total: float) -> str:
        """What the parts as shown lack of the total as shown; '' where they add up."""
        rest = round(total, self._decimals) - sum(round(part, self._decimals) for part in parts)
        return self(rest) if abs(rest) > 0.5 * 10**-self._decimals else ""


def _component(component: ComponentAccount, explanation: Explanation, figures: _Figures) -> Iterator[RenderableType]:
    yield ""
    heading = Text(one_line(component.name, LONGEST_NAME) or "all lines", style="bold")
    if component.cooking:
        heading.append(f" - {one_line(component.cooking, LONGEST_LINE)}", "dim")
    yield heading
    for line in component.lines:
        yield Text(f"line {line.line}: {one_line(line.text, LONGEST_LINE)}")
        yield _grid(list(_line_rows(line, explanation, figures)))
    shown = [(f"line {line.line}", line.amount) for line in component.lines if line.amount is not None]
    rows = [(label, figures(amount)) for label, amount in shown]
    parts = [amount for _, amount in shown]
    if component.other_lines:
        rows.append(("other lines", figures(component.other_lines)))
        parts.append(component.other_lines)
    if component.water_change:
        what = "taken up" if component.water_change > 0 else "given off"
        rows.append((what, figures(component.water_change)))
        parts.append(component.water_change)
    rounding = figures.rounding(parts, component.total)
    if rounding:
        rows.append(("rounding", f"{rounding} (the figures above are rounded one by one)"))
    rows.append(("together", figures.total(component.total, component.unknown_lines)))
    if component.cooked_mass_g > 0:
        ground = one_line(component.cooked_mass_ground, _LONGEST_GROUND)
        rows.append(("cooked mass", f"{component.cooked_mass_g:.0f} g: {ground}"))
    if component.per_100g is not None:
        rows.append(("in 100 g", figures.total(component.per_100g, component.unknown_lines)))
    yield Text("adding up:")
    yield _grid(rows)


def _line_rows(line: LineAccount, explanation: Explanation, figures: _Figures) -> Iterator[tuple[str, str]]:
    if line.food is not None:
        yield from _food_rows(line, figures)
    if line.note and line.per_100g.amount is not None:
        yield "counted", line.note
        return
    if line.mass_g is None:
        yield "counted", line.note
        return
    ground = one_line(line.mass_ground, _LONGEST_GROUND)
    yield "grams", f"{_grams(line.mass_g)}: {'as written' if ground in ('', _grams(line.mass_g)) else ground}"
    eaten_g = line.mass_g * line.used_share
    if line.used_share != 1.0:
        yield "eaten", f"{100.0 * line.used_share:.0f} % of {_grams(line.mass_g)} = {_grams(eaten_g)}"
    if line.per_100g.amount is None:
        yield "in 100 g", line.note
        return
    yield "in 100 g", f"{figures.per_100g(line.per_100g.amount)} ({_status(line)})"
    if line.raw is not None and figures.is_nothing(line.raw):
        yield "in the dish", f"{figures(line.amount or 0.0)}"
        return
    if line.raw is not None:
        yield "goes in", f"{_grams(eaten_g)} x {figures.per_100g(line.per_100g.amount)} / 100 g = {figures(line.raw)}"
    yield from _cooking_rows(line, figures)
    if line.amount is not None:
        yield "in the dish", f"{figures(line.amount)}{_shares(line, explanation)}"


def _food_rows(line: LineAccount, figures: _Figures) -> Iterator[tuple[str, str]]:
    food = line.food
    assert food is not None
    described = one_line(food.description, LONGEST_LINE)
    unsure = ", UNSURE" if food.status is LineStatus.UNSURE else ""
    yield "food", f"{food.food} {described} ({food.strategy}, score {food.score:.2f}{unsure})"
    for part in food.blend:
        value = "" if part.per_100g is None else f", {figures.per_100g(part.per_100g)} in 100 g"
        yield "blend", f"{100.0 * part.share:.0f} % {part.food} {one_line(part.description, LONGEST_LINE)}{value}"


def _cooking_rows(line: LineAccount, figures: _Figures) -> Iterator[tuple[str, str]]:
    for step in line.steps:
        factor = "" if step.factor is None else f" (x {step.factor:.3g})"
        ground = f": {one_line(step.ground, _LONGEST_GROUND)}" if step.ground else ""
        yield step.what, f"{figures(step.change)}{factor}{ground}"
    if line.steps and line.raw is not None and line.amount is not None:
        rounding = figures.rounding([line.raw, *(step.change for step in line.steps)], line.amount)
        if rounding:
            yield "rounding", rounding
    if line.yield_share is not None and line.yield_share not in (0.0, 1.0):
        ground = one_line(line.yield_ground, _LONGEST_GROUND)
        yield "cooked weight", f"x {line.yield_share:.3g}: {ground}; it changes what the food weighs, not this figure"


def _status(line: LineAccount) -> str:
    status = line.per_100g.status
    name = "zero by rule" if status is ValueStatus.LOGICAL_ZERO else status.value
    if line.food is not None and line.food.blend:
        name = "blend of the foods above"
    return f"{name}: {line.per_100g_note}" if line.per_100g_note else name


def _shares(line: LineAccount, explanation: Explanation) -> str:
    if not line.amount:
        return ""
    of_batch = f"{100.0 * line.share_of_batch:.0f} % of the batch"
    if len(explanation.components) + bool(explanation.other_components) < 2:
        return f", {of_batch}"
    return f", {100.0 * line.share_of_component:.0f} % of the component, {of_batch}"


def _total_rows(explanation: Explanation, figures: _Figures) -> list[tuple[str, str]]:
    parts = [component.total for component in explanation.components]
    rows = [
        (one_line(component.name, LONGEST_NAME) or "all lines", figures.total(component.total, component.unknown_lines))
        for component in explanation.components
    ]
    if explanation.other_components:
        rows.append(("other components", figures(explanation.other_components)))
        parts.append(explanation.other_components)
    rounding = figures.rounding(parts, explanation.total)
    if rounding:
        rows.append(("rounding", rounding))
    rows.append(("whole batch", figures.total(explanation.total, explanation.unknown_lines)))
    if explanation.containers > 1:
        one = figures.total(explanation.per_container, explanation.unknown_lines)
        rows.append(("one container", f"{figures(explanation.total)} / {explanation.containers} = {one}"))
    if explanation.unknown_lines:
        lines = ", ".join(map(str, explanation.unknown_lines))
        plural = "s" if len(explanation.unknown_lines) > 1 else ""
        rows.append(("INCOMPLETE", f"not known of line{plural} {lines}: the true figure is larger"))
    return rows


def _grams(mass_g: float) -> str:
    return f"{mass_g:.2f}".rstrip("0").rstrip(".") + " g"


def _grid(rows: Sequence[tuple[str, str]]) -> Table:
    grid = Table.grid(padding=(0, 2, 0, 0))
    grid.add_column(min_width=2)
    grid.add_column(style="dim", min_width=_LABEL_COLUMNS, max_width=24)
    grid.add_column()
    for label, text in rows:
        grid.add_row("", Text(label), Text(text))
    return grid
