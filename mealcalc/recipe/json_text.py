"""JSON with places: where a text stands in its source, and how deep brackets are nested."""

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass

DEEPEST_JSON = 60
"""Brackets within brackets; structured data of a web page has about ten."""

# A string that is not closed runs to the end, so that every quotation mark is looked at once.
_STRING = r'"(?:[^"\\]|\\.)*+(?:"|\\?\Z)'
_STRING_OR_BRACKET = re.compile(rf"{_STRING}|[\[\]{{}}]", re.DOTALL)
_STRINGS = re.compile(_STRING, re.DOTALL)


@dataclass(frozen=True, slots=True)
class Literal:
    """A string of a JSON text: what it says, and where it stands between its quotation marks (from 0)."""

    value: str
    start: int
    end: int


def too_deep_at(text: str) -> int | None:
    """Where the nesting passes `DEEPEST_JSON`, or None if it never does."""
    depth = 0
    for match in _STRING_OR_BRACKET.finditer(text):
        mark = match.group()
        if mark in "[{":
            depth += 1
            if depth > DEEPEST_JSON:
                return match.start()
        elif mark in "]}":
            depth -= 1
    return None


def literals(text: str) -> list[Literal]:
    """The strings of a JSON text, keys included, in order."""
    found = []
    for match in _STRINGS.finditer(text):
        try:
            value = json.loads(match.group(), strict=False)
        except ValueError:
            continue
        found.append(Literal(value, match.start() + 1, match.end() - 1))
    return found


def find_after_key(strings: Sequence[Literal], key: str, wanted: Sequence[str]) -> list[Literal | None]:
    """The literals of the list `wanted` that stands under `key`; None for those that cannot be told apart.

    Strings of a list follow its key without others between them, so a list of texts is found as one run. Where objects
    stand among them each text is looked for on its own, in order, after the key.
    """
    keys = [i for i, literal in enumerate(strings) if literal.value == key]
    for i in keys:
        run = strings[i + 1 : i + 1 + len(wanted)]
        if [literal.value for literal in run] == list(wanted):
            return list(run)
    if not keys:
        return [None] * len(wanted)
    found: list[Literal | None] = []
    cursor = keys[0] + 1
    for text in wanted:
        place = next((i for i in range(cursor, len(strings)) if strings[i].value == text), None)
        found.append(None if place is None else strings[place])
        cursor = cursor if place is None else place + 1
    return found
