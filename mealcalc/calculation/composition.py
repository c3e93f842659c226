"""Raw composition: what each line contributes, and sums that say which part of them is unknown.

N_ij = m_i c_ij used_i / 100 (Greenfield & Southgate, Food composition data, FAO 2003). Missing is missing, not zero.
"""

from collections.abc import Iterable, Mapping, Sequence

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.records import (
    Contribution,
    Food,
    LineStatus,
    Total,
    WeighedIngredient,
)
from mealcalc.values import amount_of

SEASONING_GROUPS = ("0200",)
NOMINAL_SEASONING_G = 1.0
NOMINAL_OTHER_G = 5.0
"""What a food 'to taste' or 'for frying' may amount to per container, in g: our own judgement, used only to decide
whether leaving it out makes a total incomplete."""

NOTICEABLE_SHARE = 0.02
"""A food without amount makes a total incomplete when its nominal amount would change it by more than this; where
its value is unknown, when its nominal amount exceeds this share of the counted mass."""


def contribution(ingredient: WeighedIngredient) -> Contribution:
    """What one weighed line brings to the batch.

    Parameters
    ----------
    ingredient : WeighedIngredient
        A line with its food and edible mass.

    Returns
    -------
    Contribution
        For each food component the amount in the component's unit; None where mass or value is unknown. Of 0 g nothing
        is unknown: it brings 0.
    """
    mass_g = ingredient.eaten_mass_g
    food = ingredient.matched.food
    if mass_g is None or food is None:
        return Contribution(ingredient, dict.fromkeys(FOOD_COMPONENTS))
    amounts: dict[str, float | None] = {}
    for key in FOOD_COMPONENTS:
        per_100g = amount_of(food.composition, key) if mass_g else 0.0
        amounts[key] = None if per_100g is None else mass_g * per_100g / 100.0
    return Contribution(ingredient, amounts)


def counts(ingredient: WeighedIngredient) -> bool:
    """Whether a line takes part in the totals: it is a food, and the cook gave it an amount to count."""
    return ingredient.matched.status not in (LineStatus.NOT_FOOD, LineStatus.NOT_COUNTED)


def total(contributions: Iterable[Contribution], containers: int) -> dict[str, Total]:
    """Sum contributions over lines, for every food component.

    Parameters
    ----------
    contributions : iterable of Contribution
        All lines of a component or batch, those without amount included.
    containers : int
        Number of containers, to judge whether a food without amount matters.

    Returns
    -------
    dict
        Food component key -> total in the component's unit. `unknown_lines` names the lines whose value is unknown and
        the lines without amount that would matter; `known_share` is of the counted mass, a line of unknown mass being
        taken as a mean one.
    """
    lines = list(contributions)
    counted = [c for c in lines if counts(c.ingredient)]
    weights = [c.ingredient.eaten_mass_g for c in counted]
    # A line of unknown mass has no weight to add, yet something of it is unknown: it counts as a mean line.
    known_weights = [w for w in weights if w is not None]
    mean_g = sum(known_weights) / len(known_weights) if known_weights else 1.0
    masses_g = [mean_g if w is None else w for w in weights]
    mass_of_all_g = sum(masses_g)
    totals: dict[str, Total] = {}
    for key in FOOD_COMPONENTS:
        amount = 0.0
        unknown: list[int] = []
        known_mass_g = 0.0
        for c, mass_g in zip(counted, masses_g, strict=True):
            value = c.amounts[key]
            if value is None:
                unknown.append(c.line.span.line)
            else:
                amount += value
                known_mass_g += mass_g
        totals[key] = Total(amount, tuple(unknown), known_mass_g / mass_of_all_g if mass_of_all_g > 0 else 1.0)
    without_amount = [c.ingredient for c in lines if not counts(c.ingredient)]
    return _with_uncounted(totals, without_amount, sum(known_weights), containers)


def _with_uncounted(
    totals: Mapping[str, Total], without_amount: Sequence[WeighedIngredient], counted_g: float, containers: int
) -> dict[str, Total]:
    """Name the foods without amount where they matter: salt to taste leaves sodium unknown, not protein."""
    result = dict(totals)
    for ingredient in without_amount:
        matched = ingredient.matched
        if matched.status is LineStatus.NOT_FOOD or not matched.line.settings.counted:
            continue
        for key, so_far in result.items():
            if _matters(matched.food, key, so_far.amount, counted_g, containers):
                lines = tuple(sorted({*so_far.unknown_lines, matched.line.span.line}))
                result[key] = Total(so_far.amount, lines, so_far.known_share)
    return result


def _matters(food: Food | None, key: str, amount: float, counted_g: float, containers: int) -> bool:
    if food is None:
        return True
    nominal_g = (NOMINAL_SEASONING_G if food.group[:4] in SEASONING_GROUPS else NOMINAL_OTHER_G) * containers
    per_100g = amount_of(food.composition, key)
    if per_100g is None:
        return nominal_g > NOTICEABLE_SHARE * counted_g
    return nominal_g * per_100g / 100.0 > NOTICEABLE_SHARE * amount
