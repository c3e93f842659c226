"""Where a recipe file says what scaling changes, and the file with other words in those places.

Everything else of the file stays as it was written: comments, order, layout.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import yaml

from mealcalc.diagnostics import Span
from mealcalc.recipe.ingredient_lines import said_lines
from mealcalc.recipe.source import Source
from mealcalc.recipe.yaml_nodes import NodeReader
from mealcalc.records import Batch

_HEAD = re.compile(r"(title|region|containers)\s*:\s*(.*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Edit:
    """Other words in the place of those at `span`."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class EditablePlaces:
    """Places of what belongs to the whole batch. None where the file does not say it.

    containers: the number. cooked_weights: name of the component -> place. new_line: number of the line before which
    a line 'containers: 6' can be put.
    """

    containers: Span | None
    cooked_weights: dict[str, Span]
    new_line: int


def places_in_yaml(source: Source) -> EditablePlaces:
    """Places in a batch file in YAML that was read without errors."""
    reader = NodeReader(source)
    root = reader.compose()
    containers: Span | None = None
    weights: dict[str, Span] = {}
    new_line = 1
    for key, value in root.value if isinstance(root, yaml.MappingNode) else ():
        if key.value == "containers":
            count = _value_of(value, "count") if isinstance(value, yaml.MappingNode) else value
            containers = None if count is None else reader.span(count)
        elif key.value == "components" and isinstance(value, yaml.SequenceNode):
            new_line = key.start_mark.line + 1
            for component in value.value:
                name, weight = _value_of(component, "name"), _value_of(component, "cooked_weight")
                if name is not None and weight is not None:
                    weights[" ".join(str(name.value).split())] = reader.span(weight)
    return EditablePlaces(containers, weights, new_line)


def places_in_plain_text(source: Source) -> EditablePlaces:
    """Places in a recipe as plain text."""
    for text, span in said_lines(source, 1, len(source.lines)):
        match = _HEAD.fullmatch(text)
        if match is None:
            break
        if match[1].lower() == "containers":
            return EditablePlaces(span.at(match.start(2), match.end(2)), {}, span.line)
    return EditablePlaces(None, {}, 1)


def edited(source: Source, edits: Iterable[Edit], new_lines: Sequence[tuple[int, str]] = ()) -> str:
    """The text with all edits made; `new_lines` are put before the lines of those numbers.

    Raises
    ------
    ValueError
        If two edits overlap.
    """
    lines = list(source.lines)
    before: tuple[int, int] | None = None
    for edit in sorted(edits, key=lambda e: (e.span.line, e.span.column), reverse=True):
        span = edit.span
        if before is not None and before[0] == span.line and span.end_column > before[1]:
            raise ValueError(f"two changes of line {span.line} overlap")
        line = lines[span.line - 1]
        lines[span.line - 1] = f"{line[: span.column - 1]}{edit.text}{line[span.end_column - 1 :]}"
        before = span.line, span.column
    for number, text in sorted(new_lines, reverse=True):
        lines.insert(number - 1, text)
    return "\n".join(lines)


def batch_text(batch: Batch, texts: Sequence[str]) -> str:
    """A batch file in YAML of a recipe that was read from a web page; `texts` are its lines, in order."""
    rest = iter(texts)
    components = []
    for part in batch.components:
        entry: dict[str, object] = {"name": part.name}
        if part.cooking:
            entry["cooking"] = part.cooking
        entry["ingredients"] = [next(rest) for _ in part.lines]
        components.append(entry)
    content: dict[str, object] = {"title": batch.title}
    if batch.region:
        content["region"] = batch.region
    content |= {"containers": batch.containers, "components": components}
    return yaml.safe_dump(content, allow_unicode=True, sort_keys=False, width=1000)


def _value_of(node: yaml.Node, key: str) -> yaml.Node | None:
    pairs = node.value if isinstance(node, yaml.MappingNode) else ()
    return next((value for name, value in pairs if isinstance(name, yaml.ScalarNode) and name.value == key), None)
