"""What every reader of a published table offers: metadata, food groups, chunks of foods, diagnostics.

A reader knows one published format and nothing of the database. It hands over foods in the shape of `fooddb`'s writer,
in chunks, so that a table of any size passes through bounded memory:

    reader = CiqualReader(path)
    for chunk in reader.chunks(): ...
    reader.diagnostics      # complete once the chunks are exhausted

Values travel in one of two ways, since tables are published in two shapes. A table with one row per food yields
`FoodRow`s that hold their values. A table with one row per value (millions of them, in an order of its own) yields the
foods first, without values, then the values beside their food's code in later chunks; nothing is joined in memory.
"""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import InputFileError
from mealcalc.fooddb.writer import EditionRow, FoodRow, MeasureRow
from mealcalc.values import ValueStatus

FOODS_IN_CHUNK = 500
"""Foods that a reader hands over at once, where its format does not suggest otherwise."""

ValueRow = tuple[str, str, float, ValueStatus]
"""Food code, component key, amount per 100 g edible portion in the component's unit, status. Missing has no row."""

_BYTES_AT_ONCE = 1 << 20


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A file that was read: name without folder, size in bytes, SHA-256 in hexadecimal, as it lies on the disk."""

    name: str
    size_bytes: int
    sha256: str


@dataclass(frozen=True, slots=True)
class TableMetadata:
    """What is said of a table: short code (`ciqual`), edition, origin; `address` of the publisher, or empty."""

    table: str
    edition: str
    title: str
    publisher: str
    licence: str
    address: str
    files: tuple[SourceFile, ...]

    def edition_row(self) -> EditionRow:
        """The same as the database's writer takes it; several files have one checksum, over theirs."""
        checksums = [file.sha256 for file in self.files]
        together = checksums[0] if len(checksums) == 1 else hashlib.sha256("\n".join(checksums).encode()).hexdigest()
        names = ", ".join(file.name for file in self.files)
        origin = f"{names}; {self.address}" if self.address else names
        return EditionRow(self.table, self.edition, self.title, self.publisher, self.licence, origin, together)


@dataclass(frozen=True, slots=True)
class Chunk:
    """A piece of a table.

    foods: complete, or without values where the table lists values apart. values, measures: of foods which this or an
    earlier chunk has brought, beside the food's code. further: values of components that only the vocabulary of the
    loaders holds (`data_loaders.vocabulary`); the food database has no place for them yet.
    """

    foods: Sequence[FoodRow] = ()
    values: Sequence[ValueRow] = ()
    measures: Sequence[tuple[str, MeasureRow]] = ()
    further: Sequence[ValueRow] = ()


class Reader(Protocol):
    """One published table. `groups` may be asked before the chunks; the chunks are read once.

    Raises InputFileError where a file cannot be read as this table at all. A row that cannot be read whole is left out
    and has an error, with its place, among the diagnostics; nothing is guessed.
    """

    @property
    def metadata(self) -> TableMetadata:
        """What is said of the table, with the checksums of the files given."""

    @property
    def diagnostics(self) -> Sequence[Diagnostic]:
        """What was found so far; complete once the chunks are exhausted."""

    def groups(self) -> Iterable[tuple[str, str]]:
        """Code and description of each food group, in the order of the table."""

    def chunks(self) -> Iterator[Chunk]:
        """The foods in the order of the table."""


def whole_foods(reader: Reader) -> Iterator[FoodRow]:
    """The foods of a reader whose foods hold their values, as the database's writer takes them.

    Raises
    ------
    ValueError
        If a chunk lists values or measures apart: such a table needs a loader that writes them apart.
    """
    for chunk in reader.chunks():
        if chunk.values or chunk.measures:
            raise ValueError(f"table {reader.metadata.table} lists values apart from its foods")
        yield from chunk.foods


def source_file(path: Path) -> SourceFile:
    """Name, size and checksum of a file, read in pieces.

    Raises
    ------
    InputFileError
        If it is missing or cannot be read.
    """
    digest, size = hashlib.sha256(), 0
    try:
        with path.open("rb") as stream:
            while piece := stream.read(_BYTES_AT_ONCE):
                digest.update(piece)
                size += len(piece)
    except OSError as error:
        raise InputFileError(f"{path} cannot be read: {error.strerror}", "give a file that is there") from error
    return SourceFile(path.name, size, digest.hexdigest())
