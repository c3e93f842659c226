"""YAML as nodes with their places, read safely, and the questions a reader of fields asks of them.

Composing gives nodes with marks and never builds an object, so no tag can run anything. Nesting and aliases are
bounded: a batch file needs six levels and no alias at all.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

import yaml

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.recipe.source import Source, one_line
from mealcalc.recipe.suggestions import did_you_mean

DEEPEST_NESTING = 20
MOST_ALIASES = 20

Field = tuple[yaml.ScalarNode, yaml.Node]
"""A key of a mapping and its value."""

_PREFIX = "tag:yaml.org,2002:"
_PLAIN_TAGS = frozenset(f"{_PREFIX}{tag}" for tag in ("str", "int", "float", "bool", "null", "timestamp", "seq", "map"))
_NULL = f"{_PREFIX}null"

_HINTS = (
    ("character '\\t'", "indent with blanks, not with tabs"),
    ("mapping values are not allowed here", "put a text that contains ': ' in quotes"),
    (
        "could not find expected ':'",
        "check that the line above is a key with a colon, and how far the lines are indented",
    ),
    ("that cannot start any token", "put the text in quotes"),
    ("expected <block end>", "lines of one list or mapping must be indented alike"),
    ("found undefined alias", "a text that starts with * must be in quotes"),
    ("found unexpected end of stream", "a quotation mark or a bracket is not closed"),
    ("expected a single document", "one file holds one batch: remove the line ---, or split the file"),
)


class _Loader(yaml.SafeLoader):
    """Composes nodes within bounds and notes tags that plain YAML does not have."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.depth = 0
        self.aliases = 0
        self.tagged: list[tuple[str, int, int]] = []

    def compose_node(self, parent: yaml.Node | None, index: int) -> yaml.Node | None:
        event = self.peek_event()  # type: ignore[no-untyped-call]
        line, column = event.start_mark.line, event.start_mark.column
        if isinstance(event, yaml.AliasEvent):
            self.aliases += 1
            if self.aliases > MOST_ALIASES:
                raise _LimitError(f"more than {MOST_ALIASES} aliases (*name) stand in the file", line, column)
        elif self.depth >= DEEPEST_NESTING:
            raise _LimitError(f"the file is nested more than {DEEPEST_NESTING} levels deep", line, column)
        tag = getattr(event, "tag", None)
        if tag is not None and tag != "!" and tag not in _PLAIN_TAGS:
            self.tagged.append((tag, line, column))
        self.depth += 1
        node = super().compose_node(parent, index)
        self.depth -= 1
        return node


class _LimitError(Exception):
    """A bound against hostile files was passed, at a line and column (from 0)."""

    def __init__(self, problem: str, line: int, column: int) -> None:
        super().__init__(problem)
        self.problem, self.line, self.column = problem, line, column


@dataclass(frozen=True, slots=True)
class Text:
    """A single value of a field as text, with its place."""

    text: str
    span: Span


class NodeReader:
    """Reads the nodes of one source and collects what is wrong with them in `diagnostics`."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self.diagnostics: list[Diagnostic] = []

    def report(self, severity: Severity, code: str, message: str, span: Span, hint: str = "") -> None:
        """Add a diagnostic."""
        self.diagnostics.append(Diagnostic(code, severity, message, span, hint))

    def error(self, code: str, message: str, span: Span, hint: str = "") -> None:
        """Add an error."""
        self.report(Severity.ERROR, code, message, span, hint)

    def compose(self) -> yaml.Node | None:
        """The root node; None, with one error that has a place, if the source is no YAML or passes a bound."""
        loader = _Loader(self.source.text)
        try:
            node: yaml.Node | None = loader.get_single_node()
        except _LimitError as error:
            place = self.source.span(error.line + 1, error.column + 1, error.column + 2)
            self.error("yaml-limit", error.problem, place, "a batch file needs no such thing: write it out plainly")
            return None
        except yaml.MarkedYAMLError as error:
            self._syntax_error(error)
            return None
        except (yaml.YAMLError, ValueError) as error:
            # PyYAML lets a ValueError through for escapes beyond the last Unicode character and for endless numbers.
            place = self.source.span(loader.line + 1, loader.column + 1, loader.column + 2)
            self.error("yaml-syntax", f"this is no YAML: {' '.join(str(error).split())[:200]}", place, "mend this line")
            return None
        finally:
            loader.dispose()
        for tag, line, column in loader.tagged:
            shown = tag.replace(_PREFIX, "!!")
            place = self.source.span(line + 1, column + 1)
            self.error("yaml-tag", f"the tag '{shown[:60]}' has no meaning in a batch file", place, "remove the tag")
        return node

    def span(self, node: yaml.Node) -> Span:
        """The place of a node: all of it, or its first line."""
        start, end = node.start_mark, node.end_mark
        return self.source.span(start.line + 1, start.column + 1, end.column + 1 if end.line == start.line else None)

    def fields(
        self, node: yaml.Node, known: Collection[str], what: str, hints: Mapping[str, str] | None = None
    ) -> dict[str, Field] | None:
        """The fields of a mapping by name; None, with an error, if `node` is no mapping.

        Unknown and repeated keys are errors; of a repeated key the first counts. `what` names the mapping; `hints` tell
        what to do about certain unknown keys.
        """
        if not isinstance(node, yaml.MappingNode):
            self.wrong_type(node, what, "a mapping (key: value)")
            return None
        fields: dict[str, Field] = {}
        for key, value in node.value:
            name = self.key(key, fields, what)
            if name is None:
                continue
            if name not in known:
                hint = (hints or {}).get(name.casefold()) or did_you_mean(name, known)
                self.error("unknown-key", f"unknown key '{name[:60]}' in {what}", self.span(key), hint)
            else:
                fields[name] = (key, value)
        return fields

    def key(self, key: yaml.Node, seen: Collection[str], what: str) -> str | None:
        """The text of a key; None, with an error, if it is no text or among those seen already."""
        if not isinstance(key, yaml.ScalarNode):
            self.wrong_type(key, f"a key of {what}", "a word")
            return None
        name = one_line(key.value)
        if name in seen:
            self.error(
                "duplicate-key",
                f"'{name[:60]}' stands twice in {what}; the first counts",
                self.span(key),
                "remove one of the two",
            )
            return None
        return name

    def text(self, node: yaml.Node, what: str, wanted: str = "a text") -> Text | None:
        """The single value of `node` on one line; None, with an error, if it is a list, a mapping or nothing."""
        if not isinstance(node, yaml.ScalarNode):
            self.wrong_type(node, what, wanted)
            return None
        text = one_line(node.value)
        if not text or (node.tag == _NULL and node.style is None):
            self.error(
                "missing-value", f"{what} has no value", self._line_of(node), f"write {wanted}, or remove the key"
            )
            return None
        return Text(text, self.span(node))

    def items(self, node: yaml.Node, what: str, wanted: str) -> list[yaml.Node]:
        """The items of a list; none, with an error, if `node` is no list. Nothing at all is an empty list."""
        if is_nothing(node):
            return []
        if not isinstance(node, yaml.SequenceNode):
            self.wrong_type(node, what, wanted)
            return []
        return list(node.value)

    def texts(self, node: yaml.Node, what: str) -> list[Text]:
        """The texts of a list; a single text counts as a list of one."""
        nodes: Iterable[yaml.Node] = (
            [node] if isinstance(node, yaml.ScalarNode) else self.items(node, what, "a list of texts")
        )
        found = (self.text(item, f"an entry of {what}" if item is not node else what) for item in nodes)
        return [text for text in found if text is not None]

    def choice(self, text: Text, what: str, known: Collection[str]) -> str | None:
        """The word of `text` if it is among `known`, whatever its case; None, with an error, if not."""
        word = text.text.casefold()
        if word in known:
            return word
        self.error("unknown-word", f"{what} cannot be '{text.text[:60]}'", text.span, did_you_mean(word, known))
        return None

    def wrong_type(self, node: yaml.Node, what: str, wanted: str) -> None:
        """Say that `node` is not what is wanted."""
        if is_nothing(node):
            self.error("missing-value", f"{what} has no value", self._line_of(node), f"write {wanted}")
            return
        kind = "a single value"
        if isinstance(node, yaml.CollectionNode):
            kind = "a list" if isinstance(node, yaml.SequenceNode) else "a mapping (key: value)"
        self.error("wrong-type", f"{what} must be {wanted}, not {kind}", self.span(node), f"write {wanted} here")

    def _line_of(self, node: yaml.Node) -> Span:
        # An empty value has no width and may be marked on a later line; show the end of what stands before it.
        place = self.span(node)
        line = place.line
        while line > 1 and not self.source.lines[line - 1][: place.column - 1 if line == place.line else None].strip():
            line -= 1
        if line == place.line:
            return place
        return self.source.span(line, len(self.source.lines[line - 1].rstrip()) + 1)

    def _syntax_error(self, error: yaml.MarkedYAMLError) -> None:
        mark = error.problem_mark or error.context_mark
        problem = " ".join(str(error.problem or error.context or "not readable").split())[:200]
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        place = self.source.span(line, column, column + 1)
        hint = next((hint for part, hint in _HINTS if part in str(error.context) or part in problem), "mend this line")
        if "expected a single document" in str(error.context):
            problem = "a second document starts here"
        self.error("yaml-syntax", f"this is no YAML: {problem}", place, hint)


def is_nothing(node: yaml.Node) -> bool:
    """Whether the value is left empty (or null)."""
    return isinstance(node, yaml.ScalarNode) and node.style is None and node.tag == _NULL
