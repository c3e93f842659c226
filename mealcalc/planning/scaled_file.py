"""A scaled recipe as a file: the recipe's own file with other amounts, read again before it is handed over."""

import json
from collections.abc import Iterator
from fractions import Fraction
from math import isclose
from pathlib import PurePath

from mealcalc.diagnostics import Severity, Span
from mealcalc.errors import UsageError
from mealcalc.planning.kitchen_rounding import is_whole, rounded, shown
from mealcalc.planning.scaling import scale_line
from mealcalc.recipe.amount_rewriting import SAME, Shown, exactly, rewritten
from mealcalc.recipe.batch_edits import Edit, batch_text, edited, places_in_plain_text, places_in_yaml
from mealcalc.recipe.batch_yaml import read_batch_yaml
from mealcalc.recipe.plain_text import read_plain_text
from mealcalc.recipe.reader import door_of, read_text
from mealcalc.recipe.source import Source
from mealcalc.records import Amount, Batch, RecipeLine
from mealcalc.records.scaling import ScaledBatch
from mealcalc.units import METRIC

_BY_HAND = "scale without --write and change it by hand"


def scaled_file(source: Source, scaled: ScaledBatch, *, exact: bool = False) -> str:
    """The text of the recipe file for another amount.

    Amounts of lines and variants, the number of containers and cooked weights are changed; comments and layout stay. A
    recipe of a web page becomes a batch file in YAML.

    Parameters
    ----------
    source : Source
        The file as read.
    scaled : ScaledBatch
        The batch, scaled.
    exact : bool
        Amounts in decimals as they come out, instead of rounded for the kitchen.

    Raises
    ------
    UsageError
        If an amount cannot be written so that it reads as what it should be; nothing is handed over then.
    """
    batch, factor = scaled.batch, scaled.factor
    changes = dict(_changes(batch, factor, exact=exact))
    head = f"# Scaled by {_factor(factor)}: {'exact amounts' if exact else 'amounts rounded for the kitchen'}."
    door = door_of(source, PurePath(source.name).suffix.lower())
    if door not in (read_batch_yaml, read_plain_text):
        texts = [changes.get(line.span, line.text) for line in batch.lines]
        text = f"{head}\n{batch_text(scaled.exact, texts)}"
        name = "scaled.batch.yaml"
    else:
        places = places_in_yaml(source) if door is read_batch_yaml else places_in_plain_text(source)
        edits = [Edit(span, written) for span, written in changes.items()]
        new_lines = [(1, head)]
        if scaled.containers != batch.containers:
            if places.containers is not None:
                edits.append(Edit(places.containers, str(scaled.containers)))
            else:
                new_lines.append((places.new_line, f"containers: {scaled.containers}"))
        for part in scaled.exact.components:
            if part.name in places.cooked_weights and part.cooked_mass_g is not None:
                mass_g = Fraction(part.cooked_mass_g)
                written = exactly(mass_g, "g") if exact else shown(rounded(mass_g, "g"), "g")
                edits.append(Edit(places.cooked_weights[part.name], f"{written} g"))
        try:
            text = edited(source, edits, new_lines)
        except ValueError as error:
            raise UsageError(f"the scaled file cannot be written: {error}", _BY_HAND) from error
        name = source.name
    _check(text, name, scaled, exact=exact)
    return text


def _changes(batch: Batch, factor: Fraction, *, exact: bool) -> Iterator[tuple[Span, str]]:
    """Place of each written line whose amounts change, and its new words."""
    groups: dict[Span, list[RecipeLine]] = {}
    for line in _all_lines(batch):
        groups.setdefault(line.span, []).append(line)
    for span, lines in groups.items():
        wanted = [scale_line(line, factor) for line in lines]
        if wanted == lines:
            continue
        text = span.text[span.column - 1 : span.end_column - 1]
        if len(lines) == 1 and text != lines[0].text:
            text = lines[0].text
        whole = any(is_whole(line.name) for line in lines)
        new = rewritten(
            text,
            span,
            batch.region or METRIC,
            lines[0].component,
            wanted,
            factor,
            exactly if exact else _rounding(whole),
        )
        if new is None:
            raise UsageError(
                f"line {span.line}: no way was found to write '{lines[0].text[:60]}' times {_factor(factor)}",
                "write the line in a plainer way, such as '400 g brown rice', or scale without --write",
            )
        # Where the file spells the line otherwise (escapes in quotes), the new one stands in quotes of its own.
        written_plainly = len(lines) > 1 or span.text[span.column - 1 : span.end_column - 1] == lines[0].text
        yield span, new if written_plainly else json.dumps(new, ensure_ascii=False)


def _all_lines(batch: Batch) -> Iterator[RecipeLine]:
    yield from batch.lines
    for variant in batch.variants:
        yield from variant.replace.values()
        for lines in variant.add.values():
            yield from lines


def _rounding(whole: bool) -> Shown:
    return lambda value, unit: shown(rounded(value, unit, whole=whole and unit == "piece"), unit)


def _factor(factor: Fraction) -> str:
    written = f"{float(factor):.6g}"
    return written if Fraction(written) == factor else f"{factor} (about {written})"


def _check(text: str, name: str, scaled: ScaledBatch, *, exact: bool) -> None:
    """Read the text again: it must hold the same lines, with the amounts and as many containers as were meant."""
    read = read_text(text, name, scaled.batch.region)
    meant = scaled.exact.lines if exact else tuple(line.shown for line in scaled.lines)
    again = read.batch
    # Words by which a variant names its line may hold the old amount.
    faults = [d.message for d in read.diagnostics if d.severity is Severity.ERROR]
    of_variants = [d.message for d in read.diagnostics if d.code.startswith("variant-")]
    if (
        not of_variants
        and again is not None
        and again.containers == scaled.containers
        and len(again.lines) == len(meant)
    ):
        pairs = zip(again.lines, meant, strict=True)
        if all(a.name == b.name and _same(a.amount, b.amount) and _same(a.measured, b.measured) for a, b in pairs):
            return
    message = (of_variants or faults or ["it would not read as the same recipe"])[0]
    raise UsageError(f"the scaled file cannot be written: {message}", _BY_HAND)


def _same(one: Amount | None, other: Amount | None) -> bool:
    if one is None or other is None:
        return one is other
    return (
        one.unit == other.unit
        and isclose(one.low, other.low, rel_tol=SAME)
        and isclose(one.high, other.high, rel_tol=SAME)
    )
