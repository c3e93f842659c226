"""The batch as it was cooked, beside the plan: `<batch>.cooked.yaml`, a journal to which entries are only ever added.

    cooked:
      - date: 2026-11-24
        recipe: 3fa9c1d2e4b5          # fingerprint of the recipe that was cooked
        containers: 6
        components:
          - {name: Beans and turkey, gross: 3120 g, tare: 980 g, weight: 2140 g, residue: 35 g, leftover: 5 g}
          - {name: Brown rice, estimated: 1187 g}
        filled:
          - {containers: 4, eater: adult, grams: {Beans and turkey: 400, Brown rice: 230}}
        temperatures:
          - {step: cooking, component: Beans and turkey, temperature: 76 C}
          - {step: cooling, temperature: 20 C, after: 1 h 50 min}

Entries of one date are one cooking: temperatures add up, of everything else the last word counts.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

import yaml

from mealcalc.errors import ConfigurationError, UsageError
from mealcalc.planning.cooked_reader import read_entries
from mealcalc.records import Batch
from mealcalc.records.portions import CookedBatch, CookedComponent, CookedContainer, PortionedComponent, WeighOut
from mealcalc.text_files import beside, write_whole

_HEAD = "# The batch as it was cooked; entries are added by `mealcalc portion --record` and by hand.\n"
_LIST = "cooked"


def cooked_path(recipe: Path) -> Path:
    """The journal that stands beside a recipe file."""
    return beside(recipe, _LIST)


def fingerprint(batch: Batch) -> str:
    """Twelve characters that change when components, cooking words or lines of a recipe do."""
    parts = [(c.name, c.cooking, c.fat, [" ".join(line.text.split()) for line in c.lines]) for c in batch.components]
    return sha256(repr(parts).encode()).hexdigest()[:12]


def load_cooked(path: Path) -> list[CookedBatch]:
    """The cookings in a journal, the oldest first; none where there is no file.

    Raises
    ------
    ConfigurationError
        If the file cannot be read or an entry says what it cannot say; names file and line.
    """
    by_day: dict[date, CookedBatch] = {}
    for entry in _entries(path, _text(path)):
        before = by_day.get(entry.day)
        by_day[entry.day] = entry if before is None else _merged(before, entry)
    return [by_day[day] for day in sorted(by_day)]


def cooking_of(path: Path, day: date | None) -> CookedBatch:
    """The cooking of a day, or the last one.

    Raises
    ------
    UsageError
        If the journal holds none; the hint lists the days that it holds.
    ConfigurationError
        As `load_cooked`.
    """
    cookings = load_cooked(path)
    if not cookings:
        raise UsageError(f"{path}: no cooking is recorded", "record one with `mealcalc portion FILE --record`")
    found = cookings[-1] if day is None else next((c for c in cookings if c.day == day), None)
    if found is None:
        days = ", ".join(str(c.day) for c in cookings[-20:])
        raise UsageError(f"{path}: no cooking of {day} is recorded", f"recorded are: {days}")
    return found


def add_cooking(path: Path, cooking: CookedBatch) -> None:
    """Add an entry at the end of a journal; all that stands in it stays as it was written, comments included.

    Raises
    ------
    ConfigurationError
        If the file is there and cannot be understood, or is written so that nothing can be added to it: it is then left
        as it is.
    OSError
        If it cannot be written.
    """
    text = _text(path)
    before = _entries(path, text)
    added = _with_entry(text, _as_yaml(cooking))
    try:
        after = _entries(path, added)
    except ConfigurationError:
        after = []
    if after != [*before, cooking]:
        raise ConfigurationError(
            f"{path}: an entry cannot be added to the way this file is written",
            "let 'cooked:' be its only key, with one '- date: ...' under it for each entry, or move the file away",
        )
    write_whole(path, added)


def as_entry(weighed: WeighOut, day: date, batch: Batch, variant: str = "") -> CookedBatch:
    """What a weigh-out adds to the journal; components that were not weighed are marked as estimated.

    Parameters
    ----------
    weighed : WeighOut
        The batch as it was divided.
    day : date
        Day of cooking.
    batch : Batch
        The recipe that was cooked (the variant, if one was), for its fingerprint.
    variant : str
        Name of the variant that was cooked, '' for none.
    """
    names = [component.name for component in weighed.components]
    filled = [
        CookedContainer(container.eater, dict(zip(names, map(float, container.grams), strict=True)))
        for container in weighed.containers
    ]
    return CookedBatch(
        day=day,
        recipe=fingerprint(batch),
        variant=variant,
        containers=len(weighed.containers),
        components=tuple(_as_cooked(component) for component in weighed.components),
        filled=tuple(filled),
    )


def _as_cooked(component: PortionedComponent) -> CookedComponent:
    pot = component.pot
    return CookedComponent(
        name=component.name,
        weight_g=float(component.pot_g) if pot.measured else None,
        estimated_g=None if pot.measured else float(component.pot_g),
        gross_g=None if pot.gross_g is None else round(pot.gross_g, 1),
        tare_g=None if pot.tare_g is None else round(pot.tare_g, 1),
        residue_g=float(component.residue_g),
        leftover_g=float(component.leftover_g),
    )


def _merged(before: CookedBatch, entry: CookedBatch) -> CookedBatch:
    components = {component.name.casefold(): component for component in (*before.components, *entry.components)}
    return replace(
        before,
        recipe=entry.recipe or before.recipe,
        variant=entry.variant or before.variant,
        containers=before.containers if entry.containers is None else entry.containers,
        components=tuple(components.values()),
        filled=entry.filled or before.filled,
        temperatures=(*before.temperatures, *entry.temperatures),
    )


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ""
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigurationError(f"{path}: cannot be read: {error}", "mend the file or move it away") from error


def _entries(path: Path, text: str) -> list[CookedBatch]:
    return read_entries(path, text, _LIST) if text.strip() else []


def _with_entry(text: str, entry: Mapping[str, object]) -> str:
    """The text with an entry at its end, indented as the list is."""
    if not text.strip():
        text = f"{text}{_HEAD}{_LIST}:\n"
    indent = _indent_of_list(text)
    dumped = yaml.safe_dump([entry], allow_unicode=True, sort_keys=False, width=110, default_flow_style=None)
    rows = "".join(f"{' ' * indent}{row}\n" for row in dumped.splitlines())
    return f"{text if text.endswith(chr(10)) else text + chr(10)}{rows}"


def _indent_of_list(text: str) -> int:
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    if isinstance(root, yaml.MappingNode):
        for _, value in root.value:
            if isinstance(value, yaml.SequenceNode) and not value.flow_style:
                return value.start_mark.column
    return 2


def _as_yaml(cooking: CookedBatch) -> dict[str, Any]:
    """The entry with plain values, in the order in which it is read; what is not said is left out."""
    entry: dict[str, Any] = {"date": cooking.day}
    for name in ("recipe", "variant", "containers"):
        value = getattr(cooking, name)
        entry |= {name: value} if value else {}
    if cooking.components:
        entry["components"] = [_component_as_yaml(component) for component in cooking.components]
    if cooking.filled:
        entry["filled"] = list(_filled_as_yaml(cooking.filled))
    if cooking.temperatures:
        entry["temperatures"] = [
            {
                "step": t.step.value,
                **({"component": t.component} if t.component else {}),
                "temperature": f"{t.celsius:g} C",
                **({} if t.after_min is None else {"after": f"{t.after_min:g} min"}),
            }
            for t in cooking.temperatures
        ]
    return entry


def _component_as_yaml(component: CookedComponent) -> dict[str, str]:
    masses = {
        "gross": component.gross_g,
        "tare": component.tare_g,
        "weight": component.weight_g,
        "estimated": component.estimated_g,
        "residue": component.residue_g or None,
        "leftover": component.leftover_g or None,
    }
    return {"name": component.name} | {key: f"{g:.12g} g" for key, g in masses.items() if g is not None}


def _filled_as_yaml(filled: Sequence[CookedContainer]) -> Iterable[dict[str, Any]]:
    """Runs of equal containers as one row."""
    start = 0
    for number in range(1, len(filled) + 1):
        if number < len(filled) and filled[number] == filled[start]:
            continue
        same = filled[start]
        yield {
            "containers": number - start,
            **({"eater": same.eater} if same.eater else {}),
            "grams": {name: int(g) if g == int(g) else g for name, g in same.grams.items()},
        }
        start = number
