"""Rows of one sheet, from CSV, xlsx or xls, plain or `.gz`: cells as written, numbers as numbers, nothing interpreted.

A text file is UTF-8 unless the caller says otherwise (or UTF-16 with its mark); bytes that do not fit are refused with
their line rather than turned into wrong letters. Archives are bounded, so that a few kilobytes cannot unpack into all
memory.
"""

import csv
import gzip
import io
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from mealcalc.errors import InputFileError

LARGEST_FILE_BYTES = 256 * 1024 * 1024
"""An unpacked sheet of foods stays far below this; more is a wrong file or a decompression bomb."""

DELIMITERS = (",", ";", "\t", "|")
AGAIN = "fetch the file again from its publisher"

Cell = str | float
"""A text as written, or a number where the workbook stores a number. An empty cell is ''."""


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row: `number` counts from 1 as the spreadsheet or an editor shows it."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: `name` for messages, rows in order, and whether its text ends in the middle of a line."""

    name: str
    rows: tuple[SheetRow, ...]
    ends_in_line: bool = False

    def place(self, number: int, column: str = "") -> str:
        """Where a row, or a cell of it, stands."""
        return f"{self.name}:{number}" + (f", column '{column}'" if column else "")


def read_sheet(path: Path, *, sheet: str = "", encoding: str = "", delimiter: str = "") -> Sheet:
    """The rows of a sheet.

    Parameters
    ----------
    path : Path
        Ends in .csv, .tsv, .txt, .xlsx or .xls, or in one of these and .gz.
    sheet : str
        Of a workbook; '' for the first.
    encoding : str
        Of a text file; '' for UTF-8.
    delimiter : str
        Of a text file; '' for the one that its first line holds most often.

    Raises
    ------
    InputFileError
        If the file is missing, damaged, too large, of another kind, or not in that encoding.
    """
    name = path.name.removesuffix(".gz")
    data = _bytes_of(path)
    suffix = Path(name).suffix.lower()
    if suffix == ".xlsx":
        return Sheet(name, tuple(_xlsx_rows(name, data, sheet)))
    if suffix == ".xls":
        return Sheet(name, tuple(_xls_rows(name, data, sheet)))
    if suffix in (".csv", ".tsv", ".txt"):
        text = _decoded(name, data, encoding)
        return Sheet(name, tuple(_text_rows(name, text, delimiter)), not text.endswith(("\n", "\r")))
    raise InputFileError(f"{path}: a file of this kind cannot be read", "give .csv, .tsv, .txt, .xlsx or .xls")


def _bytes_of(path: Path) -> bytes:
    try:
        with gzip.open(path) if path.suffix == ".gz" else path.open("rb") as stream:
            data = stream.read(LARGEST_FILE_BYTES + 1)
    except (OSError, EOFError, zlib.error) as error:
        raise InputFileError(f"{path} cannot be read: {error}", AGAIN) from error
    if len(data) > LARGEST_FILE_BYTES:
        raise InputFileError(f"{path} holds more than {LARGEST_FILE_BYTES} bytes", "it is no sheet of foods")
    if not data:
        raise InputFileError(f"{path} is empty", AGAIN)
    return data


def _decoded(name: str, data: bytes, encoding: str) -> str:
    if not encoding:
        encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        text = data.decode(encoding)
    except LookupError as error:
        raise InputFileError(f"{name}: '{encoding}' is no encoding", "say encoding = 'cp1252', for example") from error
    except UnicodeDecodeError as error:
        line = len(data[: error.start + 1].splitlines())  # whatever ends its lines
        message = f"{name}:{line}: byte {data[error.start]:#04x} is not {encoding.removesuffix('-sig').upper()}"
        raise InputFileError(message, "say the encoding of the file in the mapping, such as 'cp1252'") from error
    if "\0" in text:
        raise InputFileError(f"{name} is binary, or UTF-16 without its mark", "export it as CSV in UTF-8")
    return text


def _text_rows(name: str, text: str, delimiter: str) -> Iterator[SheetRow]:
    first = text.splitlines()[0] if text.strip() else ""
    mark = delimiter or max(DELIMITERS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    number = 1
    try:
        for cells in reader:
            yield SheetRow(number, tuple(cells))
            number = reader.line_num + 1
    except csv.Error as error:
        raise InputFileError(f"{name}:{number}: {error}", f"{AGAIN}, or mend the quotation marks there") from error


def _xlsx_rows(name: str, data: bytes, sheet: str) -> Iterator[SheetRow]:
    import openpyxl  # only workbooks need it

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            if sum(part.file_size for part in archive.infolist()) > LARGEST_FILE_BYTES:
                raise InputFileError(
                    f"{name} unpacks to more than {LARGEST_FILE_BYTES} bytes", "it is no sheet of foods"
                )
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about headers and footers of the print, which say nothing here
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
            chosen = _sheet_name(name, book.sheetnames, sheet)
            for number, cells in enumerate(book[chosen].iter_rows(values_only=True), 1):
                yield SheetRow(number, tuple(_cell(value) for value in cells))
    except InputFileError:
        raise
    except Exception as error:  # the library raises whatever its parsers raise on a damaged workbook
        raise InputFileError(f"{name} is no whole workbook: {error}", AGAIN) from error


def _xls_rows(name: str, data: bytes, sheet: str) -> Iterator[SheetRow]:
    try:
        import xlrd
    except ImportError as error:
        raise InputFileError(f"{name}: .xls needs the package xlrd", "pip install 'mealcalc[import]'") from error
    try:
        book = xlrd.open_workbook(file_contents=data)
        chosen = book.sheet_by_name(_sheet_name(name, book.sheet_names(), sheet))
        for number in range(chosen.nrows):
            kinds, values = chosen.row_types(number), chosen.row_values(number)
            cells = tuple(
                _cell(value) if kind in (xlrd.XL_CELL_TEXT, xlrd.XL_CELL_NUMBER) else _strange(kind, value)
                for kind, value in zip(kinds, values, strict=True)
            )
            yield SheetRow(number + 1, cells)
    except InputFileError:
        raise
    except Exception as error:  # as above
        raise InputFileError(f"{name} is no whole workbook: {error}", AGAIN) from error


def _strange(kind: int, value: object) -> Cell:
    """A cell of an old workbook that is neither text nor number: empty, or refused later as no number."""
    return "" if kind in (0, 6) else f"({'date' if kind == 3 else 'no number'}: {value})"


def _cell(value: object) -> Cell:
    if value is None:
        return ""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return value
    return str(value)


def _sheet_name(file: str, names: list[str], wanted: str) -> str:
    if not names:
        raise InputFileError(f"{file} has no sheet", AGAIN)
    if not wanted:
        return names[0]
    if wanted not in names:
        raise InputFileError(f"{file} has no sheet '{wanted}'", f"it has: {', '.join(names)}")
    return wanted
