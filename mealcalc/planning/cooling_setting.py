"""The container and what is around it, as the conduction model needs them."""

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from mealcalc.errors import UsageError
from mealcalc.planning.cooling_physics import Direction, Flat, Round, Stage
from mealcalc.records.cooling import ContainerWall, HeatTransfer, ThermalProperties
from mealcalc.reference.cooling_tables import cooling_assumptions, heat_transfer, wall_of

DEEPEST_M = 0.5
LARGEST_M = 1.0
HOTTEST_C = 110.0
"""Limits of what is taken for a container of food: our judgement, against slips such as 5 m for 5 cm."""

_GAP = "lid_gap"
_BATH = "ice_bath"


class Shape(StrEnum):
    """Shape of the food: a wide layer, a rectangular box, or a round pot."""

    TRAY = "tray"
    BOX = "box"
    POT = "pot"


class Case(StrEnum):
    """The cases that make up a band; each takes all unknowns to the same side."""

    FAST = "fast"
    TYPICAL = "typical"
    SLOW = "slow"


@dataclass(frozen=True, slots=True)
class Container:
    """Food in a container; lengths in m.

    length_m, width_m: of the food in a box; width_m: diameter in a pot; None for a tray, whose sides are left out.
    lidded: a lid with air below it. raised: air reaches the bottom, as on a wire rack. stirred: the food is stirred.
    """

    shape: Shape
    depth_m: float
    wall: ContainerWall
    length_m: float | None = None
    width_m: float | None = None
    lidded: bool = False
    raised: bool = True
    stirred: bool = False

    def __post_init__(self) -> None:
        if not 0.0 < self.depth_m <= DEEPEST_M:
            raise UsageError(
                f"depth {self.depth_m * 100:g} cm: the food is more than 0 and at most {DEEPEST_M * 100:g} cm deep",
                "give the depth of the food, such as --depth 5cm",
            )
        needed = {Shape.TRAY: (), Shape.BOX: ("length", "width"), Shape.POT: ("width",)}[self.shape]
        for name in needed:
            size_m = self.length_m if name == "length" else self.width_m
            if size_m is None:
                what = "diameter" if self.shape is Shape.POT else name
                raise UsageError(f"a {self.shape} needs its {what}", f"give --{what}, such as --{what} 18cm")
            if not 0.0 < size_m <= LARGEST_M:
                raise UsageError(
                    f"{name} {size_m * 100:g} cm: a container is more than 0 and at most {LARGEST_M * 100:g} cm wide",
                    "give the inner size, such as 18cm",
                )

    @property
    def base_m2(self) -> float:
        """Area of the food's base; 1 m2 for a tray of unknown size, of which every part cools alike."""
        if self.shape is Shape.POT and self.width_m is not None:
            return math.pi * self.width_m**2 / 4.0
        return self.length_m * self.width_m if self.length_m is not None and self.width_m is not None else 1.0

    @property
    def side_m2(self) -> float:
        """Area of the sides that pass heat; 0 for a tray."""
        if self.shape is Shape.POT and self.width_m is not None:
            return math.pi * self.width_m * self.depth_m
        if self.shape is Shape.BOX and self.length_m is not None and self.width_m is not None:
            return 2.0 * (self.length_m + self.width_m) * self.depth_m
        return 0.0

    def described(self) -> str:
        """The container in words."""
        size = ""
        if self.shape is Shape.BOX and self.length_m is not None and self.width_m is not None:
            size = f"{_cm(self.length_m)} x {_cm(self.width_m)} cm, "
        elif self.shape is Shape.POT and self.width_m is not None:
            size = f"{_cm(self.width_m)} cm across, "
        parts = [
            f"{self.wall.name} {self.shape}, {size}food {_cm(self.depth_m)} cm deep",
            "lid on" if self.lidded else "no lid",
            "stirred all the time" if self.stirred else "not stirred",
        ]
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the container stands in: coefficients of `situation`, temperature in C, hours (inf: to the end)."""

    situation: HeatTransfer
    air_c: float
    hours: float = math.inf

    @property
    def is_bath(self) -> bool:
        """Whether walls stand in ice water; the top is then left out."""
        return self.situation.situation == _BATH

    def described(self) -> str:
        """The surroundings in words."""
        during = "" if math.isinf(self.hours) else f" for {self.hours:.3g} h"
        return f"{self.situation.name} at {self.air_c:.3g} C{during}"


def make_container(
    shape: str,
    depth_m: float,
    *,
    material: str = "plastic",
    length_m: float | None = None,
    width_m: float | None = None,
    lidded: bool = False,
    raised: bool = True,
    stirred: bool = False,
) -> Container:
    """A container of a material of `container_walls.csv`; UsageError where a size is missing or beyond all sense."""
    return Container(Shape(shape), depth_m, wall_of(material), length_m, width_m, lidded, raised, stirred)


def make_surroundings(situation: str, air_c: float | None = None, hours: float = math.inf) -> Surroundings:
    """Surroundings of `heat_transfer.csv`, with the usual temperature there unless `air_c` says another.

    Raises
    ------
    UsageError
        If the situation is unknown, or its temperature is below freezing, which the model cannot follow.
    """
    known = heat_transfer()
    if situation not in known or situation == _GAP:
        names = ", ".join(name for name in known if name != _GAP)
        raise UsageError(f"no surroundings '{situation}'", f"known ones: {names}")
    row = known[situation]
    if air_c is None:
        air_c = row.air_c if row.air_c is not None else known["fridge"].air_c
        assert air_c is not None
    if air_c < 0.0:
        raise UsageError(
            f"air at {air_c:g} C: the model knows no ice and stops at 0 C",
            "cool above freezing first; food put hot into a freezer thaws what lies beside it",
        )
    return Surroundings(row, air_c, hours)


def check_temperatures(start_c: float, surroundings: tuple[Surroundings, ...]) -> None:
    """UsageError unless the food starts hotter than its surroundings, and each of them is no warmer than the last."""
    if not 0.0 < start_c <= HOTTEST_C:
        raise UsageError(
            f"start at {start_c:g} C: food starts above 0 and at most at {HOTTEST_C:g} C",
            "give the temperature in the middle of the food when it starts to cool, such as --start 60C",
        )
    warmest_c = start_c
    for around in surroundings:
        if around.air_c >= warmest_c and around is surroundings[0]:
            raise UsageError(
                f"the food starts at {start_c:g} C, and its surroundings are at {around.air_c:g} C: nothing cools",
                "check --start and the temperature of the surroundings",
            )
        if around.air_c > warmest_c:
            raise UsageError(
                f"{around.described()} is warmer than what comes before it, at {warmest_c:g} C",
                "order the stages from warm to cold",
            )
        warmest_c = around.air_c


def stages_of(container: Container, surroundings: tuple[Surroundings, ...], case: Case) -> tuple[Stage, ...]:
    """The stages of the model for one case of the band."""
    return tuple(_stage(container, around, case) for around in surroundings)


def in_case(properties: ThermalProperties, case: Case) -> ThermalProperties:
    """Properties shifted to one side of their uncertainty: conductive and light for fast, the reverse for slow."""
    side = {Case.FAST: 1.0, Case.TYPICAL: 0.0, Case.SLOW: -1.0}[case]
    conductivity = cooling_assumptions()["conductivity_spread"].value / 100.0
    heat_capacity = cooling_assumptions()["heat_capacity_spread"].value / 100.0
    return replace(
        properties,
        conductivity_w_mk=properties.conductivity_w_mk * (1.0 + side * conductivity),
        specific_heat_j_kgk=properties.specific_heat_j_kgk * (1.0 - side * heat_capacity),
    )


def coefficient(row: HeatTransfer, case: Case) -> float:
    """The coefficient of a situation in a case, W/m2K."""
    return {Case.FAST: row.high_w_m2k, Case.TYPICAL: row.typical_w_m2k, Case.SLOW: row.low_w_m2k}[case]


def _stage(container: Container, around: Surroundings, case: Case) -> Stage:
    bare = coefficient(around.situation, case)
    through_wall = 1.0 / (1.0 / bare + container.wall.resistance_m2k_w)
    top, bottom = bare, through_wall if container.raised or around.is_bath else 0.0
    if container.lidded:
        lid_m = cooling_assumptions()["lid_material_thickness"].value / 1000.0
        lid_m2k_w = lid_m / wall_of("plastic").conductivity_w_mk
        top = 1.0 / (1.0 / bare + lid_m2k_w + 1.0 / coefficient(heat_transfer()[_GAP], case))
    if around.is_bath:
        top = 0.0
    directions: list[Direction] = [Flat(container.depth_m, bottom, top)]
    if container.shape is Shape.BOX and container.length_m is not None and container.width_m is not None:
        directions += [Flat(size_m, through_wall, through_wall) for size_m in (container.length_m, container.width_m)]
    elif container.shape is Shape.POT and container.width_m is not None:
        directions.append(Round(container.width_m / 2.0, through_wall))
    exchange_w_k = (top + bottom) * container.base_m2 + through_wall * container.side_m2
    return Stage(around.air_c, tuple(directions), around.hours * 3600.0, exchange_w_k)


def _cm(size_m: float) -> str:
    return f"{size_m * 100:.3g}"
