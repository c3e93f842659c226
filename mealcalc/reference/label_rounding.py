"""Reader of the rounding rules of nutrition labelling: `label_rounding.csv`, one row per piece of a rule.

A rule is a list of pieces that cover the amounts from zero upward without gap or overlap; each piece says what is
printed for an amount that falls into it, and by which clause.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache
from itertools import pairwise

from mealcalc.errors import ReferenceDataError
from mealcalc.reference.label_tables import Citation, citation, rows_of_scheme


class RoundingAction(StrEnum):
    """What a piece of a rule prints."""

    ZERO = "zero"
    LESS_THAN = "less than"
    NEAREST = "nearest"
    FIGURES = "figures"


@dataclass(frozen=True, slots=True)
class AlsoAllowed:
    """Another print that the law allows: a fixed `text`, or the amount by another action and step."""

    text: str = ""
    action: RoundingAction | None = None
    step: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class RoundingPiece:
    """What is printed for amounts from `start` to `end` (None: without end).

    step: increment in the unit of the rule, or the number of significant figures. text: what stands for the amount when
    it is a statement of less. fixed_decimals: 1.0 keeps its decimal. zero_if_free: a smaller step gives way to zero
    where the food meets the conditions of the scheme's 'free of' claim.
    """

    start: Decimal
    start_included: bool
    end: Decimal | None
    end_included: bool
    action: RoundingAction
    step: Decimal
    text: str
    fixed_decimals: bool
    zero_if_free: bool
    also: AlsoAllowed | None
    note: str
    cited: Citation

    def holds(self, amount: Decimal) -> bool:
        """Whether an amount falls into this piece."""
        above = amount > self.start or (self.start_included and amount == self.start)
        return above and (self.end is None or amount < self.end or (self.end_included and amount == self.end))


@dataclass(frozen=True, slots=True)
class RoundingRule:
    """A rounding rule of a scheme; `unit` is printed after the number ('' for none)."""

    scheme: str
    name: str
    unit: str
    pieces: tuple[RoundingPiece, ...]

    def piece_for(self, amount: Decimal) -> RoundingPiece:
        """The piece that an amount of zero or more falls into."""
        return next(piece for piece in self.pieces if piece.holds(amount))


@cache
def rounding_rules(scheme: str) -> dict[str, RoundingRule]:
    """Rounding rules of a scheme by name, each checked to cover all amounts from zero upward once."""
    named: dict[str, list[tuple[str, RoundingPiece]]] = {}
    for name, unit, piece in rows_of_scheme("label_rounding.csv", scheme, lambda r: (r["rule"], r["unit"], _piece(r))):
        named.setdefault(name, []).append((unit, piece))
    rules = {}
    for name, parts in named.items():
        pieces = tuple(piece for _, piece in parts)
        if not _whole(pieces) or len({unit for unit, _ in parts}) > 1:
            raise ReferenceDataError(
                f"label_rounding.csv: rule '{name}' of {scheme} has a gap, an overlap or two units",
                "reinstall mealcalc",
            )
        rules[name] = RoundingRule(scheme, name, parts[0][0], pieces)
    return rules


def _whole(pieces: tuple[RoundingPiece, ...]) -> bool:
    first, last = pieces[0], pieces[-1]
    if first.start != 0 or not first.start_included or last.end is not None:
        return False
    return all(
        before.end == after.start and before.end_included != after.start_included for before, after in pairwise(pieces)
    )


def _piece(row: dict[str, str]) -> RoundingPiece:
    action = RoundingAction(row["action"])
    if (action in (RoundingAction.NEAREST, RoundingAction.FIGURES)) != bool(row["step"]):
        raise ValueError(f"a step belongs to 'nearest' and 'figures' only, not to '{action}'")
    if (action is RoundingAction.LESS_THAN) != bool(row["text"]):
        raise ValueError(f"a text belongs to 'less than' only, not to '{action}'")
    return RoundingPiece(
        Decimal(row["from"]),
        _yes(row["from_included"]),
        Decimal(row["to"]) if row["to"] else None,
        _yes(row["to_included"]),
        action,
        Decimal(row["step"] or 0),
        row["text"],
        _yes(row["fixed_decimals"]),
        _yes(row["zero_if_free"]),
        _also(row["also"]),
        row["note"],
        citation(row),
    )


def _also(text: str) -> AlsoAllowed | None:
    if not text:
        return None
    kind, _, what = text.partition(":")
    if kind == "text":
        return AlsoAllowed(text=what)
    return AlsoAllowed(action=RoundingAction(kind), step=Decimal(what))


def _yes(text: str) -> bool:
    if text not in ("yes", "no"):
        raise ValueError(f"'{text}' is neither yes nor no")
    return text == "yes"
