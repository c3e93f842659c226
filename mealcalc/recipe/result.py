"""What every door of recipe input hands over, and what all of them answer alike: region and containers."""

import math
from dataclasses import dataclass

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.records import Batch
from mealcalc.units import METRIC, REGIONS

MOST_CONTAINERS = 1000
"""More containers than any kitchen fills from one batch (our judgement): a slip of the keyboard."""

_OTHER_NAMES = {
    "australia": "au", "aus": "au", "new zealand": "nz", "gb": "uk", "great britain": "uk", "britain": "uk",
    "england": "uk", "scotland": "uk", "wales": "uk", "united kingdom": "uk", "ireland": "ie", "usa": "us",
    "america": "us", "united states": "us", "canada": "ca", "india": "in", "europe": "eu", "european union": "eu",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class ReadResult:
    """A batch as read, or None if there is no line to calculate.

    diagnostics: what was noticed while reading the file; what concerns one ingredient line alone stays with that line.
    region_ground: where the region of the batch comes from.
    """

    batch: Batch | None
    diagnostics: tuple[Diagnostic, ...]
    region_ground: str


@dataclass(frozen=True, slots=True)
class SettledRegion:
    """The region that counts for a batch, where it comes from and what there is to say about it."""

    region: str
    ground: str
    diagnostics: tuple[Diagnostic, ...] = ()


@dataclass(frozen=True, slots=True)
class RegionChoice:
    """Known regions from outside the file: `argument` overrules the file, `default` stands in where it says nothing."""

    argument: str | None = None
    default: str | None = None

    def settle(self, stated: str | None, span: Span) -> SettledRegion:
        """The region of a file that states `stated` at `span` (None and the start of the file if it states none)."""
        word = "" if stated is None else " ".join(stated.casefold().split())
        known = word in REGIONS or word == METRIC
        found: list[Diagnostic] = []
        if stated is not None and not known:
            other = _OTHER_NAMES.get(word)
            hint = f"did you mean '{other}'?" if other else did_you_mean(word, REGIONS)
            if self.argument is None and self.default is None:
                hint += " (until then metric measures are used)"
            found.append(Diagnostic("unknown-region", Severity.ERROR, f"unknown region '{stated[:40]}'", span, hint))
        if self.argument is not None:
            return SettledRegion(self.argument, "given with the call", tuple(found))
        if known:
            return SettledRegion(word, f"stated in the file, line {span.line}", tuple(found))
        if self.default is not None:
            return SettledRegion(self.default, "the configured default", tuple(found))
        if stated is None:
            found.append(
                Diagnostic(
                    "region-assumed",
                    Severity.NOTE,
                    "no region is given: metric cups and spoons are used (250, 15 and 5 ml)",
                    span,
                    f"give one: {' '.join(REGIONS)}",
                )
            )
        return SettledRegion(METRIC, "assumed, metric measures", tuple(found))


def check_containers(number: float | None, written: str, span: Span) -> tuple[int, list[Diagnostic]]:
    """The number of containers and what is wrong with it; `number` is None where `written` is no number at all."""
    if number is None or math.isnan(number):
        fault = f"'{written[:40]}' is not a number of containers"
    elif number <= 0:
        fault = f"{written[:40]} containers cannot be filled"
    elif number > MOST_CONTAINERS:
        fault = f"{written[:40]} containers are more than {MOST_CONTAINERS}, the most that one batch may have"
    elif number != int(number):
        fault = f"{written[:40]} is not a whole number of containers"
    else:
        return int(number), []
    hint = "write a whole number, such as containers: 6 (until then the whole batch counts as one)"
    return 1, [Diagnostic("bad-containers", Severity.ERROR, fault, span, hint)]


def containers_assumed(span: Span) -> Diagnostic:
    """The note that the file names no number of containers."""
    return Diagnostic(
        "containers-assumed",
        Severity.NOTE,
        "no number of containers is given: the whole batch counts as one",
        span,
        "give it, such as containers: 6",
    )


def no_ingredients(span: Span) -> Diagnostic:
    """The error that a recipe has no line to calculate."""
    return Diagnostic(
        "no-ingredients",
        Severity.ERROR,
        "there is no ingredient line to calculate",
        span,
        "write one ingredient per line, such as '400 g brown rice'",
    )
