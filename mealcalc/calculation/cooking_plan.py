"""What a cook's words about a component say: the steps in order, their times, lid, liquid and fat poured off."""

import re
from dataclasses import dataclass

from mealcalc.records import BatchComponent
from mealcalc.reference.cooking_vocabulary import CookingWords, broader_methods, cooking_methods, cooking_words

_TIME = re.compile(
    r"(\d+(?:\.\d+)?)\s*(?:-|to|–)?\s*(\d+(?:\.\d+)?)?\s*(h\b|hr\b|hrs\b|hours?\b|min\b|mins\b|minutes?\b)",
    re.IGNORECASE,
)

# Everything is in one pot and stays there: the mass is what went in, less steam.
_ONE_POT = frozenset(
    ["simmered", "stewed", "braised", "absorbed", "boiled", "pressure_cooked", "rehydrated", "heated", "reheated"]
)
# Liquid that is poured off, so each food keeps only its own yield.
_POURED_OFF = frozenset(["boiled_drained", "blanched", "parboiled", "poached", "steamed"])


@dataclass(frozen=True, slots=True)
class CookingStep:
    """One step: a method of the vocabulary, its time in minutes (None where not said), lid (None where not said)."""

    method: str
    minutes: float | None
    covered: bool | None
    words: str


@dataclass(frozen=True, slots=True)
class CookingPlan:
    """The steps of a component.

    liquid_poured_off: cooking liquid does not stay in the dish. fat_poured_off: fat that runs out does not stay.
    known: False when words are there and no table knows any of them.
    """

    steps: tuple[CookingStep, ...]
    liquid_poured_off: bool
    fat_poured_off: bool
    known: bool

    @property
    def heated(self) -> bool:
        """Whether any step heats."""
        return any(cooking_methods()[step.method].heat != "none" for step in self.steps)

    @property
    def one_pot(self) -> bool:
        """Whether all that goes in stays in one pot."""
        return not self.liquid_poured_off and any(_is_one_pot(step.method) for step in self.steps)

    @property
    def minutes(self) -> float | None:
        """Minutes of all steps together; None where no time is said."""
        said = [step.minutes for step in self.steps if step.minutes is not None]
        return sum(said) if said else None

    @property
    def method(self) -> str:
        """The method that decides about yield and retention: the last one that heats; '' for none.

        Two simple steps that the vocabulary knows as one compound method ('browned, then simmered') are that method.
        """
        names = tuple(step.method for step in self.steps if cooking_methods()[step.method].heat != "none")
        if not names:
            return ""
        for compound in cooking_methods().values():
            if compound.steps and compound.steps == names[-len(compound.steps) :]:
                return compound.name
        return names[-1]


def plan_of(component: BatchComponent) -> CookingPlan:
    """Read the cooking words of a component."""
    text = " ".join(component.cooking.lower().split())
    found: list[tuple[int, int, CookingWords]] = []
    for words in cooking_words():
        for match in re.finditer(rf"(?<![a-z]){re.escape(words.words)}(?![a-z])", text):
            if all(match.end() <= start or match.start() >= end for start, end, _ in found):
                found.append((match.start(), match.end(), words))
    found.sort(key=lambda item: item[0])
    steps: list[CookingStep] = []
    liquid_off = any(words.drained for _, _, words in found)
    for position, (_, end, words) in enumerate(found):
        if not words.method:
            continue
        next_start = found[position + 1][0] if position + 1 < len(found) else len(text)
        method = "boiled_drained" if words.method == "boiled" and liquid_off else words.method
        steps.append(CookingStep(method, _minutes(text[end:next_start]), words.covered, words.words))
    return CookingPlan(
        steps=tuple(steps),
        liquid_poured_off=liquid_off or (bool(steps) and all(step.method in _POURED_OFF for step in steps)),
        fat_poured_off=component.fat == "drained" or any(words.drippings is False for _, _, words in found),
        known=bool(found) or not text,
    )


def _is_one_pot(method: str) -> bool:
    return method not in _POURED_OFF and any(name in _ONE_POT for name in broader_methods(method))


def _minutes(text: str) -> float | None:
    match = _TIME.search(text)
    if match is None:
        return None
    low = float(match[1])
    high = float(match[2]) if match[2] else low
    return (low + high) / 2 * (60 if match[3].lower().startswith("h") else 1)
