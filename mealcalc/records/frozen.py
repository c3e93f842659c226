"""Records of what was stated of a batch on a day, and of what changed since."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class FrozenRow:
    """A row of a panel as it was stated; raw amounts in `unit`, None where nothing was known."""

    row: str
    name: str
    key: str
    unit: str
    raw_per_portion: float | None
    printed_per_portion: str
    printed_per_100g: str
    percent: str


@dataclass(frozen=True, slots=True)
class FrozenLine:
    """A line as it was counted. amounts: food component key -> amount in one container, None where unknown."""

    component: str
    text: str
    table: str
    edition: str
    code: str
    food: str
    mass_g: float | None
    used_share: float
    amounts: Mapping[str, float | None]


@dataclass(frozen=True, slots=True)
class FrozenComponent:
    """A component as it was cooked; mass in g, None where it was not known."""

    name: str
    cooking: str
    cooked_mass_g: float | None


@dataclass(frozen=True, slots=True)
class FrozenRecord:
    """What was stated on a day, and what it rested on.

    version: of this tool. code, tables: fingerprints of its code and of its reviewed tables. scheme, variant, voluntary
    and the package: how the panel was asked for. macros: food component key -> amount in one container.
    """

    stated: date
    version: str
    code: str
    tables: str
    title: str
    region: str
    containers: int
    scheme: str
    energy_method: str
    variant: str
    voluntary: tuple[str, ...]
    package: Mapping[str, float]
    rows: tuple[FrozenRow, ...]
    macros: Mapping[str, float]
    components: tuple[FrozenComponent, ...]
    lines: tuple[FrozenLine, ...]

    @property
    def asked_for(self) -> tuple[str, str]:
        """Scheme and variant: what tells the records of one batch apart."""
        return self.scheme, self.variant


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that is otherwise than it was.

    kind: stable name: line-changed, line-added, line-removed, food-changed, edition-changed, grams-changed,
    composition-changed, cooking-changed, region-changed, containers-changed, package-changed, scheme-changed,
    tables-changed, code-changed. text: for the reader. amounts: what it adds to one container, by food component key,
    where it is a line.
    """

    kind: str
    text: str
    amounts: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class RowChange:
    """A row that is stated otherwise now; `because`: texts of the causes that move it, the largest first."""

    name: str
    before: FrozenRow | None
    after: FrozenRow | None
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """A record beside the batch of today."""

    before: FrozenRecord
    after: FrozenRecord
    changes: tuple[RowChange, ...]
    causes: tuple[Cause, ...]

    @property
    def same(self) -> bool:
        """Whether everything that was stated still holds."""
        return not self.changes
