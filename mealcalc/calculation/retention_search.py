"""Picks the row of nutrient retention for a food, a method and a state, and says how far it had to fall back.

Only rows of the food's own group or a broader one serve: what dissolves or is destroyed depends on the food. Where the
table says nothing, nothing is taken off, and that is said.
"""

from dataclasses import dataclass

from mealcalc.calculation.nearness import (
    OTHER_STATE_STEPS,
    fallback_note,
    food_group,
    ground_of,
    method_steps,
    same_state,
    steps_between,
    words_of,
)
from mealcalc.records import Food, FoodState
from mealcalc.reference.cooking_factors import RetentionFactors, retention_factors
from mealcalc.reference.cooking_vocabulary import broader_groups

USUAL_MINUTES = 60.0
"""Cooking time taken for retention where rows differ by time (pulses) and the cook gives none."""


@dataclass(frozen=True, slots=True)
class RetentionChoice:
    """A retention row, and what was given up to find it ('' for an exact find)."""

    row: RetentionFactors
    note: str

    @property
    def ground(self) -> str:
        """The row, its source and the fall-back, for the reader."""
        return ground_of(f"retention {self.row.code} {self.row.description}", self.row.source, self.row.mark, self.note)


def find_retention(
    food: Food,
    default_food: str,
    method: str,
    *,
    drained: bool,
    minutes: float | None,
    state: FoodState = FoodState.RAW,
) -> RetentionChoice | None:
    """The USDA retention row of a food cooked by `method`, or None where no row of its group or a broader one serves.

    Parameters
    ----------
    drained : bool
        Whether cooking liquid or drippings are poured off.
    minutes : float or None
        Cooking time, where it is said; else the middle one of the rows counts.
    state : FoodState
        State in which the food goes in; rows for cooked food (reheated) serve cooked food only.
    """
    group = food_group(food)
    if group is None:
        return None
    words = words_of(f"{food.description} {default_food}")
    best: tuple[tuple[float, ...], RetentionFactors] | None = None
    for row in retention_factors().values():
        steps = steps_between(group, row.food_group, method_steps(method, row.methods))
        if steps is None or row.food_group == "alcoholic_drink" or row.food_group not in broader_groups(group):
            continue
        if not same_state(row.state_before, state):
            continue
        steps += 0.0 if row.state_before in (None, state) else OTHER_STATE_STEPS
        poured = row.drained if row.drained is not None else (None if row.drippings is None else not row.drippings)
        liquid = 0.0 if poured is None else float(poured != drained)
        coated = float(bool(row.coating))
        row_words = words_of(f"{row.description.replace(',', ' ')} {row.form}")
        key = (steps, liquid, coated, _time_gap(row.minutes, minutes), -len(words & row_words))
        if best is None or key < best[0]:
            best = (key, row)
    if best is None:
        return None
    row = best[1]
    return RetentionChoice(row, fallback_note(row.food_group, group, row.methods, method, row.state_before, state))


def _time_gap(row_minutes: tuple[float, float] | None, minutes: float | None) -> float:
    """Minutes between the time said and the row's; where none is said, the row nearest to an hour counts."""
    if row_minutes is None:
        return 0.0
    wanted = USUAL_MINUTES if minutes is None else minutes
    return max(row_minutes[0] - wanted, wanted - row_minutes[1], 0.0)
