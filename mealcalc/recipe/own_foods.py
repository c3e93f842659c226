"""The cook's own foods in a batch file, from a pack label or a test, as foods of the table 'own'.

    foods:
      - name: pea protein powder
        names: [pea powder]
        per: 100 g              # or 100 ml with a density, or serving with its weight
        energy: 1640 kJ
        protein: 80 g           # plain words or INFOODS tagnames (PROCNT)
        salt: 1.2 g             # counts as sodium
        scoop: 30 g

What is not stated stays missing; it is never taken for zero.
"""

import re
from dataclasses import dataclass
from pathlib import PurePath

import yaml

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.diagnostics import Severity, Span
from mealcalc.recipe.food_checks import contradictions, derive
from mealcalc.recipe.food_fields import (
    MEASURE_KEYS,
    FoodNames,
    food_code,
    read_density,
    read_measures,
    read_names,
    volume_measure,
)
from mealcalc.recipe.food_values import read_component_value, read_energy, read_value
from mealcalc.recipe.quantities import Fault, read_mass_g, read_quantity, read_volume_ml
from mealcalc.recipe.sub_batches import BATCH_KEY, read_sub_batch
from mealcalc.recipe.yaml_nodes import Field, NodeReader
from mealcalc.records import Food, HouseholdMeasure, SubBatch
from mealcalc.units import METRIC, canonical_unit, measure
from mealcalc.values import Value, ValueStatus

OWN_TABLE = "own"

SODIUM_SHARE_OF_SALT = 1 / 2.5
"""Regulation (EU) No 1169/2011, Annex I, point 11: salt = sodium x 2.5."""

REGIONS_OF_TOTAL_CARBOHYDRATE = ("us", "ca")
"""Labels there count fibre in carbohydrate (US: 21 CFR 101.9(c)(6); Canada: from memory); elsewhere they do not."""

FIXED_KEYS = ("name", "names", "per", "serving", "density", *MEASURE_KEYS)

WORDS: dict[str, str] = {
    "protein": "PROCNT_G",
    "fat": "FAT_G",
    "saturates": "FASAT_G",
    "sugars": "SUGAR_G",
    "fibre": "FIBTG_G",
    "fiber": "FIBTG_G",
    "sodium": "NA_MG",
    "alcohol": "ALC_G",
}
"""Plain words of labels for food components; energy, carbohydrate and salt have rules of their own."""

CARBOHYDRATE, SALT, ENERGY = "carbohydrate", "salt", "energy"

_ENERGY_KEYS = {"energy": "", "ENERC": "", "ENERC_KJ": "kJ", "ENERC_KCAL": "kcal"}
_TAGNAMES = {c.tagname: key for key, c in FOOD_COMPONENTS.items() if not key.startswith("ENERC")}
FOOD_KEYS = (
    *FIXED_KEYS,
    BATCH_KEY,
    ENERGY,
    *WORDS,
    CARBOHYDRATE,
    SALT,
    *(key for key in _ENERGY_KEYS if key != ENERGY),
    *_TAGNAMES,
)

_HINTS = {
    **dict.fromkeys(("total fat", "fat total", "fat, total", "lipids"), "did you mean 'fat'?"),
    **dict.fromkeys(("saturated", "saturated fat", "saturated_fat", "of which saturates"), "did you mean 'saturates'?"),
    **dict.fromkeys(("carbs", "total carbohydrate", "carbohydrates", "cho"), "did you mean 'carbohydrate'?"),
    **dict.fromkeys(("of which sugars", "total sugars", "sugar"), "did you mean 'sugars'?"),
    **dict.fromkeys(("dietary fibre", "dietary fiber", "dietary_fibre"), "did you mean 'fibre'?"),
    **dict.fromkeys(("calories", "kcal", "kj", "kilojoules"), "did you mean 'energy', such as energy: 1640 kJ?"),
    "title": "did you mean 'name'?",
}
_SERVING = re.compile(r"(?:per\s+)?(?:(?:1|one|a)\s+)?(?:serving|serve|portion)", re.IGNORECASE)
SAME_SHARE = 0.05
"""Two statements of one figure that differ by less say the same, rounded (our judgement)."""

_EXAMPLE_PER = "100 g, 100 ml or serving"


def read_own_foods(reader: NodeReader, node: yaml.Node, region: str) -> tuple[tuple[Food, ...], tuple[SubBatch, ...]]:
    """The foods under `foods:`, those of labels and those that are batches of their own.

    What is wrong with them is told in the reader's diagnostics.

    Parameters
    ----------
    reader : NodeReader
        Collects diagnostics.
    node : yaml.Node
        The list of foods.
    region : str
        Decides what 'carbohydrate' means on a label.
    """
    foods: list[Food] = []
    sub_batches: list[SubBatch] = []
    taken: dict[str, Span] = {}
    for number, item in enumerate(
        reader.items(node, "'foods'", "a list of foods, each starting with '- name: ...'"), start=1
    ):
        fields = reader.fields(item, FOOD_KEYS, f"food {number}", _HINTS)
        names = read_names(reader, item, fields, number, taken) if fields is not None else None
        if fields is None or names is None:
            continue
        if BATCH_KEY in fields:
            sub_batch = read_sub_batch(reader, fields, names, number)
            sub_batches += [] if sub_batch is None else [sub_batch]
        else:
            food = _Label(reader, fields, region).read(names, number)
            foods += [] if food is None else [food]
    return tuple(foods), tuple(sub_batches)


@dataclass(frozen=True, slots=True)
class _Basis:
    """What the figures of a label are stated for: `mass_g`, and the density used, None if none is known."""

    mass_g: float
    density_g_per_ml: float | None
    serving_g: float | None


class _Label:
    """Reads the fields of one food."""

    def __init__(self, reader: NodeReader, fields: dict[str, Field], region: str) -> None:
        self.reader = reader
        self.fields = fields
        self.region = region
        self.values: dict[str, Value] = {}
        self.places: dict[str, Span] = {}

    def read(self, names: FoodNames, number: int) -> Food | None:
        basis = self._basis(names.name, names.span)
        if basis is None:
            return None
        scale = 100 / basis.mass_g
        self._figures(scale)
        self._check(names.name, names.span, scale)
        derive(self.values)
        return Food(
            table=OWN_TABLE,
            edition=PurePath(self.reader.source.name).name,
            code=food_code(names.name, number),
            description=names.name,
            group="",
            composition={key: self.values[key] for key in FOOD_COMPONENTS if key in self.values},
            measures=self._measures(basis),
            names=names.others,
        )

    # --- basis ---

    def _basis(self, name: str, span: Span) -> _Basis | None:
        density = read_density(self.reader, self.fields)
        if "per" not in self.fields:
            self.reader.error(
                "missing-key",
                f"the food '{name}' does not say what its figures are for",
                span,
                f"add 'per: {_EXAMPLE_PER}'",
            )
            return None
        per = self.reader.text(self.fields["per"][1], "'per'", _EXAMPLE_PER)
        serving_g, density = self._mass("serving", density)
        if per is None:
            return None
        if _SERVING.fullmatch(per.text):
            if serving_g is None:
                if "serving" not in self.fields:
                    self.reader.error(
                        "missing-key", "the weight of a serving is not given", per.span, "add 'serving: 30 g'"
                    )
                return None
            return _Basis(serving_g, density, serving_g)
        mass_g, density = self._mass("per", density)
        return None if mass_g is None else _Basis(mass_g, density, serving_g)

    def _mass(self, key: str, density: float | None) -> tuple[float | None, float | None]:
        """The grams of a field in grams or millilitres, and the density that was used or stated."""
        if key not in self.fields:
            return None, density
        text = self.reader.text(self.fields[key][1], f"'{key}'", "an amount such as 100 g")
        if text is None:
            return None, density
        quantity = read_quantity(text.text, "100 g")
        unit = "" if isinstance(quantity, Fault) else canonical_unit(quantity.unit)
        example = "30 g" if key == "serving" else _EXAMPLE_PER
        if unit and measure(unit, self.region).ml is not None:
            volume_ml = read_volume_ml(text.text, self.region or METRIC, example)
            if isinstance(volume_ml, Fault):
                self.reader.error(
                    "bad-basis", f"'{key}: {text.text[:60]}' {volume_ml.reason}", text.span, volume_ml.hint
                )
                return None, density
            if density is None:
                self.reader.report(
                    Severity.WARNING,
                    "density-assumed",
                    f"no density is given: {text.text} is taken to weigh {volume_ml:g} g, as water would",
                    text.span,
                    "add 'density: 1.03 g/ml'; weigh 100 ml if the pack does not say",
                )
                density = 1.0
            return volume_ml * density, density
        mass_g = read_mass_g(text.text, example)
        if isinstance(mass_g, Fault):
            self.reader.error("bad-basis", f"'{key}: {text.text[:60]}' {mass_g.reason}", text.span, mass_g.hint)
            return None, density
        return mass_g, density

    def _measures(self, basis: _Basis) -> tuple[HouseholdMeasure, ...]:
        measures = read_measures(self.reader, self.fields)
        if basis.serving_g is not None:
            measures.append(HouseholdMeasure(1.0, "serving", basis.serving_g))
        if basis.density_g_per_ml is not None:
            measures.append(volume_measure(basis.density_g_per_ml))
        return tuple(measures)

    # --- figures ---

    def _figures(self, scale: float) -> None:
        for key, (key_node, node) in self.fields.items():
            if key in FIXED_KEYS:
                continue
            texts = self.reader.texts(node, f"'{key}'")
            place = self.reader.span(node)
            if key in _ENERGY_KEYS:
                text = " / ".join(f"{t.text} {_ENERGY_KEYS[key]}" if t.text[-1:].isdigit() else t.text for t in texts)
                self._energy(text, place, scale)
            elif len(texts) > 1:
                self.reader.wrong_type(node, f"'{key}'", "one amount such as 80 g")
            elif texts:
                self._component(key, texts[0].text, place, self.reader.span(key_node), scale)

    def _energy(self, text: str, place: Span, scale: float) -> None:
        if not text:
            return
        energy = read_energy(text)
        if isinstance(energy, Fault):
            self.reader.error("food-value", f"energy '{text[:60]}' {energy.reason}", place, energy.hint)
            return
        if energy.kj is not None:
            self._put("ENERC_KJ", Value(energy.kj * scale), place)
        if energy.kcal is not None:
            self._put("ENERC_KCAL", Value(energy.kcal * scale), place)

    def _component(self, key: str, text: str, place: Span, key_place: Span, scale: float) -> None:
        if key == SALT:
            value = read_value(text, "g", 1.2)
            component = "NA_MG"
            if not isinstance(value, Fault) and value.amount is not None:
                status = ValueStatus.CALCULATED if value.status is ValueStatus.PUBLISHED else value.status
                value = Value(value.amount * SODIUM_SHARE_OF_SALT * 1000, status)
        else:
            component = self._carbohydrate(key_place) if key == CARBOHYDRATE else WORDS.get(key) or _TAGNAMES[key]
            value = read_component_value(text, FOOD_COMPONENTS[component])
        if isinstance(value, Fault):
            self.reader.error("food-value", f"{key} '{text[:60]}' {value.reason}", place, value.hint)
        elif value.amount is not None:
            self._put(component, Value(value.amount * scale, value.status), place)

    def _carbohydrate(self, place: Span) -> str:
        total = self.region in REGIONS_OF_TOTAL_CARBOHYDRATE
        meaning = "total, fibre included (CHOCDF)" if total else "available, without fibre (CHOAVLDF)"
        other = "CHOAVLDF" if total else "CHOCDF"
        hint = f"write '{other}' instead if the label counts it the other way"
        if self.region == METRIC:
            severity, ground = Severity.WARNING, "since no region says what labels mean by it"
        else:
            severity, ground = Severity.NOTE, f"as labels of the region '{self.region}' state it"
        message = f"'carbohydrate' is read as {meaning}, {ground}"
        self.reader.report(severity, "carbohydrate-definition", message, place, hint)
        return "CHOCDF_G" if total else "CHOAVLDF_G"

    def _put(self, component: str, value: Value, place: Span) -> None:
        if component in self.values:
            first, second = self.values[component].amount or 0.0, value.amount or 0.0
            if abs(first - second) <= SAME_SHARE * max(first, second):
                return  # salt beside sodium, a tagname beside its word: the same said twice
            self.reader.error(
                "duplicate-value",
                f"{FOOD_COMPONENTS[component].name} is stated twice, first on line {self.places[component].line}; "
                "the first counts",
                place,
                "keep one of the two",
            )
            return
        self.values[component] = value
        self.places[component] = place

    def _check(self, name: str, span: Span, scale: float) -> None:
        if not any(key not in FIXED_KEYS for key in self.fields):
            self.reader.report(
                Severity.WARNING,
                "empty-food",
                f"the food '{name}' states no figure",
                span,
                "add energy, protein, fat, ...",
            )
        for c in contradictions(self.values, scale):
            self.reader.report(c.severity, c.code, f"{name}: {c.message}", self.places[c.key], c.hint)
