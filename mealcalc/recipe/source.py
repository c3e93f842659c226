"""Recipe files as text: bytes of a path or of standard input, decoded safely, with every place in them known.

UTF-8, with or without byte order mark, and UTF-16 with byte order mark are read as what they are; anything else that is
text is taken for Windows-1252 with a warning, since that is what older office programs write. Line ends of all three
systems count as one.
"""

import re
import sys
from bisect import bisect_right
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.errors import InputFileError

STANDARD_INPUT = "-"
STANDARD_INPUT_NAME = "<stdin>"

LARGEST_FILE_BYTES = 2_000_000
"""A recipe is a few thousand bytes, a web page with one a few hundred thousand; more is a mistake or an attack."""

MOST_CONTROL_SHARE = 0.1
"""Share of control characters above which a file is no text (our judgement)."""

_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}
_UTF32_MARKS = (b"\xff\xfe\x00\x00", b"\x00\x00\xfe\xff")

# Characters that steer a terminal or a printer. One blank in the place of each keeps columns right, and what is read
# can be shown safely. The last row ends lines for YAML, but for no editor.
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
_OTHER_BLANKS = re.compile(r"[\x0b\x0c\x85\u2028\u2029]")


@dataclass(frozen=True, slots=True)
class Source:
    """A text with its places.

    name: the path as given, or `<stdin>`. text: the whole text, lines ended by a line feed, without control characters.
    lines: its lines without their ends. diagnostics: what was noticed while decoding.
    """

    name: str
    text: str
    diagnostics: tuple[Diagnostic, ...] = ()
    lines: tuple[str, ...] = field(init=False, repr=False)
    _starts: tuple[int, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        lines = tuple(self.text.split("\n"))
        starts, position = [], 0
        for line in lines:
            starts.append(position)
            position += len(line) + 1
        object.__setattr__(self, "lines", lines)
        object.__setattr__(self, "_starts", tuple(starts))

    def span(self, line: int, column: int = 1, end_column: int | None = None) -> Span:
        """The place on `line` from `column` to before `end_column` (the end of the line by default), all from 1.

        A place beyond the text becomes the nearest one inside it.
        """
        last = len(self.lines)
        if last > 1 and not self.lines[-1]:
            last -= 1  # what follows the last line end is no line
        if line > last:
            line, column, end_column = last, len(self.lines[last - 1]) + 1, None
        text = self.lines[line - 1]
        column = max(1, min(column, len(text) + 1))
        end = len(text) + 1 if end_column is None else max(column, min(end_column, len(text) + 1))
        return Span(self.name, line, column, end, text)

    @property
    def start(self) -> Span:
        """The place of what concerns the whole file: its first line, without a text to point at."""
        return Span(self.name, 1)

    def place(self, start: int, end: int | None = None) -> Span:
        """The place of the characters from `start` to before `end` (from 0), cut at the end of the first line."""
        start = max(0, min(start, len(self.text)))
        number = bisect_right(self._starts, start)
        column = start - self._starts[number - 1] + 1
        return self.span(number, column, None if end is None else column + max(0, end - start))

    def offset(self, line: int, column: int) -> int:
        """The character (from 0) of the text at `line` (from 1) and `column` (from 0)."""
        return self._starts[min(line, len(self._starts)) - 1] + column


def one_line(text: str) -> str:
    """`text` with its white space reduced to single blanks, without characters that steer a terminal."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def title_of(source: Source) -> str:
    """A title for a recipe that has none: the name of its file without endings."""
    if source.name == STANDARD_INPUT_NAME:
        return "Batch"
    return one_line(re.sub(r"[-_]", " ", Path(source.name).name.partition(".")[0])) or "Batch"


def read_source(path: str | Path) -> Source:
    """Read a recipe file, or standard input for '-', into text.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    Source
        The text; an empty one carries the error 'empty-file'.

    Raises
    ------
    InputFileError
        If the file is missing, a folder, unreadable, larger than `LARGEST_FILE_BYTES`, or no text.
    """
    if str(path) == STANDARD_INPUT:
        return decode(_read_standard_input(), STANDARD_INPUT_NAME)
    return decode(_read_file(Path(path)), str(path))


def decode(content: bytes, file: str) -> Source:
    """Decode the bytes of a recipe named `file`; raises `InputFileError` as `read_source` does."""
    if len(content) > LARGEST_FILE_BYTES:
        raise _too_large(file)
    text, assumed = _to_text(content, file)
    return make_source(text, file, assumed)


def make_source(text: str, file: str, assumed_encoding: str = "") -> Source:
    """The source of a text at hand. `assumed_encoding` names an encoding that was guessed, for the warning."""
    text = _OTHER_BLANKS.sub(" ", text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n"))
    control = _CONTROL.search(text)
    count = len(_CONTROL.findall(text)) if control else 0
    if control:
        text = _CONTROL.sub(" ", text)
    source = Source(file, text)
    found = []
    if not text.strip():
        found.append(
            Diagnostic(
                "empty-file",
                Severity.ERROR,
                "the recipe is empty",
                source.start,
                "write one ingredient per line, such as '400 g brown rice'",
            )
        )
    if assumed_encoding:
        first = next((i for i, c in enumerate(text) if not c.isascii()), 0)
        found.append(
            Diagnostic(
                "encoding",
                Severity.WARNING,
                f"the file is not in UTF-8; it is read as {assumed_encoding}, where this character is '{text[first]}'",
                source.place(first, first + 1),
                f"save it as UTF-8 in the editor, or: iconv -f {assumed_encoding} -t UTF-8 FILE > NEW_FILE",
            )
        )
    if control:
        found.append(
            Diagnostic(
                "control-characters",
                Severity.WARNING,
                f"{count} control character{'s are' if count > 1 else ' is'} read as blank",
                source.place(control.start(), control.start() + 1),
                "remove them, and check that nothing else was lost when the text was copied",
            )
        )
    return Source(file, text, tuple(found))


def _read_standard_input() -> bytes:
    stream = getattr(sys.stdin, "buffer", None)
    try:
        if stream is None:  # replaced by a stream of text, as tests and notebooks do
            return sys.stdin.read(LARGEST_FILE_BYTES + 1).encode("utf-8", "replace")
        content: bytes = stream.read(LARGEST_FILE_BYTES + 1)
        return content
    except (OSError, ValueError, AttributeError) as error:
        raise InputFileError(f"{STANDARD_INPUT_NAME}: cannot be read: {error}", "name a file instead of '-'") from error


def _read_file(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise InputFileError(f"{path}: is a folder, not a recipe file", _files_inside(path))
        with path.open("rb") as stream:
            return stream.read(LARGEST_FILE_BYTES + 1)
    except FileNotFoundError as error:
        raise InputFileError(f"{path}: there is no such file", _similar_file(path)) from error
    except PermissionError as error:
        raise InputFileError(f"{path}: may not be read", "give yourself the right to read it, or copy it") from error
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        shown = str(path).encode("ascii", "backslashreplace").decode("ascii").replace("\0", "\\0")
        raise InputFileError(f"{shown}: cannot be read: {reason}", "check the name of the file") from error


def _similar_file(path: Path) -> str:
    try:
        names = [p.name for p in path.parent.iterdir() if p.is_file()]
    except OSError:
        return f"there is no folder '{path.parent}' either: check the path"
    similar = get_close_matches(path.name, names, n=1)
    return f"did you mean '{path.with_name(similar[0])}'?" if similar else "check the name; '-' reads standard input"


def _files_inside(path: Path) -> str:
    try:
        names = sorted(p.name for p in path.iterdir() if p.name.endswith((".batch.yaml", ".batch.yml")))
    except OSError:
        names = []
    return f"name one file, such as '{path / names[0]}'" if names else "name one file inside it"


def _to_text(content: bytes, file: str) -> tuple[str, str]:
    """The text, and the name of the encoding if it is a guess."""
    for mark in _UTF32_MARKS:
        if content.startswith(mark):
            raise InputFileError(f"{file}: is in UTF-32, which recipes are never in", "save it as UTF-8")
    for mark, encoding in _UTF16_MARKS.items():
        if content.startswith(mark):
            try:
                text = content[len(mark) :].decode(encoding)
            except UnicodeDecodeError as error:
                raise InputFileError(
                    f"{file}: starts as UTF-16, but breaks off at byte {error.start + len(mark)}", "save it as UTF-8"
                ) from error
            _refuse_binary(text, file)
            return text, ""
    if b"\0" in content:
        raise _binary(file, f"a NUL byte at byte {content.index(0)}")
    try:
        text, assumed = content.removeprefix(_UTF8_MARK).decode("utf-8"), ""
    except UnicodeDecodeError:
        try:
            text, assumed = content.decode("windows-1252"), "WINDOWS-1252"
        except UnicodeDecodeError:  # five bytes mean nothing in Windows-1252
            text, assumed = content.decode("latin-1"), "ISO-8859-1"
    _refuse_binary(text, file)
    return text, assumed


def _refuse_binary(text: str, file: str) -> None:
    if "\0" in text:
        raise _binary(file, f"a NUL character at character {text.index(chr(0))}")
    count = len(_CONTROL.findall(text))
    if count > MOST_CONTROL_SHARE * len(text):
        raise _binary(file, f"{count} of {len(text)} characters are control characters")


def _binary(file: str, sign: str) -> InputFileError:
    return InputFileError(
        f"{file}: is not a text file ({sign})",
        "save the recipe as plain text, YAML or HTML in UTF-8; a PDF, a picture or an office document cannot be read",
    )


def _too_large(file: str) -> InputFileError:
    return InputFileError(
        f"{file}: is larger than {LARGEST_FILE_BYTES / 1e6:g} MB, the limit for one recipe",
        "keep one recipe per file; foods of your own go under 'foods:' in it",
    )
