"""What the cook should know before filling: containers that are too small, dates that cannot be."""

from datetime import date

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import UsageError
from mealcalc.records.portions import FilledContainer, Fit, VolumeBand, WeighOut

OLD_DAYS = 366
"""A cooking longer ago than this is more likely a slip of the keyboard (our judgement)."""


def check_cooked_on(cooked: date, today: date) -> tuple[Diagnostic, ...]:
    """A warning about a day of cooking long past; UsageError for one that lies ahead."""
    if cooked > today:
        raise UsageError(f"cooked on {cooked}: that day lies ahead", "give the day on which it was cooked")
    if (today - cooked).days <= OLD_DAYS:
        return ()
    message = f"cooked on {cooked}: that is more than a year ago"
    return (Diagnostic("old-date", Severity.WARNING, message, None, "check the date"),)


def check_room(weighed: WeighOut) -> tuple[Diagnostic, ...]:
    """Containers that do not hold their food (an error), or may not, or leave no room to freeze (warnings)."""
    alike: dict[tuple[Fit, Fit], list[FilledContainer]] = {}
    for container in weighed.containers:
        alike.setdefault((container.fit, container.fit_frozen), []).append(container)
    found = []
    for (fit, fit_frozen), containers in alike.items():
        bands = [container.volume for container in containers if container.volume is not None]
        if weighed.room is None or not bands:
            continue
        band = VolumeBand(min(b.low_ml for b in bands), max(b.high_ml for b in bands))
        numbers = _listed([container.number for container in containers])
        said = f"container {numbers}: {band.shown} ml of food in {weighed.room.brim_ml:g} ml"
        if fit is Fit.TOO_SMALL:
            hint = "use larger ones, more of them (--containers), or fill less (--fill)"
            found.append(Diagnostic("container-too-small", Severity.ERROR, f"{said} do not go in", None, hint))
        elif fit is Fit.TIGHT:
            hint = "whether it goes in depends on how it settles; have a larger one at hand"
            found.append(Diagnostic("container-tight", Severity.WARNING, f"{said} may not go in", None, hint))
        elif fit_frozen in (Fit.TIGHT, Fit.TOO_SMALL):
            free = "leave" if fit_frozen is Fit.TOO_SMALL else "may leave"
            message = f"{said} {free} too little room to freeze in it"
            found.append(Diagnostic("no-headspace", Severity.WARNING, message, None, "use larger ones to freeze"))
    return tuple(found)


def _listed(numbers: list[int]) -> str:
    """Ascending numbers in short: '1-4, 6'."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)
