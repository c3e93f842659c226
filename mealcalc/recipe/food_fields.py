"""Fields that the entries under `foods:` share, whether figures of a label or a batch of its own stand behind them."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass

import yaml

from mealcalc.diagnostics import Span
from mealcalc.recipe.quantities import Fault, read_mass_g, read_quantity
from mealcalc.recipe.yaml_nodes import Field, NodeReader, Text
from mealcalc.records import HouseholdMeasure
from mealcalc.units import measure

MEASURE_KEYS = ("piece", "slice", "scoop")
"""Measures that a food may have, each with its weight."""

LOWEST_DENSITY, HIGHEST_DENSITY = 0.05, 3.0
"""Bounds of a density in g/ml: puffed cereal lies above the one, any food below the other (our judgement)."""

_DENSITY_UNITS = {"g/ml": 1.0, "kg/l": 1.0, "g/cm3": 1.0, "g/cm³": 1.0, "g/l": 0.001}


@dataclass(frozen=True, slots=True)
class FoodNames:
    """The name of a food of the cook's own with its place, and its other names."""

    name: str
    span: Span
    others: tuple[str, ...]


def read_names(
    reader: NodeReader, node: yaml.Node, fields: Mapping[str, Field], number: int, taken: dict[str, Span]
) -> FoodNames | None:
    """The names of food `number`; None, with an error, if it has none or one of them is taken.

    taken: names of the foods before it, in lower case, with their places; those of this food are added.
    """
    name = reader.text(fields["name"][1], "'name'") if "name" in fields else None
    if name is None:
        if "name" not in fields:
            reader.error("missing-key", f"food {number} has no 'name'", reader.span(node), "write '- name: ...' first")
        return None
    others = reader.texts(fields["names"][1], "'names'") if "names" in fields else []
    texts: tuple[Text, ...] = (name, *others)
    for text in texts:
        if text.text.casefold() in taken:
            first = taken[text.text.casefold()]
            reader.error(
                "duplicate-food",
                f"the food '{text.text[:60]}' stands twice, first on line {first.line}; the first counts",
                text.span,
                "give each food names of its own",
            )
            return None
    taken |= {text.text.casefold(): text.span for text in texts}
    return FoodNames(name.text, name.span, tuple(text.text for text in others))


def read_density(reader: NodeReader, fields: Mapping[str, Field]) -> float | None:
    """The density of a food in g/ml; None if none is stated, or, with an error, none that can be."""
    if "density" not in fields:
        return None
    text = reader.text(fields["density"][1], "'density'", "a density such as 1.03 g/ml")
    if text is None:
        return None
    quantity = read_quantity(text.text, "1.03 g/ml")
    if isinstance(quantity, Fault):
        reason = quantity.reason
    elif quantity.unit.replace(" ", "").casefold() not in _DENSITY_UNITS:
        reason = "is not in g/ml"
    else:
        density = quantity.number * _DENSITY_UNITS[quantity.unit.replace(" ", "").casefold()]
        if LOWEST_DENSITY <= density <= HIGHEST_DENSITY:
            return density
        reason = f"is not between {LOWEST_DENSITY:g} and {HIGHEST_DENSITY:g} g/ml, where foods lie"
    reader.error("bad-density", f"density '{text.text[:60]}' {reason}", text.span, "write it like 1.03 g/ml")
    return None


def read_measures(reader: NodeReader, fields: Mapping[str, Field]) -> list[HouseholdMeasure]:
    """The weights of one piece, slice and scoop as far as they are stated, in g."""
    measures = []
    for key in MEASURE_KEYS:
        if key not in fields:
            continue
        text = reader.text(fields[key][1], f"'{key}'", "a weight such as 35 g")
        mass_g = read_mass_g(text.text, "35 g") if text else None
        if text and isinstance(mass_g, Fault):
            reader.error("bad-weight", f"'{key}: {text.text[:60]}' {mass_g.reason}", text.span, mass_g.hint)
        elif isinstance(mass_g, float):
            measures.append(HouseholdMeasure(1.0, key, mass_g))
    return measures


def volume_measure(density_g_per_ml: float) -> HouseholdMeasure:
    """A density as the measure of a cup: volume measures of foods are US ones, and are read as such."""
    cup_ml = measure("cup", "us").ml
    assert cup_ml is not None
    return HouseholdMeasure(1.0, "cup", density_g_per_ml * cup_ml)


def food_code(name: str, number: int) -> str:
    """The code of a food of the cook's own in the table 'own', made of its name."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii").lower()
    return "-".join(re.findall(r"[a-z0-9]+", plain)) or f"food-{number}"
