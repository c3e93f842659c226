"""The file format of the USDA Standard Reference releases: `^` between fields, `~` around text, Latin-1.

Split from the reader of a certain release, since all releases share it. `AsciiFile` yields the well-formed records of a
file and keeps a diagnostic for every other one.
"""

import gzip
import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.errors import InputFileError

LARGEST_FILE_BYTES = 256 * 1024 * 1024
"""An unpacked file of a release stays far below this; more is a wrong file or a decompression bomb."""

MOST_REPORTED_LINES = 50
"""After this many unreadable lines the file is plainly a wrong one, and reading stops, saying so."""

_NUMBER = re.compile(r"[0-9]+(\.[0-9]*)?|\.[0-9]+")

# The files are Latin-1 by their documentation, yet a name or two was typed with quotation marks of Windows-1252.
_WINDOWS_MARKS = {0x91: "‘", 0x92: "’", 0x93: "“", 0x94: "”", 0x96: "–", 0x97: "—"}


class FieldError(ValueError):
    """Field `index` of a record does not hold what it should."""

    def __init__(self, index: int, what: str, expected: str) -> None:
        super().__init__(f"field {index + 1}: {what} is not {expected}")
        self.index = index
        self.what = what
        self.expected = expected


@dataclass(frozen=True, slots=True)
class Fields:
    """The fields of one record, still as written, with typed access by position from 0."""

    raw: tuple[str, ...]
    span: Span

    def place(self, index: int) -> Span:
        """Where field `index` stands."""
        start = sum(len(part) + 1 for part in self.raw[:index])
        return self.span.at(start, start + max(len(self.raw[index]), 1))

    def blank(self, index: int) -> bool:
        """Whether the field is empty, without even the marks of a text."""
        return self.raw[index] == ""

    def text(self, index: int, *, empty: bool = True) -> str:
        """The text between the `~` marks, without outer blanks; FieldError without marks or, on demand, if empty."""
        raw = self.raw[index]
        if len(raw) < 2 or raw[0] != "~" or raw[-1] != "~" or "~" in raw[1:-1]:
            raise FieldError(index, f"'{raw}'", "a text between ~ marks")
        value = raw[1:-1].strip()
        if not (value or empty):
            raise FieldError(index, "an empty text", "allowed here")
        return value

    def code(self, index: int, pattern: re.Pattern[str]) -> str:
        """A code, kept as text with its leading zeros."""
        value = self.text(index)
        if not pattern.fullmatch(value):
            raise FieldError(index, f"'{value}'", f"a code of the form {pattern.pattern}")
        return value

    def number(self, index: int, *, at_most: float | None = None) -> float | None:
        """A number, None where blank: blank is missing, never 0."""
        raw = self.raw[index]
        if raw == "":
            return None
        if not _NUMBER.fullmatch(raw):
            raise FieldError(index, f"'{raw}'", "a number")
        value = float(raw)
        if at_most is not None and value > at_most:
            raise FieldError(index, f"{raw}", f"at most {at_most:g}")
        return value

    def positive(self, index: int) -> float:
        """A number above 0 that must be there."""
        value = self.number(index)
        if not value:
            raise FieldError(index, f"'{self.raw[index]}'", "a number above 0")
        return value

    def whole_number(self, index: int) -> int:
        """A whole number that must be there."""
        raw = self.raw[index]
        if not (raw.isascii() and raw.isdigit()):
            raise FieldError(index, f"'{raw}'", "a whole number")
        return int(raw)


@dataclass
class AsciiFile:
    """The bytes of one file of a release, unpacked, and what was found wrong in it."""

    name: str
    data: bytes
    diagnostics: list[Diagnostic] = field(default_factory=list)

    def report(self, code: str, message: str, span: Span) -> None:
        """Keep an error about a place of this file."""
        hint = "the line is left out; fetch the file again from its publisher"
        self.diagnostics.append(Diagnostic(code, Severity.ERROR, message, span, hint))

    def records(self, count: int) -> Iterator[Fields]:
        """The well-formed records of `count` fields each; every other line gets a diagnostic."""
        lines = self.data.split(b"\n")
        if lines[-1] == b"":
            lines.pop()
        else:
            self.report("cut-short", "the last line does not end: the file is cut short", Span(self.name, len(lines)))
            lines.pop()
        for number, line in enumerate(lines, 1):
            if len(self.diagnostics) >= MOST_REPORTED_LINES:
                message = f"reading stops after {MOST_REPORTED_LINES} errors; the rest of the file is not read"
                self.report("too-many-errors", message, Span(self.name, number))
                return
            fields = self._split(line.removesuffix(b"\r"), number, count)
            if fields is not None:
                yield fields

    def _split(self, line: bytes, number: int, count: int) -> Fields | None:
        text = line.decode("latin-1").translate(_WINDOWS_MARKS)
        span = Span(self.name, number, 1, len(text) + 1, text)
        strange = next((i for i, char in enumerate(text) if not char.isprintable() and char != "\xa0"), None)
        if strange is not None:
            message = f"character {text[strange]!r} has no place in a Latin-1 text"
            self.report("bad-encoding", message, span.at(strange, strange + 1))
            return None
        if not line.isascii() and _is_utf_8(line):
            self.report("bad-encoding", "the line is UTF-8; the release is Latin-1", span)
            return None
        fields = tuple(text.split("^"))
        if len(fields) != count:
            self.report("field-count", f"{len(fields)} fields instead of {count}", span)
            return None
        return Fields(fields, span)


def open_release_file(folder: Path, name: str) -> AsciiFile:
    """Read `name` or `name.gz` from a folder into memory, unpacked.

    Raises
    ------
    InputFileError
        If neither is there, or it cannot be read or unpacked, is too large, or is no text of one byte a character.
    """
    path = next((p for p in (folder / name, folder / f"{name}.gz") if p.is_file()), None)
    if path is None:
        raise InputFileError(f"{folder / name} is missing", f"put {name} or {name}.gz of the release into the folder")
    try:
        with gzip.open(path) if path.suffix == ".gz" else path.open("rb") as stream:
            data = stream.read(LARGEST_FILE_BYTES + 1)
    except (OSError, EOFError, zlib.error) as error:
        raise InputFileError(f"{path} cannot be read: {error}", "fetch the file again") from error
    if len(data) > LARGEST_FILE_BYTES:
        raise InputFileError(f"{path} holds more than {LARGEST_FILE_BYTES} bytes", "it is no file of the release")
    if not data:
        raise InputFileError(f"{path} is empty", "fetch the file again")
    if b"\0" in data:
        raise InputFileError(f"{path} is binary or UTF-16", f"give {name} of the release as published, in Latin-1")
    return AsciiFile(path.name.removesuffix(".gz"), data)


def _is_utf_8(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True
