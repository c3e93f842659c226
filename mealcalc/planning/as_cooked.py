"""A batch as it was cooked in place of its plan: weights of the real pots, containers really made."""

from dataclasses import replace

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import UsageError
from mealcalc.planning.cooked_record import fingerprint
from mealcalc.planning.portioning import Division
from mealcalc.planning.variants import apply_variant
from mealcalc.records import Batch, BatchComponent
from mealcalc.records.portions import CookedBatch, CookedComponent, PotWeight


def as_cooked(
    batch: Batch, cooking: CookedBatch, variant: str | None = None, *, retitled: bool = True
) -> tuple[Batch, tuple[Diagnostic, ...]]:
    """The batch with the weights, the share that was filled and the number of containers of a cooking.

    Parameters
    ----------
    batch : Batch
        The plan, without a variant applied.
    cooking : CookedBatch
        What was recorded. Its variant is applied.
    variant : str, optional
        The variant that is asked for; it must be the one that was cooked.
    retitled : bool
        Whether the title says on which day it was cooked.

    Returns
    -------
    The batch to calculate, and what differs from the plan or was not recorded.

    Raises
    ------
    UsageError
        If another variant is asked for than was cooked, or the batch does not define the one that was.
    """
    if variant is not None and variant.casefold() != cooking.variant.casefold():
        cooked = f"the variant '{cooking.variant}'" if cooking.variant else "the batch itself, no variant,"
        raise UsageError(f"on {cooking.day} {cooked} was cooked", "leave --variant out, or name another day")
    if cooking.variant:
        batch = apply_variant(batch, cooking.variant)
    by_name = {component.name.casefold(): component for component in cooking.components}
    components = tuple(_as_weighed(part, by_name.get(part.name.casefold())) for part in batch.components)
    containers = cooking.containers or batch.containers
    changed = replace(
        batch,
        title=f"{batch.title}, as cooked on {cooking.day}" if retitled else batch.title,
        components=components,
        containers=containers,
    )
    return changed, tuple(_findings(batch, cooking, by_name))


def as_recorded(batch: Batch, cooking: CookedBatch) -> tuple[Batch, dict[str, PotWeight], Division]:
    """What weighing out needs to show a cooking again: the batch, what its pots held, and how it was divided.

    Parameters
    ----------
    batch : Batch
        The batch that was cooked, its variant applied.
    cooking : CookedBatch
        What was recorded.
    """
    names = {part.name.casefold(): part.name for part in batch.components}
    pots: dict[str, PotWeight] = {}
    residue_g: dict[str, float] = {}
    for component in cooking.components:
        name = names.get(component.name.casefold())
        if name is None:
            continue
        residue_g[name] = component.residue_g
        if component.weight_g is not None:
            ground = f"weighed, recorded on {cooking.day}"
            pots[name] = PotWeight(name, component.weight_g, component.gross_g, component.tare_g, ground=ground)
        elif component.estimated_g is not None:
            ground = f"estimated on {cooking.day}, not weighed"
            pots[name] = PotWeight(name, component.estimated_g, ground=ground, measured=False)
    count = len(cooking.filled) or cooking.containers or batch.containers
    title = f"{batch.title}, as cooked on {cooking.day}"
    division = Division(filled=cooking.filled, residue_g=residue_g)
    return replace(batch, title=title, containers=count), pots, division


def _as_weighed(part: BatchComponent, cooked: CookedComponent | None) -> BatchComponent:
    if cooked is None:
        return part
    pot_g = cooked.weight_g or cooked.estimated_g
    kept_g = cooked.residue_g + cooked.leftover_g
    share = 1.0 if not pot_g else max(0.0, 1.0 - kept_g / pot_g)
    return replace(part, cooked_mass_g=cooked.weight_g or part.cooked_mass_g, filled_share=share)


def _findings(batch: Batch, cooking: CookedBatch, by_name: dict[str, CookedComponent]) -> list[Diagnostic]:
    found = []
    if cooking.recipe and cooking.recipe != fingerprint(batch):
        found.append(
            Diagnostic(
                "recipe-changed",
                Severity.WARNING,
                f"the recipe is not the one cooked on {cooking.day}: lines or cooking words have changed since",
                None,
                "figures are those of the recipe as it stands now, in the pot as it was then",
            )
        )
    names = {part.name.casefold() for part in batch.components}
    unknown = [component.name for component in cooking.components if component.name.casefold() not in names]
    if unknown:
        found.append(
            Diagnostic(
                "unknown-component",
                Severity.WARNING,
                f"the cooking of {cooking.day} names components that the batch does not have: {', '.join(unknown)}",
                None,
                "use the names of the batch file in its journal",
            )
        )
    estimated = [
        part.name
        for part in batch.components
        if part.cooked_mass_g is None
        and (part.name.casefold() not in by_name or by_name[part.name.casefold()].weight_g is None)
    ]
    if estimated:
        found.append(
            Diagnostic(
                "not-weighed",
                Severity.WARNING,
                f"not weighed on {cooking.day}: {', '.join(estimated)}; its cooked weight is estimated",
                None,
                "add it with `mealcalc portion FILE --record --weighed 'NAME=2140 g'`",
            )
        )
    if len({tuple(sorted(container.grams.items())) for container in cooking.filled}) > 1:
        found.append(
            Diagnostic(
                "unequal-containers",
                Severity.NOTE,
                f"the containers of {cooking.day} are not equal: figures of a container are those of a mean one",
                None,
                "`mealcalc portion FILE --as-cooked` shows each",
            )
        )
    return found
