"""What the law of a scheme wants on a retail label beside the panel."""

from dataclasses import dataclass
from functools import cache

from mealcalc.reference.label_tables import Citation, citation
from mealcalc.reference.tables import read_table


@dataclass(frozen=True, slots=True)
class LabelParticular:
    """One particular of a label.

    particular: stable key, the same in all schemes. name, wanted: as readers see them. when: `always`, or when it
    applies.
    """

    schemes: frozenset[str]
    particular: str
    name: str
    wanted: str
    when: str
    cited: Citation


def label_particulars(scheme: str) -> tuple[LabelParticular, ...]:
    """The particulars of a scheme, in the order of the table."""
    return tuple(row for row in _particulars() if scheme in row.schemes)


@cache
def _particulars() -> tuple[LabelParticular, ...]:
    return read_table(
        "label_particulars.csv",
        lambda r: LabelParticular(
            frozenset(r["schemes"].split()), r["particular"], r["name"], r["wanted"], r["when"], citation(r)
        ),
    )
