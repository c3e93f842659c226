"""What people read about a scaled batch: each line as written and for the kitchen, what rounding does, cautions."""

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.text import Text

from mealcalc.records.scaling import ScaledBatch, ScaledLine
from mealcalc.reports.machine import number
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table

_EFFECTS = {
    "ENERC_KCAL": ("energy", "kcal", 0),
    "PROCNT_G": ("protein", "g", 1),
    "FAT_G": ("fat", "g", 1),
    "CHOCDF_G": ("carbohydrate", "g", 1),
}

_WIDE = 84
"""Columns from which the line as it was written stands beside the new one."""


def scaling_text(scaled: ScaledBatch, screen: Screen) -> str:
    """The answer of `mealcalc scale`."""
    parts: list[RenderableType] = [
        Text(one_line(scaled.batch.title, LONGEST_TITLE), style="bold"),
        Text(f"{factor_text(scaled)}: {one_line(scaled.reason, LONGEST_LINE)}"),
        Text(_containers(scaled)),
        "",
        _lines(scaled, screen.width >= _WIDE),
        "",
        Text(_effects(scaled)),
    ]
    for caution in scaled.cautions:
        foods = one_line(", ".join(caution.foods), LONGEST_LINE)
        parts += ["", Text(f"{caution.what}: {foods}", style="yellow"), Padding(Text(caution.advice), (0, 0, 0, 2))]
        parts.append(Padding(Text(f"({caution.source})", style="dim"), (0, 0, 0, 2)))
    return screen.render(*parts)


def factor_text(scaled: ScaledBatch) -> str:
    """The factor in words: 'times 1.5', 'times 5/3 (1.667)'."""
    factor = scaled.factor
    written = f"{float(factor):.4g}"
    if factor.denominator == 1 or float(written) == float(factor) or factor.denominator > 1000:
        return f"times {written}"
    return f"times {factor} ({written})"


def scaling_shape(scaled: ScaledBatch) -> dict[str, object]:
    """The shape of `mealcalc scale --json`."""
    return {
        "batch": scaled.batch.title,
        "factor": number(float(scaled.factor)),
        "factor_exact": str(scaled.factor),
        "containers": scaled.containers,
        "portion_factor": number(scaled.portion_factor),
        "lines": [_line_shape(line) for line in scaled.lines],
        "cautions": [
            {"kind": c.kind, "what": c.what, "foods": list(c.foods), "advice": c.advice, "source": c.source}
            for c in scaled.cautions
        ],
        "rounding": {
            effect.key: {"exact": number(effect.exact), "shown": number(effect.shown)} for effect in scaled.effects
        },
    }


def _line_shape(line: ScaledLine) -> dict[str, object]:
    amount = line.exact.amount if line.exact.amount is not None else None
    return {
        "file_line": line.line.span.line,
        "component": line.line.component,
        "text": line.line.text,
        "scaled": line.text,
        "quantity_low": None if amount is None else number(amount.low),
        "quantity_high": None if amount is None else number(amount.high),
        "unit": None if amount is None else amount.unit,
        "notes": list(line.notes),
        "written": line.written,
    }


def _containers(scaled: ScaledBatch) -> str:
    now, before = scaled.containers, scaled.batch.containers
    size = scaled.portion_factor
    same = "" if abs(size - 1) < 0.0005 else f", each {size:.1%} of what it was"
    return f"{now} container{'' if now == 1 else 's'} instead of {before}{same}"


def _lines(scaled: ScaledBatch, wide: bool) -> RenderableType:
    block = table()
    block.add_column("line", justify="right", style="dim", no_wrap=True)
    if wide:
        block.add_column("as written", ratio=1)
    block.add_column("scaled", ratio=1)
    several = len({line.line.component for line in scaled.lines}) > 1
    component = ""
    for line in scaled.lines:
        if several and line.line.component != component:
            component = line.line.component
            block.add_row("", *([""] if wide else []), Text(one_line(component, LONGEST_NAME), style="bold"))
        old, new = (Text(one_line(text, LONGEST_LINE)) for text in (line.line.text, line.text))
        notes = [Padding(Text(note, style="yellow"), (0, 0, 0, 2)) for note in line.notes]
        block.add_row(str(line.line.span.line), *([old] if wide else []), Group(new, *notes))
    return block


def _effects(scaled: ScaledBatch) -> str:
    parts = [
        f"{name} {effect.shown:.{decimals}f} {unit} ({effect.change:+.1%})"
        for effect in scaled.effects
        for name, unit, decimals in [_EFFECTS[effect.key]]
    ]
    return f"In one container, and what rounding changes: {', '.join(parts)}."
