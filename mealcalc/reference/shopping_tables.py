"""Readers of the tables of shopping: sections of a shop, what stands for a part of a food, the unit a food is sold in.

All three are common practice of the trade, reviewed by hand, without a source.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from mealcalc.reference.tables import read_table

SECTIONS: Mapping[str, str] = MappingProxyType(
    {
        "produce": "Vegetables, fruit and herbs",
        "bakery": "Bread",
        "meat": "Meat and poultry",
        "fish": "Fish",
        "dairy": "Dairy, eggs and chilled",
        "grains": "Grains, pasta and pulses",
        "tins": "Tins and jars",
        "sauces": "Oils, sauces and stock",
        "spices": "Spices and seasonings",
        "baking": "Baking, nuts and dried fruit",
        "drinks": "Drinks",
        "frozen": "Frozen",
        "other": "Other",
    }
)
"""Sections of a shop with their headings, in the order of walking through it; what is frozen comes last."""


@dataclass(frozen=True, slots=True)
class SectionRules:
    """Which section a food stands in: by its everyday name, then its form (canned, frozen), then its food group."""

    by_food: Mapping[str, str]
    by_form: Mapping[str, str]
    by_group: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class BoughtAs:
    """A part of a food, counted in `unit`, that is bought as another food: the juice of a lemon as a lemon."""

    food: str
    unit: str
    bought_as: str


@cache
def section_rules() -> SectionRules:
    """The rules of `shop_sections.csv`."""
    found: dict[str, dict[str, str]] = {"food": {}, "form": {}, "group": {}}
    for looks_at, keys, section in read_table(
        "shop_sections.csv", lambda r: (r["looks_at"], r["keys"].split("|"), _section(r["section"]))
    ):
        for key in keys:
            found[looks_at].setdefault(key, section)
    return SectionRules(*(MappingProxyType(found[looks_at]) for looks_at in ("food", "form", "group")))


@cache
def bought_as() -> Mapping[tuple[str, str], str]:
    """(default food, unit) -> the default food that is bought for it."""
    rows = read_table("bought_as.csv", lambda r: BoughtAs(r["food"], r["unit"], r["bought_as"]))
    return MappingProxyType({(row.food, row.unit): row.bought_as for row in rows})


@cache
def sold_by() -> Mapping[str, str]:
    """Default food -> the unit that fresh ones are sold in, where cooks measure them in another one."""
    return MappingProxyType(dict(read_table("sold_by.csv", lambda r: (r["food"], r["unit"]))))


def _section(name: str) -> str:
    if name not in SECTIONS:
        raise ValueError(f"no section '{name}'")
    return name
