"""Records of what is published beside a panel: dates, allergens, the ingredient statement, what the cook knows."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from mealcalc.records.keeping import ListedGuidance


@dataclass(frozen=True, slots=True)
class StickerDates:
    """The dates on a home sticker.

    cooked: day of cooking. eat_by: last day in the refrigerator that is printed, None where no guidance says one.
    guidance: the strictest of all authorities. beyond: whether `eat_by` lies after its day, so that a warning has to
    stand beside it. freezer_best_before, freezer_guidance: the same for the freezer, about quality. reheating: the
    strictest statement on reheating.
    """

    cooked: date
    eat_by: date | None
    guidance: ListedGuidance | None
    beyond: bool
    freezer_best_before: date | None
    freezer_guidance: ListedGuidance | None
    reheating: ListedGuidance | None


@dataclass(frozen=True, slots=True)
class AllergenReason:
    """What is found in one line: the allergen ('' where it is not known), the state in words, and why."""

    line: int
    text: str
    allergen: str
    state: str
    reason: str


@dataclass(frozen=True, slots=True)
class AllergenWording:
    """Allergens as a scheme names them: contained, depending on the product bought, and lines of which it is not known.

    cautions: sentences, each with its authority. reasons: line by line.
    """

    contains: tuple[str, ...] = ()
    may_depend: tuple[str, ...] = ()
    not_known: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    reasons: tuple[AllergenReason, ...] = ()


@dataclass(frozen=True, slots=True)
class IngredientWording:
    """An ingredient statement as runs of text, each with whether it is emphasised; notes for its reader."""

    runs: tuple[tuple[str, bool], ...]
    notes: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The statement without bold letters."""
        return "".join(text for text, _ in self.runs)

    @property
    def marked_text(self) -> str:
        """The statement with each bold word between double asterisks."""
        return "".join(f"**{text}**" if bold else text for text, bold in self.runs)


@dataclass(frozen=True, slots=True)
class MakersWords:
    """What only the maker knows of a retail label, by the key of `reference/label_particulars.csv`; '' where unsaid."""

    words: Mapping[str, str] = field(default_factory=dict)

    def of(self, particular: str) -> str:
        """What the maker says of a particular, '' if nothing."""
        return self.words.get(particular, "").strip()
