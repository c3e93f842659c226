"""Readers of the tables of cooling: published limits and advice, thermal properties, heat transfer, container walls."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from mealcalc.errors import UsageError
from mealcalc.records.cooling import ContainerWall, CoolingAdvice, CoolingLimit, HeatTransfer
from mealcalc.reference.assumptions import Assumption, read_assumptions
from mealcalc.reference.keeping_tables import authorities
from mealcalc.reference.tables import optional_number, read_table

MEANT_FOR = ("cooked", "ambient", "processor")
CLOCKS = ("start", "stage")
SITUATIONS = ("any", "refrigerator", "room")
FOOD_PARTS = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")
"""The parts of food whose thermal properties are published; carbohydrate is without fibre."""

_PROPERTIES = {"conductivity": "W/m K", "density": "kg/m3", "specific_heat": "kJ/kg K"}


@dataclass(frozen=True, slots=True)
class ThermalPolynomial:
    """A property of one part of food as c0 + c1 T + c2 T**2, T in C; unit as printed by the source."""

    quantity: str
    part: str
    unit: str
    c0: float
    c1_per_c: float
    c2_per_c2: float
    note: str
    source: str
    edition: str
    mark: str

    def at(self, temperature_c: float) -> float:
        """The property at a temperature in C, in `unit`."""
        return self.c0 + self.c1_per_c * temperature_c + self.c2_per_c2 * temperature_c**2


@cache
def cooling_limits() -> tuple[CoolingLimit, ...]:
    """Published limits on cooling, by authority and stage."""
    return read_table(
        "cooling_limits.csv",
        lambda r: CoolingLimit(
            authorities()[r["authority"]].authority,
            MEANT_FOR[MEANT_FOR.index(r["meant_for"])],
            int(r["stage"]),
            optional_number(r["from_c"]),
            float(r["to_c"]),
            float(r["hours"]),
            CLOCKS[CLOCKS.index(r["clock"])],
            r["wording"],
            r["source"],
            r["edition"],
            r["mark"],
        ),
    )


@cache
def cooling_advice() -> tuple[CoolingAdvice, ...]:
    """What authorities advise for quick cooling."""
    return read_table(
        "cooling_advice.csv",
        lambda r: CoolingAdvice(
            authorities()[r["authority"]].authority,
            SITUATIONS[SITUATIONS.index(r["situation"])],
            r["wording"],
            r["source"],
            r["edition"],
            r["mark"],
        ),
    )


@cache
def thermal_properties() -> Mapping[tuple[str, str], ThermalPolynomial]:
    """(property, part of food) -> polynomial, properties being conductivity, density and specific_heat."""
    rows = read_table(
        "thermal_properties.csv",
        lambda r: ThermalPolynomial(
            list(_PROPERTIES)[list(_PROPERTIES).index(r["property"])],
            FOOD_PARTS[FOOD_PARTS.index(r["food_component"])],
            r["unit"],
            float(r["c0"]),
            float(r["c1_per_c"]),
            float(r["c2_per_c2"]),
            r["note"],
            r["source"],
            r["edition"],
            r["mark"],
        ),
    )
    return MappingProxyType({(row.quantity, row.part): row for row in rows})


@cache
def heat_transfer() -> Mapping[str, HeatTransfer]:
    """Heat transfer coefficients by situation."""
    rows = read_table(
        "heat_transfer.csv",
        lambda r: HeatTransfer(
            r["situation"],
            r["name"],
            float(r["low_w_m2k"]),
            float(r["typical_w_m2k"]),
            float(r["high_w_m2k"]),
            optional_number(r["air_c"]),
            r["ground"],
            r["mark"],
        ),
    )
    return MappingProxyType({row.situation: row for row in rows})


@cache
def container_walls() -> Mapping[str, ContainerWall]:
    """Walls of containers by material."""
    rows = read_table(
        "container_walls.csv",
        lambda r: ContainerWall(
            r["material"],
            r["name"],
            float(r["thickness_mm"]),
            float(r["conductivity_w_mk"]),
            r["ground"],
            r["mark"],
        ),
    )
    return MappingProxyType({row.material: row for row in rows})


@cache
def cooling_assumptions() -> Mapping[str, Assumption]:
    """Figures that the cooling model takes for granted, by quantity."""
    return read_assumptions("cooling_assumptions.csv")


def wall_of(material: str) -> ContainerWall:
    """The wall of a material; UsageError with the known ones for another."""
    if material not in container_walls():
        raise UsageError(f"no container material '{material}'", f"known ones: {', '.join(container_walls())}")
    return container_walls()[material]
