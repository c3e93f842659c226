"""The solver: every answer keeps its rows, none is better by an independent method, and contradictions are real.

Independent methods: for the nearest point the condition of optimality itself, proved by a linear programme (x is the
nearest if no y that keeps the rows has gradient (y - x) < 0), and scipy's own non-negative least squares; for the most
all corners of a polytope; for whole numbers all of a small box.
"""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import nnls

from mealcalc.errors import MealcalcError
from mealcalc.planning.programme import (
    MISS_WEIGHT,
    Programme,
    Row,
    UnboundedError,
    Wish,
    compromise,
    contradiction,
    extreme,
    keeps_every_row,
    solve,
)

# Amounts in thousandths, so that no limit is missed by a rounding error alone.
amounts = st.integers(0, 3000).map(lambda n: n / 1000)
positive = st.integers(200, 1500).map(lambda n: n / 1000)


@st.composite
def programmes(draw: st.DrawFn, *, most_variables: int = 6, feasible: bool = False) -> Programme:
    """Programmes of the sort that kitchens pose: some rows at least, some at most, some between."""
    count = draw(st.integers(1, most_variables))
    reference = tuple(draw(st.lists(positive, min_size=count, max_size=count)))
    inside = draw(st.lists(amounts, min_size=count, max_size=count))
    rows = []
    for _ in range(draw(st.integers(1, 6))):
        coefficients = tuple(draw(st.lists(amounts, min_size=count, max_size=count)))
        value = sum(c * x for c, x in zip(coefficients, inside, strict=True))
        if not feasible:
            value = draw(st.integers(0, 6000)) / 1000
        gap = draw(st.sampled_from([0.0, 0.25, 1.0]))
        kind = draw(st.sampled_from(["least", "most", "between"]))
        low = value - gap if kind != "most" else -math.inf
        high = value + gap if kind != "least" else math.inf
        rows.append(Row(coefficients, low, high))
    return Programme(reference, tuple(1.0 / r**2 for r in reference), tuple(rows))


def least_distance(programme: Programme) -> tuple[float, ...] | None:
    """The nearest variables by Lawson and Hanson's LDP; None where it finds the rows incompatible.

    With z = sqrt(weight) (x - reference) the squared length of z is the distance, subject to G z >= h.
    """
    reference, unit = np.array(programme.reference), 1.0 / np.sqrt(np.array(programme.weights))
    left, right = [], []
    for row in programme.rows:
        a = np.array(row.coefficients)
        if math.isfinite(row.low):
            left.append(a * unit)
            right.append(row.low - a @ reference)
        if math.isfinite(row.high):
            left.append(-a * unit)
            right.append(a @ reference - row.high)
    left += list(np.diag(unit))
    right += list(-reference)
    matrix = np.vstack([np.array(left).T, np.array(right)])
    target = np.zeros(matrix.shape[0])
    target[-1] = 1.0
    multipliers, rest = nnls(matrix, target)
    if rest < 1e-6:
        return None
    residual = matrix @ multipliers - target
    return tuple(reference + unit * (-residual[:-1] / residual[-1]))


def corners(programme: Programme) -> list[tuple[float, ...]]:
    """Every corner of the region that the rows leave, variables being at least 0."""
    count = len(programme.reference)
    planes = [(np.eye(count)[k], 0.0) for k in range(count)]
    for row in programme.rows:
        planes += [(np.array(row.coefficients), b) for b in (row.low, row.high) if math.isfinite(b)]
    found = []
    for chosen in itertools.combinations(planes, count):
        matrix, right = np.array([a for a, _ in chosen]), np.array([b for _, b in chosen])
        if abs(np.linalg.det(matrix)) > 1e-9:
            corner = tuple(np.linalg.solve(matrix, right))
            if min(corner) >= -1e-9 and all(row.holds(corner, 1e-9) for row in programme.rows):
                found.append(corner)
    return found


@settings(max_examples=150)
@given(programmes())
def test_the_answer_keeps_every_row_and_none_is_nearer(programme: Programme) -> None:
    found = solve(programme)
    other = least_distance(programme)
    if found is None:
        assert not keeps_every_row(programme, programme.rows)
        assert other is None or not all(row.holds(other, 1e-9) for row in programme.rows)
        return
    assert min(found) >= 0.0
    assert all(row.holds(found) for row in programme.rows)
    if other is not None and all(row.holds(other, 1e-9) for row in programme.rows):
        assert programme.distance(found) <= programme.distance(other) * (1 + 1e-5) + 1e-5
    parts = zip(programme.weights, found, programme.reference, strict=True)
    gradient = tuple(2.0 * w * (x - r) for w, x, r in parts)
    lowest = extreme(programme, gradient, least=True)
    assert lowest is not None
    assert lowest >= Row(gradient).value(found) - 1e-4 * (1.0 + programme.distance(found))


@settings(max_examples=60)
@given(programmes(feasible=True))
def test_what_can_be_kept_is_found(programme: Programme) -> None:
    found = solve(programme)
    assert found is not None
    assert contradiction(programme) == ()


@settings(max_examples=60)
@given(programmes(most_variables=3), st.data())
def test_the_most_is_at_a_corner(programme: Programme, data: st.DataObject) -> None:
    """The largest sum under linear limits is reached at a corner, if anywhere."""
    count = len(programme.reference)
    goal = tuple(data.draw(st.lists(amounts, min_size=count, max_size=count)))
    # A lid over everything, so that there is a most.
    lid = Row((1.0,) * count, high=20.0)
    programme = Programme(programme.reference, programme.weights, (*programme.rows, lid), most=goal)
    found = solve(programme)
    known = corners(programme)
    if found is None:
        assert known == []
        return
    assume(known)  # a region without a corner of its own cannot be, variables being at least 0; rounding may miss it
    best = max(programme.gain(corner) for corner in known)
    assert programme.gain(found) == pytest.approx(best, rel=1e-4, abs=1e-4)
    assert extreme(programme, goal) == pytest.approx(best, rel=1e-5, abs=1e-5)
    least = min(Row(goal).value(corner) for corner in known)
    assert extreme(programme, goal, least=True) == pytest.approx(least, rel=1e-5, abs=1e-5)


@settings(max_examples=60)
@given(programmes(most_variables=3), st.sets(st.integers(0, 2), min_size=1))
def test_whole_numbers_are_the_best_of_all(programme: Programme, whole: set[int]) -> None:
    count = len(programme.reference)
    numbers = frozenset(k for k in whole if k < count) or frozenset([0])
    lids = tuple(Row(tuple(1.0 if k == j else 0.0 for j in range(count)), high=4.0) for k in range(count))
    programme = Programme(programme.reference, programme.weights, (*programme.rows, *lids), whole=numbers)
    found = solve(programme)
    best: float | None = None
    for values in itertools.product(range(5), repeat=len(numbers)):
        fixed = tuple(
            Row(tuple(1.0 if j == k else 0.0 for j in range(count)), low=float(v), high=float(v))
            for k, v in zip(sorted(numbers), values, strict=True)
        )
        part = solve(Programme(programme.reference, programme.weights, (*programme.rows, *fixed)))
        if part is not None:
            best = min(best, programme.distance(part)) if best is not None else programme.distance(part)
    if found is None:
        assert best is None
        return
    assert best is not None
    assert all(abs(found[k] - round(found[k])) < 1e-5 for k in numbers)
    assert all(row.holds(found) for row in programme.rows)
    assert programme.distance(found) == pytest.approx(best, rel=1e-4, abs=1e-4)


@settings(max_examples=100)
@given(programmes())
def test_contradictions_are_real_and_irreducible(programme: Programme) -> None:
    rows = contradiction(programme)
    if not rows:
        assert solve(programme) is not None
        return
    assert not keeps_every_row(programme, [programme.rows[k] for k in rows])
    for left_out in rows:
        assert keeps_every_row(programme, [programme.rows[k] for k in rows if k != left_out])


@settings(max_examples=100)
@given(programmes(), st.data())
def test_loosening_a_row_never_worsens(programme: Programme, data: st.DataObject) -> None:
    found = solve(programme)
    assume(found is not None)
    assert found is not None
    number = data.draw(st.integers(0, len(programme.rows) - 1))
    step = data.draw(st.sampled_from([0.001, 0.1, 1.0]))
    row = programme.rows[number]
    loose = Row(row.coefficients, row.low - step, row.high + step)
    rows = (*programme.rows[:number], loose, *programme.rows[number + 1 :])
    after = solve(Programme(programme.reference, programme.weights, rows))
    assert after is not None
    assert programme.distance(after) <= programme.distance(found) + 1e-5 * (1.0 + programme.distance(found))


@settings(max_examples=60)
@given(programmes())
def test_a_compromise_misses_nothing_that_can_be_kept(programme: Programme) -> None:
    split = []
    for row in programme.rows:
        split += [Row(row.coefficients, low=row.low)] if math.isfinite(row.low) else []
        split += [Row(row.coefficients, high=row.high)] if math.isfinite(row.high) else []
    programme = Programme(programme.reference, programme.weights, tuple(split))
    between = compromise(programme, range(len(split)))
    assert between is not None

    def misses(variables: tuple[float, ...]) -> float:
        return sum(
            (max(0.0, row.low - row.value(variables), row.value(variables) - row.high) / row.size) ** 2 for row in split
        )

    def total(variables: tuple[float, ...]) -> float:
        return MISS_WEIGHT * misses(variables) + programme.distance(variables)

    found = solve(programme)
    others = [programme.reference, tuple(0.0 for _ in programme.reference), *([found] if found else [])]
    assert total(between) <= min(map(total, others)) * (1 + 1e-4) + 1e-4
    if found is None:
        assert misses(between) > 0.0


def test_rows_that_may_not_be_missed_are_kept_in_a_compromise() -> None:
    # At least 3 of what there is 1 of; the pot holds what it holds.
    programme = Programme((1.0,), (1.0,), (Row((1.0,), low=3.0), Row((1.0,), high=1.0)))
    assert contradiction(programme) == (0, 1)
    assert compromise(programme, [0]) == pytest.approx((1.0,), abs=1e-5)
    assert compromise(programme, []) is None
    both = compromise(programme, [0, 1])
    assert both is not None
    # (3 - x)^2 / 9 + (x - 1)^2 is least at x = 1.2.
    assert both[0] == pytest.approx(1.2, abs=1e-3)


def test_rows_to_spare_are_named_only_where_it_does_not_go_without() -> None:
    impossible = (Row((1.0,), low=3.0), Row((1.0,), high=2.0), Row((1.0,), high=1.0))
    programme = Programme((1.0,), (1.0,), impossible)
    assert contradiction(programme, spare=[2]) == (0, 1)
    assert contradiction(programme, spare=[1]) == (0, 2)


def test_a_wish_pulls() -> None:
    # (x - 1)^2 + 4 (x - 2)^2 is least at x = 9/5.
    assert solve(Programme((1.0,), (1.0,), (), (Wish((1.0,), 2.0, 4.0),))) == pytest.approx((1.8,), abs=1e-6)


def test_what_grows_without_end_is_refused() -> None:
    with pytest.raises(UnboundedError):
        solve(Programme((1.0,), (1.0,), (Row((1.0,), low=1.0),), most=(1.0,)))
    assert issubclass(UnboundedError, MealcalcError)


def test_nothing_is_written_to_the_terminal(capfd: pytest.CaptureFixture[str]) -> None:
    assert solve(Programme((1.0,), (1.0,), (Row((1.0,), high=0.5),))) == pytest.approx((0.5,))
    captured = capfd.readouterr()
    assert (captured.out, captured.err) == ("", "")
