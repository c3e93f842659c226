"""The structured data of a web page: its scripts of type application/ld+json, with their places.

Only script elements and comments are looked for, in one pass whose time stays in proportion to the page, whatever is
not closed in it; the parser of the standard library reads the attributes of each start tag.
"""

import re
from dataclasses import dataclass
from html.parser import HTMLParser

JSON_LD_TYPE = "application/ld+json"

LONGEST_TAG = 4000
"""Characters of a start tag that are looked at."""

_OPENING = re.compile(r"<!--|<script(?=[\s/>])", re.IGNORECASE)
_START_TAG = re.compile(r"""<script(?:[^>"']|"[^"]*"|'[^']*')*+>""", re.IGNORECASE)
_END_TAG = re.compile(r"</script(?=[\s/>])", re.IGNORECASE)

# Wrappers of old pages around a script; they become blanks, so that places stay right.
_WRAPPER_BEFORE = re.compile(r"<!--|(?://|/\*)?+\s*+<!\[CDATA\[\s*+(?:\*/)?")
_WRAPPERS_AFTER = ("-->", "]]>", "*/", "/*", "//", ";")
_MOST_WRAPPERS = 5


@dataclass(frozen=True, slots=True)
class Script:
    """The text of a script and the character of the source at which it starts (from 0)."""

    text: str
    start: int


def json_ld_scripts(page: str) -> list[Script]:
    """The JSON-LD scripts of an HTML page, in order; one that is not closed runs to the end."""
    scripts = []
    position = 0
    comments_close = True
    while opening := _OPENING.search(page, position):
        if opening.group() == "<!--":
            end = page.find("-->", opening.end()) if comments_close else -1
            comments_close = end >= 0
            position = end + 3 if comments_close else opening.end()
            continue
        tag = _START_TAG.match(page, opening.start(), opening.start() + LONGEST_TAG)
        if tag is None:
            position = opening.end()
            continue
        closing = _END_TAG.search(page, tag.end())
        position = closing.start() if closing else len(page)
        if _type_of(tag.group()) == JSON_LD_TYPE:
            scripts.append(Script(_without_wrappers(page[tag.end() : position]), tag.end()))
    return scripts


class _Attributes(HTMLParser):
    """Remembers the attributes of the first start tag that it is fed."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, str] = {}

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs if tag == "script" else []:
            self.found.setdefault(name, value or "")


def _type_of(tag: str) -> str:
    parser = _Attributes()
    parser.feed(tag)
    return parser.found.get("type", "").partition(";")[0].strip().lower()


def _without_wrappers(text: str) -> str:
    before = _WRAPPER_BEFORE.match(text, len(text) - len(text.lstrip()))
    start = before.end() if before else 0
    end = len(text.rstrip())
    for _ in range(_MOST_WRAPPERS):
        wrapper = next((w for w in _WRAPPERS_AFTER if text.endswith(w, start, end)), "")
        end = len(text[: end - len(wrapper)].rstrip())
    return _blank(text[:start]) + text[start : max(start, end)] + _blank(text[max(start, end) :])


def _blank(text: str) -> str:
    return "".join(c if c == "\n" else " " for c in text)
