"""Small programmes with linear limits: the nearest to a wished point (quadratic), the most or least of something
(linear), whole numbers, which limits contradict each other, and the nearest compromise.

All variables are at least 0. Linear programmes, with or without whole numbers, go to HiGHS (Huangfu and Hall,
Parallelizing the dual revised simplex method, Mathematical Programming Computation 10 (2018) 119-142). The nearest
point is found by least distance programming (`least_distance.py`), among whole numbers by branch and bound.
Contradictions are found by deletion filtering (Chinneck and Dravnieks, Locating minimal infeasible constraint sets in
linear programs, ORSA Journal on Computing 3 (1991) 157-168).
"""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import highspy
import numpy as np
from numpy.typing import NDArray

from mealcalc.errors import MealcalcError
from mealcalc.planning.least_distance import least_distance

SLACK = 1e-7
"""What a limit may be missed by, as a share of it: the tolerance of the solver."""

WHOLE_SLACK = 1e-6
"""A number nearer than this to a whole one is whole."""

MISS_WEIGHT = 1e5
"""Weight of a miss by its whole size, in a compromise, beside that of a variable off by its whole reference."""

FLOOR_SLACKS = (1e-6, 1e-5, 1e-4)
"""Shares of what is to be large that are given up, so that the distance can decide: the least that can be solved."""

MOST_NODES = 20_000
"""Branches of a search for whole numbers after which it is given up: far more than a kitchen needs."""

INFINITE = math.inf

Numbers = tuple[float, ...]
Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Row:
    """A linear limit: low <= sum of coefficients x variables <= high.

    whole: what a miss is a share of; 0 where the bound itself is.
    """

    coefficients: Numbers
    low: float = -INFINITE
    high: float = INFINITE
    whole: float = 0.0

    @property
    def size(self) -> float:
        """What the limit is measured by: what a miss is a share of, or the largest coefficient where that is 0."""
        if self.whole > 0.0:
            return self.whole
        bounds = [abs(bound) for bound in (self.low, self.high) if math.isfinite(bound) and bound != 0.0]
        return max(bounds, default=0.0) or max((abs(c) for c in self.coefficients), default=0.0) or 1.0

    def value(self, variables: Sequence[float]) -> float:
        """The sum that is limited."""
        return sum(c * v for c, v in zip(self.coefficients, variables, strict=True))

    def holds(self, variables: Sequence[float], slack: float = 10.0 * SLACK) -> bool:
        """Whether the limit is kept, but for a share of its size."""
        value, room = self.value(variables), slack * self.size
        return self.low - room <= value <= self.high + room


@dataclass(frozen=True, slots=True)
class Wish:
    """A wish: weight x (sum of coefficients x variables - about) squared is to be small."""

    coefficients: Numbers
    about: float
    weight: float


@dataclass(frozen=True, slots=True)
class Programme:
    """What is sought: variables that keep every row, nearest to a reference.

    weights: of the squared distance of each variable from `reference`. wishes: added to that. most: what comes first,
    if anything: the largest sum of these coefficients x variables; the distance then decides among what is left.
    whole: variables that are whole numbers.
    """

    reference: Numbers
    weights: Numbers
    rows: tuple[Row, ...] = ()
    wishes: tuple[Wish, ...] = ()
    most: Numbers = ()
    whole: frozenset[int] = frozenset()

    def distance(self, variables: Sequence[float]) -> float:
        """What is to be small: weighted squares of distances and of missed wishes."""
        parts = zip(self.weights, variables, self.reference, strict=True)
        missed = (w.weight * (Row(w.coefficients).value(variables) - w.about) ** 2 for w in self.wishes)
        return sum(w * (v - r) ** 2 for w, v, r in parts) + sum(missed)

    def gain(self, variables: Sequence[float]) -> float:
        """What is to be large; 0 where nothing is."""
        return Row(self.most).value(variables) if self.most else 0.0


class UnboundedError(MealcalcError):
    """What is to be large can grow without end."""


class SolverError(MealcalcError):
    """The solver gave no answer."""


def solve(programme: Programme) -> Numbers | None:
    """The variables that are sought; None where no variables keep every row.

    Raises
    ------
    UnboundedError
        If there is no largest value of what is to be large.
    """
    if not programme.most:
        return _nearest(programme)
    best = _most(programme)
    if best is None:
        return None
    for slack in FLOOR_SLACKS:
        floor = programme.gain(best) - slack * max(1.0, abs(programme.gain(best)))
        try:
            found = _nearest(replace(programme, rows=(*programme.rows, Row(programme.most, low=floor)), most=()))
        except SolverError:  # so little room is left that the solver loses its way
            continue
        if found is not None:
            return found
    return best


def _nearest(programme: Programme) -> Numbers | None:
    count = len(programme.reference)
    search = _Search(programme)
    return search.best(np.zeros(count), np.full(count, INFINITE))


def extreme(programme: Programme, coefficients: Numbers, *, least: bool = False) -> float | None:
    """The largest (or least) sum of coefficients x variables under the rows; None where none keep them.

    Raises
    ------
    UnboundedError
        If there is none.
    """
    sign = -1.0 if least else 1.0
    found = _most(replace(programme, most=tuple(sign * c for c in coefficients)))
    return None if found is None else Row(coefficients).value(found)


def _most(programme: Programme) -> Numbers | None:
    """Variables at which what is to be large is largest."""
    count = len(programme.reference)
    linear = -np.array(programme.most, dtype=np.float64)
    return _run(linear, programme.rows, np.zeros(count), np.full(count, INFINITE), programme.whole)


def keeps_every_row(programme: Programme, rows: Sequence[Row]) -> bool:
    """Whether any variables keep all of `rows`, which stand in place of the programme's own."""
    count = len(programme.reference)
    nothing = np.zeros(count)
    return _run(nothing, rows, nothing, np.full(count, INFINITE), programme.whole) is not None


def contradiction(programme: Programme, spare: Collection[int] = ()) -> tuple[int, ...]:
    """Numbers of rows that no variables keep together, though they keep any of them but one; () if all can be kept.

    Found by deletion filtering: each row is taken away in turn, for good if the rest still contradict each other. Rows
    of `spare` are taken away first, so that they are named only where it does not go without.
    """
    kept = list(range(len(programme.rows)))
    if keeps_every_row(programme, programme.rows):
        return ()
    for number in sorted(kept, key=lambda k: (k not in spare, k)):
        rest = [k for k in kept if k != number]
        if not keeps_every_row(programme, [programme.rows[k] for k in rest]):
            kept = rest
    return tuple(kept)


def compromise(programme: Programme, soft: Collection[int]) -> Numbers | None:
    """The nearest compromise: variables that keep all rows but those of `soft`, which they miss by little.

    What is kept small is the sum of the squares of the misses, each as a share of its row's size; the distance from the
    reference decides among what is about as good. None where the other rows cannot be kept.
    """
    order = sorted(soft)
    count, more = len(programme.reference), len(order)
    rows = []
    for number, row in enumerate(programme.rows):
        extra = [0.0] * more
        if number in soft:
            # One miss serves one bound: whoever sets both sets them as two rows.
            extra[order.index(number)] = row.size if math.isfinite(row.low) else -row.size
        rows.append(replace(row, coefficients=(*row.coefficients, *extra)))
    nothing = (0.0,) * more
    loosened = Programme(
        reference=(*programme.reference, *nothing),
        weights=(*programme.weights, *(MISS_WEIGHT,) * more),
        rows=tuple(rows),
        wishes=tuple(replace(w, coefficients=(*w.coefficients, *nothing)) for w in programme.wishes),
        whole=programme.whole,
    )
    found = solve(loosened)
    return None if found is None else found[:count]


class _Search:
    """Branch and bound over the variables that are whole numbers; a single solve where there are none."""

    def __init__(self, programme: Programme) -> None:
        self._programme = programme
        self._found: Numbers | None = None
        self._distance = INFINITE
        self._nodes = 0
        count = len(programme.reference)
        wishes = programme.wishes
        weights = np.sqrt(np.array([*programme.weights, *(wish.weight for wish in wishes)]))
        directions = np.vstack([np.eye(count), *(np.array(wish.coefficients).reshape(1, count) for wish in wishes)])
        wanted = np.array([*programme.reference, *(wish.about for wish in wishes)])
        # The distance is the squared length of triangle x - centre, but for a part that does not change.
        rotation, self._triangle = np.linalg.qr(weights[:, None] * directions)
        self._centre = rotation.T @ (weights * wanted)

    def best(self, lower: Array, upper: Array) -> Numbers | None:
        """The nearest variables between the bounds."""
        self._branch(lower, upper)
        return self._found

    def _branch(self, lower: Array, upper: Array) -> None:
        self._nodes += 1
        if self._nodes > MOST_NODES:
            raise MealcalcError(
                "too many ways to divide into whole packs", "name fewer lines whose packs are to stay whole"
            )
        programme = self._programme
        found = self._nearest(lower, upper)
        if found is None:
            return
        distance = programme.distance(found)
        if distance >= self._distance - 1e-9 * max(1.0, self._distance):
            return
        broken = [k for k in programme.whole if abs(found[k] - round(found[k])) > WHOLE_SLACK]
        if not broken:
            self._found, self._distance = found, distance
            return
        number = max(broken, key=lambda k: (abs(found[k] - round(found[k])), -k))
        below, above = upper.copy(), lower.copy()
        below[number], above[number] = math.floor(found[number]), math.ceil(found[number])
        branches = [(lower, below), (above, upper)]
        if found[number] - math.floor(found[number]) > 0.5:
            branches.reverse()
        for one_lower, one_upper in branches:
            self._branch(one_lower, one_upper)

    def _nearest(self, lower: Array, upper: Array) -> Numbers | None:
        """The nearest variables between bounds, whole or not; None where no variables keep every row."""
        count = len(lower)
        unit = np.eye(count)
        left, right = [*unit], [*lower]
        for row in self._programme.rows:
            coefficients = np.array(row.coefficients)
            if math.isfinite(row.low):
                left.append(coefficients)
                right.append(row.low)
            if math.isfinite(row.high):
                left.append(-coefficients)
                right.append(-row.high)
        bounded = [k for k in range(count) if math.isfinite(upper[k])]
        left += [-unit[k] for k in bounded]
        right += [-upper[k] for k in bounded]
        turned = np.linalg.solve(self._triangle.T, np.array(left).T).T
        shortest = least_distance(turned, np.array(right) - turned @ self._centre)
        if shortest is not None:
            point = np.maximum(np.linalg.solve(self._triangle, shortest + self._centre), lower)
            found = tuple(float(value) for value in point)
            if all(row.holds(found) for row in self._programme.rows) and np.all(point <= upper + WHOLE_SLACK):
                return found
        if _run(np.zeros(count), self._programme.rows, lower, upper, frozenset()) is None:
            return None
        raise SolverError("the nearest of what keeps every limit was not found", "loosen or remove some targets")


class _QuietHighs(highspy.Highs):
    """HiGHS without a word: some versions greet on standard output unless silenced before this is called."""

    def enableCallbacks(self) -> None:  # noqa: N802 - the name that HiGHS calls
        """Silence, then what HiGHS does."""
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def _run(linear: Array, rows: Sequence[Row], lower: Array, upper: Array, whole: frozenset[int]) -> Numbers | None:
    """Variables between bounds that make linear x least; None where none keep every row."""
    count = len(linear)
    if any(low > high for low, high in zip(lower, upper, strict=True)):
        return None
    model = highspy.HighsModel()
    lp = model.lp_
    lp.num_col_, lp.num_row_ = count, len(rows)
    lp.col_cost_, lp.col_lower_, lp.col_upper_ = linear, lower, upper
    # Rows measured by their bounds, so that one tolerance suits kilocalories and grams of salt.
    sizes = [row.size for row in rows]
    lp.row_lower_ = np.array([row.low / size for row, size in zip(rows, sizes, strict=True)])
    lp.row_upper_ = np.array([row.high / size for row, size in zip(rows, sizes, strict=True)])
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.arange(0, (len(rows) + 1) * count, max(count, 1))[: len(rows) + 1]
    lp.a_matrix_.index_ = np.tile(np.arange(count), len(rows))
    lp.a_matrix_.value_ = np.array(
        [c / size for row, size in zip(rows, sizes, strict=True) for c in row.coefficients], dtype=np.float64
    )
    if whole:
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        lp.integrality_ = [kinds[k in whole] for k in range(count)]
    solver = _QuietHighs()  # type: ignore[no-untyped-call]
    solver.silent()
    solver.setOptionValue("threads", 1)
    solver.passModel(model)
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kOptimal:
        return tuple(max(0.0, float(value)) for value in solver.getSolution().col_value)
    if status in (highspy.HighsModelStatus.kUnbounded, highspy.HighsModelStatus.kUnboundedOrInfeasible):
        if linear.any() and _run(np.zeros(count), rows, lower, upper, whole) is not None:
            raise UnboundedError("there is no most of it: nothing limits it", "add an 'at most'")
        return None
    if status == highspy.HighsModelStatus.kInfeasible:
        return None
    raise SolverError(f"the solver gave up: {solver.modelStatusToString(status)}", "loosen or remove some targets")
