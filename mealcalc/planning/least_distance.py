"""The point of a polytope that is nearest to the origin, by non-negative least squares.

Lawson and Hanson, Solving Least Squares Problems (1974), chapter 23: algorithms NNLS and LDP. Meant for the small and
dense problems of a kitchen: a dozen unknowns, a few dozen limits.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

TOLERANCE = 1e-11
"""Gradients and unknowns below this, columns being of length 1, are 0."""

NEAR_UNIT = 3.0
RESCALINGS = 4
"""Length in its unit up to which z is well measured, and how often the unit is mended."""

MOST_STEPS = 30
"""Steps for each unknown after which the search is given up: it usually takes one or two."""


def nonnegative_least_squares(matrix: Array, target: Array) -> Array | None:
    """The u >= 0 for which matrix u is nearest to `target`; None where the search does not end (NNLS)."""
    count = matrix.shape[1]
    found = np.zeros(count)
    free = np.zeros(count, dtype=bool)
    for _ in range(MOST_STEPS * max(count, 1)):
        gradient = matrix.T @ (target - matrix @ found)
        gradient[free] = -np.inf
        if count == 0 or gradient.max() <= TOLERANCE:
            return found
        free[int(np.argmax(gradient))] = True
        while True:
            trial = np.zeros(count)
            trial[free] = np.linalg.lstsq(matrix[:, free], target, rcond=None)[0]
            if trial[free].min() > 0.0:
                break
            # As far as the first unknown that would become negative; it stays at 0.
            falling = free & (trial <= 0.0)
            steps = found[falling] / np.maximum(found[falling] - trial[falling], TOLERANCE**2)
            found = found + steps.min() * (trial - found)
            free &= found > TOLERANCE
            found[~free] = 0.0
            if not free.any():
                break
        if free.any():
            found = trial
    return None


def least_distance(left: Array, right: Array) -> Array | None:
    """The shortest z for which left z >= right; None where the search does not end or no z is found (LDP).

    What is lost to rounding grows with the square of the length of z, so z is measured in a unit near its length: first
    by the farthest single limit, which it cannot fall short of, then by the length that was found.
    """
    lengths = np.linalg.norm(left, axis=1)
    reachable = lengths > 0.0
    if np.any(right[~reachable] > 0.0):
        return None
    left, right = left[reachable] / lengths[reachable, None], right[reachable] / lengths[reachable]
    if not len(right) or right.max() <= 0.0:
        return np.zeros(left.shape[1])
    unit, found = float(right.max()), None
    for _ in range(RESCALINGS):
        scaled = _least_distance(left, right / unit)
        if scaled is None:
            return found
        found = scaled * unit
        length = float(np.linalg.norm(scaled))
        if length <= NEAR_UNIT:
            break
        unit *= length
    return found


def _least_distance(left: Array, right: Array) -> Array | None:
    lengths = np.sqrt(1.0 + right**2)
    matrix = np.vstack([left.T, right]) / lengths
    target = np.zeros(left.shape[1] + 1)
    target[-1] = 1.0
    multipliers = nonnegative_least_squares(matrix, target)
    if multipliers is None:
        return None
    residual = matrix @ multipliers - target
    if -residual[-1] <= TOLERANCE:
        return None
    nearest: Array = -residual[:-1] / residual[-1]
    return nearest
