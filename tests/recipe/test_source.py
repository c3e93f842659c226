"""Bytes to text: encodings, line ends, limits, and files that are none."""

import io
import os
import sys
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.errors import InputFileError
from mealcalc.recipe.source import LARGEST_FILE_BYTES, Source, decode, make_source, read_source
from tests.recipe.reading import shown

TEXT = "400 g crème fraîche\n1½ cups rice\n"


@pytest.mark.parametrize(
    "content",
    [
        TEXT.encode("utf-8"),
        TEXT.encode("utf-8-sig"),
        b"\xff\xfe" + TEXT.encode("utf-16-le"),
        b"\xfe\xff" + TEXT.encode("utf-16-be"),
        TEXT.replace("\n", "\r\n").encode("utf-8"),
        TEXT.replace("\n", "\r").encode("utf-8"),
    ],
    ids=["utf-8", "utf-8 with mark", "utf-16 le", "utf-16 be", "crlf", "cr"],
)
def test_encodings_and_line_ends_give_one_text(content: bytes) -> None:
    source = decode(content, "pots.txt")
    assert source.text == TEXT
    assert source.diagnostics == ()


def test_other_encodings_are_windows_1252_with_a_warning() -> None:
    source = decode("100 g rice\n200 ml crème – fraîche\n".encode("cp1252"), "pots.txt")
    assert source.lines[1] == "200 ml crème – fraîche"
    assert shown(source.diagnostics) == (
        "pots.txt:2:10: warning: the file is not in UTF-8; it is read as WINDOWS-1252, where this character is 'è' "
        "[encoding]\n"
        "    200 ml crème – fraîche\n"
        "             ^\n"
        "  hint: save it as UTF-8 in the editor, or: iconv -f WINDOWS-1252 -t UTF-8 FILE > NEW_FILE"
    )


def test_bytes_that_windows_1252_lacks_are_latin_1() -> None:
    source = decode(b"100 g caf\xe9 au lait and more of it\x81", "pots.txt")
    assert source.text == "100 g café au lait and more of it "
    assert [d.code for d in source.diagnostics] == ["encoding", "control-characters"]
    assert "ISO-8859-1" in source.diagnostics[0].message


@pytest.mark.parametrize("content", [b"", b"\xef\xbb\xbf", b" \n\t\r\n ", b"\xff\xfe"], ids=repr)
def test_an_empty_file_is_an_error(content: bytes) -> None:
    source = decode(content, "pots.txt")
    assert shown(source.diagnostics) == (
        "pots.txt:1:1: error: the recipe is empty [empty-file]\n"
        "  hint: write one ingredient per line, such as '400 g brown rice'"
    )


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"%PDF-1.7\n\0\0\0", "pots.txt: is not a text file (a NUL byte at byte 9)"),
        (b"\x01\x02\x03abc", "pots.txt: is not a text file (3 of 6 characters are control characters)"),
        ("rice".encode("utf-16-le"), "pots.txt: is not a text file (a NUL byte at byte 1)"),
        (b"\xff\xfe" + "a\0b".encode("utf-16-le"), "pots.txt: is not a text file (a NUL character at character 1)"),
        (b"\xff\xfea", "pots.txt: starts as UTF-16, but breaks off at byte 2"),
        ("rice".encode("utf-32"), "pots.txt: is in UTF-32, which recipes are never in"),
    ],
)
def test_files_that_are_no_text(content: bytes, message: str) -> None:
    with pytest.raises(InputFileError) as caught:
        decode(content, "pots.txt")
    assert caught.value.message == message
    assert "UTF-8" in caught.value.hint


def test_a_file_of_ten_megabytes_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "large.txt"
    path.write_bytes(b"1 g salt\n" * 1_200_000)
    with pytest.raises(InputFileError) as caught:
        read_source(path)
    assert caught.value.message == f"{path}: is larger than 2 MB, the limit for one recipe"
    assert caught.value.hint == "keep one recipe per file; foods of your own go under 'foods:' in it"


def test_a_file_at_the_limit_is_read() -> None:
    assert len(decode(b"a" * LARGEST_FILE_BYTES, "pots.txt").text) == LARGEST_FILE_BYTES
    with pytest.raises(InputFileError):
        decode(b"a" * (LARGEST_FILE_BYTES + 1), "pots.txt")


def test_a_missing_file_names_a_similar_one(tmp_path: Path) -> None:
    (tmp_path / "beans.batch.yaml").touch()
    with pytest.raises(InputFileError) as caught:
        read_source(tmp_path / "bean.batch.yaml")
    assert caught.value.message == f"{tmp_path / 'bean.batch.yaml'}: there is no such file"
    assert caught.value.hint == f"did you mean '{tmp_path / 'beans.batch.yaml'}'?"


def test_a_missing_folder(tmp_path: Path) -> None:
    with pytest.raises(InputFileError) as caught:
        read_source(tmp_path / "none" / "bean.batch.yaml")
    assert caught.value.hint == f"there is no folder '{tmp_path / 'none'}' either: check the path"


def test_a_folder_is_no_recipe(tmp_path: Path) -> None:
    (tmp_path / "beans.batch.yaml").touch()
    with pytest.raises(InputFileError) as caught:
        read_source(tmp_path)
    assert caught.value.message == f"{tmp_path}: is a folder, not a recipe file"
    assert caught.value.hint == f"name one file, such as '{tmp_path / 'beans.batch.yaml'}'"


def test_an_unreadable_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "locked.txt"
    path.write_text("1 egg")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(InputFileError) as caught:
        read_source(path)
    assert caught.value.message == f"{path}: may not be read"


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000, "\udc80"])
def test_names_that_no_file_can_have(name: str) -> None:
    with pytest.raises(InputFileError):
        read_source(name)


def test_a_device_without_end_is_read_to_the_limit_only() -> None:
    if not Path("/dev/zero").exists():
        pytest.skip("this system has no /dev/zero")
    with pytest.raises(InputFileError, match="larger than 2 MB"):
        read_source("/dev/zero")


def test_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO("1 crème\r\n".encode())))
    source = read_source("-")
    assert (source.name, source.text) == ("<stdin>", "1 crème\n")


def test_standard_input_that_is_a_text_stream(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("1 crème"))
    assert read_source(Path("-")).text == "1 crème"


@pytest.mark.parametrize("stdin", [None, io.TextIOWrapper(open(os.devnull, "wb", buffering=0))])  # noqa: PTH123, SIM115
def test_standard_input_that_cannot_be_read(monkeypatch: pytest.MonkeyPatch, stdin: object) -> None:
    monkeypatch.setattr(sys, "stdin", stdin)
    with pytest.raises(InputFileError, match="<stdin>: cannot be read"):
        read_source("-")


def test_control_characters_become_blanks_and_columns_stay() -> None:
    source = make_source("1 \x1b[31megg and a good deal of flour\u2028and\x0csalt", "pots.txt")
    assert source.text == "1  [31megg and a good deal of flour and salt"
    assert shown(source.diagnostics) == (
        "pots.txt:1:3: warning: 1 control character is read as blank [control-characters]\n"
        "    1  [31megg and a good deal of flour and salt\n"
        "      ^\n"
        "  hint: remove them, and check that nothing else was lost when the text was copied"
    )


def test_places_by_line_and_by_character() -> None:
    source = Source("pots.txt", "ab\n\ncde\n")
    assert str(source.place(4)) == "pots.txt:3:1"
    assert source.place(4).text == "cde"
    assert (source.place(1, 6).column, source.place(1, 6).end_column) == (2, 3)
    assert str(source.span(9, 9)) == "pots.txt:3:4"  # beyond the end: the end of the last line
    assert source.offset(3, 1) == 5


@given(st.binary(max_size=300))
def test_any_bytes_are_text_or_an_input_file_error(content: bytes) -> None:
    with suppress(InputFileError):
        source = decode(content, "pots.txt")
        source.text.encode("utf-8")
        assert "\r" not in source.text


@given(st.text(), st.integers(-5, 50), st.integers(-5, 50))
def test_every_place_lies_inside_the_text(text: str, line: int, column: int) -> None:
    source = make_source(text, "pots.txt")
    for span in (source.span(max(1, line), column, column + 3), source.place(line, line + column)):
        assert 1 <= span.line <= len(source.lines)
        assert span.text == source.lines[span.line - 1]
        assert 1 <= span.column <= span.end_column <= len(span.text) + 1
