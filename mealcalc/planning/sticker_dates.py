"""The dates of a home sticker: never beyond the strictest guidance without a warning."""

from datetime import date

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import UsageError
from mealcalc.planning.keeping import keep
from mealcalc.records import BatchResult
from mealcalc.records.keeping import ListedGuidance
from mealcalc.records.published import StickerDates
from mealcalc.reference.keeping_tables import chosen_authorities


def sticker_dates(
    result: BatchResult, cooked: date, eat_by: date | None = None
) -> tuple[StickerDates, tuple[str, ...], list[Diagnostic]]:
    """The dates for stickers of a batch, with the cautions of the authorities and what was found.

    Parameters
    ----------
    result : BatchResult
        The batch; its foods and words say which guidance concerns it.
    cooked : date
        Day of cooking.
    eat_by : date, optional
        A last day that the cook wants printed; by default that of the strictest authority.

    Raises
    ------
    UsageError
        If the last day lies before cooking.
    """
    if eat_by is not None and eat_by < cooked:
        raise UsageError(
            f"to be eaten by {eat_by}, before cooking on {cooked}", "give the day of cooking or a later one"
        )
    keeping, _ = keep(result, chosen_authorities(), cooked)
    limit = keeping.plan.fridge_limit
    strictest = None if limit is None else limit.last_day
    printed = eat_by or strictest
    beyond = printed is not None and (strictest is None or printed > strictest)
    found = [_beyond(printed, limit)] if beyond and printed is not None else []
    dates = StickerDates(
        cooked=cooked,
        eat_by=printed,
        guidance=limit,
        beyond=beyond,
        freezer_best_before=keeping.plan.freezer_best_before,
        freezer_guidance=keeping.plan.freezer_limit,
        reheating=next(iter(keeping.topics.get("reheat", ())), None),
    )
    return dates, keeping.cautions, found


def _beyond(printed: date, limit: ListedGuidance | None) -> Diagnostic:
    than = "no guidance covers it" if limit is None else f"{limit.authority.title} says {limit.last_day}"
    return Diagnostic(
        "beyond-guidance",
        Severity.WARNING,
        f"to be eaten by {printed}, and {than}: the stickers say so",
        hint="leave --eat-by out for the day of the strictest authority",
    )
