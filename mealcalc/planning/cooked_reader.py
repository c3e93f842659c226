"""Reads the journal of cookings: every entry checked, and what is wrong told with file and line."""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import yaml

from mealcalc.errors import ConfigurationError
from mealcalc.recipe.eaters import containers_in
from mealcalc.recipe.quantities import Fault, read_mass_g
from mealcalc.recipe.source import make_source, one_line
from mealcalc.recipe.yaml_nodes import Field, NodeReader
from mealcalc.records.portions import CookedBatch, CookedComponent, CookedContainer, Step, Temperature

ENTRY_KEYS = ("date", "recipe", "variant", "containers", "components", "filled", "temperatures")
COMPONENT_KEYS = ("name", "gross", "tare", "weight", "estimated", "residue", "leftover")
FILLED_KEYS = ("containers", "eater", "grams")
TEMPERATURE_KEYS = ("step", "component", "temperature", "after")

COLDEST_C, HOTTEST_C = -40.0, 250.0
"""Temperatures beyond which a thermometer in food is misread (our judgement)."""

LONGEST_MIN = 10_080.0
"""A week: a step of cooking, cooling or reheating takes no longer (our judgement)."""

TEMPERATURE_EXAMPLE = "76 C"
DURATION_EXAMPLE = "1 h 50 min"

_TEMPERATURE = re.compile(r"(?P<number>[-−]?[0-9]{1,4}(?:[.,][0-9]{1,3})?)\s*°?\s*(?P<unit>[CFcf])")
_DURATION = re.compile(
    r"(?:(?P<hours>[0-9]{1,4}(?:\.[0-9]{1,6})?)\s*h(?:ours?|rs?)?)?\s*"
    r"(?:(?P<minutes>[0-9]{1,6}(?:\.[0-9]{1,6})?)\s*min(?:utes?)?)?",
    re.IGNORECASE,
)


def read_entries(path: Path, text: str, list_key: str) -> list[CookedBatch]:
    """The entries of a journal in their order.

    Raises
    ------
    ConfigurationError
        For the first thing that is wrong, with file and line.
    """
    reader = NodeReader(make_source(text, str(path)))
    root = reader.compose()
    entries: list[CookedBatch] = []
    if root is not None:
        fields = reader.fields(root, (list_key,), "the journal")
        if fields is not None and list_key in fields:
            items = reader.items(fields[list_key][1], f"'{list_key}'", "a list of entries, each with a date")
            found = (_Entry(reader).read(item) for item in items)
            entries = [entry for entry in found if entry is not None]
    _refuse_faults(reader)
    return entries


def celsius_in(text: str) -> float | None:
    """The temperature written in `text` (76 C, 76 °C, 169 F), in C; None if it is none that food has."""
    match = _TEMPERATURE.fullmatch(text.strip())
    if match is None:
        return None
    number = float(match["number"].replace("−", "-").replace(",", "."))
    celsius = number if match["unit"] in "Cc" else (number - 32.0) / 1.8
    return round(celsius, 2) if COLDEST_C <= celsius <= HOTTEST_C else None


def minutes_in(text: str) -> float | None:
    """The duration written in `text` (90 min, 1 h 50 min, 2 h), in minutes; None if it is none of a kitchen."""
    match = _DURATION.fullmatch(text.strip())
    if match is None or (match["hours"] is None and match["minutes"] is None):
        return None
    minutes = 60.0 * float(match["hours"] or 0.0) + float(match["minutes"] or 0.0)
    return minutes if minutes <= LONGEST_MIN else None


def _refuse_faults(reader: NodeReader) -> None:
    if reader.diagnostics:
        first = reader.diagnostics[0]
        place = f"{first.span.file}:{first.span.line}" if first.span else reader.source.name
        raise ConfigurationError(f"{place}: {first.message}", first.hint or "mend the file or move it away")


class _Entry:
    """Reads one entry."""

    def __init__(self, reader: NodeReader) -> None:
        self._reader = reader

    def read(self, node: yaml.Node) -> CookedBatch | None:
        fields = self._reader.fields(node, ENTRY_KEYS, "an entry")
        if fields is None:
            return None
        day = self._day(node, fields)
        containers = self._containers(fields)
        components = tuple(self._components(fields))
        filled = tuple(self._filled(fields))
        temperatures = tuple(self._temperatures(fields))
        if day is None:
            return None
        return CookedBatch(
            day=day,
            recipe=self._word(fields, "recipe"),
            variant=self._word(fields, "variant"),
            containers=containers,
            components=components,
            filled=filled,
            temperatures=temperatures,
        )

    def _day(self, node: yaml.Node, fields: dict[str, Field]) -> date | None:
        if "date" not in fields:
            self._reader.error(
                "missing-key", "an entry has no 'date'", self._reader.span(node), "add 'date: 2026-11-24'"
            )
            return None
        text = self._reader.text(fields["date"][1], "'date'", "a date such as 2026-11-24")
        if text is None:
            return None
        try:
            return date.fromisoformat(text.text)
        except ValueError:
            self._reader.error("bad-date", f"'{text.text[:40]}' is no date", text.span, "write it like 2026-11-24")
            return None

    def _word(self, fields: dict[str, Field], key: str) -> str:
        text = self._reader.text(fields[key][1], f"'{key}'") if key in fields else None
        return text.text if text else ""

    def _containers(self, fields: dict[str, Field]) -> int | None:
        if "containers" not in fields:
            return None
        text = self._reader.text(fields["containers"][1], "'containers'", "a whole number")
        number = containers_in(text.text) if text else None
        if text and number is None:
            message = f"'{text.text[:40]}' is not a number of containers"
            self._reader.error("bad-containers", message, text.span, "write a whole number")
        return number

    def _rows(self, fields: dict[str, Field], key: str, known: tuple[str, ...]) -> Iterator[dict[str, Field]]:
        if key not in fields:
            return
        for item in self._reader.items(fields[key][1], f"'{key}'", "a list"):
            row = self._reader.fields(item, known, f"a row of '{key}'")
            if row is not None:
                yield row

    def _components(self, fields: dict[str, Field]) -> Iterator[CookedComponent]:
        for row in self._rows(fields, "components", COMPONENT_KEYS):
            name = self._needed(row, "name", fields["components"])
            yield CookedComponent(
                name=name,
                weight_g=self._mass_g(row, "weight"),
                estimated_g=self._mass_g(row, "estimated"),
                gross_g=self._mass_g(row, "gross"),
                tare_g=self._mass_g(row, "tare"),
                residue_g=self._mass_g(row, "residue") or 0.0,
                leftover_g=self._mass_g(row, "leftover") or 0.0,
            )

    def _filled(self, fields: dict[str, Field]) -> Iterator[CookedContainer]:
        for row in self._rows(fields, "filled", FILLED_KEYS):
            grams: dict[str, float] = {}
            node = row["grams"][1] if "grams" in row else None
            if isinstance(node, yaml.MappingNode):
                for key, value in node.value:
                    name = self._reader.key(key, grams, "'grams'")
                    text = self._reader.text(value, "grams of a component", "a number of grams")
                    if name is not None and text is not None:
                        grams[name] = self._number(text.text, value)
            else:
                self._reader.error(
                    "missing-key", "a row of 'filled' has no 'grams'", self._reader.span(fields["filled"][0]), "add it"
                )
            for _ in range(self._containers(row) or 1):
                yield CookedContainer(self._word(row, "eater"), dict(grams))

    def _temperatures(self, fields: dict[str, Field]) -> Iterator[Temperature]:
        for row in self._rows(fields, "temperatures", TEMPERATURE_KEYS):
            step = self._needed(row, "step", fields["temperatures"])
            written = self._needed(row, "temperature", fields["temperatures"])
            celsius = celsius_in(written)
            after = self._word(row, "after")
            after_min = minutes_in(after) if after else None
            if step not in tuple(Step):
                self._refuse(row, "step", f"'{step[:40]}' is no step", f"use one of: {', '.join(Step)}")
            elif celsius is None:
                self._refuse(row, "temperature", f"'{written[:40]}' is no temperature of food", TEMPERATURE_EXAMPLE)
            elif after and after_min is None:
                self._refuse(row, "after", f"'{after[:40]}' is no duration", DURATION_EXAMPLE)
            else:
                yield Temperature(Step(step), celsius, self._word(row, "component"), after_min)

    def _needed(self, row: dict[str, Field], key: str, parent: Field) -> str:
        if key not in row:
            place = self._reader.span(next(iter(row.values()), parent)[0])
            self._reader.error("missing-key", f"a row of '{one_line(parent[0].value)}' has no '{key}'", place, "add it")
        return self._word(row, key)

    def _refuse(self, row: dict[str, Field], key: str, message: str, hint: str) -> None:
        if key in row:
            self._reader.error("bad-value", message, self._reader.span(row[key][1]), f"write it like {hint}")

    def _mass_g(self, row: dict[str, Field], key: str) -> float | None:
        text = self._reader.text(row[key][1], f"'{key}'", "a weight such as 2140 g") if key in row else None
        if text is None:
            return None
        mass_g = read_mass_g(text.text, "2140 g")
        if isinstance(mass_g, Fault):
            self._reader.error("bad-weight", f"{key} '{text.text[:40]}' {mass_g.reason}", text.span, mass_g.hint)
            return None
        return mass_g

    def _number(self, text: str, node: yaml.Node) -> float:
        if re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,6})?", text) is None:
            message = f"'{text[:40]}' is not a number of grams"
            self._reader.error("bad-weight", message, self._reader.span(node), "write a number such as 400")
            return 0.0
        return float(text)
