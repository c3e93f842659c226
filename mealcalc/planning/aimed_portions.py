"""Portions for targets: grams of each component in the containers of each eater, out of the pots that were cooked.

Sought are the portions that keep every limit and come nearest to what each container would hold without targets: the
sum of the squares of the changes, each as a share of that, is least, and every container counts alike. What is not
wanted is left over; the pots hold no more than was cooked.
"""

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from mealcalc.errors import UsageError
from mealcalc.planning.portioning import component_named, containers_by_eater
from mealcalc.planning.programme import Numbers, Programme, Row, Wish
from mealcalc.planning.targets import (
    Answer,
    Loosened,
    Model,
    Quantity,
    answer,
    check_targets,
    judged,
    limit_rows,
    wish_of,
)
from mealcalc.records import BatchResult, ComponentResult, Eater
from mealcalc.records.aimed import Aimed, AimedContainer, Binding, Limit
from mealcalc.records.targets import COST, MASS, Bound, Targets

POT_STEP_G = 10.0
"""By how much more a pot is taken to hold, to see what that would buy."""

TENTH_ROOM_G = 0.11
"""What rounding to tenths of a gram may take from or add to each portion: no limit is called missed for that."""

MOST_ROUNDED = 8
"""Components of which every way to round to whole grams is tried; of more, each is rounded by itself."""

ROUNDING_REACH = {1: 3, 2: 3, 3: 2, 4: 1}
"""Components -> grams beyond the nearest whole ones that are tried: near a corner of the limits those may not do."""


@dataclass(frozen=True, slots=True)
class Pot:
    """A cooked component: what of it can be filled, and its content by gram for food components, mass and cost."""

    result: ComponentResult
    mass_g: float
    per_g: Mapping[str, float]
    incomplete: frozenset[str]

    @property
    def name(self) -> str:
        """Name of the component."""
        return self.result.component.name


@dataclass(frozen=True, slots=True)
class Share:
    """One eater's containers: how many, and what part of the whole each would hold without targets."""

    eater: str
    containers: int
    part: float


def aim_portions(
    result: BatchResult,
    targets: Targets,
    eaters: Sequence[Eater] = (),
    costs: Sequence[Decimal | None] | None = None,
    currency: str = "",
) -> Aimed:
    """Portions that come nearest to the targets.

    Parameters
    ----------
    result : BatchResult
        The batch, calculated with the cooked weights that count.
    targets : Targets
        What is wanted.
    eaters : sequence of Eater
        Whose containers they are; nobody's in particular where there are none.
    costs : sequence, optional
        Cost of each line of the batch in order, None where unknown; needed where cost is limited.
    currency : str
        Of the costs.

    Raises
    ------
    UsageError
        If nothing is wanted, the cooked weight of a component is not known, or targets speak of eaters, components or
        prices that there are not.
    """
    if not eaters and targets.of_eater:
        eaters = [Eater(name) for name in targets.of_eater]
    check_targets(targets, (eater.name for eater in eaters), priced=costs is not None)
    pots = _pots(result, costs)
    shares = shares_of(eaters, result.batch.containers)
    model = _model(pots, shares, targets, result)
    found = answer(model)
    grams = _rounded(model, pots, shares, found)
    filled = [sum(s.containers * row[q] for s, row in zip(shares, grams, strict=True)) for q in range(len(pots))]
    used = [pot.per_g.get(COST, 0.0) * mass for pot, mass in zip(pots, filled, strict=True)]
    return Aimed(
        title=result.batch.title,
        targets=targets,
        kept=found.kept,
        containers=tuple(
            _container(share, row, pots, targets, with_cost=costs is not None)
            for share, row in zip(shares, grams, strict=True)
        ),
        result=result,
        leftover_g={pot.name: max(0.0, pot.mass_g - mass) for pot, mass in zip(pots, filled, strict=True)},
        binding=tuple(_binding(one, found, pots, shares) for one in found.loosened),
        contradicting=found.contradicting,
        currency=currency,
        cost=None if costs is None else Decimal(str(round(sum(used), 6))),
    )


def _pots(result: BatchResult, costs: Sequence[Decimal | None] | None) -> list[Pot]:
    pots = []
    position = 0
    for component in result.components:
        own = None if costs is None else costs[position : position + len(component.contributions)]
        position += len(component.contributions)
        if not any(total.amount or total.unknown_lines for total in component.totals.values()):
            continue  # nothing in it counts
        if not component.cooked_mass_known:
            raise UsageError(
                f"the cooked weight of '{component.component.name}' is not known, so it cannot be portioned",
                "weigh the pot and write cooked_weight, or settle the lines that have no weight",
            )
        mass_g = component.cooked_mass_g
        per_g = {key: total.amount / mass_g for key, total in component.totals.items()} | {MASS: 1.0}
        incomplete = {key for key, total in component.totals.items() if not total.complete}
        if own is not None:
            per_g[COST] = float(sum((cost for cost in own if cost is not None), Decimal(0))) / mass_g
            incomplete |= {COST} if None in own else set()
        pots.append(Pot(component, mass_g * component.component.filled_share, per_g, frozenset(incomplete)))
    return pots


def shares_of(eaters: Sequence[Eater], containers: int) -> list[Share]:
    if not eaters:
        return [Share("", containers, 1.0 / containers)]
    each = containers_by_eater(eaters, containers)
    whole = sum(eater.share for eater in each)
    counts = {eater.name: sum(1 for other in each if other.name == eater.name) for eater in eaters}
    return [Share(e.name, counts[e.name], e.share / whole) for e in eaters if counts[e.name]]


def _model(pots: Sequence[Pot], shares: Sequence[Share], targets: Targets, result: BatchResult) -> Model:
    """Variables: for each eater and component the grams in a container, as a share of those without targets."""
    count = len(pots) * len(shares)
    rows: list[Row] = []
    limits: list[Limit] = []
    steps: list[float] = []
    wishes: list[Wish] = []
    for number, share in enumerate(shares):
        for target in targets.of(share.eater):
            quantity = _quantity(target.key, number, pots, shares)
            if target.bound is Bound.ABOUT:
                wishes.append(wish_of(quantity, target, share.containers))
                continue
            row, limit, step = limit_rows(quantity, target, share.eater)
            rows.append(row)
            limits.append(limit)
            steps.append(step)
    for q, pot in enumerate(pots):
        coefficients = [0.0] * count
        for number, share in enumerate(shares):
            coefficients[number * len(pots) + q] = share.containers * share.part * pot.mass_g
        rows.append(Row(tuple(coefficients), high=pot.mass_g))
        limits.append(Limit(f"the pot holds {pot.mass_g:.0f} g of {pot.name}"))
        steps.append(POT_STEP_G)
    for a, b in _ratios(targets, pots, result):
        for number in range(len(shares)):
            coefficients = [0.0] * count
            coefficients[number * len(pots) + a], coefficients[number * len(pots) + b] = 1.0, -1.0
            rows.append(Row(tuple(coefficients), low=0.0, high=0.0))
            limits.append(Limit(f"the ratio of {pots[a].name} to {pots[b].name} stays as cooked", shares[number].eater))
            steps.append(0.0)
    return Model(
        Programme(
            reference=(1.0,) * count,
            weights=tuple(float(share.containers) for share in shares for _ in pots),
            rows=tuple(rows),
            wishes=tuple(wishes),
            most=_most(targets, pots, shares),
        ),
        tuple(limits),
        tuple(steps),
    )


def _quantity(key: str, number: int, pots: Sequence[Pot], shares: Sequence[Share]) -> Quantity:
    """What a container of eater `number` holds of a quantity, as a sum over the variables."""
    coefficients = [0.0] * (len(pots) * len(shares))
    for q, pot in enumerate(pots):
        coefficients[number * len(pots) + q] = pot.per_g.get(key, 0.0) * shares[number].part * pot.mass_g
    return Quantity(tuple(coefficients), complete=all(key not in pot.incomplete for pot in pots))


def _most(targets: Targets, pots: Sequence[Pot], shares: Sequence[Share]) -> Numbers:
    """Coefficients of what is to be most in all containers together; negative where it is to be least."""
    key = targets.most or targets.least
    if not key:
        return ()
    sign = 1.0 if targets.most else -1.0
    return tuple(
        sign * share.containers * pot.per_g.get(key, 0.0) * share.part * pot.mass_g for share in shares for pot in pots
    )


def _ratios(targets: Targets, pots: Sequence[Pot], result: BatchResult) -> list[tuple[int, int]]:
    """Pairs of numbers of pots whose ratio is kept."""
    places = {pot.name: number for number, pot in enumerate(pots)}
    pairs = []
    for group in targets.keep_ratio:
        names = [component_named(result.batch, words) for words in group]
        for name in names:
            if name not in places:
                raise UsageError(f"nothing in '{name}' counts, so it has no ratio", "leave it out of keep_ratio")
        pairs += [(places[a], places[b]) for a, b in itertools.pairwise(names) if a != b]
    return pairs


def _rounded(model: Model, pots: Sequence[Pot], shares: Sequence[Share], found: Answer) -> list[list[float]]:
    """Grams of each component in a container of each eater: whole ones near the exact portions.

    Of the whole grams around the exact portions those are taken that keep the limits and are nearest, eater by eater;
    where a pot is emptied, it is tried how much of it must stay for those who come later. Where no whole grams do,
    tenths of a gram are tried, and at last each portion goes to the nearest tenth that the pot holds.
    """
    exact = [
        [found.variables[n * len(pots) + q] * share.part * pot.mass_g for q, pot in enumerate(pots)]
        for n, share in enumerate(shares)
    ]
    # The limits of one eater do not change with the portions of the others.
    rows_of = [
        [
            replace(row, coefficients=own)
            for row, limit in zip(model.programme.rows, model.limits, strict=True)
            for own in [row.coefficients[n * len(pots) : (n + 1) * len(pots)]]
            if limit.target is not None and found.kept and any(own)
        ]
        for n in range(len(shares))
    ]
    for step in (1.0, 0.1):
        for reserved in (math.ceil, lambda tenths: tenths, math.floor):
            grams = _round_in_turn(exact, pots, shares, rows_of, step, reserved)
            if grams is not None:
                return grams
    return [[max(0.0, math.floor(10.0 * mass_g + 1e-6) / 10.0) for mass_g in row] for row in exact]


def _round_in_turn(
    exact: Sequence[Sequence[float]],
    pots: Sequence[Pot],
    shares: Sequence[Share],
    rows_of: Sequence[Sequence[Row]],
    step: float,
    reserved: Callable[[float], float],
) -> list[list[float]] | None:
    """Portions rounded eater by eater; None where the limits of one do not hold.

    reserved: what is left in the pots for an eater to come, in steps, from the exact number of them.
    """
    grams: list[list[float]] = []
    for number, share in enumerate(shares):
        most = []
        for q, pot in enumerate(pots):
            given_g = sum(s.containers * row[q] for s, row in zip(shares, grams, strict=False))
            to_come = zip(shares[number + 1 :], exact[number + 1 :], strict=True)
            kept_g = sum(s.containers * step * reserved(row[q] / step - 1e-6) for s, row in to_come)
            most.append((pot.mass_g - given_g - kept_g) / share.containers)
        scale = [share.part * pot.mass_g for pot in pots]
        choice = _nearest_kept(exact[number], most, scale, rows_of[number], step)
        if choice is None:
            return None
        grams.append(choice)
    return grams


def _nearest_kept(
    exact: Sequence[float], most: Sequence[float], scale: Sequence[float], rows: Sequence[Row], step: float
) -> list[float] | None:
    """Portions rounded to `step` g, none above `most`, the nearest that keep the rows; None where none do."""
    around = ROUNDING_REACH.get(len(exact), 0)
    ways = []
    for mass_g, most_g in zip(exact, most, strict=True):
        below = math.floor(mass_g / step + 1e-6)
        above = math.ceil(mass_g / step - 1e-6)
        options = [round(k * step, 6) for k in range(max(0, below - around), above + around + 1)]
        ways.append([option for option in options if option <= most_g + 1e-6])
    if len(exact) > MOST_ROUNDED:
        ways = [[min(options, key=_distance_from(mass_g))] for options, mass_g in zip(ways, exact, strict=True)]
    best: tuple[float, list[float]] | None = None
    for grams in itertools.product(*ways):
        away = sum((mass - wanted) ** 2 for mass, wanted in zip(grams, exact, strict=True))
        if best is not None and away >= best[0]:
            continue
        variables = [mass / unit for mass, unit in zip(grams, scale, strict=True)]
        if all(row.holds(variables, 1e-6) for row in rows):
            best = (away, list(grams))
    return None if best is None else best[1]


def _distance_from(wanted: float) -> Callable[[float], float]:
    return lambda option: abs(option - wanted)


def _container(
    share: Share, grams: Sequence[float], pots: Sequence[Pot], targets: Targets, *, with_cost: bool
) -> AimedContainer:
    keys = [*pots[0].result.totals, MASS, *([COST] if with_cost else [])] if pots else []
    even_g = [share.part * pot.mass_g for pot in pots]

    def figures_of(masses_g: Sequence[float]) -> dict[str, float]:
        return {key: sum(pot.per_g.get(key, 0.0) * g for pot, g in zip(pots, masses_g, strict=True)) for key in keys}

    def complete(key: str) -> bool:
        return all(key not in pot.incomplete or not mass for pot, mass in zip(pots, grams, strict=True))

    def sum_per_g(key: str) -> float:
        return sum(pot.per_g.get(key, 0.0) for pot in pots)

    figures = figures_of(grams)
    return AimedContainer(
        eater=share.eater,
        containers=share.containers,
        grams={pot.name: mass for pot, mass in zip(pots, grams, strict=True)},
        even_g={pot.name: mass for pot, mass in zip(pots, even_g, strict=True)},
        figures=figures,
        even_figures=figures_of(even_g),
        judged=tuple(
            judged(target, figures[target.key], complete(target.key), TENTH_ROOM_G * sum_per_g(target.key))
            for target in targets.of(share.eater)
        ),
    )


def _binding(one: Loosened, found: Answer, pots: Sequence[Pot], shares: Sequence[Share]) -> Binding:
    """A limit that binds, with the grams that would change in a container of whom it concerns most."""
    change: dict[str, float] = {}
    for n, share in enumerate(shares):
        for q, pot in enumerate(pots):
            at = n * len(pots) + q
            moved_g = (one.variables[at] - found.variables[at]) * share.part * pot.mass_g
            if abs(moved_g) >= 0.005:
                name = pot.name if not share.eater else f"{pot.name} ({share.eater})"
                change[name] = moved_g
    return Binding(one.limit, one.step, change, one.gained, one.nearer)
