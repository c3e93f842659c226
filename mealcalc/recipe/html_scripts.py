"""The structured data of a web page: its scripts of type application/ld+json, with their places."""

import re
from dataclasses import dataclass
from html.parser import HTMLParser

from mealcalc.recipe.source import Source

JSON_LD_TYPE = "application/ld+json"

# Wrappers of old pages around a script; they become blanks, so that places stay right.
_WRAPPERS = re.compile(
    r"\A\s*(?:<!--|(?://|/\*)?\s*<!\[CDATA\[\s*(?:\*/)?)|(?:(?://|/\*)?\s*\]\]>\s*(?:\*/)?|(?://\s*)?-->|;)\s*\Z"
)


@dataclass(frozen=True, slots=True)
class Script:
    """The text of a script and the character of the source at which it starts (from 0)."""

    text: str
    start: int


def json_ld_scripts(source: Source) -> list[Script]:
    """The JSON-LD scripts of an HTML page, in order; one that is not closed runs to the end."""
    finder = _Finder(source)
    # Marked sections stop the parser of the standard library; outside of scripts they mean nothing here.
    finder.feed(source.text.replace("<![", "<!-"))
    finder.close()
    finder.end_script(len(source.text))
    return finder.scripts


class _Finder(HTMLParser):
    def __init__(self, source: Source) -> None:
        super().__init__(convert_charrefs=False)
        self.source = source
        self.scripts: list[Script] = []
        self._start: int | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        kind = next((value or "" for name, value in attrs if name == "type"), "")
        if tag == "script" and kind.partition(";")[0].strip().lower() == JSON_LD_TYPE:
            self._start = self._position() + len(self.get_starttag_text() or "")

    def handle_endtag(self, tag: str) -> None:
        if tag == "script":
            self.end_script(self._position())

    def end_script(self, end: int) -> None:
        """Close the script that is open, if any, before character `end`."""
        if self._start is not None and end > self._start:
            text = self.source.text[self._start : end]
            self.scripts.append(Script(_WRAPPERS.sub(lambda m: _blank(m.group()), text), self._start))
        self._start = None

    def _position(self) -> int:
        line, column = self.getpos()
        return self.source.offset(line, column)


def _blank(text: str) -> str:
    return "".join(c if c == "\n" else " " for c in text)
