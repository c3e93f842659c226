"""Records of the ingredient statement: what it is made from, and what it says.

Names and titles are a cook's own text. They are carried as plain text, without control characters and cut to a length
that fits a label; whoever writes them into HTML or another format escapes them there.
"""

import math
from dataclasses import dataclass

from mealcalc.errors import UsageError
from mealcalc.labelling.allergen_matching import AllergenFinding
from mealcalc.reference.allergen_tables import Emphasis
from mealcalc.reference.label_tables import Citation

MOST_CHARACTERS = 200
"""A name or title longer than this is cut: no ingredient is named at such length."""


@dataclass(frozen=True, slots=True)
class StatementLine:
    """A line of the recipe as the ingredient statement needs it.

    number: line of the file. name: in plain trade words. mass_g: edible mass that goes into the bowl, in g; None where
    it is not known. is_water: added water. poured_off: cooking liquid that does not stay in the dish. reconstitutes:
    water that only makes up a dried or concentrated ingredient. is_product: made of several foods. pack_ingredients:
    its list as copied from the pack. matched: whether a table holds the food. findings: its allergens.

    Raises
    ------
    UsageError
        If the mass is negative or no number.
    """

    number: int
    name: str
    mass_g: float | None
    is_water: bool = False
    poured_off: bool = False
    reconstitutes: bool = False
    optional: bool = False
    matched: bool = True
    is_product: bool = False
    pack_ingredients: str = ""
    findings: tuple[AllergenFinding, ...] = ()

    def __post_init__(self) -> None:
        if self.mass_g is not None and not (math.isfinite(self.mass_g) and self.mass_g >= 0):
            raise UsageError(
                f"line {self.number}: '{clean(self.name)}' weighs {self.mass_g} g",
                "a mass is a number of grams, 0 or more; leave it out where it is not known",
            )


@dataclass(frozen=True, slots=True)
class StatementInput:
    """What an ingredient statement is made from.

    finished_mass_g: mass of the whole finished food in g, None where it is not known. emphasised: words of ingredients
    that pictures or words beside the title emphasise.
    """

    title: str
    lines: tuple[StatementLine, ...]
    finished_mass_g: float | None = None
    emphasised: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StatementItem:
    """One entry of the list.

    text: as printed, allergens made to stand out. name: in plain words. lines: those it stands for. mass_g: by which it
    is placed; of added water what is left of it. share_percent: of all that is listed with a mass. quid: quantity as
    printed beside the name (`23 %`, `112 g per 100 g`), '' where none is wanted. members: what a class name stands for.
    small: among the small amounts at the end.
    """

    text: str
    name: str
    lines: tuple[int, ...]
    mass_g: float | None
    share_percent: float | None
    quid: str = ""
    optional: bool = False
    small: bool = False
    members: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What went into the bowl and is not listed, with the reason and its clause."""

    name: str
    lines: tuple[int, ...]
    mass_g: float | None
    reason: str
    cited: Citation | None


@dataclass(frozen=True, slots=True)
class StatementNote:
    """Something to check or to do before the statement goes on a label."""

    text: str
    lines: tuple[int, ...] = ()
    cited: Citation | None = None

    def __str__(self) -> str:
        return self.text if self.cited is None else f"{self.text} ({self.cited})"


@dataclass(frozen=True, slots=True)
class IngredientStatement:
    """The list of ingredients of a food under a scheme: a draft to be checked, with all that is known of its rules.

    contains: names of the statement 'Contains', () where the scheme has none. rules: citations of all rules applied.
    """

    scheme: str
    title: str
    heading: str
    small_words: str
    items: tuple[StatementItem, ...]
    left_out: tuple[LeftOut, ...]
    contains: tuple[str, ...]
    emphasis: Emphasis
    notes: tuple[StatementNote, ...]
    rules: tuple[Citation, ...]

    @property
    def text(self) -> str:
        """The statement in plain text; bold words stand between double asterisks."""
        main = [item.text for item in self.items if item.mass_g is not None and not item.small]
        small = [item.text for item in self.items if item.small]
        unweighed = [item.text for item in self.items if item.mass_g is None]
        parts = [", ".join(main)] if main else []
        if small:
            parts.append(f"{self.small_words}: {', '.join(small)}")
        if unweighed:
            parts.append(f"weight not known: {', '.join(unweighed)}")
        listed = f"{self.heading} {'; '.join(parts) or 'none'}."
        if not self.contains:
            return listed
        names = ", ".join(self.contains)
        statement = f"Contains: {names}."
        return f"{listed}\n{f'**{statement}**' if self.emphasis is Emphasis.BOLD else statement}"


def clean(text: str) -> str:
    """A cook's text fit for one line: no control or bold marks, white space closed, cut to 200 characters."""
    printable = "".join(c if c.isprintable() else " " for c in text[: 50 * MOST_CHARACTERS].replace("*", " "))
    line = " ".join(printable.split())
    return line if len(line) <= MOST_CHARACTERS else f"{line[: MOST_CHARACTERS - 1].rstrip()}…"
