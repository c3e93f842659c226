"""Everything that is published of one batch, and the figures that all formats share."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mealcalc.labelling.claims import ClaimResult
from mealcalc.labelling.panel import Panel, PanelRow
from mealcalc.labelling.schemes import scheme_named
from mealcalc.records import BatchResult
from mealcalc.records.published import AllergenWording, IngredientWording, MakersWords, StickerDates

G_PER_OZ = 28.349523125
"""Avoirdupois ounce, exact (international yard and pound agreement, 1959)."""


@dataclass(frozen=True, slots=True)
class Publication:
    """One batch with what is said of it.

    panels: of one container, by scheme; the first is the one whose figures the other formats state. parts: name and
    panel of each component, by the first scheme. allergens, ingredients: by scheme, empty where they are not known.
    """

    result: BatchResult
    panels: tuple[Panel, ...]
    parts: tuple[tuple[str, Panel], ...]
    dates: StickerDates
    cautions: tuple[str, ...] = ()
    claims: Mapping[str, Sequence[ClaimResult]] = field(default_factory=dict)
    claims_cautions: Mapping[str, str] = field(default_factory=dict)
    allergens: Mapping[str, AllergenWording] = field(default_factory=dict)
    ingredients: Mapping[str, IngredientWording] = field(default_factory=dict)
    makers_words: MakersWords = field(default_factory=MakersWords)

    @property
    def panel(self) -> Panel:
        """The panel whose figures all formats state."""
        return self.panels[0]

    @property
    def title(self) -> str:
        """Title of the batch."""
        return self.result.batch.title


@dataclass(frozen=True, slots=True)
class Headline:
    """One figure of a container as it is said in a sentence: what it is, and the printed text with its unit."""

    key: str
    name: str
    text: str
    complete: bool

    @property
    def words(self) -> str:
        """Such as `protein 49 g`."""
        return f"{self.name} {self.text}"


_NAMES = {
    "PROCNT_G": "protein", "FAT_G": "fat", "CHOCDF_G": "carbohydrate", "CHOAVLDF_G": "carbohydrate",
    "FIBTG_G": "fibre", "NACL_G": "salt", "NA_MG": "sodium",
}  # fmt: skip


def headlines(panel: Panel) -> tuple[Headline, ...]:
    """Energy, protein, fat, carbohydrate, and where the panel has them fibre, salt or sodium: the printed figures."""
    found = [_energy(panel)]
    for key, name in _NAMES.items():
        row = row_of(panel, key)
        if row is not None:
            found.append(Headline(key, name, row.printed_per_portion, row.complete))
    return tuple(found)


def calories(panel: Panel) -> str:
    """Energy of a container in kcal as a whole number, '' where it is not known whole."""
    row = row_of(panel, "ENERC_KCAL")
    if row is not None:
        return "" if not row.complete or row.per_portion.value is None else f"{row.per_portion.value:f}"
    row = row_of(panel, "ENERC_KJ")
    per_calorie = scheme_named(panel.scheme).kj_per_calorie()
    if row is None or not row.complete or row.raw_per_portion is None or per_calorie is None:
        return ""
    return f"{row.raw_per_portion / per_calorie:.0f}"


def row_of(panel: Panel, key: str) -> PanelRow | None:
    """The row of a food component, None where the panel has none."""
    return next((row for row in panel.rows if row.key == key), None)


def _energy(panel: Panel) -> Headline:
    kj, kcal = row_of(panel, "ENERC_KJ"), row_of(panel, "ENERC_KCAL")
    texts = [] if kcal is None else [_with_unit(kcal)]
    if kj is not None:
        other = calories(panel) if kcal is None else ""
        texts = [*([f"{other} kcal"] if other else []), *texts, _with_unit(kj)]
    complete = all(row.complete for row in (kj, kcal) if row is not None)
    return Headline("ENERC", "energy", " / ".join(texts), complete)


def _with_unit(row: PanelRow) -> str:
    """What is printed, with its unit where the scheme prints the bare number."""
    text = row.printed_per_portion
    return text if row.unit in text or row.per_portion.value is None else f"{text} {row.unit}"


def container_mass(panel: Panel) -> str:
    """Mass of one container in both systems, '' where it is not known."""
    return "" if panel.portion_mass_g is None else both_masses(panel.portion_mass_g)


def both_masses(mass_g: float) -> str:
    """A mass in g and oz, such as `649 g (22.9 oz)`."""
    grams = f"{mass_g:.0f}" if mass_g >= 10 else f"{mass_g:.1f}"
    return f"{grams} g ({mass_g / G_PER_OZ:.1f} oz)" if mass_g >= 3 else f"{grams} g"


FIGURES_FROM = "Figures: averages of food tables, computed from the recipe"


def stated_by(panel: Panel) -> str:
    """Which law the figures follow, and what its carbohydrate means."""
    fibre = "includes fibre" if scheme_named(panel.scheme).carbohydrate_key == "CHOCDF_G" else "is without fibre"
    return f"{FIGURES_FROM}, rounded as for {panel.scheme_title}; carbohydrate {fibre}."
