"""What the cook says of weighing out: `Beans and turkey=3120 g gross in big pot`, residue, fills, shares, eaters."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from mealcalc.errors import UsageError
from mealcalc.planning.cooked_reader import (
    COLDEST_C,
    DURATION_EXAMPLE,
    HOTTEST_C,
    TEMPERATURE_EXAMPLE,
    celsius_in,
    minutes_in,
)
from mealcalc.planning.portion_volume import room_of
from mealcalc.planning.portioning import component_named
from mealcalc.planning.pots import tare_g
from mealcalc.recipe.batch_yaml import LARGEST_CONTAINER_ML
from mealcalc.recipe.eaters import WANTED_SHARE, containers_in, share_in
from mealcalc.recipe.quantities import Fault, read_mass_g, read_volume_ml
from mealcalc.records import Batch, Eater
from mealcalc.records.portions import ContainerRoom, PotWeight, Step, Temperature
from mealcalc.units import METRIC

LARGEST_POT_G = 1_000_000.0
"""A tonne: beyond it the unit was mistaken (our judgement)."""

_VALUE = re.compile(
    r"(?P<mass>[0-9][0-9.,]*\s*[a-zA-Z]*?)\s*\b(?P<kind>gross|net|with pot|without pot)?(?:\s+in\s+(?P<pot>.+))?",
    re.IGNORECASE,
)
_LENGTH = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,3})?)\s*(mm|cm|in)", re.IGNORECASE)
_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}
_BARE = re.compile(r"[0-9][0-9.,]*")
_EATER = re.compile(r"(?P<share>[0-9][0-9.,]*)\s*(?:[x×]\s*(?P<containers>[0-9]+))?", re.IGNORECASE)
_PERCENT = re.compile(r"(?P<number>[0-9]{1,3}(?:\.[0-9]{1,6})?)\s*%")
_FRACTION = re.compile(r"(?P<above>[0-9]{1,6})\s*/\s*(?P<below>[0-9]{1,6})")


@dataclass(frozen=True, slots=True)
class Scale:
    """What is known of pots: `pots` saved (name -> empty weight in g), and the pot or tare that counts where a weight
    with its pot names none."""

    pots: Mapping[str, float]
    pot: str = ""
    tare_g: float | None = None


def weighing(batch: Batch, text: str, scale: Scale) -> PotWeight:
    """The weight of a component: `NAME=2140 g`, `NAME=3120 g gross`, `NAME=3120 gross in big pot`; bare numbers are g.

    Raises
    ------
    UsageError
        If it cannot be read, no tare is known for a weight with its pot, or the pot is lighter than the tare.
    """
    name, value = named_value(batch, text, "--weighed")
    match = _VALUE.fullmatch(value)
    if match is None:
        raise UsageError(
            f"--weighed '{text[:80]}' is no weight",
            f"write it like --weighed '{name}=2140 g', or '{name}=3120 g gross' with the pot on the scale",
        )
    mass_g = mass_in(match["mass"], f"--weighed '{text[:80]}'")
    kind = (match["kind"] or "").lower()
    if kind not in ("gross", "with pot"):
        if match["pot"]:
            raise UsageError(
                f"--weighed '{text[:80]}' names a pot, and does not say that the weight is with it",
                f"write '{name}={match['mass'].strip()} gross in {match['pot']}', or leave the pot out",
            )
        return PotWeight(name, mass_g, ground="weighed without its pot")
    pot = (match["pot"] or scale.pot).strip()
    empty_g = tare_g(scale.pots, pot) if pot else scale.tare_g
    if empty_g is None:
        raise UsageError(
            f"'{name}' was weighed with its pot, and no empty weight is given",
            "add --pot NAME of a saved pot, --tare '980 g', or 'in NAME' after the weight",
        )
    if mass_g <= empty_g:
        said = f"the pot '{pot}' alone weighs" if pot else "the tare is"
        raise UsageError(
            f"'{name}': {mass_g:g} g with the pot, and {said} {empty_g:g} g: nothing is in it",
            "weigh again, or check which pot it was",
        )
    ground = f"weighed: {mass_g:g} g with the pot, less {empty_g:g} g" + (f" ({pot})" if pot else "")
    return PotWeight(name, mass_g - empty_g, mass_g, empty_g, pot, ground)


def pots_in(batch: Batch, texts: Sequence[str], scale: Scale) -> dict[str, PotWeight]:
    """Component -> its weight, as `weighing` reads each; UsageError where one stands twice."""
    pots: dict[str, PotWeight] = {}
    for text in texts:
        weight = weighing(batch, text, scale)
        once(pots, weight.component, "--weighed")
        pots[weight.component] = weight
    return pots


def room_in(batch: Batch, volume: str | None, height: str | None) -> ContainerRoom | None:
    """The room in a container by its volume (that of the batch where none is given) and inner height (6cm, 60 mm).

    None where no volume is known. UsageError if one of them cannot be read or be.
    """
    brim_ml = batch.container_volume_ml
    if volume is not None:
        read = read_volume_ml(volume, batch.region or METRIC, "650 ml")
        if not isinstance(read, Fault) and read > LARGEST_CONTAINER_ML:
            read = Fault(f"is more than {LARGEST_CONTAINER_ML / 1000:g} litres", "write it like 650 ml")
        if isinstance(read, Fault):
            raise UsageError(f"--container-volume '{volume[:40]}' {read.reason}", read.hint)
        brim_ml = read
    match = None if height is None else _LENGTH.fullmatch(height.strip())
    if height is not None and match is None:
        raise UsageError(f"--height '{height[:40]}' is no length", "write it like 6cm")
    if brim_ml is None:
        if height is not None:
            raise UsageError(
                "--height without a volume says nothing", "add --container-volume, or a volume in the file"
            )
        return None
    return room_of(brim_ml, None if match is None else float(match[1].replace(",", ".")) * _MM[match[2].lower()])


def masses(batch: Batch, texts: Sequence[str], option: str) -> dict[str, float]:
    """Component -> grams, from texts such as `Brown rice=40 g`; UsageError where one cannot be read or stands twice."""
    found: dict[str, float] = {}
    for text in texts:
        name, value = named_value(batch, text, option)
        once(found, name, option)
        found[name] = mass_in(value, f"{option} '{text[:80]}'")
    return found


def once(found: Mapping[str, object], name: str, option: str) -> None:
    """UsageError if a component is named twice."""
    if name in found:
        raise UsageError(f"{option} is given twice for '{name}'", "give it once for each component")


def named_value(batch: Batch, text: str, option: str) -> tuple[str, str]:
    """Component and value of `NAME=VALUE`; the name may be left out where the batch has one component."""
    name, equals, value = (part.strip() for part in text.rpartition("="))
    if equals:
        return component_named(batch, name), value
    if len(batch.components) == 1:
        return batch.components[0].name, value
    raise UsageError(
        f"{option} '{text[:80]}' does not say of which component",
        f"write {option} '{batch.components[0].name}={value}'",
    )


def mass_in(text: str, what: str) -> float:
    """The grams in `text`; a bare number is g. UsageError, naming `what`, if it is none."""
    written = f"{text.strip()} g" if _BARE.fullmatch(text.strip()) else text
    mass_g = read_mass_g(written, "2140 g")
    if isinstance(mass_g, Fault):
        raise UsageError(f"{what}: the weight {mass_g.reason}", mass_g.hint)
    if mass_g > LARGEST_POT_G:
        raise UsageError(f"{what} is more than {LARGEST_POT_G / 1000:g} kg", "check the unit")
    return mass_g


def shares_in(text: str) -> tuple[Fraction, ...]:
    """The shares of `30%, 30%, 1/4`, one for each container; exact fractions. UsageError if one cannot be read."""
    return tuple(_share(part.strip(), text) for part in text.split(","))


def eater_in(text: str) -> Eater:
    """The eater of `adult=1.5` or `adult=1.5x4` (four containers of that size); UsageError if it cannot be read."""
    name, equals, value = (part.strip() for part in text.rpartition("="))
    match = _EATER.fullmatch(value)
    share = share_in(match["share"]) if match else None
    if not equals or not name or match is None or share is None:
        raise UsageError(
            f"--eater '{text[:80]}' is not NAME=SHARE", f"the share is {WANTED_SHARE}: --eater 'adult=1.5'"
        )
    containers = containers_in(match["containers"]) if match["containers"] else None
    if match["containers"] and containers is None:
        raise UsageError(f"--eater '{text[:80]}': no such number of containers", "write it like --eater 'adult=1.5x4'")
    return Eater(" ".join(name.split()), share, containers)


def eaters_in(texts: Sequence[str]) -> tuple[Eater, ...]:
    """All eaters; UsageError if one stands twice."""
    eaters = [eater_in(text) for text in texts]
    for number, eater in enumerate(eaters):
        if any(eater.name.casefold() == other.name.casefold() for other in eaters[:number]):
            raise UsageError(f"the eater '{eater.name}' stands twice", "give each eater once, such as 'adult=1.5x4'")
    return tuple(eaters)


def temperature_in(batch: Batch, text: str) -> Temperature:
    """The temperature of `cooking=76 C`, `cooking Beans and turkey=76 C`, `cooling=20 C after 1 h 50 min`.

    UsageError if it cannot be read.
    """
    head, equals, value = (part.strip() for part in text.partition("="))
    step, _, component = head.partition(" ")
    written, _, after = (part.strip() for part in value.partition(" after "))
    if not equals or step.lower() not in tuple(Step):
        raise UsageError(
            f"--temperature '{text[:80]}' names no step",
            f"write it like 'cooking={TEMPERATURE_EXAMPLE}'; steps are {', '.join(Step)}",
        )
    celsius = celsius_in(written)
    if celsius is None:
        raise UsageError(
            f"--temperature '{text[:80]}': '{written[:20]}' is no temperature from {COLDEST_C:g} to {HOTTEST_C:g} C",
            f"write it like {TEMPERATURE_EXAMPLE} or 169 F",
        )
    after_min = minutes_in(after) if after else None
    if after and after_min is None:
        raise UsageError(
            f"--temperature '{text[:80]}': '{after[:20]}' is no duration", f"write it like {DURATION_EXAMPLE}"
        )
    name = component_named(batch, component) if component.strip() else ""
    return Temperature(Step(step.lower()), celsius, name, after_min)


def _share(part: str, text: str) -> Fraction:
    readers: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Fraction]], ...] = (
        (_PERCENT, lambda m: Fraction(m["number"]) / 100),
        (_FRACTION, lambda m: Fraction(int(m["above"]), int(m["below"])) if int(m["below"]) else Fraction(0)),
    )
    for pattern, make in readers:
        match = pattern.fullmatch(part)
        share = make(match) if match else Fraction(0)
        if share > 0:
            return share
    raise UsageError(
        f"--shares '{text[:80]}': '{part[:20]}' is no share above 0",
        "write percent or fractions for each container, such as --shares '30%, 30%, 25%'",
    )
