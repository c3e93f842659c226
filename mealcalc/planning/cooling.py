"""How long food takes to cool in its container, against the limits that authorities publish.

The answer is a band: the fast case takes all unknowns (surface, conductivity, heat capacity) to the fast side, the slow
case to the slow side. It is a prediction under stated assumptions, never a statement that food may be eaten. A limit's
clock starts when the first part of the food is as cold as the limit's first temperature and stops when the last part is
as cold as its second one.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.planning.cooling_physics import (
    Conduction,
    CoolingModel,
    Stirred,
    time_until_coolest_s,
    time_until_warmest_s,
)
from mealcalc.planning.cooling_setting import (
    DEEPEST_M,
    Case,
    Container,
    Shape,
    Surroundings,
    check_temperatures,
    in_case,
    stages_of,
)
from mealcalc.planning.cooling_words import advice_of, assumptions_of, notes_of
from mealcalc.planning.thermal import properties_of, shares_of
from mealcalc.records import BatchResult
from mealcalc.records.cooling import (
    Band,
    CoolingCurve,
    CoolingLimit,
    CoolingPrediction,
    FoodCooling,
    Outcome,
    StagePrediction,
    ThermalProperties,
)
from mealcalc.records.keeping import Authority
from mealcalc.reference.cooling_tables import FOOD_PARTS, cooling_limits

KNOWN_SHARE = 0.95
"""Share of the mass whose composition must be known for a prediction without a warning; our judgement."""

USUAL_TARGETS_C = (21.0, 5.0)
"""Temperatures for which times are shown where no chosen authority publishes a limit: those of most that do."""

SHALLOWEST_M = 0.005
_CURVE_POINTS = 161
_SHORTEST_CURVE_H, _LONGEST_CURVE_H = 8.0, 48.0


@dataclass(frozen=True, slots=True)
class FoodToCool:
    """A food to be cooled: its name and the mass fractions of its parts (`FOOD_PARTS`)."""

    name: str
    shares: dict[str, float]


def foods_of(result: BatchResult) -> tuple[list[FoodToCool], list[Diagnostic]]:
    """The foods of a batch: the mixed container first, then each component; with what their composition lacks."""
    found: list[FoodToCool] = []
    diagnostics: list[Diagnostic] = []
    parts = [(part.component.name or result.batch.title, part.totals) for part in result.components]
    if len(parts) > 1:
        parts.insert(0, ("Whole container, mixed", result.totals))
    for name, totals in parts:
        shares = shares_of(totals)
        if shares is None:
            diagnostics.append(
                Diagnostic(
                    "missing-composition",
                    Severity.ERROR,
                    f"{name}: no water or no food of known composition: its cooling cannot be predicted",
                    None,
                    "see `mealcalc match` for its lines, or give the composition: --water 76 --protein 8 --fat 6 ...",
                )
            )
            continue
        known = min(totals[key].known_share for key in ("WATER_G", "PROCNT_G", "FAT_G", "CHOCDF_G"))
        if known < KNOWN_SHARE:
            lines = sorted({line for key in ("WATER_G", "PROCNT_G", "FAT_G") for line in totals[key].unknown_lines})
            diagnostics.append(
                Diagnostic(
                    "partial-composition",
                    Severity.WARNING,
                    f"{name}: composition known for {known:.0%} of the mass, not of lines {', '.join(map(str, lines))}",
                    None,
                    "the prediction rests on what is known; `mealcalc match` shows the lines",
                )
            )
        found.append(FoodToCool(name, shares))
    return found, diagnostics


def food_from_shares(**percent: float) -> FoodToCool:
    """A food from its parts in g per 100 g (water, protein, fat, carbohydrate, fibre, ash).

    They are scaled to 100.

    Raises
    ------
    mealcalc.errors.UsageError
        If a part is negative, water is missing, or the sum is not near 100.
    """
    from mealcalc.errors import UsageError

    amounts = {part: percent.get(part, 0.0) for part in FOOD_PARTS}
    for part, amount in amounts.items():
        if not 0.0 <= amount <= 100.0:
            raise UsageError(f"{part} {amount:g} g per 100 g is not between 0 and 100", "give grams in 100 g of food")
    whole = sum(amounts.values())
    if amounts["water"] <= 0.0:
        raise UsageError("no composition: name a recipe file or give --water, --protein, --fat ...", "grams in 100 g")
    if not 90.0 <= whole <= 105.0:
        raise UsageError(
            f"the parts add up to {whole:g} g in 100 g of food",
            "give all of water, protein, fat, carbohydrate, fibre and ash; they add up to about 100",
        )
    return FoodToCool("Food as given", {part: amount / whole for part, amount in amounts.items()})


def depth_of(result: BatchResult, base_m2: float, temperature_c: float) -> float | None:
    """Depth in m at which the food of one container fills its base; None where its mass is not known."""
    shares = shares_of(result.totals)
    if shares is None or not all(part.cooked_mass_known for part in result.components):
        return None
    mass_kg = sum(part.cooked_mass_g for part in result.components) / result.batch.containers / 1000.0
    return mass_kg / properties_of(shares, temperature_c).density_kg_m3 / base_m2


def limits_of(authorities: Iterable[Authority], *, ambient: bool = False) -> tuple[CoolingLimit, ...]:
    """The published limits of some authorities, for cooked food or for food made without heating (`ambient`)."""
    wanted = {row.authority: row.audience for row in authorities}
    meant_for = "ambient" if ambient else "cooked"
    return tuple(
        limit
        for limit in cooling_limits()
        if limit.authority in wanted and limit.meant_for in (meant_for, wanted[limit.authority])
    )


def predict(
    foods: Sequence[FoodToCool],
    container: Container,
    surroundings: tuple[Surroundings, ...],
    start_c: float,
    authorities: Sequence[Authority],
    *,
    title: str = "",
    ambient: bool = False,
) -> tuple[CoolingPrediction, list[Diagnostic]]:
    """Times in which foods cool in a container, against the limits of authorities.

    Parameters
    ----------
    foods : sequence of FoodToCool
        What is in the container; each is taken to fill it alone.
    container : Container
        Shape, depth and walls.
    surroundings : tuple of Surroundings
        What it stands in, in order, from warm to cold; the last one to the end.
    start_c : float
        Temperature of the food when the clock starts, C, the same all through.
    authorities : sequence of Authority
        Whose limits are compared.
    title : str
        What is cooled, for the heading.
    ambient : bool
        The food is made from ingredients at room temperature, for which some authorities have a limit of their own.

    Returns
    -------
    tuple
        The prediction, foods from slow to fast, and what is to be said about the input.

    Raises
    ------
    UsageError
        If the food does not start warmer than its surroundings, or these become warmer.
    """
    check_temperatures(start_c, surroundings)
    limits = limits_of(authorities, ambient=ambient)
    targets_c = sorted({limit.to_c for limit in limits} or set(USUAL_TARGETS_C), reverse=True)
    cooled = [_cool(food, container, surroundings, start_c, limits, targets_c) for food in foods]
    # By the first target, which is nearly always reached; the last one may be out of reach for all.
    order = sorted(range(len(cooled)), key=lambda n: -cooled[n].times[targets_c[0]].slow_h)
    prediction = CoolingPrediction(
        title=title,
        container=container.described(),
        depth_m=container.depth_m,
        surroundings=", then ".join(around.described() for around in surroundings),
        start_c=start_c,
        foods=tuple(cooled[n] for n in order),
        notes=notes_of(surroundings, authorities, limits),
        assumptions=assumptions_of(container, surroundings),
        advice=advice_of(surroundings, authorities),
        largest_depth_m=_largest_depth_m(foods[order[0]], container, surroundings, start_c, limits) if foods else None,
    )
    return prediction, _findings(surroundings, limits, start_c)


def _cool(
    food: FoodToCool,
    container: Container,
    surroundings: tuple[Surroundings, ...],
    start_c: float,
    limits: Sequence[CoolingLimit],
    targets_c: Sequence[float],
) -> FoodCooling:
    properties = properties_of(food.shares, 0.5 * (start_c + surroundings[-1].air_c))
    models = {case: _model(properties, container, surroundings, start_c, case) for case in Case}
    clocks = [_Clock(model) for model in models.values()]
    times = {target_c: _band([clock.warmest_s(target_c) for clock in clocks]) for target_c in targets_c}
    return FoodCooling(
        name=food.name,
        shares=food.shares,
        properties=properties,
        times=times,
        stages=tuple(_judge(limit, limits, clocks, start_c) for limit in limits),
        curve=_curve(models, times, surroundings),
    )


def _model(
    properties: ThermalProperties,
    container: Container,
    surroundings: tuple[Surroundings, ...],
    start_c: float,
    case: Case,
) -> CoolingModel:
    shifted = in_case(properties, case)
    stages = stages_of(container, surroundings, case)
    if container.stirred:
        volume_m3 = container.base_m2 * container.depth_m
        return Stirred(shifted.heat_capacity_j_m3k * volume_m3, start_c, stages)
    return Conduction(shifted, start_c, stages)


class _Clock:
    """Times of one model, each searched for once."""

    def __init__(self, model: CoolingModel) -> None:
        self._model = model
        self._warmest_s: dict[float, float] = {}
        self._coolest_s: dict[float, float] = {}

    def warmest_s(self, target_c: float) -> float:
        """Seconds until no part is warmer than a temperature."""
        if target_c not in self._warmest_s:
            self._warmest_s[target_c] = time_until_warmest_s(self._model, target_c)
        return self._warmest_s[target_c]

    def coolest_s(self, target_c: float) -> float:
        """Seconds until the first part is as cold as a temperature."""
        if target_c not in self._coolest_s:
            self._coolest_s[target_c] = time_until_coolest_s(self._model, target_c)
        return self._coolest_s[target_c]


def _judge(
    limit: CoolingLimit, limits: Sequence[CoolingLimit], clocks: Sequence[_Clock], start_c: float
) -> StagePrediction:
    if start_c <= limit.to_c:
        return StagePrediction(limit, Band(0.0, 0.0, 0.0), Outcome.NOT_JUDGED, "the food starts below this already")
    time = _band([_counted_s(clock, limit, limits) for clock in clocks])
    outcome = outcome_of(time, limit.hours)
    if limit.clock == "start" and limit.from_c is not None and start_c < limit.from_c:
        remark = f"its clock starts at {limit.from_c:g} C, before this prediction does"
        return StagePrediction(limit, time, Outcome.NOT_JUDGED if outcome is Outcome.MEETS else outcome, remark)
    return StagePrediction(limit, time, outcome)


def outcome_of(time: Band, hours: float) -> Outcome:
    """What a band says of a limit in hours: it meets it only where its slow end does."""
    if math.isinf(time.fast_h):
        return Outcome.NEVER
    if time.slow_h <= hours:
        return Outcome.MEETS
    return Outcome.MISSES if time.fast_h > hours else Outcome.BETWEEN


def _counted_s(clock: _Clock, limit: CoolingLimit, limits: Sequence[CoolingLimit]) -> float:
    """Seconds that count against a limit."""
    end_s = clock.warmest_s(limit.to_c)
    if math.isinf(end_s):
        return end_s
    if limit.clock == "stage":
        before = [
            other.to_c
            for other in limits
            if (other.authority, other.meant_for, other.stage) == (limit.authority, limit.meant_for, limit.stage - 1)
        ]
        return end_s - clock.warmest_s(before[0])
    return end_s if limit.from_c is None else end_s - clock.coolest_s(limit.from_c)


def _largest_depth_m(
    food: FoodToCool,
    container: Container,
    surroundings: tuple[Surroundings, ...],
    start_c: float,
    limits: Sequence[CoolingLimit],
) -> float | None:
    """Depth down to which the slow end of the band meets every limit, to the millimetre; None where none does."""
    judged = [limit for limit in limits if limit.from_c is None or limit.from_c <= start_c or limit.clock == "stage"]
    if not judged or any(limit.to_c <= surroundings[-1].air_c for limit in judged):
        return None
    properties = properties_of(food.shares, 0.5 * (start_c + surroundings[-1].air_c))

    def meets(depth_m: float) -> bool:
        clock = _Clock(_model(properties, replace(container, depth_m=depth_m), surroundings, start_c, Case.SLOW))
        return all(_counted_s(clock, limit, limits) <= limit.hours * 3600.0 for limit in judged)

    deepest_m = (
        DEEPEST_M if container.shape is not Shape.POT else min(DEEPEST_M, 2.0 * (container.width_m or DEEPEST_M))
    )
    if not meets(SHALLOWEST_M):
        return None
    low_m, high_m = SHALLOWEST_M, deepest_m
    if meets(high_m):
        return high_m
    while high_m - low_m > 0.0005:
        middle_m = 0.5 * (low_m + high_m)
        low_m, high_m = (middle_m, high_m) if meets(middle_m) else (low_m, middle_m)
    return math.floor(low_m * 1000.0) / 1000.0


def _curve(
    models: dict[Case, CoolingModel], times: dict[float, Band], surroundings: Sequence[Surroundings]
) -> CoolingCurve:
    finite = [band.slow_h for band in times.values() if math.isfinite(band.slow_h)]
    last_h = min(_LONGEST_CURVE_H, max([_SHORTEST_CURVE_H, *(1.1 * h for h in finite)]) if finite else 24.0)
    # Closer at the start, where the curve bends most, and with the moments at which the surroundings change.
    changes = np.cumsum([around.hours for around in surroundings[:-1]])
    hours = np.union1d(last_h * np.linspace(0.0, 1.0, _CURVE_POINTS) ** 1.5, changes[changes < last_h])
    lines = {case: tuple(float(t) for t in model.warmest_c(hours * 3600.0)) for case, model in models.items()}
    return CoolingCurve(tuple(map(float, hours)), lines[Case.FAST], lines[Case.TYPICAL], lines[Case.SLOW])


def _band(seconds: Sequence[float]) -> Band:
    fast, typical, slow = (s / 3600.0 for s in seconds)
    return Band(fast, typical, slow)


def _findings(
    surroundings: tuple[Surroundings, ...], limits: Sequence[CoolingLimit], start_c: float
) -> list[Diagnostic]:
    last_c = surroundings[-1].air_c
    found = []
    unreached = sorted({limit.to_c for limit in limits if limit.to_c <= last_c})
    if unreached:
        found.append(
            Diagnostic(
                "air-above-target",
                Severity.WARNING,
                f"{surroundings[-1].described()}: food never gets colder than that, so never to "
                f"{', '.join(f'{c:g}' for c in unreached)} C",
                None,
                "measure the temperature of the refrigerator, and set it lower",
            )
        )
    late = sorted(
        {
            limit.from_c
            for limit in limits
            if limit.from_c is not None and start_c < limit.from_c and limit.clock == "start"
        }
    )
    if late:
        found.append(
            Diagnostic(
                "start-below-limit",
                Severity.WARNING,
                f"the prediction starts at {start_c:g} C, but limits count from {', '.join(f'{c:g}' for c in late)} C: "
                "the time before is missing from it",
                None,
                f"give the temperature at which cooling starts, --start {late[-1]:g}C or hotter",
            )
        )
    return found
