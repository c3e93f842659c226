"""What a strategy answers: a food with a score and a reason, or nothing."""

from dataclasses import dataclass

from mealcalc.diagnostics import Diagnostic
from mealcalc.records import Candidate

SURE = 0.8
"""Proposals from this score on count as matched; below it they are counted but flagged for the cook to decide."""

DECLINED = 0.5
"""Below this score a proposal is refused: a food that no table holds is better unmatched than matched to a stranger."""

BUNDLED_TABLE = "sr28"


@dataclass(frozen=True, slots=True)
class Proposal:
    """A food proposed for a line.

    code: None when the strategy knows the food and knows that no table holds it. default_food: canonical name in the
    table of default foods, '' otherwise. food_state: state of its row there. state_differs: the food stands in another
    state than the line asks for.
    """

    table: str
    code: str | None
    description: str
    score: float
    strategy: str
    default_food: str = ""
    food_state: str = ""
    state_differs: bool = False
    runners_up: tuple[Candidate, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
