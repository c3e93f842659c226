"""Ingredient lines out of YAML, each with its own line and column: from a block, a list of texts or a single text."""

import yaml

from mealcalc.diagnostics import Severity, Span
from mealcalc.recipe.ingredient_lines import content_range, parse_ingredient, said_lines
from mealcalc.recipe.source import one_line
from mealcalc.recipe.yaml_nodes import NodeReader, is_nothing
from mealcalc.records import RecipeLine

WANTED = "lines of ingredients ('ingredients: |' and one per line)"


def ingredient_lines(reader: NodeReader, node: yaml.Node, what: str, region: str, component: str) -> list[RecipeLine]:
    """The recipe lines that `node` holds, for `component` of the batch; `what` names the field in diagnostics."""
    lines: list[RecipeLine] = []
    for text, span in written_lines(reader, node, what):
        lines += parse_ingredient(text, span, region, component)
    return lines


def written_lines(reader: NodeReader, node: yaml.Node, what: str) -> list[tuple[str, Span]]:
    """Text and place of each line that says something; comments are left out."""
    if isinstance(node, yaml.SequenceNode):
        found: list[tuple[str, Span]] = []
        for item in node.value:
            if isinstance(item, yaml.MappingNode):
                reader.error(
                    "wrong-type",
                    f"a line of {what} is read as a mapping because it contains ': '",
                    reader.span(item),
                    "put the line in quotes",
                )
            elif not isinstance(item, yaml.ScalarNode):
                reader.wrong_type(item, f"a line of {what}", "a text")
            else:
                found += _of_scalar(reader, item, what)
        return found
    if not isinstance(node, yaml.ScalarNode):
        reader.wrong_type(node, what, WANTED)
        return []
    return _of_scalar(reader, node, what)


def _of_scalar(reader: NodeReader, node: yaml.ScalarNode, what: str) -> list[tuple[str, Span]]:
    if is_nothing(node):
        return []
    first, last = node.start_mark.line + 1, node.end_mark.line + 1
    if node.style in ("|", ">"):
        # The mark at the end of a block stands at the start of the line after it, except at the end of the file.
        if node.end_mark.column == 0:
            last -= 1
        if node.style == ">":
            _joined(reader, node, what, "a folded block ('>')")
        return list(said_lines(reader.source, first + 1, last))
    if node.style is None and first == last:
        return _within(reader, first, node.start_mark.column, node.end_mark.column)
    if node.style is None:
        _joined(reader, node, what, "a text over several lines")
        return [*_within(reader, first, node.start_mark.column, None), *said_lines(reader.source, first + 1, last)]
    found = _in_quotes(reader, node, first, last)
    if len(found) < sum(1 for line in reader.source.lines[first - 1 : last] if line.strip(" \t'\"")):
        reader.report(
            Severity.WARNING,
            "joined-lines",
            f"YAML joins the lines of a text in quotes; in {what} it is read as {len(found)}",
            reader.span(node),
            f"write {WANTED}",
        )
    return found


def _joined(reader: NodeReader, node: yaml.Node, what: str, kind: str) -> None:
    reader.report(
        Severity.NOTE,
        "joined-lines",
        f"YAML joins the lines of {kind}; in {what} each line is read as a line of its own",
        reader.span(node),
        f"write {WANTED}",
    )


def _in_quotes(reader: NodeReader, node: yaml.ScalarNode, first: int, last: int) -> list[tuple[str, Span]]:
    """The lines of a text in quotes, which may spell line ends (\\n) and characters; looked up in the file in order."""
    found = []
    line, column = first, node.start_mark.column
    for part in node.value.split("\n"):
        text = one_line(part[slice(*content_range(part))])
        if not text:
            continue
        place = reader.span(node)
        for number in range(line, last + 1):
            inside = reader.source.lines[number - 1].find(text, column if number == line else 0)
            if inside >= 0:
                place = reader.source.span(number, inside + 1, inside + len(text) + 1)
                line, column = number, inside + len(text)
                break
        found.append((text, place))
    return found


def _within(reader: NodeReader, line: int, start: int, end: int | None) -> list[tuple[str, Span]]:
    text = reader.source.lines[line - 1][start:end]
    first, last = content_range(text)
    if first >= last:
        return []
    return [(text[first:last], reader.source.span(line, start + first + 1, start + last + 1))]
