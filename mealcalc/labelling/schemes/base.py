"""A scheme: the law that a panel follows, as its tables define it, and what its own module adds."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from mealcalc.labelling.panel_input import PanelInput
from mealcalc.reference.label_rounding import RoundingRule, rounding_rules
from mealcalc.reference.label_tables import (
    Definition,
    EnergyFactor,
    LabelRow,
    ReferenceValue,
    Statement,
    energy_factors,
    label_definitions,
    label_rows,
    label_statements,
    reference_values,
)

FOOD_TABLE_METHOD = "specific"
"""Energy as the food table prints it, by specific factors of each food (US method A)."""


@dataclass(frozen=True)
class Scheme:
    """The rules of one scheme; everything but the serving statement is read from the tables when it is first needed.

    name: us, eu, uk, anz or ca. title: for readers. percent_name: heading of the percentages. serving_statement: lines
    on servings and their size. table_energy: whether energy may also come from the food table's own specific factors.
    """

    name: str
    title: str
    percent_name: str
    serving_statement: Callable[[PanelInput], tuple[str, ...]]
    table_energy: bool = False

    @cached_property
    def rows(self) -> tuple[LabelRow, ...]:
        """Rows of the panel in the order of the law."""
        return label_rows(self.name)

    @cached_property
    def rounding(self) -> dict[str, RoundingRule]:
        """Rounding rules by name."""
        return rounding_rules(self.name)

    @cached_property
    def statements(self) -> tuple[Statement, ...]:
        """Sentences of the label."""
        return label_statements(self.name)

    @cached_property
    def definitions(self) -> dict[str, Definition]:
        """What the scheme means by its words."""
        return label_definitions(self.name)

    @property
    def authority(self) -> str:
        """Who is to be asked."""
        return self.definitions["authority"].value

    @property
    def protein_factor(self) -> float | None:
        """Grams of protein per gram of nitrogen that the scheme prescribes; None for the food's own factor."""
        value = self.definitions["protein factor"].value
        return None if value == "food" else float(value)

    @property
    def carbohydrate_key(self) -> str:
        """CHOCDF_G (total, fibre included) or CHOAVLDF_G (available)."""
        return self.definitions["carbohydrate"].value

    @property
    def per_hundred(self) -> bool:
        """Whether amounts per 100 g or 100 ml are part of the panel."""
        return self.definitions["basis"].value != "serving"

    @property
    def energy_method(self) -> str:
        """The method of energy that is used unless another is asked for."""
        return self.definitions["energy method"].value

    @cached_property
    def energy_methods(self) -> tuple[str, ...]:
        """Methods of energy that can be computed for a dish."""
        computed = {f.method for f in self.energy_factors if f.key in ("PROCNT_G", "FAT_G")}
        return tuple(sorted({*computed, *([FOOD_TABLE_METHOD] if self.table_energy else [])}))

    @cached_property
    def energy_factors(self) -> tuple[EnergyFactor, ...]:
        """Energy factors of all methods."""
        return energy_factors(self.name)

    @property
    def salt_per_sodium(self) -> float:
        """Grams of salt that a gram of sodium stands for, in schemes that state salt."""
        return float(self.definitions["salt per sodium"].value)

    def kj_per_calorie(self) -> float | None:
        """kJ in one Calorie where the law converts; None where kJ and kcal are sums of their own."""
        found = self.definitions.get("kJ per Calorie")
        return None if found is None else float(found.value)

    def reference_value(self, set_name: str, key: str) -> ReferenceValue | None:
        """The reference value of a food component in a set (DRV, RI, DI, ...); None where there is none."""
        return next((v for v in reference_values(self.name) if v.set_name == set_name and v.key == key), None)
