"""The published tolerance of a scheme beside a declared value.

A tolerance says how far an analysis may lie from the label; it is no licence to round in one's favour. Food tables and
recipes have a spread of their own.
"""

from dataclasses import dataclass
from decimal import Decimal

from mealcalc.labelling.rounding import to_decimal
from mealcalc.labelling.schemes import scheme_named
from mealcalc.reference.label_tables import Citation, ClauseStatus
from mealcalc.reference.label_tolerances import LabelTolerance
from mealcalc.reference.label_tolerances import tolerance_for as published_tolerance

HUNDRED_G = 100.0
SALT_G_PER_SODIUM_MG = 2.5 / 1000.0
"""Regulation (EU) No 1169/2011, Annex I, point 11."""

STANDS_UNDER = {"NACL_G": "NA_MG", "SUGAD_G": "SUGAR_G", "FATRN_G": "FASAT_G"}
"""Rows of a panel whose tolerance the table gives under another food component: salt under sodium, added sugars and
trans fat in the group of sugars and saturated fat (21 CFR 101.9(g)(5))."""

STATUS_OF_MARK = {
    "read": ClauseStatus.READ,
    "read (secondary)": ClauseStatus.IN_PART,
    "memory": ClauseStatus.MEMORY,
}


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What an analysis may find for a declared amount, in `unit` per `basis` (serving, 100 g); None: no such limit."""

    lower: Decimal | None
    upper: Decimal | None
    unit: str
    basis: str
    cited: Citation

    @property
    def text(self) -> str:
        """In words, such as `22.4 g or more per serving`."""
        if self.upper is None:
            span = f"{_plain(self.lower)} {self.unit} or more"
        elif self.lower is None:
            span = f"{_plain(self.upper)} {self.unit} or less"
        else:
            span = f"{_plain(self.lower)} to {_plain(self.upper)} {self.unit}"
        return f"{span} per {self.basis}"

    def accepts(self, analysed: Decimal | float) -> bool:
        """Whether an analysed amount in `unit` lies within."""
        amount = to_decimal(analysed)
        return (self.lower is None or amount >= self.lower) and (self.upper is None or amount <= self.upper)


def tolerance_for(scheme: str, key: str, declared: Decimal | float, unit: str) -> Tolerance | None:
    """The tolerance around a declared amount; None where the scheme publishes none for it, or for nothing declared.

    Parameters
    ----------
    scheme : str
        us, eu, uk, anz or ca.
    key : str
        Food component key.
    declared : Decimal or float
        The number on the label, per serving (us, ca) or per 100 g or 100 ml (eu, uk), in the unit of the key.
    unit : str
        The unit as printed.
    """
    per_100g = scheme_named(scheme).per_hundred
    # Salt is converted to the sodium that the table speaks of, and its limits back.
    unit_of_row = SALT_G_PER_SODIUM_MG if key == "NACL_G" else 1.0
    amount = float(declared) / unit_of_row
    row = published_tolerance(scheme, STANDS_UNDER.get(key, key), amount, HUNDRED_G if per_100g else None)
    if row is None or declared == 0:
        return None
    lower, upper = (
        None if limit is None else to_decimal(limit * unit_of_row) for limit in row.limits(amount, HUNDRED_G)
    )
    return Tolerance(lower, upper, unit, "100 g" if per_100g else "serving", _citation(row))


def _citation(row: LabelTolerance) -> Citation:
    return Citation(f"{row.name}, {row.clause}", row.name, STATUS_OF_MARK[row.mark])


def _plain(number: Decimal | None) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
