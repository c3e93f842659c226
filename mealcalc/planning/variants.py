"""Variants of a batch: lines replaced, left out or added, and the pipeline run again."""

from dataclasses import replace

from mealcalc.errors import UsageError
from mealcalc.recipe.line_words import means_line
from mealcalc.records import Batch, BatchComponent, RecipeLine, Variant


def apply_variant(batch: Batch, name: str) -> Batch:
    """The batch as the variant `name` makes it.

    Raises
    ------
    UsageError
        If the batch defines no variant of that name; the message lists those it defines.
    """
    variant = next((v for v in batch.variants if v.name.casefold() == name.casefold()), None)
    if variant is None:
        known = ", ".join(f"'{v.name}'" for v in batch.variants) or "none"
        raise UsageError(f"the batch has no variant '{name}'", f"it defines: {known}")
    components = tuple(_changed(component, variant) for component in batch.components)
    return replace(batch, title=f"{batch.title} ({variant.name})", components=components)


def replaced_lines(batch: Batch, variant: Variant) -> dict[RecipeLine, RecipeLine]:
    """Line of the changed batch -> the line in whose place it stands; lines that are as they were are left out."""
    return {
        new: old
        for component in batch.components
        for old, new in zip(component.lines, _in_place(component, variant), strict=True)
        if new is not None and new != old
    }


def _changed(component: BatchComponent, variant: Variant) -> BatchComponent:
    kept = [line for line in _in_place(component, variant) if line is not None]
    return replace(component, lines=(*kept, *variant.add.get(component.name, ())))


def _in_place(component: BatchComponent, variant: Variant) -> list[RecipeLine | None]:
    """What stands in the place of each line of a component; None where it is left out."""
    found: list[RecipeLine | None] = []
    for line in component.lines:
        if any(means_line(words, line) for words in variant.leave_out):
            found.append(None)
            continue
        new = next((new for words, new in variant.replace.items() if means_line(words, line)), None)
        found.append(line if new is None else replace(new, component=component.name))
    return found
