"""What comes nearest to a cook's targets: portions out of the pots, or amounts of lines before they are bought."""

from collections.abc import Sequence
from contextlib import nullcontext
from dataclasses import replace
from decimal import Decimal

from mealcalc.errors import UsageError
from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.matching.decisions import Decisions
from mealcalc.planning.aimed_amounts import aim_amounts
from mealcalc.planning.aimed_portions import aim_portions
from mealcalc.recipe.targets import quantity_key, target_of_option
from mealcalc.records import BatchResult, Eater
from mealcalc.records.aimed import Aimed
from mealcalc.records.targets import Target, Targets


def aim(
    result: BatchResult,
    wanted: Sequence[str] = (),
    database: FoodDatabase | None = None,
    decisions: Decisions | None = None,
    *,
    most: str = "",
    least: str = "",
    keep_ratio: Sequence[Sequence[str]] = (),
    change: Sequence[str] = (),
    whole_packs: Sequence[str] = (),
    eaters: Sequence[Eater] = (),
    costs: Sequence[Decimal | None] | None = None,
    currency: str = "",
) -> Aimed:
    """What comes nearest to the targets of a batch and to those given here.

    Parameters
    ----------
    result : BatchResult
        The batch, calculated; `result.batch.targets` are those of its file.
    wanted : sequence of str
        Targets such as `protein at least 40 g`, or `runner: energy at most 900 kcal` for one eater; one that bounds the
        same quantity alike takes the place of the file's.
    database : FoodDatabase, optional
        An open food database, for amounts; by default the user's own.
    decisions : Decisions, optional
        The cook's saved choices, for amounts.
    most, least : str
        Name of a quantity that is to be as much or as little as the limits allow.
    keep_ratio : sequence
        Groups of names of components (or of what may change) whose ratio stays.
    change : sequence of str
        Words of lines, or names of components, whose amounts may change; without any, portions are sought.
    whole_packs : sequence of str
        `words of a line=500 g`, or only the words where the line names its pack.
    eaters : sequence of Eater
        Whose containers they are, in place of those of the batch.
    costs : sequence, optional
        Cost of each line of the batch in order, None where unknown.
    currency : str
        Of the costs.

    Raises
    ------
    UsageError
        If a target cannot be understood or nothing is wanted; see `aim_portions` and `aim_amounts`.
    """
    targets = with_options(
        result.batch.targets or Targets(),
        wanted,
        most=most,
        least=least,
        keep_ratio=keep_ratio,
        change=change,
        whole_packs=whole_packs,
    )
    eaters = tuple(eaters) or result.batch.eaters
    if not targets.change:
        if targets.whole_packs:
            raise UsageError("whole packs concern amounts of lines, and none may change", "name lines with --change")
        return aim_portions(result, targets, eaters, costs, currency)
    with nullcontext(database) if database is not None else open_database() as opened:
        return aim_amounts(result, targets, opened, decisions, eaters, costs, currency)


def with_options(
    targets: Targets,
    wanted: Sequence[str] = (),
    *,
    most: str = "",
    least: str = "",
    keep_ratio: Sequence[Sequence[str]] = (),
    change: Sequence[str] = (),
    whole_packs: Sequence[str] = (),
) -> Targets:
    """Targets of a file with those of options, which take the place of what they say otherwise; see `aim`.

    Raises
    ------
    UsageError
        If an option cannot be understood.
    """
    every = list(targets.every)
    of_eater = {eater: list(own) for eater, own in targets.of_eater.items()}
    for text in wanted:
        eater, found = target_of_option(text)
        own = of_eater.setdefault(eater, []) if eater else every
        for target in found:
            own[:] = [other for other in own if (other.key, other.bound) != (target.key, target.bound)]
            own.append(target)
    packs = dict(targets.whole_packs)
    for text in whole_packs:
        words, sign, pack = (part.strip() for part in text.partition("="))
        if not words or (sign and not pack):
            raise UsageError(f"--whole-packs '{text[:60]}' names no line", "write it like 'turkey mince=500 g'")
        packs[words] = pack or "as written"
    first = most or least
    return replace(
        targets,
        every=tuple(every),
        of_eater={eater: _tuple(own) for eater, own in of_eater.items()},
        keep_ratio=tuple(map(tuple, keep_ratio)) or targets.keep_ratio,
        most=_key(most, "--most") if first else targets.most,
        least=_key(least, "--least") if first else targets.least,
        change=tuple(change) or targets.change,
        whole_packs=packs,
    )


def _tuple(targets: Sequence[Target]) -> tuple[Target, ...]:
    return tuple(targets)


def _key(name: str, option: str) -> str:
    key = quantity_key(name) if name else ""
    if key is None:
        raise UsageError(
            f"{option} '{name[:60]}' is nothing that can be limited", "write energy, protein, fat, cost, ..."
        )
    return key
