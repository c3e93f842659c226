"""`docs/labelling-rules.md`: every rule of every scheme with its clause, and whether its text was read.

`python -m tests.labelling.rules_document` writes it anew; a test checks that it is up to date.
"""

from collections.abc import Iterable, Sequence
from pathlib import Path

from mealcalc.labelling.schemes import SCHEMES
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.reference.label_rounding import RoundingAction, RoundingPiece, RoundingRule
from mealcalc.reference.label_tables import (
    UNVERIFIED,
    Citation,
    ClaimCondition,
    ClauseStatus,
    claim_conditions,
    reference_values,
)
from mealcalc.reference.label_tolerances import LabelTolerance, label_tolerances

DOCUMENT = Path(__file__).parent.parent.parent / "docs" / "labelling-rules.md"

SAME_AS = {"uk": "eu"}
"""Schemes that differ from another by their definitions only."""

INTRODUCTION = f"""\
# Rules of nutrition labelling

Generated from the tables of `mealcalc/reference/label_*.csv`. A draft for makers and for those who check them, not
legal advice. Every rule stands with its clause. The last column says how it is known:

- read: the text of the law, or a faithful copy, was read, as named;
- **{UNVERIFIED}** (in part): part of the text was read, or another page quotes it;
- **{UNVERIFIED}** (memory): from memory, not checked against a text;
- own practice: no clause was found; what this project does.

What the food tables do not hold (trans fat, polyols, starch) is printed as 'not determined', never as 0. An amount
that a line leaves open (salt to taste) is printed as 'at least ...', rounded down. Ties go up, on decimal numbers.
"""


def rules_document() -> str:
    """The whole document."""
    parts = [INTRODUCTION, _overview()]
    for scheme in SCHEMES.values():
        sections = _sections(scheme)
        if scheme.name in SAME_AS:
            other = SCHEMES[SAME_AS[scheme.name]]
            assert sections[2:] == _sections(other)[2:]
            sections = [*sections[:2], f"All other tables are those of the {other.title.split(':')[0]}.\n"]
        parts += [f"## {scheme.title}\n", *sections]
    return "\n".join(parts)


def _overview() -> str:
    rows = []
    for scheme in SCHEMES.values():
        cited = list(_all_cited(scheme))
        count = {status: sum(c.status is status for c in cited) for status in ClauseStatus}
        rows.append([f"`{scheme.name}`", scheme.title, *(str(count[status]) for status in ClauseStatus)])
    return "## How much of it was read\n\n" + _table(
        ["scheme", "panel", "rules read", "in part", "memory", "own practice"], rows
    )


def _all_cited(scheme: Scheme) -> Iterable[Citation]:
    yield from (row.cited for row in scheme.rows)
    yield from (piece.cited for rule in scheme.rounding.values() for piece in rule.pieces)
    yield from (value.cited for value in reference_values(scheme.name))
    yield from (factor.cited for factor in scheme.energy_factors)
    yield from (definition.cited for definition in scheme.definitions.values())
    yield from (condition.cited for condition in claim_conditions(scheme.name))
    yield from (statement.cited for statement in scheme.statements)


def _sections(scheme: Scheme) -> list[str]:
    definitions = [
        [d.subject, d.value, d.text + _note(d.note), d.cited.clause, _known(d.cited)]
        for d in scheme.definitions.values()
    ]
    rows = [
        [
            ("&nbsp;&nbsp;" * row.indent) + row.name + (f" / {row.second_name}" if row.second_name else ""),
            row.tagname,
            row.unit,
            "mandatory" if row.mandatory else "voluntary",
            row.rounding,
            f"{row.percent_set} ({row.percent_from})" if row.percent_key else "",
            row.note,
            row.cited.clause,
            _known(row.cited),
        ]
        for row in scheme.rows
    ]
    pieces = [
        [rule.name, _range(piece, rule), _prints(piece, rule), piece.note, piece.cited.clause, _known(piece.cited)]
        for rule in scheme.rounding.values()
        for piece in rule.pieces
    ]
    values = [
        [v.set_name, v.nutrient, f"{v.amount} {v.unit}", v.note, v.cited.clause, _known(v.cited)]
        for v in reference_values(scheme.name)
    ]
    factors = [
        [f.method, f.component, _number(f.kj_per_g), _number(f.kcal_per_g), f.cited.clause, _known(f.cited)]
        for f in scheme.energy_factors
    ]
    claims = [
        [c.claim, str(c.alternative), c.product, _condition(c), c.note, c.cited.clause, _known(c.cited)]
        for c in claim_conditions(scheme.name)
    ]
    statements = [[s.text, s.shown, s.note, s.cited.clause, _known(s.cited)] for s in scheme.statements]
    tolerances = [
        [", ".join(row.keys), _declared(row), _allowed(row), f"{row.name}, {row.clause}", _mark(row.mark)]
        for row in label_tolerances()
        if scheme.name in row.schemes
    ]
    tolerance_text = (
        _table(["components", "declared per 100 g", "analysis may lie", "clause", "known"], tolerances)
        if tolerances
        else "No published tolerance is known.\n"
    )
    return [
        "### Definitions\n",
        _table(["subject", "value", "meaning", "clause", "known"], definitions),
        "### Rows, in order\n",
        _table(["row", "tagname", "unit", "", "rounding", "percentage", "note", "clause", "known"], rows),
        "### Rounding\n",
        _table(["rule", "amount", "prints", "note", "clause", "known"], pieces),
        "### Reference values\n",
        _table(["set", "nutrient", "value", "note", "clause", "known"], values),
        "### Energy factors\n",
        _table(["method", "component", "kJ per g", "kcal per g", "clause", "known"], factors),
        "### Nutrition claims\n",
        _table(["claim", "alternative", "product", "condition", "note", "clause", "known"], claims),
        "### Statements\n",
        _table(["text", "shown", "note", "clause", "known"], statements),
        "### Tolerances\n",
        tolerance_text,
    ]


def _known(cited: Citation) -> str:
    if cited.status is ClauseStatus.OWN_PRACTICE:
        return cited.status.value
    if cited.status is ClauseStatus.READ:
        return f"read: {cited.source}"
    source = f": {cited.source}" if cited.status is ClauseStatus.IN_PART and cited.source != "in part" else ""
    return f"**{UNVERIFIED}** ({cited.status.value}{source})"


def _mark(mark: str) -> str:
    how = {"read": "read", "read (secondary)": "in part"}.get(mark, mark)
    return how if how == "read" else f"**{UNVERIFIED}** ({how})"


def _range(piece: RoundingPiece, rule: RoundingRule) -> str:
    if piece.start == piece.end:
        return f"{piece.start} {rule.unit}".strip()
    low = f"{'from' if piece.start_included else 'above'} {piece.start}"
    high = "" if piece.end is None else f" {'to' if piece.end_included else 'to below'} {piece.end}"
    return f"{low}{high} {rule.unit}".strip()


def _prints(piece: RoundingPiece, rule: RoundingRule) -> str:
    if piece.action is RoundingAction.ZERO:
        said = "0"
    elif piece.action is RoundingAction.LESS_THAN:
        said = f"'{piece.text}'"
    elif piece.action is RoundingAction.FIGURES:
        said = f"{piece.step} significant figures"
    else:
        said = f"nearest {piece.step} {rule.unit}".strip()
    if piece.also is not None:
        said += f"; also allowed: {piece.also.text or f'{piece.also.action} {piece.also.step}'}"
    return said


def _condition(condition: ClaimCondition) -> str:
    if condition.limit is None:
        return condition.measure
    basis = {"100": "per 100 g or ml", "": "of energy"}.get(condition.basis, f"per {condition.basis}")
    share = " of the reference value" if condition.measure == "reference share" else ""
    return f"{condition.key} {condition.operator} {condition.limit} {condition.unit}{share} {basis}"


def _declared(row: LabelTolerance) -> str:
    if not row.needs_mass:
        return "any"
    high = "" if row.per_100g_below is None else f" to below {row.per_100g_below:g}"
    return f"from {row.per_100g_from:g}{high}"


def _allowed(row: LabelTolerance) -> str:
    unit = " %" if row.unit == "percent" else f" {row.unit}"
    low = "any amount" if row.minus is None else f"{row.minus:g}{unit}"
    high = "any amount" if row.plus is None else f"{row.plus:g}{unit}"
    return f"{low} below, {high} above"


def _note(note: str) -> str:
    return f" ({note})" if note else ""


def _number(number: float | None) -> str:
    return "" if number is None else f"{number:g}"


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [head, ["---"] * len(head), *rows]
    return "".join(f"| {' | '.join(_cell(cell) for cell in line)} |\n" for line in lines)


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("<", "&lt;").replace("*5", "\\*5").replace("* The", "\\* The")


if __name__ == "__main__":
    DOCUMENT.write_text(rules_document(), encoding="utf-8")
