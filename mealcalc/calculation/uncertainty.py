"""How sure a total is, and how sure the difference of two: 90 % intervals by Monte Carlo with a fixed seed.

Each mass, factor and table value has a relative standard deviation with a stated ground (`reference/uncertainty.csv`).
Lines of one food share the error of its composition, lines of one pot that of retention. Energy follows protein, fat,
carbohydrate and alcohol by general factors, with a little of its own. An unsure line also draws among its runners-up.
(GUM Supplement 1, JCGM 101:2008: propagation of distributions by a Monte Carlo method.)

Batches that are compared share the errors of what they have in common: the difference of each draw is what counts, and
what errs alike in both does not make it unsure.
"""

from collections import defaultdict
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from mealcalc.calculation.simulated_errors import Array, FreshErrors, SharedErrors
from mealcalc.calculation.simulation import ALL_KEYS, FoodKey, LineWithFoods, Simulation, food_key, takes_part
from mealcalc.calculation.uncertainty_drivers import Alternatives, Driver, drivers
from mealcalc.records import BatchResult, Contribution, RecipeLine

DRAWS = 10_000
SEED = 20_250_101
LEVEL = 0.9
"""Probability that an interval holds."""

SD_PER_WIDTH = 1.0 / (2.0 * 1.6449)
"""Standard deviation of a normal distribution per width of its 90 % interval."""

COMPARED_KEYS = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G", "CHOAVLDF_G", "FIBTG_G")
"""Food components of which differences are simulated."""

_SIMULATED_KEYS = (*COMPARED_KEYS, "ALC_G")
_POSITION = {key: position for position, key in enumerate(_SIMULATED_KEYS)}


@dataclass(frozen=True, slots=True)
class Interval:
    """A 90 % interval, in the unit of the food component."""

    low: float
    high: float

    @property
    def sd(self) -> float:
        """Standard deviation of the normal distribution with this interval, in the same unit."""
        return (self.high - self.low) * SD_PER_WIDTH


@dataclass(frozen=True, slots=True)
class Sureness:
    """Intervals of a batch; None for a food component that is unknown on some line, since nothing bounds it.

    per_100g: by component of the batch, in its order; None too where the cooked mass is unknown. drivers: the strongest
    first, for energy and each macro.
    """

    per_container: Mapping[str, Interval | None]
    per_100g: tuple[Mapping[str, Interval | None], ...]
    drivers: tuple[Driver, ...]
    draws: int
    seed: int
    level: float = LEVEL


@dataclass(frozen=True, slots=True)
class Compared:
    """A batch to compare.

    alternatives: foods that its unsure lines may be. measured_as: line -> the line of the first batch in whose place it
    stands: the same amount of both is measured with the same error.
    """

    result: BatchResult
    alternatives: Alternatives = field(default_factory=dict)
    measured_as: Mapping[RecipeLine, RecipeLine] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PairedSureness:
    """Intervals of a batch in one container, and of its difference from the first batch; None where nothing bounds it.

    ratio: of protein in g per 100 kcal. A difference is this batch less the first.
    """

    per_container: Mapping[str, Interval | None]
    difference: Mapping[str, Interval | None]
    ratio: Interval | None
    ratio_difference: Interval | None


def how_sure(
    result: BatchResult, alternatives: Alternatives | None = None, *, draws: int = DRAWS, seed: int = SEED
) -> Sureness:
    """90 % intervals of every total per container and per 100 g, and what drives those of the macros.

    Parameters
    ----------
    result : BatchResult
        A calculated batch.
    alternatives : mapping, optional
        Foods that unsure lines may be: index of the contribution -> foods with scores, the chosen one first.
    draws, seed : int
        Size and seed of the simulation; the same seed gives the same intervals.
    """
    alternatives = alternatives or {}
    random = np.random.default_rng(seed)
    errors = FreshErrors(random, draws, _errors_of_shared_foods(result, random, draws))
    whole = np.zeros((draws, len(ALL_KEYS)), dtype=np.float32)
    per_100g = []
    for lines, component in zip(_lines_with_foods(result, alternatives), result.components, strict=True):
        simulated = Simulation(component, lines, errors)
        totals, mass_g = simulated.totals(), simulated.cooked_mass_g
        whole += totals
        known = component.cooked_mass_known
        complete = {key: known and total.complete for key, total in component.totals.items()}
        totals *= (np.float32(100.0) / np.maximum(mass_g, np.float32(1e-6)))[:, None]
        per_100g.append(_intervals(totals, complete))
    whole /= np.float32(result.batch.containers)
    return Sureness(
        per_container=_intervals(whole, {key: total.complete for key, total in result.totals.items()}),
        per_100g=tuple(per_100g),
        drivers=drivers(result, alternatives),
        draws=draws,
        seed=seed,
    )


def how_different(compared: Sequence[Compared], *, draws: int = DRAWS, seed: int = SEED) -> list[PairedSureness]:
    """90 % intervals of batches per container, and of how they differ from the first, drawn in pairs.

    Lines that the batches have in common, foods, pots and what is poured off err alike in every batch of a draw, so
    that a difference is as sure as what the batches do not have in common. Foods of other fat levels err apart.

    Parameters
    ----------
    compared : sequence of Compared
        The batches; the others are compared with the first.
    draws, seed : int
        Size and seed of the simulation.

    Returns
    -------
    list of PairedSureness
        One for each batch, in order; the difference of the first from itself is nothing. A figure that is unknown on
        some line has no interval. A difference has one where the same lines are unknown in both and cancel out.
    """
    errors = SharedErrors(seed, draws, len(_SIMULATED_KEYS))
    found: list[PairedSureness] = []
    first: Array | None = None
    for one in compared:
        simulated = _per_container(one, errors)
        first = simulated if first is None else first
        reference = compared[0].result
        complete = {key: one.result.totals[key].complete for key in COMPARED_KEYS}
        cancels = {key: _unknown_cancels(one.result, reference, key) for key in COMPARED_KEYS}
        ratios_known = complete["ENERC_KCAL"] and complete["PROCNT_G"]
        both_known = ratios_known and all(reference.totals[key].complete for key in ("ENERC_KCAL", "PROCNT_G"))
        ratio, first_ratio = _protein_per_100_kcal(simulated), _protein_per_100_kcal(first)
        found.append(
            PairedSureness(
                per_container=_intervals(simulated, complete, _POSITION),
                difference=_intervals(simulated - first, cancels, _POSITION),
                ratio=_interval(ratio) if ratios_known else None,
                ratio_difference=_interval(ratio - first_ratio) if both_known else None,
            )
        )
    return found


def _per_container(one: Compared, errors: SharedErrors) -> Array:
    """Draws x food components of one container."""
    whole = np.zeros((errors.draws, len(_SIMULATED_KEYS)), dtype=np.float32)
    name_of = _measured_as(one.measured_as)
    lines_of = _lines_with_foods(one.result, one.alternatives)
    for lines, component in zip(lines_of, one.result.components, strict=True):
        whole += Simulation(component, lines, errors, _SIMULATED_KEYS, name_of).totals()
    whole /= np.float32(one.result.batch.containers)
    return whole


def _measured_as(places: Mapping[RecipeLine, RecipeLine]) -> Callable[[Contribution], Hashable]:
    def name_of(c: Contribution) -> Hashable:
        line = c.line
        # Another amount, or one that is measured otherwise, is another act of weighing.
        return places.get(line, line).span, line.amount, line.measured, c.ingredient.sources

    return name_of


def _unknown_cancels(result: BatchResult, reference: BatchResult, key: str) -> bool:
    """Whether what is unknown in both batches is the same, so that their difference is known."""
    total, other = result.totals[key], reference.totals[key]
    if total.complete and other.complete:
        return True
    if total.unknown_lines != other.unknown_lines or result.batch.containers != reference.batch.containers:
        return False

    def unknown(of: BatchResult) -> list[RecipeLine]:
        return [line for line in of.batch.lines if line.span.line in total.unknown_lines]

    return unknown(result) == unknown(reference)


def _protein_per_100_kcal(simulated: Array) -> Array:
    energy_kcal = np.maximum(simulated[:, _POSITION["ENERC_KCAL"]], np.float32(1e-3))
    ratio: Array = (100.0 * simulated[:, _POSITION["PROCNT_G"]] / energy_kcal).astype(np.float32)
    return ratio


def _lines_with_foods(result: BatchResult, alternatives: Alternatives) -> list[list[LineWithFoods]]:
    """The lines of each component with the foods that they may be."""
    found: list[list[LineWithFoods]] = []
    position = 0
    for component in result.components:
        found.append([(c, alternatives.get(position + k, ())) for k, c in enumerate(component.contributions)])
        position += len(component.contributions)
    return found


def _errors_of_shared_foods(result: BatchResult, random: np.random.Generator, draws: int) -> dict[Hashable, Array]:
    """Standard normal errors (draws x food components) of the foods that stand in several components of the batch."""
    places: dict[FoodKey, set[int]] = defaultdict(set)
    for number, component in enumerate(result.components):
        for c in component.contributions:
            if takes_part(c):
                places[food_key(c)].add(number)
    return {
        key: random.standard_normal((draws, len(ALL_KEYS)), dtype=np.float32)
        for key, numbers in places.items()
        if len(numbers) > 1
    }


def _intervals(
    simulated: Array, complete: Mapping[str, bool], position_of: Mapping[str, int] | None = None
) -> dict[str, Interval | None]:
    """Food component -> interval of its draws, None where it is not complete."""
    position_of = position_of or {key: position for position, key in enumerate(ALL_KEYS)}
    ordered = np.sort(np.ascontiguousarray(simulated.T), axis=1)
    low, high = _ranks(simulated.shape[0])
    return {
        key: Interval(float(ordered[position_of[key], low]), float(ordered[position_of[key], high])) if known else None
        for key, known in complete.items()
    }


def _interval(simulated: Array) -> Interval:
    low, high = _ranks(simulated.shape[0])
    ordered = np.sort(simulated)
    return Interval(float(ordered[low]), float(ordered[high]))


def _ranks(draws: int) -> tuple[int, int]:
    """Numbers of the draws, in order of size, at which an interval begins and ends."""
    return round((1.0 - LEVEL) / 2.0 * (draws - 1)), round((1.0 + LEVEL) / 2.0 * (draws - 1))
