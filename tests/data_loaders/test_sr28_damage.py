"""Damaged release files are read right or refused with the place: nothing is lost in silence and nothing is made up."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from data_loaders.readers.ascii_release import AsciiFile, open_release_file
from data_loaders.readers.sr28 import read_abbreviated, read_descriptions, read_groups, read_weights
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.errors import InputFileError

EXCERPT = Path(__file__).parent.parent / "data" / "sr28_excerpt"

Reader = Callable[[AsciiFile], tuple[tuple[object, ...], tuple[Diagnostic, ...]]]
READERS: dict[str, Reader] = {
    "FD_GROUP.txt": read_groups,
    "FOOD_DES.txt": read_descriptions,
    "ABBREV.txt": read_abbreviated,
    "WEIGHT.txt": read_weights,
}

file_names = st.sampled_from(sorted(READERS))


@cache
def intact(name: str) -> bytes:
    return (EXCERPT / name).read_bytes()


@cache
def intact_rows(name: str) -> tuple[object, ...]:
    rows, faults = READERS[name](AsciiFile(name, intact(name)))
    assert faults == ()
    return rows


def read(name: str, data: bytes) -> tuple[tuple[object, ...], tuple[Diagnostic, ...]]:
    rows, faults = READERS[name](AsciiFile(name, data))
    for fault in faults:
        assert fault.severity is Severity.ERROR
        assert fault.span is not None
        assert fault.span.file == name
        assert 1 <= fault.span.line <= data.count(b"\n") + 1
        assert 1 <= fault.span.column < fault.span.end_column or fault.span.column == 1
    return rows, faults


@given(name=file_names, data=st.data())
def test_cut_anywhere(name: str, data: st.DataObject) -> None:
    whole = intact(name)
    kept = data.draw(st.integers(0, len(whole) - 1))
    rows, faults = read(name, whole[:kept])
    assert rows == intact_rows(name)[: len(rows)]
    # A cut between two lines leaves a shorter file that is sound in itself; any other cut is noticed.
    assert bool(faults) == (kept > 0 and whole[kept - 1 : kept] != b"\n")
    assert len(rows) == whole[:kept].count(b"\n")


@given(name=file_names, data=st.data())
def test_a_piece_from_the_middle_lost(name: str, data: st.DataObject) -> None:
    whole = intact(name)
    start = data.draw(st.integers(0, len(whole)))
    end = data.draw(st.integers(start, len(whole)))
    rows, faults = read(name, whole[:start] + whole[end:])
    lines = (whole[:start] + whole[end:]).count(b"\n")
    # Every line is a row or has a fault; a line may have lost digits without a trace, so rows are not compared.
    assert len(rows) + len(faults) >= lines


@given(name=file_names, data=st.data())
def test_a_text_and_a_number_swapped(name: str, data: st.DataObject) -> None:
    lines = intact(name).decode("ascii").splitlines()
    number = data.draw(st.integers(0, len(lines) - 1))
    fields = lines[number].split("^")
    texts = [i for i, field in enumerate(fields) if field.startswith("~")]
    numbers = [i for i, field in enumerate(fields) if not field.startswith("~")]
    if not numbers:
        return
    i, j = data.draw(st.sampled_from(texts)), data.draw(st.sampled_from(numbers))
    fields[i], fields[j] = fields[j], fields[i]
    lines[number] = "^".join(fields)
    rows, faults = read(name, "".join(f"{line}\r\n" for line in lines).encode("ascii"))
    assert [fault.span.line for fault in faults if fault.span] == [number + 1]
    assert rows == intact_rows(name)[:number] + intact_rows(name)[number + 1 :]


@given(name=file_names, data=st.data())
def test_another_file_in_its_place(name: str, data: st.DataObject) -> None:
    other = data.draw(file_names.filter(lambda candidate: candidate != name))
    rows, faults = read(name, intact(other))
    assert rows == ()
    assert len(faults) == intact(other).count(b"\n")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32", "cp437", "mac-roman", "cp500"])
@pytest.mark.parametrize("name", sorted(READERS))
def test_another_encoding(tmp_path: Path, name: str, encoding: str) -> None:
    text = (
        intact(name).decode("ascii").replace("raw~", "raw, entrée~").replace("Spices", "Épices").replace("tsp", "thé")
    )
    assert not text.isascii()
    (tmp_path / name).write_bytes(text.encode(encoding))
    if encoding in {"utf-16", "utf-32"}:
        with pytest.raises(InputFileError, match="is binary or UTF-16"):
            open_release_file(tmp_path, name)
        return
    rows, faults = read(name, open_release_file(tmp_path, name).data)
    assert faults
    assert {fault.code for fault in faults} <= {"bad-encoding", "cut-short"}
    # Lines of plain ASCII are the same in most encodings; those with an accent are refused.
    good, none = read(name, text.encode("latin-1"))
    assert none == ()
    assert len(good) == len(intact_rows(name))
    assert all(str(row) in {str(whole) for whole in good} for row in rows)
    assert len(rows) < len(good)


@given(name=file_names, data=st.binary(max_size=400))
def test_any_bytes(name: str, data: bytes) -> None:
    rows, faults = read(name, data)
    assert len(rows) <= data.count(b"\n")
    assert bool(faults) or len(rows) == data.count(b"\n")


@given(name=file_names, data=st.data())
def test_one_byte_changed(name: str, data: st.DataObject) -> None:
    whole = bytearray(intact(name))
    place = data.draw(st.integers(0, len(whole) - 1))
    whole[place] = data.draw(st.integers(0, 255))
    rows, faults = read(name, bytes(whole))
    assert len(rows) + len(faults) >= bytes(whole).count(b"\n")
