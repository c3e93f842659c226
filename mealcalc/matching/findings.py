"""What the matcher reports of a line: refusals, doubts, repairs and the fat level it chose."""

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.matching.fat_levels import FatChoice
from mealcalc.matching.proposal import Proposal
from mealcalc.matching.query import Query
from mealcalc.records import BlendPart, Candidate, Food, LineStatus, MatchedFood, RecipeLine
from mealcalc.values import amount_of

FAT_TOLERANCE_PERCENT = 2.5
"""A food whose fat differs from the stated one by more than this, and by a quarter of it, is another product."""


def as_candidate(proposal: Proposal) -> Candidate:
    """A proposal as it is shown among the candidates."""
    return Candidate(proposal.table, proposal.code or "none", proposal.description, round(proposal.score, 4))


def unmatched(line: RecipeLine, proposal: Proposal | None) -> MatchedFood:
    """A line for which nothing good enough was found: the candidates are named, nothing is counted."""
    runners = () if proposal is None else proposal.runners_up[:4]
    if proposal is not None and proposal.code is not None:
        runners = (as_candidate(proposal), *runners)[:4]
    if not line.name:
        return _without_food(line, proposal, None, runners)  # the parser has told that no food is named
    near = f"nearest: {runners[0].table}:{runners[0].code} {runners[0].description}; " if runners else ""
    return _without_food(
        line,
        proposal,
        Diagnostic(
            "unmatched-food",
            Severity.ERROR,
            f"no food found for '{line.name}': it is not counted in any total",
            line.span,
            f"{near}choose one with `mealcalc match`, write [food TABLE:CODE] on the line, or define it under 'foods:'",
        ),
        runners,
    )


def known_to_be_absent(line: RecipeLine, proposal: Proposal) -> MatchedFood:
    """A food that we know and that no loaded table holds, with nothing close enough to stand in."""
    return _without_food(
        line,
        proposal,
        Diagnostic(
            "food-not-in-tables",
            Severity.ERROR,
            f"no loaded food table holds '{line.name}': it is not counted in any total",
            line.span,
            "define it from its pack label under 'foods:', or choose a stand-in with [food TABLE:CODE]",
        ),
        proposal.runners_up,
    )


def no_such_code(line: RecipeLine, proposal: Proposal) -> MatchedFood:
    """The cook chose a food code that no loaded table holds."""
    return _without_food(
        line,
        proposal,
        Diagnostic(
            "unknown-food-code",
            Severity.ERROR,
            f"no loaded food table holds {proposal.table}:{proposal.code}: the line is not counted in any total",
            line.span,
            "look the code up with `mealcalc foods search`",
        ),
        proposal.runners_up,
    )


def _without_food(
    line: RecipeLine, proposal: Proposal | None, diagnostic: Diagnostic | None, runners: tuple[Candidate, ...]
) -> MatchedFood:
    counted = line.settings.counted and not (line.to_taste and line.amount is None)
    if not counted and diagnostic is not None:
        # Nothing was to be counted, so nothing is lost; allergens still follow the words of the line.
        diagnostic = Diagnostic(diagnostic.code, Severity.NOTE, diagnostic.message, diagnostic.span, diagnostic.hint)
    return MatchedFood(
        line=line,
        food=None,
        status=LineStatus.UNMATCHED if counted else LineStatus.NOT_COUNTED,
        strategy=proposal.strategy if proposal else "",
        score=round(proposal.score, 4) if proposal else 0.0,
        default_food=proposal.default_food if proposal else "",
        runners_up=runners,
        diagnostics=() if diagnostic is None else (diagnostic,),
    )


def repairs(line: RecipeLine, query: Query) -> list[Diagnostic]:
    """A note for each word whose spelling was repaired."""
    return [
        Diagnostic("spelling", Severity.NOTE, f"'{written}' read as '{read}'", line.span)
        for written, read in query.repaired
    ]


def unsure(line: RecipeLine, food: Food, score: float) -> Diagnostic:
    """The food is counted, but the cook should decide."""
    return Diagnostic(
        "unsure-food",
        Severity.WARNING,
        f"'{line.name}' is counted as {food.table}:{food.code} {food.description}, but that is a guess ({score:.2f})",
        line.span,
        f"confirm it with `mealcalc match`, or write [food {food.table}:CODE] on the line",
    )


def fat_level(line: RecipeLine, food: Food, parts: tuple[BlendPart, ...], choice: FatChoice) -> Diagnostic | None:
    """A note on the blend that serves the stated fat, or a warning where not even the nearest food does."""
    if not parts:
        return fat_differs(line, food, choice.wanted_percent)
    shares = " and ".join(f"{part.share:.0%} of {part.code} {part.description}" for part in parts)
    return Diagnostic("blend", Severity.NOTE, f"{choice.wanted_percent:g} % fat ({choice.ground}): {shares}", line.span)


def fat_differs(line: RecipeLine, food: Food, wanted_percent: float) -> Diagnostic | None:
    """A warning where the fat of a food is far from the stated one (g per 100 g); None where it is near."""
    fat = amount_of(food.composition, "FAT_G")
    if fat is not None and abs(fat - wanted_percent) <= max(FAT_TOLERANCE_PERCENT, wanted_percent / 4):
        return None
    shown = "an unknown amount of" if fat is None else f"{fat:g} g"
    return Diagnostic(
        "fat-differs",
        Severity.WARNING,
        f"the line states {wanted_percent:g} % fat, '{food.description}' holds {shown} fat per 100 g",
        line.span,
        "define the food from its pack label under 'foods:'",
    )
