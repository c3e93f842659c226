"""What is missing from a panel, in words, with the way out."""

import math
from collections.abc import Sequence
from typing import Protocol

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.labelling.panel_input import PanelInput, PanelLine, Product
from mealcalc.labelling.quantities import Quantity, sugars_of_unknown_kind
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.reference.label_tables import LabelRow

LINES_NAMED = 4
"""Lines that a note names one by one; further ones are counted."""

SHOWN_LENGTH = 60

_MASS_HINT = (
    "weigh the cooked components and give cooked_weight, or give every line an amount and say how the components are "
    "cooked (`cooking: raw` for what is not heated)"
)

_NOT_IN_TABLES = {"FATRN_G": "trans fatty acids"}


class PrintedRow(Protocol):
    """What is asked of a row that was printed: its name, its food component, and whether nothing in it can change."""

    @property
    def name(self) -> str: ...
    @property
    def key(self) -> str: ...
    @property
    def complete(self) -> bool: ...


def note_of(dish: PanelInput, law: Scheme, row: LabelRow, known: Quantity, *, complete: bool) -> str:
    """What a reader of a row should know: what the row means, what is missing in it and what to enter."""
    parts = [row.note] if row.note else []
    if row.key == "SUGAD_G":
        parts += _sugar_notes(dish, known)
    elif not known.determined:
        parts.append(f"not determined: the food table holds no {_plain_name(row)}; enter it from an analysis or a pack")
    elif known.unknown_lines:
        parts += _line_notes(dish, row, known, complete=complete)
    if row.key == "PROCNT_G":
        parts += _protein_notes(dish, law)
    return "; ".join(dict.fromkeys(parts))


def diagnostics_of(
    dish: PanelInput, law: Scheme, rows: Sequence[tuple[PrintedRow, Quantity]]
) -> tuple[Diagnostic, ...]:
    """What is missing in a panel as a whole: amounts, values, the cooked mass."""
    return (*_mass_diagnostics(dish, law), *_line_diagnostics(rows))


def _mass_diagnostics(dish: PanelInput, law: Scheme) -> list[Diagnostic]:
    if dish.hundreds is None:
        what = "volume of the drink" if dish.product is Product.DRINK else "cooked weight"
        column = f"no figures per {dish.hundred_name}" if law.per_hundred else "no weight of the serving"
        ground = f" ({dish.cooked_mass_ground})" if dish.cooked_mass_ground else ""
        return [
            Diagnostic(
                "no-cooked-weight",
                Severity.WARNING,
                f"{column}: the {what} of the batch is not known{ground}",
                hint=_MASS_HINT,
            )
        ]
    if dish.cooked_mass_estimated:
        return [
            Diagnostic(
                "cooked-weight-estimated",
                Severity.NOTE,
                f"weights and figures per {dish.hundred_name} rest on an estimated cooked weight",
                hint="weigh the cooked components and give cooked_weight",
            )
        ]
    return []


def _line_diagnostics(rows: Sequence[tuple[PrintedRow, Quantity]]) -> list[Diagnostic]:
    gaps: dict[int, tuple[PanelLine, list[str]]] = {}
    for row, known in rows:
        # Kinds of sugar have a note of their own; what no table holds is said by its row.
        if row.complete or row.key == "SUGAD_G" or not known.determined:
            continue
        for line in known.unknown_lines:
            gaps.setdefault(id(line), (line, []))[1].append(plain(row.name))
    return [_line_diagnostic(line, names) for line, names in gaps.values()]


def _line_diagnostic(line: PanelLine, names: list[str]) -> Diagnostic:
    affected = ", ".join(dict.fromkeys(names))
    if not line.counted:
        return Diagnostic(
            "line-without-amount",
            Severity.WARNING,
            f"{_named(line)} has no amount: {affected} can be given as a minimum only",
            hint="write how much of it is used, such as '6 g' (weigh the jar before and after)",
        )
    if _nothing_known(line):
        return Diagnostic(
            "line-not-counted",
            Severity.WARNING,
            f"{_named(line)}: {_lack(line)}; every row is a minimum",
            hint="choose a food for it with `mealcalc match`, and write an amount that can be weighed",
        )
    return Diagnostic(
        "value-not-in-table",
        Severity.WARNING,
        f"{_named(line)}: no value for {affected}; what is printed is a minimum",
        hint="state the food under foods: with the figures of its pack, or choose a food whose values are published",
    )


def _line_notes(dish: PanelInput, row: LabelRow, known: Quantity, *, complete: bool) -> list[str]:
    notes = []
    for line in known.unknown_lines[:LINES_NAMED]:
        if line.counted:
            notes.append(f"{_named(line)}: {_lack(line)}")
        else:
            notes.append(f"{_named(line)} has no amount: write one{_effect(dish, row, line)}")
    if len(known.unknown_lines) > LINES_NAMED:
        notes.append(f"and {len(known.unknown_lines) - LINES_NAMED} further lines")
    if complete and math.isfinite(known.high):
        more = (known.high - known.low) / dish.servings
        notes.append(f"together at most {more:.2g} {row.unit} per {dish.portion_name}, which changes nothing here")
    return notes


def _nothing_known(line: PanelLine) -> bool:
    return all(amount is None for amount in line.amounts.values())


def _lack(line: PanelLine) -> str:
    return "no food or no mass is known for it" if _nothing_known(line) else "no value in the food table"


def _effect(dish: PanelInput, row: LabelRow, line: PanelLine) -> str:
    key, share = ("NA_MG", 2.5 / 1000.0) if row.key == "NACL_G" else (row.key, 1.0)
    per_gram = line.per_gram.get(key)
    if not per_gram:
        return ""
    return f" (each gram brings {per_gram * share / dish.servings:.2g} {row.unit} per {dish.portion_name})"


def _sugar_notes(dish: PanelInput, known: Quantity) -> list[str]:
    if known.complete:
        return ["no line brings sugars of unknown kind"]
    lines = sugars_of_unknown_kind(dish)
    named = ", ".join(_named(line) for line in lines[:LINES_NAMED])
    more = f" and {len(lines) - LINES_NAMED} more" if len(lines) > LINES_NAMED else ""
    certain = known.low / dish.servings
    said = (
        f"a stated minimum: {certain:.2g} g is certain (sugar, honey, syrups)"
        if known.low
        else "no sugar, honey or syrup"
    )
    check = f"; read on the packs what is added in {named}{more}" if lines else ""
    return [said + check]


def _protein_notes(dish: PanelInput, law: Scheme) -> list[str]:
    if law.protein_factor is None:
        return ["nitrogen factors of the foods, as the food table prints protein"]
    table_g = sum(line.amounts.get("PROCNT_G") or 0.0 for line in dish.lines if line.counted)
    converted_g = sum(
        (line.amounts.get("PROCNT_G") or 0.0)
        * (1.0 if line.nitrogen_factor is None else law.protein_factor / line.nitrogen_factor)
        for line in dish.lines
        if line.counted
    )
    gained = (converted_g - table_g) / dish.servings
    if abs(gained) < 0.05:
        return []
    more = "more" if gained > 0 else "less"
    by = f"{abs(gained):.1f} g {more} per {dish.portion_name} than by the foods' own nitrogen factors"
    return [f"by nitrogen x {law.protein_factor:g} it is {by}"]


def _named(line: PanelLine) -> str:
    text = line.text if len(line.text) <= SHOWN_LENGTH else f"{line.text[: SHOWN_LENGTH - 1]}…"
    return f"line {line.number} '{text}'"


def _plain_name(row: LabelRow) -> str:
    return _NOT_IN_TABLES.get(row.key, plain(row.name))


def plain(name: str) -> str:
    """The name of a row within a sentence."""
    return name.lstrip("- +").removeprefix("of which ").lower()
