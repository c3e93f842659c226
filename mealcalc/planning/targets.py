"""Targets as a programme: what keeps every limit, which limits bind and what loosening one buys, which contradict each
other and the nearest compromise.

A model is a programme (`planning/programme.py`) whose rows are limits in words. What it is about - portions or amounts
of lines - is decided by who builds it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from mealcalc.errors import UsageError
from mealcalc.planning.programme import (
    Numbers,
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
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.records.aimed import Contradicting, Judged, Limit
from mealcalc.records.targets import COST, MASS, Bound, Target, Targets

WISH_WEIGHT = 100.0
"""A wish that is missed by a hundredth weighs as much as a portion that is off by a tenth (our judgement)."""

STEPS = {"ENERC_KCAL": 1.0, MASS: 1.0, COST: 0.1}
"""By how much a limit is loosened to see what that would buy, in its unit; 1 for what is not named."""

SHOWN_SLACK = 5e-4
"""A limit counts as kept when it is missed by less than this share: less than the digits that are shown tell."""

LEAST_GAIN = 1e-7
"""A limit binds when loosening it gains more than this, as a share."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity of one container as a sum over the variables: start + coefficients x variables.

    complete: whether the figure is known of every line that it comes from.
    """

    coefficients: Numbers
    start: float = 0.0
    complete: bool = True

    def of(self, variables: Sequence[float]) -> float:
        """Its amount."""
        return self.start + Row(self.coefficients).value(variables)


@dataclass(frozen=True, slots=True)
class Model:
    """A programme with its rows in words: one limit and one step of loosening for each row."""

    programme: Programme
    limits: tuple[Limit, ...]
    steps: tuple[float, ...]

    @property
    def soft(self) -> list[int]:
        """Numbers of the rows that targets set; the others are what there is."""
        return [number for number, limit in enumerate(self.limits) if limit.target is not None]


@dataclass(frozen=True, slots=True)
class Loosened:
    """A limit that binds, loosened by `step`: the variables that would then be sought."""

    limit: Limit
    step: float
    variables: Numbers
    gained: float | None
    nearer: float


@dataclass(frozen=True, slots=True)
class Answer:
    """What a model comes to; `kept` is False where it is a compromise."""

    variables: Numbers
    kept: bool
    loosened: tuple[Loosened, ...] = ()
    contradicting: tuple[Contradicting, ...] = ()


def answer(model: Model) -> Answer:
    """The variables that keep every limit, or else the nearest compromise.

    Raises
    ------
    UsageError
        If what is to be most could grow without end.
    """
    programme = model.programme
    try:
        found = solve(programme)
    except UnboundedError as error:
        raise UsageError(
            "nothing limits what is to be most or least", "add a target such as 'energy at most 600 kcal'"
        ) from error
    if found is not None:
        return Answer(found, True, tuple(_loosened(model, found)))
    between = compromise(programme, model.soft)
    if between is None:
        raise UsageError("what is to stay as it is cannot be kept together", "leave out a ratio or a pack")
    return Answer(between, False, (), _contradicting(model))


def limit_rows(quantity: Quantity, target: Target, eater: str) -> tuple[Row, Limit, float]:
    """The row, the limit in words and the step of loosening of a target that is a limit."""
    bound = target.amount - quantity.start
    if target.bound is Bound.AT_LEAST:
        row = Row(quantity.coefficients, low=bound, whole=target.amount)
    else:
        row = Row(quantity.coefficients, high=bound, whole=target.amount)
    return row, Limit(str(target), eater, target), STEPS.get(target.key, 1.0)


def wish_of(quantity: Quantity, target: Target, weight: float = 1.0) -> Wish:
    """The wish of a target that is none: missed by a share of itself, or by units where it is about nothing."""
    size = target.amount or 1.0
    coefficients = tuple(c / size for c in quantity.coefficients)
    return Wish(coefficients, (target.amount - quantity.start) / size, WISH_WEIGHT * weight)


def judged(target: Target, amount: float, complete: bool, rounding: float = 0.0) -> Judged:
    """A target beside what comes out; `rounding` is what rounding alone may have changed."""
    room = SHOWN_SLACK * max(abs(target.amount), 1e-9) + rounding
    met = {
        Bound.AT_LEAST: amount >= target.amount - room,
        Bound.AT_MOST: amount <= target.amount + room and complete,
        Bound.ABOUT: abs(amount - target.amount) <= 0.05 * max(abs(target.amount), 1e-9) and complete,
    }[target.bound]
    return Judged(target, amount, complete, met)


def check_targets(targets: Targets, eaters: Iterable[str], *, priced: bool) -> None:
    """Raise `UsageError` where targets speak of eaters or prices that there are not, or want nothing at all."""
    if targets.empty:
        raise UsageError(
            "no target is set",
            "give one, such as --target 'protein at least 40 g', or write 'targets:' into the batch file",
        )
    if targets.most and targets.least:
        raise UsageError("only one quantity can come first", "leave out --most or --least")
    known = list(eaters)
    for eater in targets.of_eater:
        if eater not in known:
            raise UsageError(f"the batch has no eater '{eater[:60]}'", did_you_mean(eater, known))
    keys = {t.key for own in (targets.every, *targets.of_eater.values()) for t in own} | {targets.most, targets.least}
    if COST in keys and not priced:
        raise UsageError("the cost of a container needs a price list", "give one with --prices")


def _loosened(model: Model, found: Numbers) -> Iterable[Loosened]:
    """Every limit that binds, in order, with what loosening it would change."""
    programme = model.programme
    distance = programme.distance(found)
    for number, (row, limit, step) in enumerate(zip(programme.rows, model.limits, model.steps, strict=True)):
        value, room = row.value(found), 1e-5 * row.size
        if row.low == row.high or not (value <= row.low + room or value >= row.high - room):
            continue
        loose = replace(row, low=row.low - step, high=row.high + step)
        rows = (*programme.rows[:number], loose, *programme.rows[number + 1 :])
        after = solve(replace(programme, rows=rows))
        if after is None:
            continue
        gained = programme.gain(after) - programme.gain(found) if programme.most else None
        nearer = 1.0 - (programme.distance(after) / distance) ** 0.5 if distance > 0.0 else 0.0
        if gained is not None:
            binds = gained > LEAST_GAIN * max(1.0, abs(programme.gain(found)))
        else:
            binds = nearer > LEAST_GAIN
        if binds:
            yield Loosened(limit, step, after, gained, nearer)


def _contradicting(model: Model) -> tuple[Contradicting, ...]:
    """The limits that cannot be kept together, each with how far its quantity gets under the others."""
    soft = set(model.soft)
    numbers = contradiction(model.programme, [k for k in range(len(model.limits)) if k not in soft])
    found = []
    for number in numbers:
        row, limit = model.programme.rows[number], model.limits[number]
        reach = None
        if limit.target is not None:
            others = tuple(model.programme.rows[k] for k in numbers if k != number)
            least = limit.target.bound is Bound.AT_MOST
            try:
                value = extreme(replace(model.programme, rows=others), row.coefficients, least=least)
            except UnboundedError:
                value = None
            # The bound of the row is the target less what does not change: the same is added to what is reached.
            bound = row.high if least else row.low
            reach = None if value is None else value + limit.target.amount - bound
        rest = [other for k, other in enumerate(model.programme.rows) if k != number]
        found.append(Contradicting(limit, reach, keeps_every_row(model.programme, rest)))
    return tuple(found)
