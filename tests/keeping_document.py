"""The document that shows the tables of keeping and cooling: written from them, checked by a test.

`python -m tests.keeping_document` writes it anew, and so does `make docs`.
"""

from collections.abc import Iterable, Sequence

from mealcalc.records.keeping import Guidance
from mealcalc.reference.cooling_tables import (
    container_walls,
    cooling_advice,
    cooling_assumptions,
    cooling_limits,
    heat_transfer,
)
from mealcalc.reference.keeping_tables import TOPICS, authorities, dish_kinds, keeping_guidance
from tests.command import ROOT

DOCUMENT = ROOT / "docs" / "keeping-guidance.md"
_UNITS = {"degC": "C"}
_INTRODUCTION = (
    "What follows are statements of named authorities, paraphrased. They are guidance, not a safety assurance; local "
    "food law and the cook's own thermometer come first. `read` means that the text or a faithful copy of it was read, "
    "`read (secondary)` that it was seen as quoted by another, `memory` that it was not checked against a text."
)


def keeping_document() -> str:
    """The whole document, from the tables."""
    parts = [
        "# Guidance on keeping and cooling",
        "Generated from the tables in `mealcalc/reference/` by `make docs`: change those, not this file.",
        _INTRODUCTION,
        "## Authorities",
        _table(
            ("name on the command line", "authority", "jurisdiction", "meant for", "note"),
            ((f"`{a.authority}`", a.name, a.jurisdiction, a.audience, a.note) for a in authorities().values()),
        ),
    ]
    for topic, heading in TOPICS.items():
        parts += [
            f"## {heading}",
            _table(
                ("figure", "dish", "authority", "what it says", "source"),
                (
                    (_figures(g), dish_kinds()[g.dish].name, authorities()[g.authority].title, g.wording, _source(g))
                    for g in keeping_guidance()
                    if g.topic == topic
                ),
            ),
        ]
    parts += [
        "## Cooling: limits",
        _table(
            ("authority", "meant for", "limit", "its time counts from", "source"),
            (
                (
                    authorities()[row.authority].title,
                    row.meant_for,
                    row.wording,
                    "the end of the stage before" if row.clock == "stage" else "the start",
                    f"{row.source}, {row.edition} [{row.mark}]",
                )
                for row in cooling_limits()
            ),
        ),
        "## Cooling: advice",
        _table(
            ("authority", "what it says", "source"),
            (
                (authorities()[row.authority].title, row.wording, f"{row.source} [{row.mark}]")
                for row in cooling_advice()
            ),
        ),
        "## Cooling: what the model takes for granted",
        "None of these is a measured value for a meal container; they make up the band that `mealcalc cool` shows.",
        _table(
            ("surface", "W/m2K, low", "typical", "high", "usual air, C", "ground"),
            (
                (
                    row.name,
                    f"{row.low_w_m2k:g}",
                    f"{row.typical_w_m2k:g}",
                    f"{row.high_w_m2k:g}",
                    "" if row.air_c is None else f"{row.air_c:g}",
                    f"{row.ground} [{row.mark}]",
                )
                for row in heat_transfer().values()
            ),
        ),
        _table(
            ("wall", "mm", "W/mK", "ground"),
            (
                (row.name, f"{row.thickness_mm:g}", f"{row.conductivity_w_mk:g}", f"{row.ground} [{row.mark}]")
                for row in container_walls().values()
            ),
        ),
        _table(
            ("figure", "value", "ground"),
            (
                (row.quantity.replace("_", " "), f"{row.value:g} {row.unit}", f"{row.ground} [{row.mark}]")
                for row in cooling_assumptions().values()
            ),
        ),
    ]
    return "\n\n".join(parts) + "\n"


def rewrite() -> None:
    """Write the document anew."""
    DOCUMENT.parent.mkdir(exist_ok=True)
    DOCUMENT.write_text(keeping_document(), encoding="utf-8")


def _figures(row: Guidance) -> str:
    if row.low is None or row.high is None:
        return row.unit
    span = f"{row.low:g}" if row.low == row.high else f"{row.low:g}-{row.high:g}"
    unit = _UNITS.get(row.unit, row.unit)
    return f"{span} {unit}{'s' if row.high != 1 and unit in ('day', 'month', 'hour', 'minute', 'time') else ''}"


def _source(row: Guidance) -> str:
    edition = "" if row.edition == "not dated" else f", {row.edition}"
    return f"{row.source}{edition} [{row.mark}]"


def _table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [headings, ["---"] * len(headings), *rows]
    return "\n".join(f"| {' | '.join(cell.replace('|', '/') for cell in line)} |" for line in lines)


if __name__ == "__main__":
    rewrite()
