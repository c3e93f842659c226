"""Ways to make a batch, for comparison: its variants, other fat levels, optional lines left out, foods swapped, other
numbers of containers."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.errors import UsageError
from mealcalc.matching.fat_levels import SAME_LEVEL_PERCENT, series_of
from mealcalc.planning.variants import apply_variant, replaced_lines
from mealcalc.recipe.ingredient_lines import parse_ingredient
from mealcalc.recipe.line_words import LineIndex
from mealcalc.recipe.result import MOST_CONTAINERS
from mealcalc.records import Batch, BatchResult, Contribution, RecipeLine
from mealcalc.records.comparison import Option, OptionKind
from mealcalc.reference.tables import FatLevel, fat_levels
from mealcalc.units import METRIC
from mealcalc.values import amount_of

MOST_OPTIONS = 60
"""More ways to make a batch than anyone reads (our judgement)."""

SWAP_EXAMPLE = "--swap 'turkey mince=500 g chicken mince'"


def options_of(
    result: BatchResult,
    *,
    variants: bool = True,
    fat_levels: bool = False,
    optional: bool = False,
    swaps: Sequence[str] = (),
    containers: Sequence[int] = (),
) -> list[Option]:
    """The batch as written, then the other ways to make it that are asked for.

    Parameters
    ----------
    result : BatchResult
        The batch as written, calculated: the food of a line decides which fat levels are published.
    variants : bool
        The variants that the batch defines.
    fat_levels : bool
        Every published fat level of each line of minced meat.
    optional : bool
        Each optional line left out, and all of them where there are several.
    swaps : sequence of str
        `words of a line=new line`; without an amount the new line takes that of the old one.
    containers : sequence of int
        The same batch in so many containers.

    Raises
    ------
    UsageError
        If what is asked for does not exist: no minced meat, no optional line, no line or several that the words of a
        swap mean, a number of containers that no kitchen fills; or if there are more than `MOST_OPTIONS`.
    """
    batch = result.batch
    found = [Option("as written", OptionKind.AS_WRITTEN, batch)]
    if variants:
        found += [
            Option(v.name, OptionKind.VARIANT, apply_variant(batch, v.name), replaced_lines(batch, v))
            for v in batch.variants
        ]
    if fat_levels:
        found += _fat_levels(result)
    if optional:
        found += _optional(batch)
    found += [_swap(batch, text) for text in swaps]
    found += _containers(batch, containers)
    found = _without_repeats(found)
    if len(found) > MOST_OPTIONS:
        raise UsageError(f"{len(found)} ways to make the batch are too many to compare", "ask for fewer at once")
    return _with_own_names(found)


def _fat_levels(result: BatchResult) -> list[Option]:
    found: list[Option] = []
    minces = [(c, levels) for c in result.contributions for levels in [_published_levels(c)] if levels]
    if not minces:
        known = ", ".join(dict.fromkeys(level.series for level in fat_levels() if _is_raw_mince(level)))
        raise UsageError(
            "no line is minced meat of which several fat levels are published",
            f"fat levels are published of {known}; a food that you chose yourself keeps its own",
        )
    for c, levels in minces:
        food = c.ingredient.matched.food
        counted = c.line.fat_percent
        if counted is None and food is not None:
            counted = amount_of(food.composition, "FAT_G")
        for level in levels:
            if counted is not None and abs(level.fat_percent - counted) <= SAME_LEVEL_PERCENT:
                continue
            new = replace(c.line, fat_percent=level.fat_percent)
            name = f"{c.line.name}, {level.fat_percent:g} % fat"
            found.append(_changed(result.batch, name, OptionKind.FAT_LEVEL, {c.line: (new,)}))
    return found


def _published_levels(c: Contribution) -> tuple[FatLevel, ...]:
    """The series of fat levels of a line of minced meat; none where the cook chose the food."""
    matched = c.ingredient.matched
    if matched.food is None or c.line.settings.food is not None or matched.strategy == "saved decision":
        return ()
    levels = series_of((matched.food.code,), matched.default_food, matched.food_state)
    return levels if levels and "mince" in levels[0].series else ()


def _is_raw_mince(level: FatLevel) -> bool:
    return "mince" in level.series and level.state == "raw"


def _optional(batch: Batch) -> Iterator[Option]:
    lines = [line for line in batch.lines if line.optional]
    if not lines:
        raise UsageError("no line of the batch is optional", "mark one: '200 g Greek yoghurt (optional)'")
    for line in lines:
        yield _changed(batch, f"without {line.name}", OptionKind.OPTIONAL, {line: ()})
    if len(lines) > 1:
        yield _changed(batch, "without all that is optional", OptionKind.OPTIONAL, dict.fromkeys(lines, ()))


def _swap(batch: Batch, text: str) -> Option:
    words, sign, written = (part.strip() for part in text.partition("="))
    if not words or not sign or not written:
        raise UsageError(f"--swap '{text[:60]}' is not 'words of a line=new line'", f"write it like {SWAP_EXAMPLE}")
    meant = LineIndex(batch.lines).meant_by(words)
    if len(meant) != 1:
        what = "no line contains" if not meant else f"{len(meant)} lines contain"
        foods = ", ".join(line.name[:60] for line in (meant or batch.lines)[:30] if line.name)
        hint = "the foods are" if not meant else "use more words of one of them"
        raise UsageError(f"{what} '{words[:60]}'", f"{hint}: {foods}")
    (old,) = meant
    span = Span("--swap", old.span.line, 1, len(written) + 1, written)
    new = tuple(
        _with_amount(line, old) for line in parse_ingredient(written, span, batch.region or METRIC, old.component)
    )
    name = f"{' and '.join(line.name for line in new)} for {old.name}"
    return _changed(batch, name, OptionKind.SWAP, {old: new})


def _with_amount(new: RecipeLine, old: RecipeLine) -> RecipeLine:
    """The new line; one that states no amount takes that of the line in whose place it stands."""
    stated = new.amount is not None or new.measured is not None or new.settings.mass_g is not None
    if stated or "taste" in new.text.casefold():
        return new
    taken = Diagnostic(
        "amount-taken",
        Severity.NOTE,
        f"'{new.name}' has no amount of its own: that of '{old.text[:60]}' counts",
        new.span,
        f"write one: {SWAP_EXAMPLE}",
    )
    return replace(
        new,
        amount=old.amount,
        measured=old.measured,
        container=old.container,
        packs=old.packs,
        size=old.size,
        to_taste=old.to_taste,
        settings=replace(new.settings, mass_g=old.settings.mass_g),
        diagnostics=(*(found for found in new.diagnostics if found.code != "no-amount"), taken),
    )


def _containers(batch: Batch, numbers: Sequence[int]) -> Iterator[Option]:
    for number in dict.fromkeys(numbers):
        if not 1 <= number <= MOST_CONTAINERS:
            raise UsageError(f"{number} containers cannot be filled", f"give numbers from 1 to {MOST_CONTAINERS}")
        if number != batch.containers:
            name = f"{number} container{'' if number == 1 else 's'}"
            yield Option(name, OptionKind.CONTAINERS, replace(batch, containers=number))


def _changed(batch: Batch, name: str, kind: OptionKind, changes: Mapping[RecipeLine, tuple[RecipeLine, ...]]) -> Option:
    """The batch with lines changed: each by what stands in its place, nothing for a line that is left out."""
    components = tuple(
        replace(part, lines=tuple(new for line in part.lines for new in changes.get(line, (line,))))
        for part in batch.components
    )
    measured_as = {new: old for old, lines in changes.items() for new in lines}
    return Option(name, kind, replace(batch, components=components), measured_as)


def _without_repeats(options: Sequence[Option]) -> list[Option]:
    """The options without those that make the same batch as an earlier one."""
    found: list[Option] = []
    for option in options:
        made = option.batch.components, option.batch.containers
        if all(made != (other.batch.components, other.batch.containers) for other in found):
            found.append(option)
    return found


def _with_own_names(options: Sequence[Option]) -> list[Option]:
    """The options, those that would bear the name of an earlier one numbered."""
    seen: dict[str, int] = {}
    found = []
    for option in options:
        seen[option.name] = seen.get(option.name, 0) + 1
        number = seen[option.name]
        found.append(option if number == 1 else replace(option, name=f"{option.name} ({number})"))
    return found
