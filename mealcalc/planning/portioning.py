"""Weighing out: grams of each component into each container, summing to the pot's mass to the gram.

Containers get equal parts, stated shares, parts by the shares of named eaters, or a stated fill; whole grams are
settled by the largest remainder (Hare quota): every container first gets the whole grams of its exact part, and the
grams still to give go where the part cut off was largest.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.planning.portion_volume import fit_of, spreads_of
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.records import Batch, BatchResult, ComponentResult, Eater, Total
from mealcalc.records.portions import (
    ContainerRoom,
    CookedContainer,
    FilledContainer,
    PortionedComponent,
    PotWeight,
    Spread,
    VolumeBand,
    WeighOut,
)

SLIP_G = 10.0
SLIP_KEYS = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G")
"""A slip of the scoop, g, and the food components whose change by it is told."""


@dataclass(frozen=True, slots=True)
class Division:
    """How a batch is to be divided; at most one of the first three is given, else all containers are equal.

    shares: share of the batch for each container (they may sum to less than 1: the rest is left over). filled: what
    each container was filled with, as recorded. fills_g: component -> grams of it in a container of share 1, instead of
    all there is. residue_g: component -> grams that stay in the pan.
    """

    shares: tuple[Fraction, ...] = ()
    eaters: tuple[Eater, ...] = ()
    filled: tuple[CookedContainer, ...] = ()
    fills_g: Mapping[str, float] = field(default_factory=dict)
    residue_g: Mapping[str, float] = field(default_factory=dict)


def component_named(batch: Batch, text: str) -> str:
    """The name of the component that `text` means: as written, or the only one that contains it.

    Raises
    ------
    UsageError
        If there is none, or several; the hint lists them.
    """
    names = [component.name for component in batch.components]
    wanted = " ".join(text.split()).casefold()
    exact = [name for name in names if name.casefold() == wanted]
    found = exact or [name for name in names if wanted and wanted in name.casefold()]
    if len(found) == 1:
        return found[0]
    if found:
        raise UsageError(f"'{text[:60]}' means several components", f"write one of: {', '.join(found)}")
    raise UsageError(f"the batch has no component '{text[:60]}'", did_you_mean(text, names))


def with_weights(batch: Batch, pots: Mapping[str, PotWeight]) -> Batch:
    """The batch with cooked weights from the scale, by component; a cooked weight of the file gives way to them."""
    components = tuple(
        replace(part, cooked_mass_g=pots[part.name].net_g) if part.name in pots and pots[part.name].measured else part
        for part in batch.components
    )
    return replace(batch, components=components)


def containers_by_eater(eaters: Sequence[Eater], containers: int) -> list[Eater]:
    """Whose each container is: one entry for each container, eater by eater.

    Eaters of whom nothing is said divide what the others leave; the first of them get one more where it does not come
    out even.

    Raises
    ------
    UsageError
        If the eaters together have more containers than there are, or fewer while none is open.
    """
    stated = sum(eater.containers or 0 for eater in eaters)
    open_eaters = [eater for eater in eaters if eater.containers is None]
    left = containers - stated
    if left < len(open_eaters) or (left > 0 and not open_eaters):
        theirs = ", ".join(f"{e.name} {'?' if e.containers is None else e.containers}" for e in eaters)
        raise UsageError(
            f"{containers} container{'' if containers == 1 else 's'} cannot be divided among the eaters ({theirs})",
            "change the number of containers, or how many each eater has",
        )
    each, more = divmod(left, len(open_eaters)) if open_eaters else (0, 0)
    counts = {id(e): each + (number < more) for number, e in enumerate(open_eaters)}
    return [e for e in eaters for _ in range(counts[id(e)] if e.containers is None else e.containers)]


def whole_grams(total_g: int, shares: Sequence[Fraction]) -> tuple[int, ...]:
    """`total_g` divided by `shares` (which sum to 1) into whole grams that sum to it, by the largest remainder.

    Of equal remainders the earlier container's counts. A share of 0 gets 0 g.
    """
    exact = [total_g * share for share in shares]
    grams = [int(part) for part in exact]
    order = sorted(range(len(exact)), key=lambda k: (grams[k] - exact[k], k))
    for k in order[: total_g - sum(grams)]:
        grams[k] += 1
    return tuple(grams)


def weigh_out(
    result: BatchResult,
    division: Division,
    database: FoodDatabase,
    *,
    pots: Mapping[str, PotWeight] | None = None,
    room: ContainerRoom | None = None,
    notes: Sequence[str] = (),
) -> WeighOut:
    """Divide a calculated batch into its containers.

    Parameters
    ----------
    result : BatchResult
        The batch, calculated with the cooked weights that count (`with_weights`).
    division : Division
        How it is to be divided.
    database : FoodDatabase
        Where household measures of cooked foods come from, for the volume.
    pots : mapping, optional
        Component -> how it was weighed; the others are as the result has them: by cooked_weight, or estimated.
    room : ContainerRoom, optional
        The room in a container.
    notes : sequence of str
        What is to be said beside the figures.

    Raises
    ------
    UsageError
        If shares are over 100 %, a fill or residue is more than the pot holds, a component weighs nothing, or the
        containers cannot be divided among the eaters.
    """
    owners, shares = _shares(division, result.batch.containers)
    spreads = spreads_of(result, database)
    components = [
        _portioned(component, (pots or {}).get(component.component.name), division, shares, spread)
        for component, spread in zip(result.components, spreads, strict=True)
    ]
    containers = [_filled(number, owner, components, room) for number, owner in enumerate(owners)]
    return WeighOut(result, tuple(components), tuple(containers), division.eaters, room, tuple(notes))


def _shares(division: Division, containers: int) -> tuple[list[str], tuple[Fraction, ...]]:
    """Whose each container is, and its share of the batch (the sum is 1 or less) - or, with fills, its size."""
    if division.shares:
        total = sum(division.shares, Fraction(0))
        if total > 1:
            raise UsageError(
                f"the shares are {float(100 * total):.9g} % of the batch, more than there is",
                "let them sum to 100 % or less; what is not given stays over",
            )
        return [""] * len(division.shares), division.shares
    if division.filled:
        containers = len(division.filled)
        return [container.eater for container in division.filled], (Fraction(1, containers),) * containers
    if not division.eaters:
        return [""] * containers, (Fraction(1, containers),) * containers
    each = containers_by_eater(division.eaters, containers)
    sizes = [Fraction(eater.share).limit_denominator(1_000_000) for eater in each]
    whole = sum(sizes, Fraction(0))
    return [eater.name for eater in each], tuple(size / whole for size in sizes)


def _portioned(
    component: ComponentResult,
    pot: PotWeight | None,
    division: Division,
    shares: tuple[Fraction, ...],
    spread: Spread | None,
) -> PortionedComponent:
    name = component.component.name
    pot = pot or _as_calculated(component)
    pot_g = round(pot.net_g)
    if pot_g <= 0:
        raise UsageError(
            f"'{name}' weighs nothing that is known",
            f"weigh the pot: --weighed '{name}=2140 g', or --weighed '{name}=3120 g gross' with --pot or --tare",
        )
    residue_g = round(division.residue_g.get(name, 0.0))
    if residue_g > pot_g:
        raise UsageError(
            f"'{name}': {residue_g} g stay in the pan, and there are {pot_g} g", "check the weights of pot and residue"
        )
    there_g = pot_g - residue_g
    if division.filled:
        grams = tuple(round(container.grams.get(name, 0.0)) for container in division.filled)
    else:
        grams = whole_grams(_given_g(name, division, shares, there_g), _summing_to_one(shares))
    given_g = sum(grams)
    if given_g > there_g:
        raise UsageError(
            f"'{name}': the containers hold {given_g} g, and there were {there_g} g to fill",
            "check the recorded weights",
        )
    return PortionedComponent(
        result=component,
        pot=pot,
        pot_g=pot_g,
        residue_g=residue_g,
        leftover_g=there_g - given_g,
        grams=grams,
        slip={key: _part(component.totals[key], SLIP_G / pot_g) for key in SLIP_KEYS},
        spread=spread,
    )


def _given_g(name: str, division: Division, shares: tuple[Fraction, ...], there_g: int) -> int:
    """Whole grams of a component that go into containers altogether."""
    if name not in division.fills_g:
        return int(there_g * sum(shares, Fraction(0)))
    fill_g = division.fills_g[name]
    sizes = [Fraction(e.share) for e in containers_by_eater(division.eaters, len(shares))] if division.eaters else []
    parts = float(sum(sizes, Fraction(0))) if sizes else float(len(shares))
    wanted_g = round(fill_g * parts)
    if wanted_g > there_g:
        raise UsageError(
            f"'{name}': {len(shares)} containers of {fill_g:g} g need {wanted_g} g, and there are {there_g} g",
            f"fill at most {int(there_g / parts)} g, or fewer containers",
        )
    return wanted_g


def _summing_to_one(shares: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    total = sum(shares, Fraction(0))
    return tuple(share / total for share in shares)


def _as_calculated(component: ComponentResult) -> PotWeight:
    part = component.component
    measured = part.cooked_mass_g is not None
    ground = "cooked_weight of the file" if measured else component.cooked_mass_ground
    return PotWeight(part.name, component.cooked_mass_g, ground=ground, measured=measured)


def _filled(
    number: int, owner: str, components: Sequence[PortionedComponent], room: ContainerRoom | None
) -> FilledContainer:
    grams = tuple(component.grams[number] for component in components)
    figures = {
        key: _sum([_part(c.result.totals[key], g / c.pot_g) for c, g in zip(components, grams, strict=True) if g])
        for key in components[0].result.totals
    }
    volume: VolumeBand | None = VolumeBand(0.0, 0.0)
    for component, mass_g in zip(components, grams, strict=True):
        if volume is not None and mass_g:
            volume = None if component.spread is None else volume.plus(component.spread.of(mass_g))
    return FilledContainer(
        number=number + 1,
        eater=owner,
        grams=grams,
        figures=figures,
        volume=volume,
        fit=fit_of(volume, room.brim_ml if room else None),
        fit_frozen=fit_of(volume, room.freezing_ml if room else None),
    )


def _part(total: Total, share: float) -> Total:
    return Total(total.amount * share, total.unknown_lines, total.known_share)


def _sum(parts: Sequence[Total]) -> Total:
    """Totals of several components; the known share is that of the component of which least is known."""
    unknown = sorted({line for part in parts for line in part.unknown_lines})
    return Total(
        sum(part.amount for part in parts), tuple(unknown), min((part.known_share for part in parts), default=1.0)
    )
