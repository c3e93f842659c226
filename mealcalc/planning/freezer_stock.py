"""What is in the freezer: a text file beside the recipes, written by commands and by hand alike.

freezer:
  - batch: Lentil soup
    containers: 4
    cooked: 2026-11-22
    frozen: 2026-11-22
    best_before: 2027-01-22      # by the guidance named below; about quality, not about anything else
    guidance: USDA FSIS FoodKeeper (United States), soup or stew
    mass_g: 410
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from difflib import get_close_matches
from pathlib import Path

import yaml

from mealcalc.errors import ConfigurationError, UsageError
from mealcalc.records.keeping import FrozenContainers
from mealcalc.text_files import write_whole

FILE_NAME = "freezer.yaml"
MOST_CONTAINERS = 1000
LARGEST_FILE_BYTES = 1_000_000
_HEADING = "# What is in the freezer; edit freely.\n"
_KEYS = ("batch", "containers", "cooked", "frozen", "best_before", "guidance", "mass_g")


def read_stock(path: Path) -> tuple[FrozenContainers, ...]:
    """What the file lists, oldest first; nothing where there is no file.

    Raises
    ------
    ConfigurationError
        If the file is no YAML, or an entry lacks batch, containers, cooked or frozen; names file and entry.
    """
    try:
        if not path.exists():
            return ()
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise ConfigurationError(f"{path}: is larger than {LARGEST_FILE_BYTES} bytes", "name the right file")
        content = yaml.safe_load(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, yaml.YAMLError, RecursionError) as error:
        reason = " ".join(str(error).split())
        raise ConfigurationError(f"{path}: cannot be read: {reason}", "mend the file or move it away") from error
    entries = content.get("freezer") if isinstance(content, dict) else content
    if entries is None:
        return ()
    if not isinstance(entries, list):
        raise ConfigurationError(f"{path}: no list 'freezer'", "mend the file or move it away")
    return _in_order([_entry(path, number, entry) for number, entry in enumerate(entries, start=1)])


def write_stock(path: Path, stock: Sequence[FrozenContainers]) -> None:
    """Write the stock, whole or not at all; ConfigurationError where the place refuses."""
    rows = [
        {
            "batch": row.title,
            "containers": row.containers,
            "cooked": row.cooked,
            "frozen": row.frozen,
            **({} if row.best_before is None else {"best_before": row.best_before}),
            **({"guidance": row.guidance} if row.guidance else {}),
            **({} if row.mass_g is None else {"mass_g": round(row.mass_g)}),
        }
        for row in _in_order(stock)
    ]
    text = _HEADING + yaml.safe_dump({"freezer": rows}, allow_unicode=True, sort_keys=False, width=120)
    try:
        write_whole(path, text)
    except OSError as error:
        reason = error.strerror or str(error)
        raise ConfigurationError(f"{path}: cannot be written: {reason}", "name another place with --stock") from error


def put_in(stock: Sequence[FrozenContainers], new: FrozenContainers) -> tuple[FrozenContainers, ...]:
    """The stock with containers added; to those of the same batch and dates, if there are any.

    Raises
    ------
    UsageError
        If fewer than one container is added, or they are frozen before they were cooked.
    """
    if not 1 <= new.containers <= MOST_CONTAINERS:
        raise UsageError(f"{new.containers} containers to freeze", f"give a whole number from 1 to {MOST_CONTAINERS}")
    if new.frozen < new.cooked:
        raise UsageError(f"frozen on {new.frozen}, before cooking on {new.cooked}", "check --cooked and --frozen")
    for number, row in enumerate(stock):
        if replace(row, containers=new.containers) == new:
            return (*stock[:number], replace(row, containers=row.containers + new.containers), *stock[number + 1 :])
    return _in_order([*stock, new])


def take_out(stock: Sequence[FrozenContainers], title: str, containers: int) -> tuple[FrozenContainers, ...]:
    """The stock after taking out containers of a batch, the oldest first.

    Parameters
    ----------
    stock : sequence of FrozenContainers
        What is there.
    title : str
        Title of the batch, or words of it that mean one batch only.
    containers : int
        How many.

    Raises
    ------
    UsageError
        If no batch or several are meant, or there are not that many.
    """
    meant = meant_batch(stock, title)
    there = sum(row.containers for row in stock if row.title == meant)
    if not 1 <= containers <= there:
        raise UsageError(f"{containers} of '{meant}' to take out, but there are {there}", f"take 1 to {there}")
    left, kept = containers, []
    for row in _in_order(stock):
        taken = min(left, row.containers) if row.title == meant else 0
        left -= taken
        if row.containers > taken:
            kept.append(replace(row, containers=row.containers - taken))
    return tuple(kept)


def meant_batch(stock: Sequence[FrozenContainers], title: str) -> str:
    """The title of the one batch that words mean; UsageError where they mean none or several."""
    titles = list(dict.fromkeys(row.title for row in stock))
    wanted = title.casefold().split()
    for found in ([t for t in titles if t.casefold().split() == wanted],
                  [t for t in titles if wanted and all(word in t.casefold() for word in wanted)]):  # fmt: skip
        if len(found) == 1:
            return found[0]
        if found:
            raise UsageError(f"'{title}' means several batches", f"name one of: {'; '.join(found)}")
    if not titles:
        raise UsageError(f"no '{title}' to take out: the freezer's list is empty", "see `mealcalc freezer add`")
    near = get_close_matches(title, titles, n=1)
    hint = f"did you mean '{near[0]}'?" if near else f"there are: {'; '.join(titles)}"
    raise UsageError(f"no '{title}' in the freezer", hint)


def _in_order(stock: Sequence[FrozenContainers]) -> tuple[FrozenContainers, ...]:
    return tuple(sorted(stock, key=lambda row: (row.frozen, row.cooked, row.title)))


def _entry(path: Path, number: int, entry: object) -> FrozenContainers:
    place = f"{path}: entry {number}"
    if not isinstance(entry, dict):
        raise ConfigurationError(f"{place} is not a mapping", f"give {', '.join(_KEYS[:4])}")
    strange = sorted(str(name) for name in entry if name not in _KEYS)
    if strange:
        raise ConfigurationError(f"{place} has an unknown entry '{strange[0]}'", f"known are: {', '.join(_KEYS)}")
    lacking = [name for name in _KEYS[:4] if entry.get(name) is None]
    if lacking:
        raise ConfigurationError(f"{place} lacks {', '.join(lacking)}", f"give {', '.join(_KEYS[:4])}")
    containers = entry["containers"]
    if not isinstance(containers, int) or isinstance(containers, bool) or not 1 <= containers <= MOST_CONTAINERS:
        raise ConfigurationError(f"{place}: containers {containers!r}", f"a whole number from 1 to {MOST_CONTAINERS}")
    mass_g = entry.get("mass_g")
    if mass_g is not None and (not isinstance(mass_g, int | float) or isinstance(mass_g, bool) or not mass_g > 0):
        raise ConfigurationError(f"{place}: mass_g {mass_g!r}", "grams in one container, a number above 0")
    return FrozenContainers(
        title=" ".join(str(entry["batch"]).split()),
        containers=containers,
        cooked=_day(place, "cooked", entry["cooked"]),
        frozen=_day(place, "frozen", entry["frozen"]),
        best_before=None if entry.get("best_before") is None else _day(place, "best_before", entry["best_before"]),
        guidance=str(entry.get("guidance") or ""),
        mass_g=None if mass_g is None else float(mass_g),
    )


def _day(place: str, name: str, value: object) -> date:
    # YAML reads 2026-11-22 as a date; with a time of day it is a datetime, of which no one can be sure what is meant.
    if type(value) is date:
        return value
    raise ConfigurationError(f"{place}: {name} {value!s} is no date", "write it like 2026-11-22")
