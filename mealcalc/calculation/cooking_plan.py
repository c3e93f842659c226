"""What a cook's words about a component say: the steps in order, their times, lid, liquid and fat poured off.

Where the words contradict each other, what is said first counts, and heat counts over its absence; the cook is told.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from mealcalc.calculation.cooking_time import minutes_said
from mealcalc.records import BatchComponent
from mealcalc.reference.cooking_vocabulary import CookingWords, broader_methods, cooking_methods, cooking_words

# Everything is in one pot and stays there: the mass is what went in, less steam.
_ONE_POT = frozenset(
    "simmered stewed braised absorbed boiled pressure_cooked rehydrated heated reheated stirred_in_hot flamed".split()
)
# Liquid that is poured off, so each food keeps only its own yield.
_POURED_OFF = frozenset(["boiled_drained", "blanched", "parboiled", "poached", "steamed"])
_BOILED = frozenset(["boiled", "boiled_drained", "blanched", "parboiled"])
# Boiled in water first, then dry or in fat: the water is gone.
_WATER_GONE = frozenset(["boiled_baked", "boiled_fried"])


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
    known: False when words are there and no table knows any of them. contradictions: pairs of words that cannot both
    hold, the one that counts first.
    """

    steps: tuple[CookingStep, ...]
    liquid_poured_off: bool
    fat_poured_off: bool
    known: bool
    contradictions: tuple[tuple[str, str], ...] = ()

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
        return _deciding_method([step.method for step in self.steps])


def plan_of(component: BatchComponent) -> CookingPlan:
    """Read the cooking words of a component."""
    text = " ".join(component.cooking.lower().split())
    found: list[tuple[int, int, CookingWords]] = []
    for words in cooking_words():
        if words.words not in text:
            continue
        for match in re.finditer(rf"(?<![a-z]){re.escape(words.words)}(?![a-z])", text):
            if all(match.end() <= start or match.start() >= end for start, end, _ in found):
                found.append((match.start(), match.end(), words))
    found.sort(key=lambda item: item[0])
    said = [words for _, _, words in found]
    drained = next((words.drained for words in said if words.drained is not None), None)
    steps: list[CookingStep] = []
    for position, (start, end, words) in enumerate(found):
        if not words.method:
            continue
        next_start = found[position + 1][0] if position + 1 < len(found) else len(text)
        method = "boiled_drained" if words.method == "boiled" and drained else words.method
        minutes = minutes_said(text[end:next_start])
        if minutes is None and not steps:
            minutes = minutes_said(text[:start])
        steps.append(CookingStep(method, minutes, _covered(said, position), words.words))
    methods = [step.method for step in steps]
    poured_off = _water_gone(methods) or (bool(steps) and all(method in _POURED_OFF for method in methods))
    drippings = next((words.drippings for words in said if words.drippings is not None), None)
    return CookingPlan(
        steps=tuple(steps),
        liquid_poured_off=poured_off if drained is None else drained,
        fat_poured_off=component.fat == "drained" or drippings is False,
        known=bool(found) or not text,
        contradictions=_contradictions(said, component.fat),
    )


def _covered(said: Sequence[CookingWords], position: int) -> bool | None:
    """Whether the lid is on in a step: by its own words, else by those that follow it, before the next step."""
    if said[position].covered is not None:
        return said[position].covered
    for words in said[position + 1 :]:
        if words.method:
            break
        if words.covered is not None:
            return words.covered
    return None


def _deciding_method(methods: Sequence[str]) -> str:
    heating = [method for method in methods if cooking_methods()[method].heat != "none"]
    if not heating:
        return ""
    for compound in cooking_methods().values():
        last = heating[-len(compound.steps) :] if compound.steps else []
        if len(last) == len(compound.steps) > 0 and all(map(_alike, last, compound.steps)):
            return compound.name
    return heating[-1]


def _alike(method: str, step: str) -> bool:
    """Whether a method is a step of a compound one, or as good as it: seared for browned, roasted for baked."""
    chain, step_chain = broader_methods(method), broader_methods(step)
    if step in chain:
        return step == "absorbed" or "absorbed" not in chain
    in_fat = "fried" in chain and method in step_chain
    return in_fat or chain[1:2] == step_chain[1:2] == ("dry_heat",)


def _water_gone(methods: Sequence[str]) -> bool:
    """Whether food boiled in water is dry or in fat at the end: nobody roasts the cooking water."""
    heating = [method for method in methods if cooking_methods()[method].heat != "none"]
    if not heating or cooking_methods()[heating[-1]].heat not in ("dry", "fat"):
        return bool(heating) and heating[-1] in _WATER_GONE
    return any(method in (*_BOILED, *_WATER_GONE) for method in heating)


def _contradictions(said: Sequence[CookingWords], fat: str) -> tuple[tuple[str, str], ...]:
    pairs = []
    for flag in ("drained", "drippings"):
        flagged = [words for words in said if getattr(words, flag) is not None]
        pairs += [
            (flagged[0].words, words.words)
            for words in flagged[1:]
            if getattr(words, flag) is not getattr(flagged[0], flag)
        ]
    kept = next((words.words for words in said if words.drippings is True), "")
    if kept and fat == "drained":
        pairs.append(("fat: drained", kept))
    raw = next((words.words for words in said if words.method == "raw"), "")
    heated = next((w.words for w in said if w.method and cooking_methods()[w.method].heat != "none"), "")
    if raw and heated:
        pairs.append((heated, raw))
    return tuple(pairs)


def _is_one_pot(method: str) -> bool:
    steps = cooking_methods()[method].steps
    if steps:
        return _is_one_pot(steps[-1])
    return method not in _POURED_OFF and any(name in _ONE_POT for name in broader_methods(method))
