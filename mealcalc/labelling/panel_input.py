"""What a panel is made from: the lines of a dish with their amounts, plain values without the recipe behind them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class SugarKind(StrEnum):
    """What is known of the sugars of a line: all added (sugar, honey, syrups), all the food's own, or not known."""

    ADDED = "added"
    NATURAL = "natural"
    UNKNOWN = "unknown"


class Product(StrEnum):
    """What the dish is in the eyes of the law: a meal or main dish, another solid food, or a drink."""

    MEAL = "meal"
    OTHER = "other"
    DRINK = "drink"


@dataclass(frozen=True, slots=True)
class PanelLine:
    """One line of the dish, after cooking, for the whole batch.

    number: line of the file. text: as the cook wrote it. mass_g: edible mass that ends up in the dish, None if unknown.
    amounts: food component key -> amount in the component's unit, None or absent where unknown. nitrogen_factor: g
    protein per g nitrogen that the protein was computed with; None for protein stated by a label, which is taken as it
    stands. counted: False for a food without amount (`salt to taste`), whose `incomplete_keys` are the amounts that it
    leaves unknown, and `per_gram` what one gram of it would bring.
    """

    number: int
    text: str
    mass_g: float | None
    amounts: Mapping[str, float | None]
    nitrogen_factor: float | None = None
    sugars: SugarKind = SugarKind.UNKNOWN
    counted: bool = True
    incomplete_keys: frozenset[str] = frozenset()
    per_gram: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PanelInput:
    """A dish as a panel needs it.

    portions: number of equal portions in the batch; each is one package. servings_per_package: servings in one of them.
    portion_name: what a portion is called. cooked_mass_g: mass of the whole cooked batch in g, None where it is not
    known; cooked_mass_ground says why it is believed, or what is missing. cooked_mass_estimated: it was not weighed.
    volume_ml: volume of the whole batch in ml, for drinks. reference_amount_g: reference amount of the law for such
    food (US, Canada), where the maker has looked it up.
    """

    title: str
    lines: tuple[PanelLine, ...]
    portions: int = 1
    servings_per_package: float = 1.0
    portion_name: str = "container"
    cooked_mass_g: float | None = None
    cooked_mass_ground: str = ""
    cooked_mass_estimated: bool = False
    volume_ml: float | None = None
    reference_amount_g: float | None = None
    product: Product = Product.MEAL

    @property
    def servings(self) -> float:
        """Servings in the whole batch."""
        return self.portions * self.servings_per_package

    @property
    def serving_mass_g(self) -> float | None:
        """Mass of one serving in g, None where the cooked mass is not known."""
        return None if self.cooked_mass_g is None else self.cooked_mass_g / self.servings

    @property
    def hundreds(self) -> float | None:
        """How many times 100 g (100 ml of a drink) the batch holds; None where its mass (volume) is not known."""
        if self.product is Product.DRINK:
            return None if self.volume_ml is None else self.volume_ml / 100.0
        return None if self.cooked_mass_g is None else self.cooked_mass_g / 100.0

    @property
    def hundred_name(self) -> str:
        """`100 g`, or `100 ml` for a drink."""
        return "100 ml" if self.product is Product.DRINK else "100 g"
