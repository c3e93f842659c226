"""The matcher: ordered, named strategies from the cook's own choice down to the ranked search.

saved decision -> food code in the line -> the batch's own foods -> description copied from the table -> default foods
-> ranked search -> unmatched with candidates. The first strategy that is sure wins; of two that are not, the higher
score, and where both say the same food they confirm each other.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from typing import Protocol

from mealcalc.diagnostics import Severity
from mealcalc.fooddb import FoodHeader
from mealcalc.matching import default_foods, findings, ranked
from mealcalc.matching.decisions import NONE, Decisions, decision_phrase
from mealcalc.matching.fat_levels import FatChoice, at_fat_level, mix_of, series_of, stated_fat
from mealcalc.matching.normalise import tokens
from mealcalc.matching.proposal import BUNDLED_TABLE, DECLINED, SURE, Proposal
from mealcalc.matching.query import Query, build_query
from mealcalc.matching.spelling import Speller
from mealcalc.matching.words import FAT_WORDS, NEUTRAL, NEVER_NEUTRAL, QUALIFIERS, STATES
from mealcalc.records import BlendPart, Food, LineKind, LineStatus, MatchedFood, RecipeLine

OWN_TABLE = "own"


class FoodSource(Protocol):
    """What the matcher needs of a food database."""

    def candidates(self, words: Sequence[str], limit: int) -> list[FoodHeader]:
        """Foods whose description or names hold any of `words`, best first."""
        ...

    def foods(self, keys: Iterable[tuple[str, str]]) -> dict[tuple[str, str], Food]:
        """The foods with these (table, code) keys; unknown keys are left out."""
        ...

    def vocabulary(self) -> frozenset[str]:
        """All words of descriptions and names, lower case."""
        ...


Strategy = Callable[[Query], Proposal | None]


class Matcher:
    """Finds the food of each line.

    Parameters
    ----------
    source : FoodSource
        The food database.
    region : str
        Region of the recipe: decides what everyday names mean.
    decisions : Decisions
        The cook's saved choices.
    own_foods : sequence of Food
        Foods that the batch itself defines.
    """

    def __init__(
        self,
        source: FoodSource,
        region: str,
        decisions: Decisions | None = None,
        own_foods: Sequence[Food] = (),
    ) -> None:
        self._source = source
        self._region = region
        self._decisions = decisions or Decisions()
        self._own_foods = {
            frozenset(tokens(name)): food for food in own_foods for name in (food.description, *food.names)
        }
        self._index = default_foods.index_for(region)
        known_here = self._index.words | NEUTRAL | QUALIFIERS | STATES | {w for words in self._own_foods for w in words}
        self._speller = Speller(known_here, self._vocabulary)
        self._certain: tuple[Strategy, ...] = (
            self._saved_decision,
            self._code_in_line,
            self._own_food,
            partial(ranked.propose_exact, search=source),
        )
        self._searching: tuple[Strategy, ...] = (
            partial(default_foods.propose, index=self._index),
            partial(ranked.propose, search=source),
        )

    def match(self, lines: Sequence[RecipeLine]) -> list[MatchedFood]:
        """Match lines, fetching all foods in one round trip.

        Parameters
        ----------
        lines : sequence of RecipeLine
            Lines as read, food or not.

        Returns
        -------
        list of MatchedFood
            One for each line, in order. Nothing raises for a strange line: what was found is in its diagnostics.

        Raises
        ------
        FoodDatabaseError
            If the food database cannot be read.
        """
        asked = [
            (line, query, self._propose(query))
            for line in lines
            for query in [build_query(line, self._region, self._speller)]
        ]
        choices = [self._fat_choice(query, proposal) if proposal else None for _, query, proposal in asked]
        keys = {(p.table, p.code) for _, _, p in asked if p is not None and p.code is not None}
        keys |= {(BUNDLED_TABLE, code) for choice in choices if choice is not None for code in choice.codes}
        foods = self._source.foods(key for key in keys if key[0] != OWN_TABLE)
        foods |= {(OWN_TABLE, food.code): food for food in self._own_foods.values()}
        return [
            self._finish(line, query, proposal, choice, foods)
            for (line, query, proposal), choice in zip(asked, choices, strict=True)
        ]

    # --- strategies ---------------------------------------------------------------------------------------------------

    def _propose(self, query: Query) -> Proposal | None:
        if query.line.kind is LineKind.NOT_FOOD:
            return None
        for strategy in self._certain:
            proposal = strategy(query)
            if proposal is not None:
                return proposal
        best: Proposal | None = None
        for strategy in self._searching:
            proposal = strategy(query)
            if proposal is None:
                continue
            if best is not None and best.code is not None and best.code == proposal.code:
                return replace(best, score=max(best.score, proposal.score))  # two ways to one food
            if proposal.score >= SURE:
                return _with_runner_up(proposal, best)
            if best is None or proposal.score > best.score:
                best = _with_runner_up(proposal, best)
        return best

    def _saved_decision(self, query: Query) -> Proposal | None:
        line = query.line
        decision = self._decisions.find(decision_phrase(line), query.state, self._region)
        if decision is None:
            decision = self._decisions.find(line.name, query.state, self._region)
        if decision is None:
            return None
        code = None if decision.code == NONE else decision.code
        return self._chosen(query, decision.table, code, decision.food, "saved decision")

    def _code_in_line(self, query: Query) -> Proposal | None:
        if query.line.settings.food is None:
            return None
        table, code = query.line.settings.food
        return self._chosen(query, table, code, "", "food code in the line")

    def _chosen(self, query: Query, table: str, code: str | None, description: str, strategy: str) -> Proposal:
        """A food that the cook chose; piece weights and densities are those of the default food that the line names."""
        if code is None:
            return Proposal(table, code, description, 1.0, strategy)
        named = default_foods.propose(query, self._index)
        default_food = named.default_food if named is not None and named.score >= SURE else ""
        food_state = self._index.state_of(code) if table == BUNDLED_TABLE else ""
        return Proposal(table, code, description, 1.0, strategy, default_food, food_state)

    def _own_food(self, query: Query) -> Proposal | None:
        """The batch's own food that the line names; only words that never change a food may be added or left out."""
        asked = frozenset(query.tokens)
        fitting = [own for own in self._own_foods if own & asked and own - _EMPTY <= asked <= own | _EMPTY]
        if not fitting:
            return None
        food = self._own_foods[max(fitting, key=len)]
        return Proposal(OWN_TABLE, food.code, food.description, 1.0, "own food of the batch")

    # --- fat levels ---------------------------------------------------------------------------------------------------

    def _fat_choice(self, query: Query, proposal: Proposal) -> FatChoice | None:
        """What could serve the fat that a line states; None where it states none or the cook chose the food."""
        if proposal.code is None or proposal.table != BUNDLED_TABLE or proposal.strategy in _CHOSEN_BY_COOK:
            return None
        family = self._fat_family(query, proposal)
        levels = series_of((proposal.code, *family), proposal.default_food, proposal.food_state)
        stated = stated_fat(query, levels[0].species if levels else None)
        if stated is None:
            return None
        return FatChoice(*stated, mix_of(levels, stated[0]), (*(level.code for level in levels), *family))

    def _fat_family(self, query: Query, proposal: Proposal) -> tuple[str, ...]:
        """Codes of default foods that differ from the proposed one in fat only."""
        if not proposal.default_food or query.line.fat_percent is None:
            return ()
        base = frozenset(query.tokens) - FAT_WORDS - NEUTRAL - STATES
        entries = self._index.family(base, FAT_WORDS)
        codes = [default_foods.choose_row(entry.rows, query)[0].code for entry in entries]
        codes += self._index.codes_anywhere(proposal.default_food, proposal.food_state)
        return tuple(code for code in dict.fromkeys(codes) if code != NONE)

    # --- finish -------------------------------------------------------------------------------------------------------

    def _finish(
        self,
        line: RecipeLine,
        query: Query,
        proposal: Proposal | None,
        choice: FatChoice | None,
        foods: dict[tuple[str, str], Food],
    ) -> MatchedFood:
        if line.kind is LineKind.NOT_FOOD:
            return MatchedFood(line, None, LineStatus.NOT_FOOD, "", 0.0)
        if proposal is None:
            return findings.unmatched(line, None)
        if proposal.code is None and proposal.score >= SURE:
            return findings.known_to_be_absent(line, proposal)
        if proposal.code is None or proposal.score < DECLINED:
            # That a food stands in no table is known only of a food that the name surely means.
            return findings.unmatched(line, proposal)
        food = foods.get((proposal.table, proposal.code))
        if food is None:
            return findings.no_such_code(line, proposal)
        diagnostics = [*proposal.diagnostics, *findings.repairs(line, query)]
        parts: tuple[BlendPart, ...] = ()
        score = proposal.score
        if choice is not None:
            food, parts = at_fat_level(food, choice, foods)
            finding = findings.fat_level(line, food, parts, choice)
        elif line.fat_percent is not None:
            finding = findings.fat_differs(line, food, line.fat_percent)
        else:
            finding = None
        if finding is not None:
            diagnostics.append(finding)
            if finding.severity is Severity.WARNING and proposal.strategy not in _CHOSEN_BY_COOK:
                score = min(score, SURE - 0.1)
        status = LineStatus.MATCHED if score >= SURE else LineStatus.UNSURE
        if (line.to_taste and line.amount is None and line.settings.mass_g is None) or not line.settings.counted:
            status = LineStatus.NOT_COUNTED
        if status is LineStatus.UNSURE:
            diagnostics.append(findings.unsure(line, food, score))
        return MatchedFood(
            line=line,
            food=food,
            status=status,
            strategy=proposal.strategy,
            score=round(score, 4),
            default_food=proposal.default_food,
            food_state=proposal.food_state,
            other_state=proposal.state_differs,
            blend=parts,
            runners_up=tuple(c for c in proposal.runners_up if c.code != food.code),
            diagnostics=tuple(diagnostics),
        )

    def _vocabulary(self) -> frozenset[str]:
        return frozenset(word for raw in self._source.vocabulary() for word in tokens(raw))


_EMPTY = NEUTRAL - NEVER_NEUTRAL - FAT_WORDS

_CHOSEN_BY_COOK = frozenset(["saved decision", "food code in the line", "own food of the batch"])


def _with_runner_up(proposal: Proposal, other: Proposal | None) -> Proposal:
    if other is None or other.code is None or other.code == proposal.code:
        return proposal
    return replace(proposal, runners_up=(findings.as_candidate(other), *proposal.runners_up)[:4])
