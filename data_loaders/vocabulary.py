"""The vocabulary of the loaders: food components beyond those that reports list, units, conversions.

`mealcalc.components` holds what every report shows. Published tables hold more (fatty acids one by one, amino acids,
energy and carbohydrate by other definitions); `vocabulary.csv` names them by the same kind of key. They stay apart, so
that they are mapped and checked without adding unknown rows to every report; the food database has no place for them.
A component is never renamed into another that merely resembles it: carbohydrate by difference (CHOCDF, fibre included;
CHOAVLDF, without) is not carbohydrate by weight (CHOAVL) nor in monosaccharide equivalents (CHOAVLM), vitamin A in
retinol equivalents (VITA) is not in retinol activity equivalents (VITA_RAE).
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from types import MappingProxyType

from mealcalc.components import FOOD_COMPONENTS, FoodComponent


@dataclass(frozen=True, slots=True)
class FurtherComponent:
    """A component that only the loaders know; `usda_number`: its number in USDA's tables, '' if it has none."""

    component: FoodComponent
    usda_number: str
    definition: str
    source: str


def _read() -> Mapping[str, FurtherComponent]:
    text = resources.files("data_loaders").joinpath("vocabulary.csv").read_text(encoding="utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        one = FoodComponent(row["key"], row["tagname"], row["unit"], row["name"], 3, row["part_of"])
        found[one.key] = FurtherComponent(one, row["usda_number"], row["definition"], row["source"])
    return MappingProxyType(found)


FURTHER_COMPONENTS: Mapping[str, FurtherComponent] = _read()
"""Component key -> component, for those that `FOOD_COMPONENTS` does not hold."""

_MASS_G = {"g": 1.0, "mg": 1e-3, "µg": 1e-6}

UNIT_WORDS: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(("g", "gm", "gram", "grams", "gramme", "gramm", "g/100g", "%"), "g"),
        **dict.fromkeys(("mg", "milligram", "milligrams"), "mg"),
        **dict.fromkeys(("µg", "μg", "ug", "mcg", "microgram", "micrograms", "mcg_rae", "mcg_dfe"), "µg"),
        **dict.fromkeys(("kj", "kilojoule", "kilojoules"), "kJ"),
        **dict.fromkeys(("kcal", "kilocalorie", "kilocalories", "calories"), "kcal"),
        **dict.fromkeys(("iu", "i.u.", "ui", "ie"), "IU"),
    }
)
"""Unit as written, in lower case -> our unit."""

MICROGRAMS_PER_IU: Mapping[str, float] = MappingProxyType({"VITD_UG": 0.025, "RETOL_UG": 0.3})
"""International units (WHO Expert Committee on Biological Standardization, 1949, from memory): 1 IU is 0.025 µg of
vitamin D3 and 0.3 µg of retinol. Vitamin A as such and vitamin E have no single figure: it depends on the form."""


class UnitError(ValueError):
    """An amount cannot be turned into the unit of its component."""


def component_of(key: str) -> FoodComponent | None:
    """The component of a key, of the reports or of the loaders; None for an unknown key."""
    known = FOOD_COMPONENTS.get(key)
    if known is not None:
        return known
    further = FURTHER_COMPONENTS.get(key)
    return None if further is None else further.component


def conversion(unit: str, key: str) -> float:
    """What an amount in `unit` is multiplied by to stand in the unit of the component `key`.

    Raises
    ------
    UnitError
        If the unit is unknown, the component is, or the two do not measure the same.
    """
    component = component_of(key)
    if component is None:
        raise UnitError(f"'{key}' is no component that is known")
    written = UNIT_WORDS.get(unit.strip().lower())
    if written is None:
        raise UnitError(f"'{unit}' is no unit that is known")
    if written == component.unit:
        return 1.0
    if written in _MASS_G and component.unit in _MASS_G:
        # Powers of ten divide exactly where they would not multiply exactly.
        ratio = _MASS_G[written] / _MASS_G[component.unit]
        return float(round(ratio)) if ratio > 1 else 1 / round(1 / ratio)
    if written == "IU" and key in MICROGRAMS_PER_IU:
        return MICROGRAMS_PER_IU[key]
    raise UnitError(f"{component.name} in {written} cannot be turned into {component.unit}")
