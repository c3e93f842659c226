"""The interface of all readers, by the reader of SR28 and by a table that lists its values apart."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import pytest

from data_loaders.interface import Chunk, Reader, TableMetadata, source_file, whole_foods
from data_loaders.readers.sr28_table import Sr28Reader
from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import InputFileError
from mealcalc.fooddb.writer import FoodRow
from mealcalc.records import Food
from mealcalc.values import ValueStatus


class ValuesApart:
    """A table with one row per value, as large tables are published."""

    metadata = TableMetadata("big", "1", "Big", "nobody", "none", "", ())
    diagnostics: Sequence[Diagnostic] = ()

    def groups(self) -> Iterable[tuple[str, str]]:
        return ()

    def chunks(self) -> Iterator[Chunk]:
        yield Chunk(foods=[FoodRow("1", "", "rice", ())])
        yield Chunk(values=[("1", "FAT_G", 0.5, ValueStatus.ANALYSED)])


def test_a_table_that_lists_values_apart_is_no_table_of_whole_foods() -> None:
    reader: Reader = ValuesApart()
    with pytest.raises(ValueError, match="big lists values apart"):
        list(whole_foods(reader))


def test_source_file_holds_size_and_checksum(tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    path.write_bytes(b"code,fat\n1,2\n")
    file = source_file(path)
    assert (file.name, file.size_bytes) == ("table.csv", 13)
    assert file.sha256 == hashlib.sha256(b"code,fat\n1,2\n").hexdigest()


def test_source_file_that_is_missing(tmp_path: Path) -> None:
    with pytest.raises(InputFileError, match=r"missing\.csv cannot be read"):
        source_file(tmp_path / "missing.csv")


def test_several_files_have_one_checksum_over_theirs(tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / name).write_text(name, encoding="utf-8")
    files = tuple(source_file(tmp_path / name) for name in ("a", "b"))
    metadata = TableMetadata("t", "1", "T", "p", "l", "https://example.org", files)
    row = metadata.edition_row()
    assert row.sha256 == hashlib.sha256(f"{files[0].sha256}\n{files[1].sha256}".encode()).hexdigest()
    assert row.origin == "a, b; https://example.org"


def test_the_release_gives_the_same_foods_as_the_bundled_table(
    reference_data: Path, all_foods: dict[str, Food]
) -> None:
    reader: Reader = Sr28Reader(reference_data / "data" / "sr28")
    rows = {row.code: row for row in whole_foods(reader)}
    assert len(rows) == 8789
    assert sum(len(row.measures) for row in rows.values()) == 15438
    assert len(list(reader.groups())) == 25
    assert not reader.diagnostics
    assert len(reader.metadata.files) == 4
    for code, food in all_foods.items():
        stored = {key: value.amount for key, value in food.composition.items() if value.status is ValueStatus.PUBLISHED}
        assert {key: amount for key, amount, _ in rows[code].values} == stored
        assert (rows[code].description, tuple(rows[code].names)) == (food.description, food.names)
