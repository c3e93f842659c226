"""Lengths, temperatures and durations as a cook writes them: `5cm`, `140F`, `1h30`, `90 min`."""

import re

from mealcalc.errors import UsageError

_NUMBER = r"([+-]?\d+(?:[.,]\d+)?)"
_LENGTH = re.compile(rf"{_NUMBER}\s*(mm|cm|m|in|inch|inches|\")")
_TEMPERATURE = re.compile(rf"{_NUMBER}\s*(?:°|deg\s*)?\s*([cf])?")
_HOURS = re.compile(rf"{_NUMBER}\s*(?:h|hr|hrs|hour|hours)(?:\s*(\d+)\s*(?:min|minutes|m)?)?")
_MINUTES = re.compile(rf"{_NUMBER}\s*(?:min|mins|minute|minutes)")
_METRES = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "inch": 0.0254, "inches": 0.0254, '"': 0.0254}


def length_m(text: str, what: str) -> float:
    """A length in m; `what` is measured, for the message. UsageError if it is none, or not above 0."""
    match = _LENGTH.fullmatch(text.strip().lower())
    if match is None:
        raise UsageError(f"{what} '{text}' is no length", "write a number and its unit, such as 5cm, 50mm or 2in")
    found = _number(match[1]) * _METRES[match[2]]
    if found <= 0.0:
        raise UsageError(f"{what} '{text}' is not above 0", "give the size of the food in the container")
    return found


def temperature_c(text: str, what: str) -> float:
    """A temperature in C; a bare number is in C. UsageError if it is none."""
    match = _TEMPERATURE.fullmatch(text.strip().lower())
    if match is None:
        raise UsageError(f"{what} '{text}' is no temperature", "write it like 60C or 140F; a bare number is in C")
    degrees = _number(match[1])
    return (degrees - 32.0) / 1.8 if match[2] == "f" else degrees


def duration_h(text: str, what: str) -> float:
    """A duration in hours. UsageError if it is none, or not above 0."""
    words = text.strip().lower()
    if match := _HOURS.fullmatch(words):
        found = _number(match[1]) + (int(match[2]) / 60.0 if match[2] else 0.0)
    elif match := _MINUTES.fullmatch(words):
        found = _number(match[1]) / 60.0
    else:
        raise UsageError(f"{what} '{text}' is no duration", "write it like 90min, 1.5h or 1h30")
    if found <= 0.0:
        raise UsageError(f"{what} '{text}' is not above 0", "write it like 90min, 1.5h or 1h30")
    return found


def _number(text: str) -> float:
    return float(text.replace(",", "."))
