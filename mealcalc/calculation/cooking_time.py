"""Times in a cook's words: '1 h 30 min', '25-30 min', '1½ hours', 'half an hour'."""

import re

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3}
_WORDS = {"half an": 0.5, "half a": 0.5, "a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0}

_NUMBER = r"\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?\s?[½¼¾⅓⅔]?|[½¼¾⅓⅔]"
_TIME = re.compile(
    rf"(?:(?P<low>{_NUMBER})(?:\s*(?:-|–|to|or)\s*(?P<high>{_NUMBER}))?|\b(?P<word>{'|'.join(_WORDS)}))"
    r"\s*-?\s*(?P<unit>h\b|hr\b|hrs\b|hours?\b|min\b|mins\b|minutes?\b)",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"\s*(?:and|,)?\s*")


def minutes_said(text: str) -> float | None:
    """Minutes of the first time in a text, a range at its middle; None where it says none."""
    first = _TIME.search(text)
    if first is None:
        return None
    minutes = _minutes(first)
    rest = _TIME.search(text, first.end())
    if _is_hours(first) and rest and not _is_hours(rest) and _BETWEEN.fullmatch(text[first.end() : rest.start()]):
        minutes += _minutes(rest)
    return minutes


def _minutes(match: re.Match[str]) -> float:
    if match["word"]:
        number = _WORDS[match["word"].lower()]
    else:
        low = _number(match["low"])
        number = (low + _number(match["high"])) / 2 if match["high"] else low
    return number * (60 if _is_hours(match) else 1)


def _is_hours(match: re.Match[str]) -> bool:
    return match["unit"].lower().startswith("h")


def _number(text: str) -> float:
    value = 0.0
    for part in re.findall(r"\d+/\d+|\d+(?:[.,]\d+)?|[½¼¾⅓⅔]", text):
        if part in _FRACTIONS:
            value += _FRACTIONS[part]
        elif "/" in part:
            above, below = part.split("/")
            value += float(above) / float(below) if float(below) else 0.0
        else:
            value += float(part.replace(",", "."))
    return value
