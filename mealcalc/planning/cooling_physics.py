"""Conduction of heat in food that cools through its faces: exact series, and the stirred pot.

A face passes heat by a coefficient h to surroundings of one temperature; h = 0 is an insulated face. Along one
direction the excess of temperature over that at the start, theta, is a sum of C_n phi_n(x) exp(-z_n**2 Fo), with
Fo = alpha t / L**2.

- Flat direction of thickness L with Biot numbers B1, B2 (h L / k) at its two faces:
  phi_n = z_n cos(z_n x/L) + B1 sin(z_n x/L), z_n the roots of (z**2 - B1 B2) sin z = z (B1 + B2) cos z.
  With B1 = 0 this is the textbook slab, z tan z = B2; with B1 = B2 it is the slab cooled from both faces.
- Round direction of radius R: phi_n = J0(z_n r/R), z_n the roots of z J1(z) = Bi J0(z).
- A brick or a cylinder of finite height is the product of its directions.

Source: Cengel, Heat and Mass Transfer, chapter 4; for two unlike faces Carslaw and Jaeger, Conduction of Heat in Solids
(from memory). Surroundings that change with time are treated exactly: the field that one stage leaves is expanded in
the functions of the next.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from itertools import pairwise
from typing import Protocol

import numpy as np
import numpy.typing as npt

from mealcalc.records.cooling import ThermalProperties

Array = npt.NDArray[np.float64]

TERMS = 40
"""Terms of the series. One is enough for Fo > 0.2 (error under 2 %, Cengel); these serve from Fo = 0.0005 on."""

_NODES = 161  # enough for products of two of the highest functions: Gauss needs about three nodes per wave
_LOOK = np.linspace(0.0, 1.0, 81)
_BISECTIONS = 50
LONGEST_S = 3600.0 * 24 * 60
"""What takes longer than 60 days is called never."""


@dataclass(frozen=True, slots=True)
class Flat:
    """A direction between two parallel faces: thickness in m, coefficients at the faces in W/m2K (0: insulated)."""

    thickness_m: float
    first_w_m2k: float
    second_w_m2k: float


@dataclass(frozen=True, slots=True)
class Round:
    """The radial direction of a cylinder: radius in m, coefficient at its side in W/m2K."""

    radius_m: float
    side_w_m2k: float


Direction = Flat | Round


@dataclass(frozen=True, slots=True)
class Stage:
    """Surroundings for a while: temperature in C, the directions with their coefficients, seconds (inf: to the end).

    exchange_w_k: heat passed per kelvin through all faces together, W/K, for the stirred model.
    """

    air_c: float
    directions: tuple[Direction, ...]
    duration_s: float = math.inf
    exchange_w_k: float = 0.0


class CoolingModel(Protocol):
    """What a model of cooling answers; times in s from the start, temperatures in C."""

    @property
    def start_c(self) -> float:
        """Temperature at the start."""
        ...

    def warmest_c(self, times_s: Array) -> Array:
        """Temperature of the warmest point."""
        ...

    def coolest_c(self, times_s: Array) -> Array:
        """Temperature of the coolest point."""
        ...

    def stages(self) -> Sequence[Stage]:
        """The surroundings in order."""
        ...


def time_until_warmest_s(model: CoolingModel, target_c: float) -> float:
    """Seconds until no part of the food is warmer than `target_c`; infinite where that never comes."""
    return _first_time(model, target_c, model.warmest_c)


def time_until_coolest_s(model: CoolingModel, target_c: float) -> float:
    """Seconds until the first part of the food is as cold as `target_c`; infinite where that never comes."""
    return _first_time(model, target_c, model.coolest_c)


def _first_time(model: CoolingModel, target_c: float, temperature: Callable[[Array], Array]) -> float:
    if model.start_c <= target_c:
        return 0.0
    begin = 0.0
    for stage in model.stages():
        end = begin + stage.duration_s
        if stage.air_c < target_c:
            if not math.isfinite(end):
                end = max(60.0, 2.0 * begin)
                while end < LONGEST_S and _at(temperature, end) > target_c:
                    end *= 2.0
            if _at(temperature, end) <= target_c:
                return _bisect(lambda time_s: _at(temperature, time_s) - target_c, begin, end)
        begin += stage.duration_s
    return math.inf


def _at(temperature: Callable[[Array], Array], time_s: float) -> float:
    return float(temperature(np.array([time_s]))[0])


def _bisect(falling: Callable[[float], float], low: float, high: float) -> float:
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if falling(middle) > 0.0 else (low, middle)
    return high


def flat_roots(first_biot: float, second_biot: float, terms: int = TERMS) -> Array:
    """The first roots z of (z**2 - B1 B2) sin z = z (B1 + B2) cos z; one lies in each interval of length pi.

    Raises
    ------
    ValueError
        If a Biot number is negative, or both are 0: nothing cools then.
    """
    both = first_biot + second_biot
    if min(first_biot, second_biot) < 0.0 or both == 0.0:
        raise ValueError(f"Biot numbers {first_biot}, {second_biot}: none may be negative, one must be above 0")

    def difference(z: Array) -> Array:
        return np.asarray((z**2 - first_biot * second_biot) * np.sin(z) - z * both * np.cos(z))

    n = np.arange(terms, dtype=np.float64)
    return _roots(difference, n * math.pi, (n + 1.0) * math.pi, -np.where(n % 2 == 0, 1.0, -1.0))


def round_roots(biot: float, terms: int = TERMS) -> Array:
    """The first roots z of z J1(z) = Bi J0(z); one lies between each zero of J1 and the next one of J0.

    Raises
    ------
    ValueError
        If the Biot number is not above 0.
    """
    if biot <= 0.0:
        raise ValueError(f"Biot number {biot}: must be above 0")
    from scipy.special import j0, j1, jn_zeros

    def difference(z: Array) -> Array:
        return np.asarray(z * j1(z) - biot * j0(z))

    low = np.concatenate([[0.0], jn_zeros(1, terms - 1)])
    high = np.asarray(jn_zeros(0, terms), dtype=np.float64)
    return _roots(difference, low, high, -np.where(np.arange(terms) % 2 == 0, 1.0, -1.0))


def _roots(difference: Callable[[Array], Array], low: Array, high: Array, sign_at_low: Array) -> Array:
    """Bisection in all intervals at once; the sign just above each lower end is known, so poles cannot mislead it."""
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        before = difference(middle) * sign_at_low > 0.0
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    return 0.5 * (low + high)


@cache
def _gauss_nodes() -> tuple[Array, Array]:
    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    return 0.5 * (nodes + 1.0), 0.5 * weights


class _Series:
    """The functions of one direction in one stage, and their decay."""

    def __init__(self, direction: Direction, properties: ThermalProperties) -> None:
        nodes, weights = _gauss_nodes()
        k = properties.conductivity_w_mk
        if isinstance(direction, Flat):
            size_m = direction.thickness_m
            first, second = direction.first_w_m2k * size_m / k, direction.second_w_m2k * size_m / k
            roots = flat_roots(first, second)[:, None]
            scale = np.hypot(roots, first)

            def functions(x: Array) -> Array:
                return np.asarray((roots * np.cos(roots * x) + first * np.sin(roots * x)) / scale)

        else:
            from scipy.special import j0

            size_m = direction.radius_m
            roots = round_roots(direction.side_w_m2k * size_m / k)[:, None]
            weights = weights * nodes

            def functions(x: Array) -> Array:
                return np.asarray(j0(roots * x))

        self.at_nodes = functions(nodes)
        self.at_look = functions(_LOOK)
        self.project = self.at_nodes * weights / (self.at_nodes**2 @ weights)[:, None]
        self.decay_per_s = roots[:, 0] ** 2 * properties.diffusivity_m2_s / size_m**2

    def expand(self, profile_at_nodes: Array) -> Array:
        """Coefficients of a profile along this direction."""
        return np.asarray(self.project @ profile_at_nodes)

    def later(self, coefficients: Array, time_s: float) -> Array:
        """The profile at the nodes after a time."""
        return np.asarray((coefficients * np.exp(-self.decay_per_s * time_s)) @ self.at_nodes)

    def extremes(self, coefficients: Array, times_s: Array) -> tuple[Array, Array]:
        """Lowest and highest value along the direction at each time."""
        profiles = (coefficients * np.exp(-np.outer(times_s, self.decay_per_s))) @ self.at_look
        return profiles.min(axis=1), profiles.max(axis=1)


@dataclass(frozen=True)
class Conduction:
    """Food at rest that starts at one temperature and cools by conduction alone.

    Each stage must be at most as warm as the one before: food is not warmed again. The warmest and coolest temperatures
    are exact where the warmest point stays where it is; otherwise they err to the warm and to the cold side.

    Raises
    ------
    ValueError
        If there is no stage, or one is warmer than the one before or than the start.
    """

    properties: ThermalProperties
    start_c: float
    surroundings: tuple[Stage, ...]
    _begins_s: tuple[float, ...] = field(init=False)

    def __post_init__(self) -> None:
        temperatures = [self.start_c, *(stage.air_c for stage in self.surroundings)]
        if len(temperatures) < 2 or any(b > a for a, b in pairwise(temperatures)):
            raise ValueError(f"temperatures {temperatures}: surroundings must not be warmer than what came before")
        begins = [0.0]
        for stage in self.surroundings[:-1]:
            begins.append(begins[-1] + stage.duration_s)
        object.__setattr__(self, "_begins_s", tuple(begins))

    def stages(self) -> Sequence[Stage]:
        """The surroundings in order."""
        return self.surroundings

    def warmest_c(self, times_s: Array) -> Array:
        """Temperature of the warmest point, C, at times in s."""
        return self._extreme_c(times_s, warmest=True)

    def coolest_c(self, times_s: Array) -> Array:
        """Temperature of the coolest point, C, at times in s."""
        return self._extreme_c(times_s, warmest=False)

    @cached_property
    def _series(self) -> list[list[_Series]]:
        return [[_Series(d, self.properties) for d in stage.directions] for stage in self.surroundings]

    @cached_property
    def _coefficients(self) -> list[list[list[Array]]]:
        """[stage][stage in which the step of temperature came][direction] -> coefficients."""
        found: list[list[list[Array]]] = []
        for number, series in enumerate(self._series):
            steps = []
            for born in range(number):
                length = self.surroundings[number - 1].duration_s
                steps.append(
                    [
                        now.expand(before.later(coefficients, length))
                        for now, before, coefficients in zip(
                            series, self._series[number - 1], found[number - 1][born], strict=True
                        )
                    ]
                )
            steps.append([now.expand(np.ones(_NODES)) for now in series])
            found.append(steps)
        return found

    def _extreme_c(self, times_s: Array, *, warmest: bool) -> Array:
        temperatures = np.empty_like(times_s)
        in_stage = np.searchsorted(self._begins_s, times_s, side="left") - 1
        for number, stage in enumerate(self.surroundings):
            chosen = np.maximum(in_stage, 0) == number
            if not chosen.any():
                continue
            since_s = times_s[chosen] - self._begins_s[number]
            total = np.full(since_s.shape, float(stage.air_c))
            before_c = self.start_c
            for born, coefficients in enumerate(self._coefficients[number]):
                product = np.ones_like(since_s)
                for series, c in zip(self._series[number], coefficients, strict=True):
                    low, high = series.extremes(c, since_s)
                    # The last terms of a cut series overshoot at the very start; theta is between 0 and 1.
                    product *= np.clip(high if warmest else low, 0.0, 1.0)
                total += (before_c - self.surroundings[born].air_c) * product
                before_c = self.surroundings[born].air_c
            temperatures[chosen] = total
        return temperatures


@dataclass(frozen=True, slots=True)
class Stirred:
    """Food that is stirred and so has one temperature (also right for Bi < 0.1): theta = exp(-h A t / (rho V cp)).

    heat_capacity_j_k: heat that the food takes for one kelvin, J/K.
    """

    heat_capacity_j_k: float
    start_c: float
    surroundings: tuple[Stage, ...]

    def stages(self) -> Sequence[Stage]:
        """The surroundings in order."""
        return self.surroundings

    def warmest_c(self, times_s: Array) -> Array:
        """Temperature of the food, C, at times in s."""
        found = np.full_like(times_s, float(self.start_c))
        left_s = times_s.copy()
        for stage in self.surroundings:
            spent_s = np.minimum(left_s, stage.duration_s)
            rate_per_s = stage.exchange_w_k / self.heat_capacity_j_k
            found = stage.air_c + (found - stage.air_c) * np.exp(-rate_per_s * spent_s)
            left_s = left_s - spent_s
        return found

    def coolest_c(self, times_s: Array) -> Array:
        """The same: stirred food has one temperature."""
        return self.warmest_c(times_s)
