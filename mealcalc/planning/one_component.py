"""One component of a calculated batch, as a batch of its own."""

from dataclasses import replace

from mealcalc.errors import UsageError
from mealcalc.records import BatchResult

LONGEST_SHOWN = 60


def only_component(result: BatchResult, name: str) -> BatchResult:
    """The batch with one of its components alone; containers stay as they are, each holding its share of it.

    Parameters
    ----------
    result : BatchResult
        A calculated batch.
    name : str
        Name of the component, in either case.

    Raises
    ------
    UsageError
        If the batch has no component of that name; the hint lists those it has.
    """
    wanted = name.strip().casefold()
    found = next((c for c in result.components if c.component.name.strip().casefold() == wanted), None)
    if found is None:
        known = ", ".join(f"'{c.component.name[:LONGEST_SHOWN]}'" for c in result.components if c.component.name)
        raise UsageError(
            f"the batch has no component '{name[:LONGEST_SHOWN]}'", f"it has: {known or 'one without a name'}"
        )
    batch = replace(result.batch, title=f"{result.batch.title}: {found.component.name}", components=(found.component,))
    return replace(result, batch=batch, components=(found,), totals=found.totals)
