"""The cook's saved choices: a text file beside the recipe, and one in the user's configuration folder.

    decisions:
      - food: smoked back bacon
        state: raw              # optional
        region: uk              # optional
        table: sr28
        code: "10130"           # or none: no table holds it
        edition: SR28
        date: 2026-11-24

Saved by `mealcalc match`, edited by hand, both welcome. The phrase is compared in normal form, so word order, plurals
and case do not matter. A decision for the state and region of the line wins over one that names neither.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import yaml

from mealcalc.errors import ConfigurationError
from mealcalc.matching.normalise import phrase_key
from mealcalc.records import FoodState, RecipeLine
from mealcalc.text_files import beside, write_whole

NONE = "none"


@dataclass(frozen=True, slots=True)
class Decision:
    """One saved choice; `code` is 'none' where the cook decided that no table holds the food."""

    food: str
    table: str
    code: str
    state: str = ""
    region: str = ""
    edition: str = ""
    date: str = ""

    @property
    def key(self) -> tuple[str, str, str]:
        """What a later decision must share to replace this one."""
        return phrase_key(self.food), self.state, self.region


class Decisions:
    """Saved choices of one or more files; the file named first wins."""

    def __init__(self, decisions: Iterable[Decision] = ()) -> None:
        self._by_key: dict[tuple[str, str, str], Decision] = {}
        for decision in decisions:
            self._by_key.setdefault(decision.key, decision)

    def __len__(self) -> int:
        return len(self._by_key)

    def before(self, others: "Decisions") -> "Decisions":
        """These choices, then those of `others`: of two for the same food, state and region these win."""
        return Decisions((*self._by_key.values(), *others._by_key.values()))

    def find(self, phrase: str, state: FoodState | None, region: str) -> Decision | None:
        """The decision for a food phrase, or None.

        Parameters
        ----------
        phrase : str
            As on the line; compared in normal form.
        state : FoodState or None
            State of the line.
        region : str
            Region of the recipe. A decision that names state and region wins over one that names the state, that over
            one that names the region, and that over one that names neither.
        """
        key = phrase_key(phrase)
        said = state.value if state else ""
        for wanted in ((key, said, region), (key, said, ""), (key, "", region), (key, "", "")):
            if wanted in self._by_key:
                return self._by_key[wanted]
        return None


def decision_phrase(line: RecipeLine) -> str:
    """The food phrase under which the choice for a line is saved: mince of 5 % fat and of 20 % are two choices."""
    return line.name if line.fat_percent is None else f"{line.name}, {line.fat_percent:g}% fat"


def decisions_path(recipe: Path) -> Path:
    """The decisions file that stands beside a recipe file: `<batch>.decisions.yaml`."""
    return beside(recipe, "decisions")


def load_decisions(*paths: Path) -> Decisions:
    """Read decisions files; a missing file holds none, the first file wins.

    Raises
    ------
    ConfigurationError
        If a file is no YAML or an entry lacks food, table or code, naming the file and the entry.
    """
    found: list[Decision] = []
    for path in paths:
        if path.exists():
            found += _read(path)
    return Decisions(found)


def save_decisions(path: Path, new: Iterable[Decision]) -> None:
    """Write `new` decisions into `path`, replacing older ones for the same food, state and region.

    The file is written beside its place and moved there, so that a failure in the middle loses nothing.

    Raises
    ------
    ConfigurationError
        If the file is there and cannot be understood: what the cook wrote is not overwritten.
    OSError
        If it cannot be written.
    """
    merged = {decision.key: decision for decision in (_read(path) if path.exists() else [])}
    merged |= {decision.key: decision for decision in new}
    rows = [
        {
            name: value
            for name in ("food", "state", "region", "table", "code", "edition", "date")
            if (value := getattr(decision, name))
        }
        for decision in merged.values()
    ]
    text = "# Saved choices of foods; edit freely.\n" + yaml.safe_dump(
        {"decisions": rows}, allow_unicode=True, sort_keys=False
    )
    write_whole(path, text)


def _read(path: Path) -> list[Decision]:
    try:
        content = yaml.safe_load(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, yaml.YAMLError) as error:
        reason = " ".join(str(error).split())
        raise ConfigurationError(f"{path}: cannot be read: {reason}", "mend the file or move it away") from error
    entries = content.get("decisions") if isinstance(content, dict) else None
    if content is None or (isinstance(content, dict) and entries is None and not content):
        return []
    if not isinstance(entries, list):
        raise ConfigurationError(f"{path}: no list 'decisions'", "see the README for the shape of the file")
    return [_decision(path, number, entry) for number, entry in enumerate(entries, start=1)]


def _decision(path: Path, number: int, entry: object) -> Decision:
    place = f"{path}: decision {number}"
    if not isinstance(entry, dict):
        raise ConfigurationError(f"{place} is not a mapping", "give food, table and code")
    known = ("food", "table", "code", "state", "region", "edition", "date")
    strange = sorted(str(name) for name in entry if name not in known)
    if strange:
        raise ConfigurationError(f"{place} has an unknown entry '{strange[0]}'", f"known are: {', '.join(known)}")
    lacking = [name for name in ("food", "table", "code") if not entry.get(name)]
    if lacking:
        raise ConfigurationError(f"{place} lacks {', '.join(lacking)}", "give food, table and code")
    state = str(entry.get("state") or "")
    if state and state not in {s.value for s in FoodState}:
        raise ConfigurationError(
            f"{place} has an unknown state '{state}'", f"use one of: {', '.join(s.value for s in FoodState)}"
        )
    # YAML reads an unquoted 01123 as an octal number; a code that lost its zeros must not pass for another food.
    if not isinstance(entry["code"], str):
        raise ConfigurationError(
            f"{place}: the code {entry['code']} is not text", f'write it in quotes: "{entry["code"]}"'
        )
    when = entry.get("date") or ""
    return Decision(
        food=str(entry["food"]),
        table=str(entry["table"]),
        code=entry["code"],
        state=state,
        region=str(entry.get("region") or ""),
        edition=str(entry.get("edition") or ""),
        date=when.isoformat() if isinstance(when, date) else str(when),
    )
