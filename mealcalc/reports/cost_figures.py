"""The figures of a cost as they are shown: rounded once, in parts that add up to the total."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from mealcalc.money import rounded, split
from mealcalc.records import Total
from mealcalc.records.purchases import BatchCost, ComponentCost, PacksBought


@dataclass(frozen=True, slots=True)
class ShownPart:
    """What the whole batch or a component of it costs, in whole coins.

    per_100g_protein, per_100kcal: None where the protein or the energy is not known, or is none.
    """

    name: str
    used: Decimal
    in_container: Decimal
    per_100g_protein: Decimal | None
    per_100kcal: Decimal | None
    complete: bool


@dataclass(frozen=True, slots=True)
class ShownPacks:
    """Packs bought of one price: what they cost, what of it is used, what is left over; in whole coins."""

    packs: PacksBought
    cost: Decimal
    used: Decimal

    @property
    def left(self) -> Decimal:
        """What is left over is worth."""
        return self.cost - self.used


@dataclass(frozen=True, slots=True)
class ShownCost:
    """All figures of a cost in whole coins.

    Components add up to the batch, lines to their component, packs to what they cost together; `in_container` of the
    components to that of the batch; `containers`, one figure for each, to the batch. lines: in the order of the recipe.
    """

    batch: ShownPart
    components: tuple[ShownPart, ...]
    lines: tuple[Decimal, ...]
    packs: tuple[ShownPacks, ...]
    packs_cost: Decimal
    packs_in_container: Decimal
    containers: tuple[Decimal, ...]


def shown(cost: BatchCost) -> ShownCost:
    """Round a cost for showing."""
    currency, number = cost.currency, cost.result.batch.containers
    used = rounded(cost.used, currency)
    in_container = rounded(cost.used / number, currency)
    of_components = split(used, [part.used for part in cost.components], currency)
    in_containers = split(in_container, [part.used / number for part in cost.components], currency)
    components, lines = [], []
    for part, of_part, in_one, result in zip(
        cost.components, of_components, in_containers, cost.result.components, strict=True
    ):
        components.append(_part(part, of_part, in_one, result.totals, currency))
        lines += split(of_part, [line.used for line in part.lines], currency)
    whole = ComponentCost(cost.result.batch.title, cost.lines)
    packs_cost = rounded(cost.packs_cost, currency)
    costs = split(packs_cost, [packs.cost for packs in cost.bought], currency)
    of_packs = split(used, [packs.used for packs in cost.bought], currency)
    return ShownCost(
        batch=_part(whole, used, in_container, cost.result.totals, currency),
        components=tuple(components),
        lines=tuple(lines),
        packs=tuple(ShownPacks(*three) for three in zip(cost.bought, costs, of_packs, strict=True)),
        packs_cost=packs_cost,
        packs_in_container=rounded(cost.packs_cost / number, currency),
        containers=tuple(split(used, [cost.used / number] * number, currency)),
    )


def _part(
    part: ComponentCost, used: Decimal, in_container: Decimal, totals: Mapping[str, Total], currency: str
) -> ShownPart:
    protein, energy = (_per_100(part.used, totals[key], currency) for key in ("PROCNT_G", "ENERC_KCAL"))
    return ShownPart(part.name, used, in_container, protein, energy, part.complete)


def _per_100(used: Decimal, total: Total, currency: str) -> Decimal | None:
    """Cost of 100 units of a food component; None where not all of it is known, since the cost would seem too high."""
    if not total.complete or total.amount <= 0.0:
        return None
    return rounded(used / Decimal(repr(total.amount)) * 100, currency)
