"""What people and programs read of `mealcalc freeze --check`: what is stated otherwise, and why."""

from collections.abc import Sequence

from rich.console import RenderableType
from rich.text import Text

from mealcalc.records.frozen import Comparison, FrozenRow, RowChange
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table

_FIGURES = (("per container", "printed_per_portion"), ("per 100", "printed_per_100g"), ("percent", "percent"))


def comparisons_text(comparisons: Sequence[Comparison], screen: Screen) -> str:
    """The answer of `mealcalc freeze --check`."""
    parts: list[RenderableType] = []
    for comparison in comparisons:
        parts += [*_comparison(comparison), ""]
    return screen.render(*parts[:-1])


def comparisons_shape(comparisons: Sequence[Comparison]) -> dict[str, object]:
    """The same for `--json`."""
    return {
        "same": all(comparison.same for comparison in comparisons),
        "records": [
            {
                "stated": comparison.before.stated.isoformat(),
                "scheme": comparison.before.scheme,
                "variant": comparison.before.variant,
                "same": comparison.same,
                "changes": [_change_shape(change) for change in comparison.changes],
                "causes": [
                    {"kind": cause.kind, "text": cause.text, "per_container": dict(cause.amounts)}
                    for cause in comparison.causes
                ],
            }
            for comparison in comparisons
        ],
    }


def _comparison(comparison: Comparison) -> list[RenderableType]:
    before = comparison.before
    variant = f", variant {one_line(before.variant, LONGEST_TITLE)}" if before.variant else ""
    parts: list[RenderableType] = [
        Text(one_line(comparison.after.title, LONGEST_TITLE), style="bold"),
        f"stated on {before.stated.isoformat()}, scheme {before.scheme}{variant}",
    ]
    if comparison.same:
        parts.append("Every printed figure still holds.")
    else:
        block = table()
        for heading in ("", "figure", "stated", "now"):
            block.add_column(heading)
        for change in comparison.changes:
            name = change.name
            for figure, was, now in figures_of(change):
                block.add_row(Text(name), figure, Text(was or "-"), Text(now or "-"))
                name = ""
        parts += ["", block, "", Text("Why", style="bold")]
        for change in comparison.changes:
            reasons = change.because or ("no cause was found in what the record holds",)
            parts.append(Text(f"- {change.name.lstrip('- ')}: {'; '.join(_cut(reason) for reason in reasons)}"))
    if comparison.causes:
        parts += ["", Text("All that is otherwise than it was", style="bold")]
        parts += [Text(f"- {_cut(cause.text)} [{cause.kind}]") for cause in comparison.causes]
    return parts


def figures_of(change: RowChange) -> list[tuple[str, str, str]]:
    """The figures of a row that are printed otherwise: which, before, now."""
    found = []
    for name, field in _FIGURES:
        was, now = _field(change.before, field), _field(change.after, field)
        if was != now:
            found.append((name, was, now))
    return found


def _change_shape(change: RowChange) -> dict[str, object]:
    return {
        "name": change.name,
        "figures": [{"figure": name, "stated": was, "now": now} for name, was, now in figures_of(change)],
        "because": list(change.because),
    }


def _field(row: FrozenRow | None, field: str) -> str:
    return "" if row is None else str(getattr(row, field))


def _cut(text: str) -> str:
    return one_line(text, LONGEST_LINE)
