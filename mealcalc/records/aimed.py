"""Records of what comes nearest to the targets: portions or amounts, limits that bind, limits that contradict."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from mealcalc.diagnostics import Diagnostic
from mealcalc.records.results import BatchResult
from mealcalc.records.targets import Target, Targets


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit as it was set, or by what there is.

    eater: whose it is, '' for every container. target: None for a limit that no target sets. words: the limit in
    words.
    """

    words: str
    eater: str = ""
    target: Target | None = None


@dataclass(frozen=True, slots=True)
class Binding:
    """A limit that binds, and what loosening it by `step` would buy.

    change: name of each component or line -> by how many grams it would change. gained: more (or less) of what is to be
    most (or least), in its unit; None where nothing is. nearer: by how much the mean distance from the starting point
    would shrink, as a share of it (0.01 is one hundredth).
    """

    limit: Limit
    step: float
    change: Mapping[str, float]
    gained: float | None
    nearer: float


@dataclass(frozen=True, slots=True)
class Contradicting:
    """One of the limits that cannot be kept together, and how far its quantity gets if all of the others are.

    reach: the best value that the others allow, in the unit of the limit; None where the limit has no value of its own.
    enough: whether giving it up alone lets every limit be kept, beyond those that are named, too.
    """

    limit: Limit
    reach: float | None
    enough: bool


@dataclass(frozen=True, slots=True)
class Judged:
    """A target beside what comes out, in its unit; amount: None where nothing of it is known.

    complete: whether the figure is known of every line, so that the limit can be judged at all.
    """

    target: Target
    amount: float | None
    complete: bool
    met: bool


@dataclass(frozen=True, slots=True)
class AimedContainer:
    """One eater's container: grams of each component by name, figures, and the targets beside them.

    figures: food component, `MASS` or `COST` -> amount. even_g, even_figures: the same without targets.
    """

    eater: str
    containers: int
    grams: Mapping[str, float]
    even_g: Mapping[str, float]
    figures: Mapping[str, float]
    even_figures: Mapping[str, float]
    judged: tuple[Judged, ...]


@dataclass(frozen=True, slots=True)
class AimedLine:
    """A line whose amount was sought: as written and as found, in words and in edible g of the whole batch.

    factor: found as a share of written. packs: whole packs of it, None where it is not sold in packs.
    """

    line: int
    name: str
    component: str
    written: str
    found: str
    written_g: float
    found_g: float
    factor: float
    packs: int | None = None


@dataclass(frozen=True, slots=True)
class Aimed:
    """What comes nearest to the targets.

    kept: whether every limit is kept, by the exact solution. containers: one for each eater. lines: amounts that were
    sought; empty where portions were. leftover_g: component -> what is left in the pot. binding: limits that bind.
    contradicting: limits that cannot be kept together, none of them dispensable; empty where all are kept. cost: of the
    containers together. result: the batch calculated as found.
    """

    title: str
    targets: Targets
    kept: bool
    containers: tuple[AimedContainer, ...]
    result: BatchResult
    lines: tuple[AimedLine, ...] = ()
    leftover_g: Mapping[str, float] = field(default_factory=dict)
    binding: tuple[Binding, ...] = ()
    contradicting: tuple[Contradicting, ...] = ()
    currency: str = ""
    cost: Decimal | None = None
    diagnostics: tuple[Diagnostic, ...] = ()
