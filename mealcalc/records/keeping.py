"""Records of keeping: authorities and their guidance, kinds of dish, the plan of dates, the freezer's stock."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Authority:
    """Who gives guidance; `audience` is home, trade or processor."""

    authority: str
    name: str
    jurisdiction: str
    regions: frozenset[str]
    audience: str
    note: str

    @property
    def title(self) -> str:
        """Name with jurisdiction."""
        return f"{self.name} ({self.jurisdiction})"


@dataclass(frozen=True, slots=True)
class DishKind:
    """A kind of dish under which authorities list guidance."""

    kind: str
    name: str
    note: str


@dataclass(frozen=True, slots=True)
class DishRule:
    """One rule by which a component is of a kind of dish.

    looks_at: food (a line's food), words (a line that no table holds), name (of the component), component (name and
    cooking) or kinds (those found so far). Empty conditions hold always; those given hold together.
    """

    kind: str
    looks_at: str
    food_groups: frozenset[str]
    words: tuple[str, ...]
    none_of: tuple[str, ...]
    with_kinds: frozenset[str]
    without_kinds: frozenset[str]
    note: str


@dataclass(frozen=True, slots=True)
class Guidance:
    """One statement of an authority.

    topic: refrigerator, freezer, thaw, thawed, reheat, cook, room, ... dish: a `DishKind`. low, high: the figures in
    `unit`, None where the statement holds none. hold_s: seconds for which a temperature is held. cooking_day_is_day: 0
    where the day after cooking is day 1, 1 where the day of cooking is. wording: paraphrase of the statement.
    """

    authority: str
    topic: str
    dish: str
    low: float | None
    high: float | None
    unit: str
    hold_s: float | None
    cooking_day_is_day: int | None
    wording: str
    source: str
    edition: str
    mark: str


@dataclass(frozen=True, slots=True)
class ListedGuidance:
    """Guidance that concerns a batch, and for which of its components (names)."""

    guidance: Guidance
    authority: Authority
    dish: DishKind
    components: tuple[str, ...]
    last_day: date | None = None


@dataclass(frozen=True, slots=True)
class ComponentKinds:
    """The kinds of dish that a component is, each with why we believe it."""

    component: str
    kinds: tuple[tuple[DishKind, str], ...]


@dataclass(frozen=True, slots=True)
class ContainerPlan:
    """What happens to one container.

    number: from 1. frozen_on: day on which it goes into the freezer, None if it stays in the refrigerator. thaw_from:
    day on which it moves from freezer to refrigerator. eat_on: day planned for eating. last_day: last day by the
    strictest of the chosen guidance; None where no guidance covers it. limit: which guidance that is.
    """

    number: int
    eat_on: date
    last_day: date | None
    limit: ListedGuidance | None
    frozen_on: date | None = None
    thaw_from: date | None = None

    @property
    def covered(self) -> bool:
        """Whether the day planned for eating is within the guidance."""
        return self.last_day is not None and self.eat_on <= self.last_day


@dataclass(frozen=True, slots=True)
class DatePlan:
    """The plan of all containers of a batch, and the freezer's last day by the strictest of the chosen guidance."""

    cooked: date
    eaten_per_day: int
    containers: tuple[ContainerPlan, ...]
    fridge_limit: ListedGuidance | None
    freezer_limit: ListedGuidance | None
    thaw: ListedGuidance | None
    thawed_limit: ListedGuidance | None
    freezer_best_before: date | None


@dataclass(frozen=True, slots=True)
class Keeping:
    """Guidance for a batch, topic by topic, strictest first, with the plan of dates.

    topics: topic -> guidance, strictest first. container_mass_g: cooked mass in one container, None where not known.
    cautions: sentences, each with its authority or with the word that it is this project's own.
    """

    title: str
    containers: int
    container_mass_g: float | None
    components: tuple[ComponentKinds, ...]
    topics: dict[str, tuple[ListedGuidance, ...]]
    cautions: tuple[str, ...]
    plan: DatePlan


@dataclass(frozen=True, slots=True)
class FrozenContainers:
    """Containers of one batch in the freezer.

    containers: how many are left. cooked, frozen: dates. best_before: last day by guidance for quality, None where none
    is known; guidance says whose.
    """

    title: str
    containers: int
    cooked: date
    frozen: date
    best_before: date | None = None
    guidance: str = ""
    mass_g: float | None = None
