"""Amounts of chosen lines for targets: how much of each goes into the batch, the containers being filled as usual.

Sought are the amounts that keep every limit and come nearest to what is written: the sum of the squares of the changes,
each as a share of what is written, is least. What a line brings is in proportion to its amount, so the programme is
linear in it; what comes out is calculated anew from the amounts found. Lines sold in packs change by whole packs.
"""

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.pipeline import calculate_all
from mealcalc.planning.aimed_portions import Share, shares_of
from mealcalc.planning.amount_groups import Group, amount_words, groups_of, kitchen_amounts, one_line_of
from mealcalc.planning.programme import Numbers, Programme, Row, Wish
from mealcalc.planning.scaled_lines import scaled_batch
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
from mealcalc.recipe.line_words import LineIndex
from mealcalc.records import BatchResult, Eater
from mealcalc.records.aimed import Aimed, AimedContainer, AimedLine, Binding, Limit
from mealcalc.records.targets import COST, MASS, Bound, Targets

PROBE = 0.1
"""Share by which a line is changed to see how the cooked mass follows."""

LEAST_FACTOR = 1e-4
"""Less of a line than this share is none."""

NEARBY = (0.0, 0.005, -0.005, 0.01, -0.01, 0.02, -0.02, 0.04, -0.04, 0.08, -0.08, 0.16, -0.16)
NEARBY_OF_MANY = (0.0, 0.01, -0.01, 0.04, -0.04)
"""Shares by which amounts may be off the exact ones when they are rounded to what a kitchen measures."""

MOST_ROUNDINGS = 5000
"""Ways to round that are tried; of more, each amount is rounded by itself."""


def aim_amounts(
    result: BatchResult,
    targets: Targets,
    database: FoodDatabase,
    decisions: Decisions | None = None,
    eaters: Sequence[Eater] = (),
    costs: Sequence[Decimal | None] | None = None,
    currency: str = "",
) -> Aimed:
    """Amounts of the lines that `targets.change` names which come nearest to the targets.

    Parameters
    ----------
    result : BatchResult
        The batch as written, calculated.
    targets : Targets
        What is wanted.
    database, decisions
        As for `pipeline.calculate`: the batch is calculated again with the amounts found.
    eaters, costs, currency
        As for `aim_portions`.

    Raises
    ------
    UsageError
        If nothing is wanted, or the words of a line mean none or several, or a line of unknown weight.
    """
    if not eaters and targets.of_eater:
        eaters = [Eater(name) for name in targets.of_eater]
    check_targets(targets, (eater.name for eater in eaters), priced=costs is not None)
    groups = groups_of(result, targets)
    shares = shares_of(eaters, result.batch.containers)
    whole = _Whole(result, groups, costs, _mass_slopes(result, groups, database, decisions, targets))
    model = _model(whole, groups, shares, targets, result)
    found = answer(model)
    factors = _rounded(model, groups, result, found)
    changed = scaled_batch(result, _by_place(groups, factors))
    (after,) = calculate_all([changed], database, decisions)
    scaled_costs = None if costs is None else _scaled_costs(costs, groups, factors)
    notes = _notes(result, groups, factors)
    return Aimed(
        title=result.batch.title,
        targets=targets,
        kept=found.kept,
        containers=tuple(_container(share, result, after, targets, costs, scaled_costs) for share in shares),
        result=replace(after, diagnostics=(*after.diagnostics, *notes)),
        lines=tuple(_lines(result, groups, factors)),
        binding=tuple(_binding(one, found, groups, result) for one in found.loosened),
        contradicting=found.contradicting,
        currency=currency,
        cost=None if scaled_costs is None else sum((c for c in scaled_costs if c is not None), Decimal(0)),
        diagnostics=tuple(notes),
    )


class _Whole:
    """What the whole batch holds, as a sum over the factors of the groups."""

    def __init__(
        self,
        result: BatchResult,
        groups: Sequence[Group],
        costs: Sequence[Decimal | None] | None,
        mass_slopes_g: Numbers,
    ) -> None:
        self._result, self._groups, self._costs, self._mass_slopes_g = result, groups, costs, mass_slopes_g
        self.mass_g = sum(part.cooked_mass_g for part in result.components)

    def quantity(self, key: str, share: float) -> Quantity:
        """A quantity of `share` of the batch, in the unit of each variable."""
        total, complete, slopes = self._parts(key)
        coefficients = tuple(share * slope * group.unit for slope, group in zip(slopes, self._groups, strict=True))
        return Quantity(coefficients, share * (total - sum(slopes)), complete)

    def _parts(self, key: str) -> tuple[float, bool, list[float]]:
        if key == MASS:
            known = all(part.cooked_mass_known for part in self._result.components)
            return self.mass_g, known, list(self._mass_slopes_g)
        if key == COST:
            costs = [0.0 if cost is None else float(cost) for cost in self._costs or ()]
            slopes = [sum(costs[k] for k in group.places) for group in self._groups]
            return sum(costs), None not in (self._costs or ()), slopes
        total = self._result.totals[key]
        lines = self._result.contributions
        slopes = [sum(lines[k].amounts.get(key) or 0.0 for k in group.places) for group in self._groups]
        return total.amount, total.complete, slopes


def _mass_slopes(
    result: BatchResult,
    groups: Sequence[Group],
    database: FoodDatabase,
    decisions: Decisions | None,
    targets: Targets,
) -> Numbers:
    """By how many g the cooked batch grows when a group is doubled, by calculating it a little larger."""
    keys = {t.key for own in (targets.every, *targets.of_eater.values()) for t in own} | {targets.most, targets.least}
    if MASS not in keys:
        return (0.0,) * len(groups)
    probes = [scaled_batch(result, dict.fromkeys(group.places, 1.0 + PROBE)) for group in groups]
    before_g = sum(part.cooked_mass_g for part in result.components)
    after_g = [sum(part.cooked_mass_g for part in one.components) for one in calculate_all(probes, database, decisions)]
    return tuple((mass_g - before_g) / PROBE for mass_g in after_g)


def _model(
    whole: _Whole, groups: Sequence[Group], shares: Sequence[Share], targets: Targets, result: BatchResult
) -> Model:
    """Variables: for each group its amount as a share of what is written, or its number of packs."""
    rows: list[Row] = []
    limits: list[Limit] = []
    steps: list[float] = []
    wishes: list[Wish] = []
    for share in shares:
        for target in targets.of(share.eater):
            quantity = whole.quantity(target.key, share.part)
            if target.bound is Bound.ABOUT:
                wishes.append(wish_of(quantity, target, share.containers))
                continue
            row, limit, step = limit_rows(quantity, target, share.eater)
            rows.append(row)
            limits.append(limit)
            steps.append(step)
    for a, b in _ratios(targets, groups, result):
        coefficients = [0.0] * len(groups)
        coefficients[a], coefficients[b] = groups[a].unit, -groups[b].unit
        rows.append(Row(tuple(coefficients), low=0.0, high=0.0))
        limits.append(Limit(f"the ratio of {groups[a].name} to {groups[b].name} stays as written"))
        steps.append(0.0)
    key = targets.most or targets.least
    most: Numbers = ()
    if key:
        sign = 1.0 if targets.most else -1.0
        most = tuple(sign * c for c in whole.quantity(key, 1.0).coefficients)
    return Model(
        Programme(
            reference=tuple(1.0 / group.unit for group in groups),
            weights=tuple(group.unit**2 for group in groups),
            rows=tuple(rows),
            wishes=tuple(wishes),
            most=most,
            whole=frozenset(k for k, group in enumerate(groups) if group.packs),
        ),
        tuple(limits),
        tuple(steps),
    )


def _ratios(targets: Targets, groups: Sequence[Group], result: BatchResult) -> list[tuple[int, int]]:
    """Pairs of numbers of groups whose ratio is kept."""
    lines = [c.line for c in result.contributions]
    by_name = {group.name.casefold(): number for number, group in enumerate(groups)}
    pairs = []
    for names in targets.keep_ratio:
        numbers = []
        for words in names:
            number = by_name.get(" ".join(words.split()).casefold())
            if number is None:
                place = lines.index(one_line_of(LineIndex(lines), words))
                number = next((k for k, group in enumerate(groups) if place in group.places), None)
            if number is None:
                raise UsageError(
                    f"the ratio of '{words[:60]}' is to stay, but its amount may not change", "name it with --change"
                )
            numbers.append(number)
        pairs += [(a, b) for a, b in itertools.pairwise(numbers) if a != b]
    return pairs


def _rounded(model: Model, groups: Sequence[Group], result: BatchResult, found: Answer) -> list[float]:
    """Factors of the groups, rounded to what a kitchen weighs by where the limits still hold."""
    exact = [v * group.unit for v, group in zip(found.variables, groups, strict=True)]
    exact = [factor if factor > LEAST_FACTOR else 0.0 for factor in exact]
    options = [_options(factor, group, result, len(groups)) for factor, group in zip(exact, groups, strict=True)]
    if math.prod(map(len, options)) > MOST_ROUNDINGS:
        options = [[min(some, key=_distance_from(f))] for some, f in zip(options, exact, strict=True)]
    kept = [row for row, limit in zip(model.programme.rows, model.limits, strict=True) if limit.target is not None]
    best: tuple[float, list[float]] | None = None
    for factors in itertools.product(*options):
        away = sum((a - b) ** 2 for a, b in zip(factors, exact, strict=True))
        if best is not None and away >= best[0]:
            continue
        variables = [f / group.unit for f, group in zip(factors, groups, strict=True)]
        if not found.kept or all(row.holds(variables, 1e-5) for row in kept):
            best = (away, list(factors))
    return exact if best is None else best[1]


def _options(exact: float, group: Group, result: BatchResult, groups: int) -> list[float]:
    """Rounded factors around an exact one: of a line by the steps of its unit, of a component by hundredths."""
    amount = result.contributions[group.places[0]].line.amount
    if group.packs or amount is None or amount.middle <= 0.0:
        return [exact]
    if exact == 0.0:
        return [0.0]
    nearby = NEARBY if groups <= 2 else NEARBY_OF_MANY
    if len(group.places) == 1:
        return kitchen_amounts(amount, result.contributions[group.places[0]].line.name, exact, nearby)
    return sorted({round(exact * (1.0 + share), 2) for share in nearby})


def _distance_from(wanted: float) -> Callable[[float], float]:
    return lambda option: abs(option - wanted)


def _scaled_costs(
    costs: Sequence[Decimal | None], groups: Sequence[Group], factors: Sequence[float]
) -> list[Decimal | None]:
    factor_of = _by_place(groups, factors)
    return [
        None if cost is None else cost * Decimal(str(factor_of.get(place, 1.0))) for place, cost in enumerate(costs)
    ]


def _by_place(groups: Sequence[Group], factors: Sequence[float]) -> dict[int, float]:
    return {place: factor for group, factor in zip(groups, factors, strict=True) for place in group.places}


def _container(
    share: Share,
    before: BatchResult,
    after: BatchResult,
    targets: Targets,
    costs: Sequence[Decimal | None] | None,
    scaled_costs: Sequence[Decimal | None] | None,
) -> AimedContainer:
    figures = _figures(after, share.part, scaled_costs)

    def complete(key: str) -> bool:
        if key == MASS:
            return all(part.cooked_mass_known for part in after.components)
        return None not in (costs or ()) if key == COST else after.totals[key].complete

    return AimedContainer(
        eater=share.eater,
        containers=share.containers,
        grams={part.component.name: part.cooked_mass_g * share.part for part in after.components},
        even_g={part.component.name: part.cooked_mass_g * share.part for part in before.components},
        figures=figures,
        even_figures=_figures(before, share.part, costs),
        judged=tuple(judged(t, figures[t.key], complete(t.key)) for t in targets.of(share.eater)),
    )


def _figures(result: BatchResult, part: float, costs: Sequence[Decimal | None] | None) -> dict[str, float]:
    """Figures of `part` of a batch."""
    figures = {key: total.amount * part for key, total in result.totals.items()}
    figures[MASS] = part * sum(component.cooked_mass_g for component in result.components)
    if costs is not None:
        figures[COST] = part * float(sum((cost for cost in costs if cost is not None), Decimal(0)))
    return figures


def _lines(result: BatchResult, groups: Sequence[Group], factors: Sequence[float]) -> list[AimedLine]:
    found = []
    for group, factor in zip(groups, factors, strict=True):
        for place in group.places:
            c = result.contributions[place]
            mass_g = c.ingredient.mass_g or 0.0
            amount = c.line.amount
            assert amount is not None
            found.append(
                AimedLine(
                    line=c.line.span.line,
                    name=c.line.name,
                    component=c.line.component,
                    written=amount_words(amount, c.line.name, 1.0),
                    found=amount_words(amount, c.line.name, factor),
                    written_g=mass_g,
                    found_g=mass_g * factor,
                    factor=factor,
                    packs=round(factor / group.unit) if group.packs else None,
                )
            )
    return found


def _binding(one: Loosened, found: Answer, groups: Sequence[Group], result: BatchResult) -> Binding:
    change: Mapping[str, float] = {
        group.name: moved_g
        for number, group in enumerate(groups)
        for moved_g in [
            (one.variables[number] - found.variables[number])
            * group.unit
            * sum(result.contributions[place].ingredient.mass_g or 0.0 for place in group.places)
        ]
        if abs(moved_g) >= 0.05
    }
    return Binding(one.limit, one.step, change, one.gained, one.nearer)


def _notes(result: BatchResult, groups: Sequence[Group], factors: Sequence[float]) -> list[Diagnostic]:
    """What is to be said of a batch whose amounts change: pots that were weighed, water that was measured."""
    changed = {
        result.contributions[place].line.component
        for group, factor in zip(groups, factors, strict=True)
        if abs(factor - 1.0) > 1e-9
        for place in group.places
    }
    return [
        Diagnostic(
            "weight-in-proportion",
            Severity.NOTE,
            f"'{part.name}' was weighed as written: its cooked weight is taken to change in proportion",
            part.span,
            "weigh the pot again",
        )
        for part in result.batch.components
        if part.name in changed and part.cooked_mass_g is not None
    ]
