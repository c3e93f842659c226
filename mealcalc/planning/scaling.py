"""Scaling a batch: exact arithmetic behind, amounts that a kitchen can measure in front.

The factor is a fraction, and every exact amount is the amount as read times the factor, rounded once to a float. To
scale again (`Scaling.by`) multiplies factors, so that there and back is the batch as read, to the last digit.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from mealcalc.errors import UsageError
from mealcalc.planning.kitchen_rounding import is_egg, is_whole, rounded, shown
from mealcalc.recipe.amount_rewriting import rewritten
from mealcalc.recipe.ingredient_lines import parse_at
from mealcalc.recipe.line_words import LineIndex
from mealcalc.recipe.quantities import Fault, read_quantity
from mealcalc.records import Amount, Batch, BatchComponent, Contribution, RecipeLine, Variant
from mealcalc.records.scaling import ScaledLine
from mealcalc.units import COUNT_UNITS, MASS_G, METRIC, canonical_unit, measure

LARGEST_FACTOR = 1000
"""A factor beyond it, or below its inverse, is a slip of the keyboard (our judgement)."""

TOLD_CHANGE = 0.1
"""Rounding that changes an amount by more than this share is told on its line."""

MOST_LISTED = 6

_DIGITS = 1_000_000


@dataclass(frozen=True, slots=True)
class Scaling:
    """A batch as read, the factor of every amount, and how many containers it fills.

    reason: why this factor, for the reader.
    """

    batch: Batch
    factor: Fraction = Fraction(1)
    containers: int | None = None
    reason: str = ""

    def by(self, factor: Fraction, containers: int | None = None) -> "Scaling":
        """Scaled again: by the product of both factors, from the batch as read."""
        return replace(self, factor=self.factor * factor, containers=containers)

    @property
    def scaled(self) -> Batch:
        """The batch with exact amounts."""
        return scale_batch(self.batch, self.factor, self.containers)


def scale_batch(batch: Batch, factor: Fraction, containers: int | None = None) -> Batch:
    """The batch with every amount, weighed pot and variant multiplied by `factor`, in `containers` containers.

    The cooked weight of a pot is scaled with it: it is then an estimate, not from the scale any more.
    """
    if factor == 1 and containers in (None, batch.containers):
        return batch
    components = tuple(
        replace(
            part,
            lines=tuple(scale_line(line, factor) for line in part.lines),
            cooked_mass_g=_times(part.cooked_mass_g, factor),
        )
        for part in batch.components
    )
    variants = tuple(_scaled_variant(variant, factor) for variant in batch.variants)
    return replace(batch, components=components, variants=variants, containers=containers or batch.containers)


def scale_line(line: RecipeLine, factor: Fraction) -> RecipeLine:
    """The line with its amounts, its number of packs and its settled grams multiplied; its text stays as written."""
    return replace(
        line,
        amount=_scaled_amount(line.amount, factor),
        measured=_scaled_amount(line.measured, factor),
        packs=_times(line.packs, factor),
        settings=replace(line.settings, mass_g=_times(line.settings.mass_g, factor)),
    )


def by_containers(batch: Batch, containers: int) -> Scaling:
    """To another number of containers of the same size."""
    return Scaling(
        batch,
        Fraction(containers, batch.containers),
        containers,
        f"{containers} containers instead of {batch.containers}",
    )


def by_factor(batch: Batch, text: str, *, keep_containers: bool = False) -> Scaling:
    """By a factor written as 1.5, 3/2 or 150%; UsageError if it is none."""
    written = text.strip().replace(",", ".")
    try:
        factor = Fraction(written.removesuffix("%").strip()) / (100 if written.endswith("%") else 1)
    except (ValueError, ZeroDivisionError):
        raise UsageError(f"--factor '{text[:40]}' is no number", "write it like 1.5, 3/2 or 150%") from None
    return _with_containers(
        batch, _checked(factor, f"--factor '{text[:40]}'"), f"factor {text.strip()}", keep_containers
    )


def by_line(
    batch: Batch, text: str, contributions: Sequence[Contribution], *, keep_containers: bool = False
) -> Scaling:
    """To what there is of one line: `turkey mince=1.3 kg`.

    Parameters
    ----------
    batch : Batch
        The batch as read.
    text : str
        Words of the line, and the amount that is wanted of it: in its own kind of unit (weight, volume, count), or as a
        weight where the line counts or measures, compared with its edible grams.
    contributions : sequence of Contribution
        The calculated lines, for their edible grams.
    keep_containers : bool
        Larger containers instead of more of them.

    Raises
    ------
    UsageError
        If no line or several are meant, the line has no amount, or the amounts cannot be compared.
    """
    words, equals, value = (part.strip() for part in text.rpartition("="))
    if not equals or not words:
        raise UsageError(f"--line '{text[:80]}' is not LINE=AMOUNT", "write it like --line 'turkey mince=1.3 kg'")
    line = _line_meant(batch, words)
    wanted = read_quantity(value, "1.3 kg")
    if isinstance(wanted, Fault) or wanted.number <= 0:
        raise UsageError(
            f"--line '{text[:80]}': '{value[:40]}' is no amount above 0", "write it like 1.3 kg, or 9 for pieces"
        )
    masses = {c.line: c.ingredient.mass_g for c in contributions}
    factor = _ratio(line, _exact(wanted.number), wanted.unit, batch.region or METRIC, masses.get(line))
    reason = f"{value} of '{line.name or line.text}' (line {line.span.line}) instead of {line.text}"
    return _with_containers(batch, _checked(factor, f"--line '{text[:80]}'"), reason, keep_containers)


def written_for_the_kitchen(line: RecipeLine, region: str, factor: Fraction) -> ScaledLine:
    """A line as it is written for the kitchen, with what its rounding changes.

    Parameters
    ----------
    line : RecipeLine
        As read.
    region : str
        Region whose measures and words count.
    factor : Fraction
        What its amounts are multiplied by.
    """
    exact = scale_line(line, factor)
    if factor == 1 or (line.amount is None and line.measured is None and line.settings.mass_g is None):
        return ScaledLine(line, exact, line.text, line)
    whole = is_whole(line.name)
    text = rewritten(
        line.text,
        line.span,
        region,
        line.component,
        [exact],
        factor,
        lambda value, unit: shown(rounded(value, unit, whole=whole and unit == "piece"), unit),
    )
    if text is None:
        note = "its amount could not be written: change it by hand"
        return ScaledLine(line, exact, line.text, line, (note,), written=False)
    read = parse_at(text, replace(line.span, end_column=line.span.column + len(text)), region, line.component)
    return ScaledLine(line, exact, text, replace(read, span=line.span), tuple(_notes(exact, read)))


def _notes(exact: RecipeLine, read: RecipeLine) -> list[str]:
    notes = []
    amount, rounded_amount = exact.amount, read.amount
    if amount is not None and rounded_amount is not None and amount.middle > 0:
        change = rounded_amount.middle / amount.middle - 1.0
        if abs(change) > TOLD_CHANGE:
            more = "more" if change > 0 else "less"
            notes.append(f"exactly {amount.middle:.3g}: {abs(change):.0%} {more}")
        elif is_egg(exact.name) and abs(change) > 1e-9:
            notes.append(f"exactly {amount.middle:.3g}")
        if is_egg(exact.name) and notes:
            notes[-1] += "; beat one and weigh a part of it if it matters"
    if exact.packs is not None and read.packs is not None and read.packs != int(read.packs):
        notes.append("a part of a pack stays over")
    return notes


def _with_containers(batch: Batch, factor: Fraction, reason: str, keep_containers: bool) -> Scaling:
    """As many containers as keep the size of a portion nearly; the same number where that is wanted."""
    count = batch.containers if keep_containers else max(1, int(factor * batch.containers + Fraction(1, 2)))
    return Scaling(batch, factor, count, reason)


def _line_meant(batch: Batch, words: str) -> RecipeLine:
    found = LineIndex(batch.lines).meant_by(words)
    if len(found) == 1:
        return found[0]
    if not found:
        names = list(dict.fromkeys(line.name for line in batch.lines if line.name))
        more = f" and {len(names) - MOST_LISTED} more" if len(names) > MOST_LISTED else ""
        listed = ", ".join(name[:40] for name in names[:MOST_LISTED])
        raise UsageError(f"no line contains '{words[:60]}'", f"the foods are: {listed}{more}")
    listed = " | ".join(f"line {line.span.line}: {line.text[:60]}" for line in found[:MOST_LISTED])
    raise UsageError(f"'{words[:60]}' means {len(found)} lines", f"use more words of the one that is meant: {listed}")


def _ratio(line: RecipeLine, number: Fraction, unit: str, region: str, mass_g: float | None) -> Fraction:
    """The amount wanted per the amount written, both of one kind."""
    name = line.name or line.text
    if line.amount is None or not line.amount.middle:
        raise UsageError(f"'{name[:60]}' has no amount to scale to", "choose a line with an amount, or use --factor")
    wanted = canonical_unit(unit) or unit.casefold().rstrip("s")
    for amount in filter(None, (line.amount, line.measured)):
        there = _exact(amount.middle)
        if amount.unit in COUNT_UNITS and wanted in ("", amount.unit, "piece" if amount.unit == "piece" else ""):
            return number / there
        if amount.unit in MASS_G and wanted in MASS_G:
            return number * _exact(MASS_G[wanted]) / (there * _exact(MASS_G[amount.unit]))
        one, other = _millilitres(wanted, region), _millilitres(amount.unit, region)
        if one is not None and other is not None:
            return number * _exact(one) / (there * _exact(other))
    if wanted in MASS_G and mass_g:
        return number * _exact(MASS_G[wanted]) / _exact(mass_g)
    raise UsageError(
        f"'{name[:60]}' is written in {line.amount.unit.replace('_', ' ')}, not in {unit or 'bare numbers'}",
        f"write an amount as the line does: {line.text[:80]}",
    )


def _millilitres(unit: str, region: str) -> float | None:
    if unit in COUNT_UNITS or not unit:
        return None
    try:
        return measure(unit, region).ml
    except ValueError:
        return None


def _checked(factor: Fraction, what: str) -> Fraction:
    if not Fraction(1, LARGEST_FACTOR) <= factor <= LARGEST_FACTOR:
        raise UsageError(
            f"{what} would multiply the batch by {float(factor):.4g}",
            f"amounts can be multiplied by 1/{LARGEST_FACTOR} to {LARGEST_FACTOR}",
        )
    return factor


def _exact(number: float) -> Fraction:
    """The fraction that a written number means: 0.1 is a tenth, 0.333333333 a third."""
    return Fraction(number).limit_denominator(_DIGITS)


def _times(value: float | None, factor: Fraction) -> float | None:
    return None if value is None else float(Fraction(value) * factor)


def _scaled_amount(amount: Amount | None, factor: Fraction) -> Amount | None:
    if amount is None:
        return None
    return replace(amount, low=float(Fraction(amount.low) * factor), high=float(Fraction(amount.high) * factor))


def _scaled_variant(variant: Variant, factor: Fraction) -> Variant:
    replaced: Mapping[str, RecipeLine] = {words: scale_line(line, factor) for words, line in variant.replace.items()}
    added = {name: tuple(scale_line(line, factor) for line in lines) for name, lines in variant.add.items()}
    return replace(variant, replace=replaced, add=added)


def with_lines(batch: Batch, lines: Mapping[RecipeLine, RecipeLine]) -> Batch:
    """The batch with lines put in the place of others."""

    def changed(part: BatchComponent) -> BatchComponent:
        return replace(part, lines=tuple(lines.get(line, line) for line in part.lines))

    return replace(batch, components=tuple(changed(part) for part in batch.components))
