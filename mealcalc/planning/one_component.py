"""One component of a calculated batch, as a batch of its own."""

from dataclasses import replace

from mealcalc.errors import UsageError
from mealcalc.records import BatchResult

LONGEST_SHOWN = 60


def component_named(result: BatchResult, name: str) -> BatchResult:
    """The batch with the component of a name alone; containers stay as they are, each holding its share of it.

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
    for index, component in enumerate(result.components):
        if component.component.name.strip().casefold() == wanted:
            return only_component(result, index)
    known = ", ".join(f"'{c.component.name[:LONGEST_SHOWN]}'" for c in result.components if c.component.name)
    raise UsageError(f"the batch has no component '{name[:LONGEST_SHOWN]}'", f"it has: {known or 'one without a name'}")


def only_component(result: BatchResult, index: int) -> BatchResult:
    """The batch with its component at `index` (from 0) alone."""
    found = result.components[index]
    title = f"{result.batch.title}: {found.component.name}" if found.component.name else result.batch.title
    batch = replace(result.batch, title=title, components=(found.component,))
    return replace(result, batch=batch, components=(found,), totals=found.totals)
