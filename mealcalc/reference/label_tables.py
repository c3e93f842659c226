"""Readers of the tables of nutrition labelling: rows of panels, reference values, energy factors, claims, sentences.

Every row names the clause it stands on, where the text was seen, and how surely: `read` (the text itself or a faithful
copy), `in part` (part of it, or quoted by another), `memory` (not checked against a text) or `own practice` (no clause;
what this project does). Rounding rules and tolerances have files of their own.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache
from typing import TypeVar

from mealcalc.reference.tables import read_table

Row = TypeVar("Row")

UNVERIFIED = "clause unverified"
"""What is shown beside a rule whose text was not read whole."""


class ClauseStatus(StrEnum):
    """How surely a rule is known."""

    READ = "read"
    IN_PART = "in part"
    MEMORY = "memory"
    OWN_PRACTICE = "own practice"


@dataclass(frozen=True, slots=True)
class Citation:
    """Where a rule stands (`clause`), where its text was seen (`source`), and how surely (`status`)."""

    clause: str
    source: str
    status: ClauseStatus

    @property
    def verified(self) -> bool:
        """Whether the text was read."""
        return self.status is ClauseStatus.READ

    def __str__(self) -> str:
        return self.clause if self.verified else f"{self.clause} [{UNVERIFIED}: {self.status.value}]"


def citation(row: dict[str, str]) -> Citation:
    """The citation of a table row, from its columns clause, source and status."""
    return Citation(row["clause"], row["source"], ClauseStatus(row["status"]))


@dataclass(frozen=True, slots=True)
class LabelRow:
    """One row of a scheme's panel, in the order of the law.

    row: stable identifier within the scheme. key: food component key of the amount. unit: as printed. mandatory: False
    for a row that may be added. rounding: rule of `label_rounding`. percent_key, percent_set: the amount and the set of
    reference values of the percentage, '' where the row has none. percent_from: unrounded or declared amount.
    """

    row: str
    name: str
    second_name: str
    indent: int
    key: str
    tagname: str
    unit: str
    mandatory: bool
    rounding: str
    percent_key: str
    percent_set: str
    percent_rounding: str
    percent_from: str
    note: str
    cited: Citation


@dataclass(frozen=True, slots=True)
class Definition:
    """What a scheme means by a word (`subject`), as a `value` for programs and a `text` for readers."""

    subject: str
    value: str
    text: str
    note: str
    cited: Citation


@dataclass(frozen=True, slots=True)
class Statement:
    """A sentence of the label. shown: always, percent (with a percentage column) or never (at the maker's choice)."""

    statement: str
    shown: str
    text: str
    note: str
    cited: Citation


@dataclass(frozen=True, slots=True)
class EnergyFactor:
    """Energy of one component by one method of a scheme, kJ and kcal per g; None where the law gives none.

    key: food component key; '' where food tables hold no such component.
    """

    method: str
    component: str
    key: str
    kj_per_g: float | None
    kcal_per_g: float | None
    cited: Citation


@dataclass(frozen=True, slots=True)
class ReferenceValue:
    """A daily value or reference intake, in `unit`; `key` is '' where no food table holds the nutrient."""

    set_name: str
    nutrient: str
    key: str
    amount: Decimal
    unit: str
    note: str
    cited: Citation


@dataclass(frozen=True, slots=True)
class ClaimCondition:
    """One condition of a nutrition claim; those of one alternative hold together, one alternative is enough.

    kind: content, comparative, component (of a named food) or symbol. product: what it is for (any, solid, liquid,
    meal, other, ...). measure: amount, energy share, reference share, comparison or component. key: food component key,
    or the set of reference values that a claim about any nutrient runs over. basis: 100 (g or ml), 100 kcal, portion,
    reference amount, or '' for shares of energy.
    """

    claim: str
    kind: str
    alternative: int
    product: str
    measure: str
    key: str
    basis: str
    operator: str
    limit: Decimal | None
    unit: str
    note: str
    cited: Citation


@dataclass(frozen=True, slots=True)
class SugarSource:
    """Foods whose sugars are all added, or all their own: by food group and words of the description."""

    kind: str
    groups: frozenset[str]
    words: frozenset[str]
    none_of: frozenset[str]
    note: str


@dataclass(frozen=True, slots=True)
class NitrogenFactor:
    """Grams of protein per gram of nitrogen for foods of a table that print none; empty groups or words fit all."""

    groups: frozenset[str]
    words: frozenset[str]
    factor: float


@cache
def label_rows(scheme: str) -> tuple[LabelRow, ...]:
    """Rows of the panel of a scheme (us, eu, uk, anz, ca), in the order of the law."""
    return rows_of_scheme(
        "label_rows.csv",
        scheme,
        lambda r: LabelRow(
            r["row"],
            r["name"],
            r["second_name"],
            int(r["indent"]),
            r["key"],
            r["tagname"],
            r["unit"],
            _one_of(r["level"], "mandatory", "voluntary") == "mandatory",
            r["rounding"],
            r["percent_key"],
            r["percent_set"],
            r["percent_rounding"],
            _one_of(r["percent_from"], "", "unrounded", "declared"),
            r["note"],
            citation(r),
        ),
    )


@cache
def label_definitions(scheme: str) -> dict[str, Definition]:
    """What a scheme means by its words: subject -> definition."""
    rows = rows_of_scheme(
        "label_definitions.csv",
        scheme,
        lambda r: Definition(r["subject"], r["value"], r["text"], r["note"], citation(r)),
    )
    return {row.subject: row for row in rows}


@cache
def label_statements(scheme: str) -> tuple[Statement, ...]:
    """Sentences that a scheme's label carries or may carry."""
    return rows_of_scheme(
        "label_statements.csv",
        scheme,
        lambda r: Statement(
            r["statement"], _one_of(r["shown"], "always", "percent", "never"), r["text"], r["note"], citation(r)
        ),
    )


@cache
def energy_factors(scheme: str) -> tuple[EnergyFactor, ...]:
    """Energy factors of a scheme, by method."""
    return rows_of_scheme(
        "label_energy_factors.csv",
        scheme,
        lambda r: EnergyFactor(
            r["method"],
            r["component"],
            r["key"],
            float(r["kj_per_g"]) if r["kj_per_g"] else None,
            float(r["kcal_per_g"]) if r["kcal_per_g"] else None,
            citation(r),
        ),
    )


@cache
def reference_values(scheme: str) -> tuple[ReferenceValue, ...]:
    """Daily values, reference intakes and nutrient reference values of a scheme."""
    return rows_of_scheme(
        "label_reference_values.csv",
        scheme,
        lambda r: ReferenceValue(
            r["set"], r["nutrient"], r["key"], Decimal(r["amount"]), r["unit"], r["note"], citation(r)
        ),
    )


@cache
def claim_conditions(scheme: str) -> tuple[ClaimCondition, ...]:
    """Conditions of the nutrition claims of a scheme."""
    return rows_of_scheme(
        "label_claims.csv",
        scheme,
        lambda r: ClaimCondition(
            r["claim"],
            r["kind"],
            int(r["alternative"]),
            r["product"],
            r["measure"],
            r["key"],
            r["basis"],
            _one_of(r["operator"], "", "<", "<=", ">", ">="),
            _decimal(r["limit"]),
            r["unit"],
            r["note"],
            citation(r),
        ),
    )


@cache
def sugar_sources() -> tuple[SugarSource, ...]:
    """Foods known to bring added sugars only, or none."""
    return read_table(
        "label_sugar_sources.csv",
        lambda r: SugarSource(
            _one_of(r["kind"], "added", "natural"),
            _set(r["groups"]),
            _words(r["words"]),
            _words(r["none_of"]),
            r["note"],
        ),
    )


@cache
def nitrogen_factors() -> tuple[NitrogenFactor, ...]:
    """Nitrogen factors for foods whose table prints none; the first that fits counts, the last fits all."""
    return read_table(
        "label_nitrogen_factors.csv",
        lambda r: NitrogenFactor(_set(r["groups"]), _words(r["words"]), float(r["factor"])),
    )


def description_words(description: str) -> list[str]:
    """Lower-case words of a food's description, as the tables here compare them."""
    return "".join(c if c.isalnum() else " " for c in description.lower()).split()


def nitrogen_factor(group: str, description: str) -> float:
    """Grams of protein per gram of nitrogen of a food whose table prints no factor.

    Parameters
    ----------
    group : str
        Food group code of SR28.
    description : str
        The food's description.
    """
    words = set(description_words(description))
    for row in nitrogen_factors():
        if (not row.groups or group in row.groups) and (not row.words or row.words & words):
            return row.factor
    raise LookupError("label_nitrogen_factors.csv lacks the row that fits all foods")


def rows_of_scheme(file_name: str, scheme: str, make: Callable[[dict[str, str]], Row]) -> tuple[Row, ...]:
    """Rows of a labelling table that hold for a scheme, each made by `make`; column `schemes` lists them."""
    found = read_table(file_name, lambda r: make(r) if scheme in r["schemes"].split() else None)
    return tuple(row for row in found if row is not None)


def _decimal(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def _set(text: str) -> frozenset[str]:
    return frozenset(text.split())


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split("|")) if text else frozenset()


def _one_of(text: str, *allowed: str) -> str:
    if text not in allowed:
        raise ValueError(f"'{text}' is none of {', '.join(allowed)}")
    return text
