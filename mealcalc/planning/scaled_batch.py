"""A scaled batch with what is to be said beside it: what must not be scaled blindly, and what rounding changes."""

from collections.abc import Sequence
from fractions import Fraction

from mealcalc import pipeline
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.planning.scaling import Scaling, with_lines, written_for_the_kitchen
from mealcalc.records import Batch, BatchResult, Contribution
from mealcalc.records.scaling import Caution, RoundingEffect, ScaledBatch
from mealcalc.reference.portion_tables import ScalingCaution, scaling_cautions
from mealcalc.units import METRIC

WORTH_A_WORD = Fraction(5, 4)
"""Factor from which, and below whose inverse, cautions are given (our judgement)."""

EFFECT_KEYS = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G")

_OWN = "our judgement"


def scale(
    scaling: Scaling, result: BatchResult, database: FoodDatabase, decisions: Decisions | None = None
) -> ScaledBatch:
    """Scale a batch, write its lines for the kitchen, and calculate what rounding changes.

    Parameters
    ----------
    scaling : Scaling
        Which batch, by which factor.
    result : BatchResult
        The batch as read, calculated: its foods say what must not be scaled blindly.
    database, decisions
        As for `pipeline.calculate`.
    """
    batch, exact = result.batch, Scaling(result.batch, scaling.factor, scaling.containers).scaled
    region = batch.region or METRIC
    lines = tuple(written_for_the_kitchen(line, region, scaling.factor) for line in batch.lines)
    new_lines = {scaled.exact: scaled.shown for scaled in lines if scaled.written}
    shown = with_lines(exact, new_lines)
    return ScaledBatch(
        batch=batch,
        factor=scaling.factor,
        containers=exact.containers,
        exact=exact,
        shown=shown,
        lines=lines,
        cautions=tuple(_cautions(scaling.factor, result)),
        effects=_effects(exact, shown, database, decisions),
        reason=scaling.reason,
    )


def _effects(
    exact: Batch, shown: Batch, database: FoodDatabase, decisions: Decisions | None
) -> tuple[RoundingEffect, ...]:
    figures = [pipeline.calculate(batch, database, decisions).per_container for batch in (exact, shown)]
    return tuple(RoundingEffect(key, figures[0][key].amount, figures[1][key].amount) for key in EFFECT_KEYS)


def _cautions(factor: Fraction, result: BatchResult) -> list[Caution]:
    if 1 / WORTH_A_WORD < factor < WORTH_A_WORD:
        return _sub_batches(factor, result)
    return [*_foods(result.contributions), *_cooking(factor, result), *_sub_batches(factor, result)]


def _foods(contributions: Sequence[Contribution]) -> list[Caution]:
    names: dict[ScalingCaution, list[str]] = {row: [] for row in scaling_cautions()}
    for c in contributions:
        row = next((row for row in scaling_cautions() if _concerns(row, c)), None)
        if row is not None and c.line.amount is not None:
            names[row].append(c.line.name)
    return [
        Caution(row.kind, row.what, tuple(dict.fromkeys(foods)), row.advice, row.source)
        for row, foods in names.items()
        if foods
    ]


def _concerns(row: ScalingCaution, c: Contribution) -> bool:
    matched = c.ingredient.matched
    named = matched.default_food
    if named and any(named == food or named.endswith(f" {food}") for food in row.default_foods):
        return True
    if matched.food is not None and matched.food.group[:4] in row.food_groups:
        return True
    words = f" {c.line.name.casefold()} "
    return not named and any(f" {word} " in words for word in row.words)


def _cooking(factor: Fraction, result: BatchResult) -> list[Caution]:
    found = []
    times = tuple(part.component.cooking for part in result.components if part.method)
    if times:
        advice = (
            "not scaled: a larger pot takes longer to boil and to cool, and gives off a smaller part of its water; "
            "brown in several rounds, go by the thermometer and the look of it, and weigh the pot"
            if factor > 1
            else "not scaled: a smaller pot boils sooner and dries out sooner; look earlier, and weigh the pot"
        )
        found.append(Caution("cooking", "cooking times", tuple(dict.fromkeys(times)), advice, _OWN))
    weighed = tuple(part.component.name for part in result.components if part.component.cooked_mass_g is not None)
    if weighed:
        advice = "multiplied with the rest, so it is an estimate now: weigh the new pot"
        found.append(Caution("weight", "cooked weight from the scale", weighed, advice, _OWN))
    return found


def _sub_batches(factor: Fraction, result: BatchResult) -> list[Caution]:
    """Batches of their own of which more is used than they make."""
    found = []
    for sub in result.batch.sub_batches:
        if sub.result is None:
            continue
        makes_g = sum(component.cooked_mass_g for component in sub.result.components)
        used_g = sum(
            c.ingredient.mass_g or 0.0
            for c in result.contributions
            if sub.food is not None and c.ingredient.matched.food == sub.food
        )
        if used_g * float(factor) > makes_g > 0:
            advice = f"{used_g * float(factor):.0f} g are needed, and {sub.path} makes {makes_g:.0f} g: scale that, too"
            found.append(Caution("sub-batch", "a batch of its own", (sub.name,), advice, "calculated"))
    return found
