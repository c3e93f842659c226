"""Text made fit for the place where it is shown.

What a recipe, a food table or a file name says is shown as text, whatever characters it holds: none may steer the
terminal, and none may stop an output that cannot hold it.
"""

import re
import unicodedata

LONGEST_TITLE = 120
LONGEST_NAME = 60
LONGEST_LINE = 200
"""Characters shown of titles, of names of components and of recipe lines; the rest is cut with an ellipsis."""

# Control characters (C0, DEL, C1), marks that turn the direction of all that follows, line ends of Unicode, halves of
# surrogate pairs. Joiners (U+200C, U+200D) stay: Indic scripts and Persian need them.
_STEERING = re.compile("[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff\ufeff]")

_SPELT_OUT = {
    "≥": ">=", "≤": "<=", "≈": "~", "µ": "u", "μ": "u", "×": "x", "–": "-", "—": "-", "─": "-", "…": "...",
    "’": "'", "‘": "'", "“": '"', "”": '"', "·": "-", "ß": "ss", "ø": "o", "æ": "ae", "œ": "oe", "ł": "l",
    "đ": "d", "°": " deg ",
}  # fmt: skip


def one_line(text: str, longest: int) -> str:
    """`text` on one line of at most `longest` characters, without characters that steer a terminal."""
    shown = " ".join(_STEERING.sub(" ", text).split())
    return shown if len(shown) <= longest else f"{shown[: longest - 1]}…"


def harmless(text: str) -> str:
    """`text` of one or several lines with a blank in place of each character that steers a terminal."""
    return "\n".join(_STEERING.sub(" ", line) for line in text.split("\n"))


def spelt_out(text: str) -> str:
    """`text` for an output that holds ASCII only: '≥' as '>=', '½' as ' 1/2', 'é' as 'e', what is left as '?'."""
    return "".join(_spelt_out(character) for character in text)


def _spelt_out(character: str) -> str:
    if character.isascii():
        return character
    if character in _SPELT_OUT:
        return _SPELT_OUT[character]
    parts = unicodedata.normalize("NFKD", character)
    if "\N{FRACTION SLASH}" in parts:
        return " " + parts.replace("\N{FRACTION SLASH}", "/")  # 1½ must not become 11/2
    return parts.encode("ascii", "ignore").decode() or "?"
