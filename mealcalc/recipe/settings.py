"""Line settings: what a cook settles in square brackets at the end of a line, such as `[used 20%]`."""

import re
from collections.abc import Callable

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.records import FoodState, LineSettings

KNOWN_SETTINGS = "[used 20%], [food sr28:23562], [grams 150], [state cooked], [as bought], [edible], [count no]"
"""How every line setting is written, for hints."""

MOST_GRAMS = 50_000.0
"""Grams of one line beyond which a setting is a slip of the pen."""

_AT_END = re.compile(r"\[([^\[\]]{0,200})\]\s*\Z")
_USED = re.compile(r"(\d{1,3}(?:[.,]\d+)?)\s*(?:%|percent|per cent)?\Z")
_FOOD = re.compile(r"([A-Za-z][\w.-]*)\s*:\s*([\w.-]+)\Z")
_GRAMS = re.compile(r"(\d{1,9}(?:[.,]\d+)?)\s*g?\Z")
_WORDS = ("used", "food", "grams", "state", "as bought", "edible", "count")


def read_settings(text: str, place: Callable[[int, int], Span]) -> tuple[int, LineSettings, list[Diagnostic]]:
    """Read the settings at the end of a line.

    Parameters
    ----------
    text : str
        The line.
    place : function
        Gives the span of the characters from the first to before the second argument of `text`.

    Returns
    -------
    The length of the line without its settings, the settings, and what is wrong with them.
    """
    length = len(text)
    settings: dict[str, object] = {}
    diagnostics: list[Diagnostic] = []
    while True:
        found = _AT_END.search(text, max(0, length - 210), length)
        if found is None or not found.group(1).strip():
            break
        length = found.start()
        span = place(found.start(), found.start() + len(found.group().rstrip()))
        problem = _read_one(" ".join(found.group(1).split()), settings)
        if problem is not None:
            code, message, hint = problem
            diagnostics.insert(0, Diagnostic(code, Severity.ERROR, message, span, hint))
    return length, LineSettings(**settings), diagnostics  # type: ignore[arg-type]


def _read_one(written: str, settings: dict[str, object]) -> tuple[str, str, str] | None:
    """Put one setting into `settings`; return code, message and hint of the error if it cannot be read."""
    low = written.lower()
    word, _, value = low.partition(" ")
    value = value.strip()
    if low == "as bought":
        return _set(settings, "as_bought", True, written)
    if low == "edible":
        return _set(settings, "as_bought", False, written)
    if word == "count":
        if value in ("no", "yes"):
            return _set(settings, "counted", value == "yes", written)
        return _bad_value(written, "it takes 'no' or 'yes'")
    if word == "used":
        share = _USED.match(value)
        percent = float(share.group(1).replace(",", ".")) if share else -1.0
        if not 0 <= percent <= 100:
            return _bad_value(written, "it takes a percentage from 0 to 100, as in [used 20%]")
        return _set(settings, "used_share", percent / 100, written)
    if word == "grams":
        grams = _GRAMS.match(value)
        mass_g = float(grams.group(1).replace(",", ".")) if grams else -1.0
        if not 0 <= mass_g <= MOST_GRAMS:
            return _bad_value(written, f"it takes grams from 0 to {MOST_GRAMS:g}, as in [grams 150]")
        return _set(settings, "mass_g", mass_g, written)
    if word == "state":
        if value not in tuple(FoodState):
            return _bad_value(written, f"it takes one of: {', '.join(FoodState)}")
        return _set(settings, "state", FoodState(value), written)
    if word == "food":
        code = _FOOD.match(written.partition(" ")[2].strip())
        if code is None:
            return _bad_value(written, "it takes a table and a code, as in [food sr28:23562]")
        return _set(settings, "food", (code.group(1).lower(), code.group(2)), written)
    meant = did_you_mean(low if low.startswith("as ") else word, _WORDS)
    meant = f"{meant} " if meant.endswith("?") else ""
    return "unknown-setting", f"'{written}' is not a line setting", f"{meant}known settings: {KNOWN_SETTINGS}"


def _set(settings: dict[str, object], name: str, value: object, written: str) -> tuple[str, str, str] | None:
    if name in settings and settings[name] != value:
        return "repeated-setting", f"'{written}' contradicts another setting of this line", "keep one of the two"
    settings[name] = value
    return None


def _bad_value(written: str, takes: str) -> tuple[str, str, str]:
    return "bad-setting", f"the value of the line setting '{written}' cannot be read", takes
