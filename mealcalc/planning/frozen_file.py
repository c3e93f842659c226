"""The file of what was stated: `<batch>.published.yaml` beside the recipe, one record for each day it was frozen.

A text file that the cook owns: it can be read, and a record can be taken out by hand.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from pathlib import Path

import yaml

from mealcalc.errors import ConfigurationError
from mealcalc.records.frozen import FrozenComponent, FrozenLine, FrozenRecord, FrozenRow
from mealcalc.text_files import write_whole

LARGEST_FILE_BYTES = 20_000_000
OUT_OF_USE = "restore the file from a copy, or move it away and freeze anew"

_HEADING = """\
# What was stated of this batch, and what it rested on; `mealcalc freeze FILE --check` says what changed since and why.
"""


class _Loader(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """The fast reader where the library has it."""


def read_records(path: Path) -> tuple[FrozenRecord, ...]:
    """The records of a file, oldest first; none where there is no file.

    Raises
    ------
    ConfigurationError
        If the file is no YAML or a record lacks something; names file, record and field.
    """
    try:
        if not path.exists():
            return ()
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise ConfigurationError(f"{path}: is larger than {LARGEST_FILE_BYTES} bytes", OUT_OF_USE)
        content = yaml.load(path.read_text(encoding="utf-8"), Loader=_Loader)
    except (OSError, ValueError, yaml.YAMLError, RecursionError) as error:
        reason = " ".join(str(error).split())
        raise ConfigurationError(f"{path}: cannot be read: {reason[:200]}", OUT_OF_USE) from error
    entries = content.get("published") if isinstance(content, dict) else None
    if not isinstance(entries, list):
        raise ConfigurationError(f"{path}: no list 'published'", OUT_OF_USE)
    return tuple(_record(_Fields(entry, f"{path}: record {number}")) for number, entry in enumerate(entries, start=1))


def write_records(path: Path, records: Sequence[FrozenRecord]) -> None:
    """Write the records, whole or not at all; ConfigurationError where the place refuses."""
    shapes = [_plain(asdict(record)) for record in records]
    text = yaml.dump(
        {"published": shapes},
        Dumper=getattr(yaml, "CSafeDumper", yaml.SafeDumper),
        allow_unicode=True,
        sort_keys=False,
        width=120,
    )
    try:
        write_whole(path, _HEADING + text)
    except OSError as error:
        reason = error.strerror or str(error)
        raise ConfigurationError(f"{path}: cannot be written: {reason}", "give a folder that can be written") from error


def _plain(value: object) -> object:
    if isinstance(value, Mapping):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(inner) for inner in value]
    return value


class _Fields:
    """The entries of a mapping, each checked for its kind."""

    def __init__(self, entry: object, place: str) -> None:
        if not isinstance(entry, dict):
            raise ConfigurationError(f"{place} is not a mapping", OUT_OF_USE)
        self._entry, self.place = entry, place

    def text(self, name: str) -> str:
        value = self._entry.get(name)
        if not isinstance(value, str):
            raise self._wrong(name, "a text")
        return value

    def number(self, name: str) -> float:
        value = self.amount(name)
        if value is None:
            raise self._wrong(name, "a number")
        return value

    def amount(self, name: str) -> float | None:
        return self._as_amount(name, self._entry.get(name))

    def amounts(self, name: str) -> dict[str, float | None]:
        value = self._entry.get(name)
        if not isinstance(value, dict):
            raise self._wrong(name, "a mapping of numbers")
        return {str(key): self._as_amount(name, inner) for key, inner in value.items()}

    def known_amounts(self, name: str) -> dict[str, float]:
        return {key: amount for key, amount in self.amounts(name).items() if amount is not None}

    def sizes(self, name: str) -> dict[str, float]:
        found = self.known_amounts(name)
        if any(amount <= 0 for amount in found.values()):
            raise self._wrong(name, "a mapping of numbers above 0")
        return found

    def day(self, name: str) -> date:
        value = self._entry.get(name)
        if type(value) is not date:
            raise self._wrong(name, "a date like 2026-11-22")
        return value

    def rows(self, name: str) -> list["_Fields"]:
        value = self._entry.get(name)
        if not isinstance(value, list):
            raise self._wrong(name, "a list")
        return [_Fields(entry, f"{self.place}, {name} {number}") for number, entry in enumerate(value, start=1)]

    def texts(self, name: str) -> tuple[str, ...]:
        value = self._entry.get(name)
        if not isinstance(value, list) or not all(isinstance(entry, str) for entry in value):
            raise self._wrong(name, "a list of texts")
        return tuple(value)

    def _as_amount(self, name: str, value: object) -> float | None:
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise self._wrong(name, "a number")
        return float(value)

    def _wrong(self, name: str, wanted: str) -> ConfigurationError:
        return ConfigurationError(f"{self.place}: '{name}' is not {wanted}", OUT_OF_USE)


def _record(fields: _Fields) -> FrozenRecord:
    return FrozenRecord(
        stated=fields.day("stated"),
        version=fields.text("version"),
        code=fields.text("code"),
        tables=fields.text("tables"),
        title=fields.text("title"),
        region=fields.text("region"),
        containers=int(fields.number("containers")),
        scheme=fields.text("scheme"),
        energy_method=fields.text("energy_method"),
        variant=fields.text("variant"),
        voluntary=fields.texts("voluntary"),
        package=fields.sizes("package"),
        rows=tuple(
            FrozenRow(
                row.text("row"),
                row.text("name"),
                row.text("key"),
                row.text("unit"),
                row.amount("raw_per_portion"),
                row.text("printed_per_portion"),
                row.text("printed_per_100g"),
                row.text("percent"),
            )
            for row in fields.rows("rows")
        ),
        macros=fields.known_amounts("macros"),
        components=tuple(
            FrozenComponent(c.text("name"), c.text("cooking"), c.amount("cooked_mass_g"))
            for c in fields.rows("components")
        ),
        lines=tuple(
            FrozenLine(
                line.text("component"),
                line.text("text"),
                line.text("table"),
                line.text("edition"),
                line.text("code"),
                line.text("food"),
                line.amount("mass_g"),
                line.number("used_share"),
                line.amounts("amounts"),
            )
            for line in fields.rows("lines")
        ),
    )
