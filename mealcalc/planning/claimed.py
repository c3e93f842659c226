"""Figures that someone published for a batch, judged: within our interval, within a legal tolerance, consistent, and
which single change would explain the difference best.

Differences are measured in standard deviations of our 90 % intervals, widened by what the claimed figures were rounded
to. Energy agrees with any of three conventions: that of the food table, general factors (4-9-4-7), and available
carbohydrate with fibre at 2 kcal per g (Regulation (EU) 1169/2011, Annex XIV).
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from mealcalc.calculation.energy import KCAL_PER_G, general_energy_kcal
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.pipeline import calculate, how_sure
from mealcalc.planning.single_changes import single_changes
from mealcalc.records import Batch, BatchResult, Total
from mealcalc.records.claims import (
    AGREES_WITHIN,
    AVAILABLE,
    CARBOHYDRATE,
    TOTAL,
    Z_90,
    Claim,
    ClaimedFigure,
    ClaimExplanation,
    ClaimReport,
    ClaimTolerance,
    EnergyCheck,
    SingleChange,
)
from mealcalc.reference.label_tolerances import COUNTS_FIBRE, tolerance_for

if TYPE_CHECKING:
    from mealcalc.calculation.uncertainty import Interval

FIBRE_KCAL_PER_G = 2.0
"""Energy of fibre, kcal per g (Regulation (EU) 1169/2011, Annex XIV)."""

LEAST_REMOVED = 0.1
MOST_SHOWN = 3

LEAST_SD_SHARE = 0.005
"""No figure is believed to better than this share of it."""


def judge_claim(
    result: BatchResult,
    claim: Claim,
    database: FoodDatabase,
    decisions: Decisions | None = None,
    *,
    scheme: str = "",
) -> ClaimReport:
    """Judge what someone published for the batch.

    Parameters
    ----------
    result : BatchResult
        The batch as we calculate it.
    claim : Claim
        Published figures of one container.
    database, decisions
        For running the batch again with single changes.
    scheme : str
        Labelling law whose tolerance is named, one of `label_tolerances.SCHEMES`; '' for none.

    Raises
    ------
    UsageError
        If nothing is claimed.
    """
    if not claim.figures(TOTAL):
        raise UsageError("no figure is claimed", "give at least one of --energy, --protein, --fat, --carbohydrate")
    measure = _Measure(result, claim, database)
    carbohydrate, distance = measure.nearest(_per_container(result))
    report = ClaimReport(
        result=result,
        claim=claim,
        scheme=scheme,
        figures=_figures(claim, carbohydrate, result, measure, scheme),
        energy=_energy_check(claim, result),
        carbohydrate="" if claim.carbohydrate_g is None else carbohydrate,
        carbohydrate_sure=measure.tells_definitions_apart(),
        total_carbohydrate_g=result.per_container[TOTAL].amount,
        available_carbohydrate_g=result.per_container[AVAILABLE].amount,
        differs_by_sd=distance,
        explanations=(),
        tried=0,
    )
    if report.agrees:
        return report

    def run(batch: Batch) -> BatchResult:
        return calculate(batch, database, decisions)

    changes = single_changes(result, energy_in_kj=claim.energy_in_kj)
    found = _explanations(changes, run, measure, distance)
    return replace(report, explanations=tuple(found[:MOST_SHOWN]), tried=len(changes))


class _Measure:
    """How far figures are from the claim, in standard deviations of our intervals."""

    def __init__(self, result: BatchResult, claim: Claim, database: FoodDatabase) -> None:
        self._claim = claim
        # What is unknown has no interval; of what is known the width still tells how much a difference means.
        known_part = replace(result, totals={key: Total(total.amount) for key, total in result.totals.items()})
        self._widths = how_sure(known_part, database).per_container
        self._ours = _per_container(result)

    def sd(self, key: str) -> float:
        """Standard deviation of a figure as compared with the claim, in its unit."""
        rounded = self._claim.rounded_by(key) / math.sqrt(3.0)  # uniform over the last digit
        least = LEAST_SD_SHARE * self._ours[key]
        return max(math.hypot(self.interval(key).sd, rounded), least, 1e-9)

    def interval(self, key: str) -> "Interval":
        """Our 90 % interval of what is known of a figure."""
        interval = self._widths[key]
        assert interval is not None
        return interval

    def differences(
        self, figures: Mapping[str, float], carbohydrate: str, energy_factor: float = 1.0
    ) -> dict[str, float]:
        """Claim less figure, in standard deviations, by food component."""
        found = {}
        for key, claimed in self._claim.figures(carbohydrate).items():
            low = high = figures[key]
            if key == "ENERC_KCAL":
                low, high = (energy_factor * energy for energy in energy_range_kcal(figures))
            gap = claimed - high if claimed > high else min(0.0, claimed - low)
            found[key] = gap / self.sd(key)
        return found

    def nearest(self, figures: Mapping[str, float], energy_factor: float = 1.0) -> tuple[str, float]:
        """The definition of carbohydrate under which the figures are nearer, and the root mean square difference."""

        def distance(carbohydrate: str) -> float:
            found = self.differences(figures, carbohydrate, energy_factor).values()
            return math.sqrt(sum(z**2 for z in found) / len(found))

        return min(((key, distance(key)) for key in CARBOHYDRATE), key=lambda found: found[1])

    def tells_definitions_apart(self) -> bool:
        """Whether our two figures of carbohydrate differ by more than their uncertainty."""
        return abs(self._ours[TOTAL] - self._ours[AVAILABLE]) > Z_90 * self.sd(AVAILABLE)


def energy_range_kcal(figures: Mapping[str, float]) -> tuple[float, float]:
    """Least and most energy of a container by the three conventions, in kcal, from its figures."""
    general = sum(factor * figures[key] for key, factor in KCAL_PER_G.items())
    by_available = general - KCAL_PER_G[TOTAL] * (figures[TOTAL] - figures[AVAILABLE])
    by_available += FIBRE_KCAL_PER_G * figures["FIBTG_G"]
    energies = (figures["ENERC_KCAL"], general, by_available)
    return min(energies), max(energies)


def _per_container(result: BatchResult) -> dict[str, float]:
    return {key: total.amount for key, total in result.per_container.items()}


def _figures(
    claim: Claim, carbohydrate: str, result: BatchResult, measure: _Measure, scheme: str
) -> tuple[ClaimedFigure, ...]:
    differences = measure.differences(_per_container(result), carbohydrate)
    found = []
    for key, claimed in claim.figures(carbohydrate).items():
        total, interval, half = result.per_container[key], measure.interval(key), claim.rounded_by(key)
        known = total.complete
        found.append(
            ClaimedFigure(
                key=key,
                claimed=claimed,
                ours=total.amount,
                complete=known,
                low=interval.low if known else None,
                high=interval.high if known else None,
                in_interval=interval.low - half <= claimed <= interval.high + half if known else None,
                differs_by_sd=differences[key],
                tolerance=_tolerance(key, claimed, result, scheme),
            )
        )
    return tuple(found)


def _tolerance(key: str, claimed: float, result: BatchResult, scheme: str) -> ClaimTolerance | None:
    if not scheme:
        return None
    if key in CARBOHYDRATE:
        key = TOTAL if COUNTS_FIBRE[scheme] else AVAILABLE
    known = all(part.cooked_mass_known for part in result.components)
    mass_g = sum(part.cooked_mass_g for part in result.components) / result.batch.containers if known else None
    row = tolerance_for(scheme, key, claimed, mass_g)
    total = result.per_container[key]
    if row is None or not total.complete:
        return None
    low, high = row.limits(claimed, mass_g)
    ours = total.amount
    holds = (low is None or ours >= low) and (high is None or ours <= high)
    return ClaimTolerance(row.name, row.clause, row.mark, ours, low, high, holds)


def _energy_check(claim: Claim, result: BatchResult) -> EnergyCheck | None:
    if claim.energy_kcal is None or claim.protein_g is None or claim.fat_g is None or claim.carbohydrate_g is None:
        return None
    energy_kcal = claim.energy_kcal
    fibre_g = result.per_container["FIBTG_G"].amount if claim.fibre_g is None else claim.fibre_g
    by_macros = general_energy_kcal(claim.protein_g, claim.fat_g, claim.carbohydrate_g)
    with_fibre = by_macros + FIBRE_KCAL_PER_G * fibre_g
    # Each figure may be off by half of its last digit.
    rounded = claim.rounded_by("ENERC_KCAL") + sum(
        KCAL_PER_G[key] * claim.rounded_by(key) for key in ("PROCNT_G", "FAT_G", TOTAL)
    )
    allowed = max(rounded, AGREES_WITHIN * energy_kcal)
    return EnergyCheck(
        claimed_kcal=energy_kcal,
        by_macros_kcal=by_macros,
        by_macros_agrees=abs(energy_kcal - by_macros) <= allowed,
        with_fibre_kcal=with_fibre,
        with_fibre_agrees=abs(energy_kcal - with_fibre) <= allowed,
        fibre_g=fibre_g,
    )


def _explanations(
    changes: list[SingleChange], run: Callable[[Batch], BatchResult], measure: _Measure, distance: float
) -> list[ClaimExplanation]:
    found = []
    for change in changes:
        figures = change.figures
        if figures is None:
            assert change.batch is not None
            figures = _per_container(run(change.batch))
        carbohydrate, left = measure.nearest(figures, change.energy_factor)
        removed = 1.0 - left / distance
        if removed < LEAST_REMOVED:
            continue
        differences = measure.differences(figures, carbohydrate, change.energy_factor)
        within = all(abs(z) <= Z_90 for z in differences.values())
        shown = {**figures, "ENERC_KCAL": figures["ENERC_KCAL"] * change.energy_factor}
        found.append(ClaimExplanation(change, shown, carbohydrate, removed, left, within))
    return sorted(found, key=lambda explanation: -explanation.removed)
