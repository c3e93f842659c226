"""Variants of a batch file: lines replaced, left out or added, checked against the lines of the recipe."""

from collections.abc import Sequence

import yaml

from mealcalc.diagnostics import Severity
from mealcalc.recipe.line_words import LineIndex
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.recipe.yaml_lines import ingredient_lines
from mealcalc.recipe.yaml_nodes import Field, NodeReader, Text
from mealcalc.records import BatchComponent, RecipeLine, Variant

VARIANT_KEYS = ("name", "replace", "leave_out", "add")

MOST_FOODS_LISTED = 30
"""Foods that a hint lists; longer recipes are cut there."""

_HINTS = {
    **dict.fromkeys(("remove", "without", "omit", "leave out", "leave-out"), "did you mean 'leave_out'?"),
    **dict.fromkeys(("swap", "change", "substitute"), "did you mean 'replace'?"),
    **dict.fromkeys(("with", "extra"), "did you mean 'add'?"),
    "title": "did you mean 'name'?",
}


def read_variants(
    reader: NodeReader, node: yaml.Node, components: Sequence[BatchComponent], region: str
) -> tuple[Variant, ...]:
    """The variants under `variants:`; what is wrong with one is told in the reader's diagnostics."""
    variants: list[Variant] = []
    index = LineIndex(line for component in components for line in component.lines)
    for number, item in enumerate(
        reader.items(node, "'variants'", "a list of variants, each starting with '- name: ...'"), start=1
    ):
        variant = _Changes(reader, components, index, region).read(item, number)
        if variant is None:
            continue
        if any(variant.name.casefold() == other.name.casefold() for other in variants):
            assert variant.span is not None
            reader.error(
                "duplicate-variant",
                f"variant '{variant.name}' stands twice; the first counts",
                variant.span,
                "give each variant a name of its own",
            )
            continue
        variants.append(variant)
    return tuple(variants)


class _Changes:
    """Reads one variant; remembers which lines it changes, since none can be changed twice."""

    def __init__(self, reader: NodeReader, components: Sequence[BatchComponent], index: LineIndex, region: str) -> None:
        self.reader = reader
        self.components = components
        self.region = region
        self.index = index
        self.changed: list[RecipeLine] = []

    def read(self, node: yaml.Node, number: int) -> Variant | None:
        reader = self.reader
        fields = reader.fields(node, VARIANT_KEYS, f"variant {number}", _HINTS)
        if fields is None:
            return None
        name = reader.text(fields["name"][1], "'name'") if "name" in fields else None
        span = name.span if name else reader.span(node)
        if "name" not in fields:
            reader.error(
                "missing-key", f"variant {number} has no 'name'", span, "write '- name: ...' as its first line"
            )
        added: dict[str, tuple[RecipeLine, ...]] = {}
        replaced = self._replaced(fields["replace"], added) if "replace" in fields else {}
        left_out = self._left_out(fields["leave_out"]) if "leave_out" in fields else ()
        if "add" in fields:
            self._add(fields["add"], added)
        if not {"replace", "leave_out", "add"} & set(fields):
            reader.report(
                Severity.WARNING,
                "empty-variant",
                f"variant {number} changes nothing",
                span,
                "give it 'replace', 'leave_out' or 'add'",
            )
        return Variant(name.text if name else f"variant {number}", replaced, left_out, added, span)

    def _replaced(self, field: Field, added: dict[str, tuple[RecipeLine, ...]]) -> dict[str, RecipeLine]:
        replaced: dict[str, RecipeLine] = {}
        for words, node in self._pairs(field[1], "'replace'", '{"words of the line": "new line"}'):
            meant = self._meant(words, once=True)
            component = meant[0].component if meant else ""
            new = ingredient_lines(self.reader, node, f"the line for '{words.text}'", self.region, component)
            if not new:
                self.reader.error(
                    "missing-value",
                    f"nothing stands in the place of '{words.text}'",
                    words.span,
                    "write the new line, or name the old one under 'leave_out'",
                )
            elif meant:
                replaced[words.text] = new[0]
                if new[1:]:  # one line may hold several foods; the further ones join its component
                    added[component] = (*added.get(component, ()), *new[1:])
        return replaced

    def _left_out(self, field: Field) -> tuple[str, ...]:
        return tuple(
            words.text for words in self.reader.texts(field[1], "'leave_out'") if self._meant(words, once=False)
        )

    def _add(self, field: Field, added: dict[str, tuple[RecipeLine, ...]]) -> None:
        by_name = {component.name.casefold(): component.name for component in self.components}
        for words, node in self._pairs(field[1], "'add'", "{component name: lines}"):
            component = by_name.get(words.text.casefold())
            if component is None:
                self.reader.error(
                    "unknown-component",
                    f"the batch has no component '{words.text[:60]}'",
                    words.span,
                    did_you_mean(words.text, by_name.values()),
                )
                continue
            new = ingredient_lines(self.reader, node, f"the lines added to '{component}'", self.region, component)
            if not new:
                self.reader.error(
                    "missing-value", f"nothing is added to '{component}'", words.span, "write the new line"
                )
                continue
            added[component] = (*added.get(component, ()), *new)

    def _pairs(self, node: yaml.Node, what: str, wanted: str) -> list[tuple[Text, yaml.Node]]:
        if not isinstance(node, yaml.MappingNode):
            self.reader.wrong_type(node, what, wanted)
            return []
        pairs: dict[str, tuple[Text, yaml.Node]] = {}
        for key, value in node.value:
            name = self.reader.key(key, pairs, what)
            if name is not None:
                pairs[name] = (Text(name, self.reader.span(key)), value)
        return list(pairs.values())

    def _meant(self, words: Text, once: bool) -> list[RecipeLine]:
        """The lines that `words` name; none, with an error, if that is not clear. `once`: one line is wanted."""
        meant = self.index.meant_by(words.text)
        if not meant:
            self.reader.error(
                "variant-unknown-line",
                f"no line contains '{words.text[:60]}'",
                words.span,
                f"the foods are: {self._foods()}",
            )
            return []
        names = {line.name.casefold() for line in meant}
        if len(meant) > 1 and (once or len(names) > 1):
            shown = " | ".join(f"line {line.span.line}: {line.text[:60]}" for line in meant[:MOST_FOODS_LISTED])
            self.reader.error(
                "variant-several-lines",
                f"'{words.text[:60]}' means {len(meant)} lines",
                words.span,
                f"use more words of the one that is meant: {shown}",
            )
            return []
        if any(line is other for line in meant for other in self.changed):
            self.reader.error(
                "variant-conflict",
                f"the line '{meant[0].text[:60]}' is changed twice in one variant",
                words.span,
                "replace it or leave it out, once",
            )
            return []
        self.changed += meant
        return meant

    def _foods(self) -> str:
        names = list(dict.fromkeys(line.name or line.text for line in self.index.lines))
        shown = ", ".join(name[:60] for name in names[:MOST_FOODS_LISTED])
        return shown if len(names) <= MOST_FOODS_LISTED else f"{shown} and {len(names) - MOST_FOODS_LISTED} more"
