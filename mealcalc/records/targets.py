"""Records of targets: what a cook wants of every container."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Span

MASS = "MASS_G"
COST = "COST"
"""Quantities that are no food components: grams of food in a container, and what it costs."""


class Bound(StrEnum):
    """How a target bounds its quantity: two limits, and a wish."""

    AT_LEAST = "at least"
    AT_MOST = "at most"
    ABOUT = "about"


@dataclass(frozen=True, slots=True)
class Target:
    """One limit or wish for one container.

    key: food component, `MASS` or `COST`. amount: in the unit of `key` (money for `COST`).
    """

    key: str
    bound: Bound
    amount: float
    span: Span | None = None

    @property
    def name(self) -> str:
        """What is limited, in plain words."""
        return name_of(self.key)

    @property
    def unit(self) -> str:
        """Unit of the amount; '' for money."""
        return unit_of(self.key)

    def __str__(self) -> str:
        return f"{self.name} {self.bound.value} {amount_text(self.key, self.amount)}"


@dataclass(frozen=True, slots=True)
class Targets:
    """What is wanted of a batch.

    every: of every container. of_eater: of the containers of one eater; a target of theirs takes the place of one of
    `every` that bounds the same quantity alike. keep_ratio: names of components (or of lines whose amounts may change)
    whose ratio stays as cooked. most, least: quantity that is to be as large or small as the limits allow, '' for none.
    change: words of lines, or names of components, whose amounts may change; empty where the grams of each component in
    a container are sought. whole_packs: words of a line -> its pack, such as '500 g'.
    """

    every: tuple[Target, ...] = ()
    of_eater: Mapping[str, tuple[Target, ...]] = field(default_factory=dict)
    keep_ratio: tuple[tuple[str, ...], ...] = ()
    most: str = ""
    least: str = ""
    change: tuple[str, ...] = ()
    whole_packs: Mapping[str, str] = field(default_factory=dict)
    span: Span | None = None

    @property
    def empty(self) -> bool:
        """Whether nothing is wanted."""
        return not (self.every or any(self.of_eater.values()) or self.most or self.least)

    def of(self, eater: str) -> tuple[Target, ...]:
        """The targets of one eater's containers: their own, and those of every container that they leave."""
        own = self.of_eater.get(eater, ())
        taken = {(target.key, target.bound) for target in own}
        return (*(target for target in self.every if (target.key, target.bound) not in taken), *own)


_NAMES = {MASS: "mass", COST: "cost", "CHOAVLDF_G": "available carbohydrate"}


def name_of(key: str) -> str:
    """A quantity in plain words."""
    return _NAMES.get(key) or FOOD_COMPONENTS[key].name.partition(",")[0]


def unit_of(key: str) -> str:
    """The unit of a quantity; '' for money."""
    if key == MASS:
        return "g"
    return "" if key == COST else FOOD_COMPONENTS[key].unit


def amount_text(key: str, amount: float, currency: str = "") -> str:
    """An amount with its unit, in as many digits as are worth reading."""
    if key == COST:
        return f"{amount:.2f} {currency}".rstrip()
    return f"{float(f'{amount:.4g}'):g} {unit_of(key)}"
