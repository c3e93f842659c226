"""Recipes as plain text: one ingredient per line, a line ending in ':' starts a component, '#' starts a comment.

title: Lentil pots          # these three only before the first ingredient
region: uk
containers: 4

300 g red lentils
Topping:
2 tbsp olive oil
"""

import re

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.recipe.ingredient_lines import parse_ingredient, said_lines
from mealcalc.recipe.result import ReadResult, RegionChoice, check_containers, containers_assumed, no_ingredients
from mealcalc.recipe.source import Source, title_of
from mealcalc.records import Batch, BatchComponent, RecipeLine

DEFAULT_COMPONENT = "batch"
"""Name of the component of lines that stand under no heading."""

HEAD_KEYS = ("title", "region", "containers")
_HEAD = re.compile(rf"({'|'.join(HEAD_KEYS)})\s*:\s*(.*)", re.IGNORECASE)
_NUMBER = re.compile(r"[-+]?[0-9]{1,12}(\.[0-9]{1,12})?")
_STARTS_WITH_AMOUNT = re.compile(r"[0-9½¼¾⅓⅔⅛]")


class ComponentCollector:
    """Gathers lines under their headings, in order, into components of a batch."""

    def __init__(self, region: str, diagnostics: list[Diagnostic]) -> None:
        self.region = region
        self.diagnostics = diagnostics
        self._name = DEFAULT_COMPONENT
        self._lines: dict[str, list[RecipeLine]] = {}
        self._names: dict[str, str] = {}
        self._places: dict[str, Span] = {}

    def add(self, text: str, span: Span) -> None:
        """Add what one written line says: a heading or ingredients."""
        if text.endswith(":") and text.rstrip(": "):
            self._start(text.rstrip(": "), span)
        else:
            if self._name not in self._lines:
                self._open(self._name, span)
            lines = self._lines[self._name]
            lines += parse_ingredient(text, span, self.region, self._name)

    def components(self) -> tuple[BatchComponent, ...]:
        """The components that have lines; headings without lines are told as warnings."""
        for name, lines in self._lines.items():
            if not lines:
                self.diagnostics.append(
                    Diagnostic(
                        "empty-component",
                        Severity.WARNING,
                        f"no ingredient stands under the heading '{name[:60]}'",
                        self._places[name],
                        "a line that ends in ':' starts a component; remove the colon if it is an ingredient",
                    )
                )
        return tuple(
            BatchComponent(name=name, lines=tuple(lines), span=self._places[name])
            for name, lines in self._lines.items()
            if lines
        )

    def _open(self, name: str, span: Span) -> None:
        self._names[name.casefold()] = name
        self._lines[name] = []
        self._places[name] = span

    def _start(self, name: str, span: Span) -> None:
        same = self._names.get(name.casefold())
        self._name = same or name
        if same is None:
            self._open(name, span)
        else:
            self.diagnostics.append(
                Diagnostic(
                    "duplicate-component",
                    Severity.WARNING,
                    f"the heading '{name[:60]}' stands twice, first on line {self._places[same].line}; "
                    "the lines under both are one component",
                    span,
                    "give each component a name of its own",
                )
            )
        if _STARTS_WITH_AMOUNT.match(name):
            self.diagnostics.append(
                Diagnostic(
                    "heading-with-amount",
                    Severity.WARNING,
                    "this line ends in ':', so it is a heading and its amount is not counted",
                    span,
                    "remove the colon if it is an ingredient",
                )
            )


def read_plain_text(source: Source, choice: RegionChoice) -> ReadResult:
    """Read a recipe written as plain text.

    Parameters
    ----------
    source : Source
        The text of the file.
    choice : RegionChoice
        Regions known from outside the file.

    Returns
    -------
    ReadResult
        The batch, or None if no line holds an ingredient.
    """
    written = list(said_lines(source, 1, len(source.lines)))
    head: dict[str, tuple[str, Span]] = {}
    diagnostics = list(source.diagnostics)
    count = 0
    for text, span in written:
        match = _HEAD.fullmatch(text)
        if match is None:
            break
        count += 1
        _add_to_head(head, match, span, diagnostics)
    stated, region_span = head.get("region", (None, source.start))
    settled = choice.settle(stated, region_span)
    diagnostics += settled.diagnostics
    containers = 1
    if "containers" in head:
        number, span = head["containers"]
        containers, found = check_containers(float(number) if _NUMBER.fullmatch(number) else None, number, span)
        diagnostics += found
    collector = ComponentCollector(settled.region, diagnostics)
    for text, span in written[count:]:
        collector.add(text, span)
    components = collector.components()
    if not components:
        if source.text.strip():
            diagnostics.append(no_ingredients(source.start))
        return ReadResult(None, tuple(diagnostics), settled.ground)
    if "containers" not in head:
        diagnostics.append(containers_assumed(source.start))
    batch = Batch(
        title=head["title"][0] if "title" in head else title_of(source),
        components=components,
        region=settled.region,
        containers=containers,
        file=source.name,
    )
    return ReadResult(batch, tuple(diagnostics), settled.ground)


def _add_to_head(
    head: dict[str, tuple[str, Span]], match: re.Match[str], span: Span, diagnostics: list[Diagnostic]
) -> None:
    key, value = match[1].lower(), match[2]
    if not value:
        message, code, hint = f"'{key}' has no value", "missing-value", "write it after the colon, or remove the line"
    elif key in head:
        message, code, hint = f"'{key}' stands twice; the first counts", "duplicate-key", "remove one of the two"
    else:
        head[key] = (value, span.at(match.start(2), match.end(2)))
        return
    diagnostics.append(Diagnostic(code, Severity.ERROR, message, span, hint))
