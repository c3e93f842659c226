"""The reader of recipes: picks the door by the ending of the file, or by what stands in it."""

import re
from collections.abc import Callable
from pathlib import Path

from mealcalc.recipe.batch_yaml import read_batch_yaml
from mealcalc.recipe.ingredient_lines import content_range, parse_at
from mealcalc.recipe.json_ld import read_html, read_json_ld
from mealcalc.recipe.plain_text import read_plain_text
from mealcalc.recipe.result import ReadResult, RegionChoice
from mealcalc.recipe.source import Source, make_source, read_source
from mealcalc.records import LineKind, RecipeLine
from mealcalc.units import check_region

__all__ = ["ReadResult", "read_batch", "read_lines", "read_text"]

Door = Callable[[Source, RegionChoice], ReadResult]
"""Reads a source of one kind."""

_DOORS: dict[str, Door] = {
    **dict.fromkeys((".yaml", ".yml"), read_batch_yaml),
    **dict.fromkeys((".json", ".jsonld"), read_json_ld),
    **dict.fromkeys((".html", ".htm", ".xhtml"), read_html),
}

# What only a batch file in YAML has: its key `components`, or fields of a component, indented.
_YAML_SIGN = re.compile(
    r"^(?:components|containers|variants|foods)\s*:\s*(?:$|[\[{#])|^\s+ingredients\s*:|^---\s*$", re.MULTILINE
)


def read_batch(path: str | Path, region: str | None = None, *, default_region: str | None = None) -> ReadResult:
    """Read a recipe file, or standard input for '-', into a batch.

    YAML, JSON-LD and HTML are known by their endings; standard input and files of other endings by what stands in them,
    and they are plain text if nothing tells otherwise.

    Parameters
    ----------
    path : str or Path
        The file.
    region : str, optional
        Region that overrules the one stated in the file.
    default_region : str, optional
        Region where neither is given; without it, metric measures with a note ('region-assumed').

    Returns
    -------
    ReadResult
        The batch, or None if there is no line to calculate; the diagnostics of reading the file, each with its place;
        where the region comes from. What concerns one line alone stays in `RecipeLine.diagnostics`.

    Raises
    ------
    InputFileError
        If the file is missing, unreadable, too large or no text.
    UsageError
        If `region` or `default_region` is unknown.
    """
    choice = _choice(region, default_region)
    return _read(read_source(path), choice, Path(str(path)).suffix.lower())


def read_text(
    text: str, name: str = "<text>", region: str | None = None, *, default_region: str | None = None
) -> ReadResult:
    """Read a recipe from a text at hand, as `read_batch` reads a file; `name` stands for the file in diagnostics."""
    return _read(make_source(text, name), _choice(region, default_region), Path(name).suffix.lower())


def read_lines(text: str, file: str, region: str) -> list[RecipeLine]:
    """Read lines of ingredients one by one: exactly one record for each line of `text` that is not blank, in order.

    Blank lines are skipped. A line that is only a comment is kept, as no food. Unlike in a recipe, a line with one
    amount for several foods ('1 tsp each cumin and coriander') stays one.

    Parameters
    ----------
    text : str
        Lines of ingredients.
    file : str
        Name of the file in diagnostics.
    region : str
        Region whose measures and words count.

    Raises
    ------
    UsageError
        If `region` is unknown.
    """
    check_region(region)
    source = make_source(text, file)
    lines = []
    for number, line in enumerate(source.lines, start=1):
        if not line.strip():
            continue
        start, end = content_range(line)
        if start < end:
            lines.append(parse_at(line[start:end], source.span(number, start + 1, end + 1), region, ""))
        else:
            lines.append(RecipeLine(line.strip(), source.span(number), kind=LineKind.NOT_FOOD))
    return lines


def _choice(region: str | None, default_region: str | None) -> RegionChoice:
    for given in (region, default_region):
        if given is not None:
            check_region(given)
    return RegionChoice(region, default_region)


def _read(source: Source, choice: RegionChoice, ending: str) -> ReadResult:
    if not source.text.strip():
        return ReadResult(None, source.diagnostics, "")
    return door_of(source, ending)(source, choice)


def door_of(source: Source, ending: str) -> Door:
    """The door that a recipe goes through: by the ending of its file, else by what stands in it."""
    door = _DOORS.get(ending)
    if door is not None:
        return door
    start = source.text.lstrip()[:1]
    if start == "<":
        return read_html
    if start == "{" or re.match(r"\[\s*[\[{]", source.text.lstrip()):
        return read_json_ld
    return read_batch_yaml if _YAML_SIGN.search(source.text) else read_plain_text
