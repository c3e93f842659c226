"""Bad input through the real command: place and way out are named, the rest is computed, and no whole is pretended."""

import os
import re
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.command import Answer, mealcalc, mealcalc_process, write

GOOD = "400 g brown rice, raw"
GOOD_KCAL = 4 * 367.0
"""SR28 20036: 367 kcal in 100 g."""


def batch(lines: str, *, containers: str = "2", more: str = "") -> str:
    rows = "".join(f"      {line}\n" for line in lines.splitlines())
    return (
        f"title: Test pots\nregion: uk\ncontainers: {containers}\ncomponents:\n"
        f"  - name: All\n    ingredients: |\n{rows}{more}"
    )


def check_told(answer: Answer, place: str, *words: str) -> None:
    """The place, what is wrong and a way out stand on standard error; nothing of Python's does."""
    text = answer.out + answer.err
    assert "Traceback" not in text
    assert place in answer.err
    for word in words:
        assert word in answer.err
    assert "hint:" in answer.err
    assert "\x1b" not in text


# --- single lines: everything else is still computed ------------------------------------------------------------------

LINES = {
    "unknown food": ("200 g zorgles", "unmatched-food", True),
    "unknown unit": ("2 blorps of butter", "", None),
    "negative quantity": ("-200 g butter", "negative-amount", True),
    "absurd quantity": ("500 kg salt", "absurd-amount", None),
    "zero": ("0 g butter", "", None),
    "unknown setting": ("200 g butter [spread 5%]", "unknown-setting", True),
    "share above one": ("200 g butter [used 140%]", "", True),
    "unknown food code": ("200 g butter [food sr28:99999]", "unknown-food-code", True),
    "unknown food table": ("200 g butter [food nowhere:1]", "unknown-food-code", True),
    "number beyond all": ("1e400 g butter", "", None),
    "only an amount": ("200 g", "", None),
}


@pytest.mark.parametrize(("line", "code", "fails"), LINES.values(), ids=LINES.keys())
def test_a_bad_line_leaves_the_others_computed(kitchen: Path, line: str, code: str, fails: bool | None) -> None:
    write(kitchen, "pots.batch.yaml", batch(f"{GOOD}\n{line}"))
    answer = mealcalc("macros", "pots.batch.yaml")
    check_told(answer, "pots.batch.yaml:8:", code)
    assert re.search(r"^ +7 +400 +734 .*400 g brown rice", answer.out, re.MULTILINE)
    assert re.search(rf"^ +8 .*{re.escape(line)}$", answer.out, re.MULTILINE)
    shape = mealcalc("macros", "pots.batch.yaml", "--json").json
    first, second = shape["lines"]
    assert first["energy_kcal"] == pytest.approx(GOOD_KCAL)
    if second["status"] == "unmatched" or (second["status"] in ("matched", "unsure") and second["mass_g"] is None):
        assert shape["complete"] is False
        assert shape["incomplete"]["ENERC_KCAL"] == [8]
        assert second["energy_kcal"] is None
        assert "INCOMPLETE: energy" in answer.out
        assert answer.status == 1
    if fails:
        assert answer.status == 1


@pytest.mark.parametrize("line", ["butter", "nan g butter", "some butter"])
def test_a_line_without_an_amount_is_never_a_silent_zero(kitchen: Path, line: str) -> None:
    write(kitchen, "pots.batch.yaml", batch(f"{GOOD}\n{line}"))
    shape = mealcalc("macros", "pots.batch.yaml", "--json").json
    if shape["lines"][1]["mass_g"] is None:
        assert 8 in shape["incomplete"]["FAT_G"]
        assert shape["complete"] is False
        told = " ".join(mealcalc("macros", "pots.batch.yaml").out.split())
        assert re.search(r"INCOMPLETE: [^:]*: not known of line 8 \([^:]*; write an amount, \[grams N\] or", told)


# --- whole files ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("containers", ["0", "-3", "2.5", "six", "1000000", "[1, 2]", ""])
def test_containers_that_cannot_be(kitchen: Path, containers: str) -> None:
    write(kitchen, "pots.batch.yaml", batch(GOOD, containers=containers))
    answer = mealcalc("macros", "pots.batch.yaml")
    assert answer.status == 1
    check_told(answer, "pots.batch.yaml:3:", "containers")
    assert re.search(r"^energy +kcal +1468$", answer.out, re.MULTILINE)  # the whole batch, told as such
    assert "in the " in answer.out


def test_components_of_the_same_name_are_told_and_both_computed(kitchen: Path) -> None:
    write(kitchen, "pots.batch.yaml", batch(GOOD, more="  - name: all\n    ingredients: 40 g olive oil\n"))
    answer = mealcalc("macros", "pots.batch.yaml")
    assert answer.status == 1
    check_told(answer, "pots.batch.yaml:8:", "duplicate-component", "first on line 5")
    assert mealcalc("macros", "pots.batch.yaml", "--json").json["per_container"]["ENERC_KCAL"] == pytest.approx(
        (GOOD_KCAL + 0.4 * 884) / 2
    )


@pytest.mark.parametrize("content", [b"", b"\n \n\t\n", b"\xef\xbb\xbf", b"# only a comment\n", b"components:\n"])
def test_a_file_without_a_recipe(kitchen: Path, content: bytes) -> None:
    for name in ("pots.batch.yaml", "pots.txt", "pots.json", "pots.html"):
        write(kitchen, name, content)
        answer = mealcalc("macros", name)
        assert (answer.status, answer.out) == (1, "")
        check_told(answer, f"{name}:")


@pytest.mark.parametrize(
    "content",
    [bytes(range(256)) * 20, b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"PK\x03\x04" + bytes(200), b"\xff\xfe\0", b"a\0b"],
    ids=["all bytes", "picture", "archive", "half of UTF-16", "NUL"],
)
def test_a_binary_file(kitchen: Path, content: bytes) -> None:
    for name in ("pots.batch.yaml", "pots.txt"):
        write(kitchen, name, content)
        answer = mealcalc("macros", name)
        assert (answer.status, answer.out) == (1, "")
        check_told(answer, name)


def test_another_encoding_is_read_with_a_warning(kitchen: Path) -> None:
    write(kitchen, "pots.batch.yaml", batch(GOOD).replace("Test pots", "Crème pots").encode("windows-1252"))
    answer = mealcalc("macros", "pots.batch.yaml")
    assert answer.status == 0
    check_told(answer, "pots.batch.yaml:1:10", "UTF-8")
    assert "Crème pots" in answer.out


def test_utf_16_is_read_as_what_it_is(kitchen: Path) -> None:
    write(kitchen, "pots.batch.yaml", batch(GOOD).replace("Test pots", "Crème pots").encode("utf-16"))
    answer = mealcalc("macros", "pots.batch.yaml")
    assert (answer.status, answer.err) == (0, "")
    assert "Crème pots" in answer.out


@pytest.mark.parametrize(
    "content",
    ["components: [a\n", "components:\n\t- x\n", "a: b: c\ncomponents: 1\n", "components: *x\n", "? [" * 400 + "\n"],
    ids=["open bracket", "tab", "two colons", "unknown anchor", "nested beyond sense"],
)
def test_broken_yaml_is_told_with_its_place(kitchen: Path, content: str) -> None:
    write(kitchen, "pots.batch.yaml", content)
    answer = mealcalc("macros", "pots.batch.yaml")
    assert (answer.status, answer.out) == (1, "")
    check_told(answer, "pots.batch.yaml:")


def test_a_file_of_10_megabytes_is_refused_at_once(kitchen: Path) -> None:
    write(kitchen, "pots.txt", b"100 g rice\n" * 1_000_000)
    begun = time.process_time()
    answer = mealcalc("macros", "pots.txt")
    assert (answer.status, answer.out) == (1, "")
    check_told(answer, "pots.txt", "larger than 2 MB")
    assert time.process_time() - begun < 60  # refused, not read through


def test_an_own_food_whose_energy_contradicts_its_macros(kitchen: Path) -> None:
    more = (
        "foods:\n  - name: oat bran\n    per: 100 g\n    energy: 1640 kcal\n"
        "    PROCNT: 10 g\n    FAT: 2 g\n    CHOCDF: 60 g\n"
    )
    write(kitchen, "pots.batch.yaml", batch(f"{GOOD}\n100 g oat bran", more=more))
    answer = mealcalc("macros", "pots.batch.yaml")
    check_told(answer, "pots.batch.yaml:12:", "energy", "oat bran")
    assert re.search(r"^ +7 +400 +734 ", answer.out, re.MULTILINE)


# --- text that wants to be more than text -----------------------------------------------------------------------------

ESCAPES = '"\\e[31m\\e]0;title\\a\\x9b5m\\u202e\\x7f red"'


@pytest.mark.parametrize("arguments", [(), ("--grounds", "--all"), ("--json",), ("--csv",)], ids=str)
def test_escape_sequences_do_not_reach_the_terminal(kitchen: Path, arguments: tuple[str, ...]) -> None:
    text = batch(f"{GOOD}\n200 g \x1b[31mzorgles\x1b]0;x\x07\n200 g \x9b5m butter").replace("Test pots", ESCAPES)
    write(kitchen, "pots.batch.yaml", text.replace("name: All", f"name: {ESCAPES}"))
    for command in ("macros", "match", "check"):
        options = [option for option in arguments if command == "macros" or option == "--json"]
        answer = mealcalc(command, "pots.batch.yaml", *options)
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202e]", answer.out + answer.err)
        assert "red" in answer.out or command != "macros"


def test_escape_sequences_in_names_of_files_and_options(kitchen: Path) -> None:
    write(kitchen, "\x1b[31mred.txt", GOOD)
    calls = [
        ("macros", "\x1b[31mred.txt"),
        ("macros", "\x1b[31mgone.txt"),
        ("macros", "\x1b[31mred.txt", "--variant", "\x1b[31m"),
        ("macros", "\x1b[31mred.txt", "--region", "\x1b[31m"),
        ("match", "\x1b[31mred.txt", "--choose", "1=\x1b[31m"),
        ("foods", "show", "\x1b[31m"),
        ("example", "\x1b[31m"),
    ]
    for call in calls:
        answer = mealcalc(*call)
        assert "\x1b" not in answer.out + answer.err, call


def test_markup_is_text(kitchen: Path) -> None:
    text = batch(f"{GOOD}\n10 g butter [bold]x[/bold] :smile: x").replace("Test pots", "'[red]Test[/] pots'")
    write(kitchen, "pots.batch.yaml", text)
    out = mealcalc("macros", "pots.batch.yaml").out
    assert "[red]Test[/] pots" in out
    assert "[bold]x[/bold] :smile: x" in out


def test_titles_and_lines_of_10000_characters_are_cut_when_shown(kitchen: Path) -> None:
    write(kitchen, "pots.batch.yaml", batch(f"{GOOD}\n200 g {'zorg' * 2500}").replace("Test pots", "x" * 10_000))
    answer = mealcalc("macros", "pots.batch.yaml")
    assert answer.status == 1
    assert max(map(len, (answer.out + answer.err).splitlines())) < 1000
    assert re.search(r"^energy +kcal +≥ 734$", answer.out, re.MULTILINE)
    assert len(mealcalc("macros", "pots.batch.yaml", "--json").json["batch"]) == 10_000


def test_right_to_left_and_wide_text_pass_through(kitchen: Path) -> None:
    write(
        kitchen,
        "pots.batch.yaml",
        batch(f"{GOOD}\n200 g أرز بني\n200 g 玄米\n200 g चावल\u200dx").replace("Test", "אורז"),
    )
    answer = mealcalc("macros", "pots.batch.yaml")
    for text in ("אורז", "أرز بني", "玄米", "चावल\u200dx"):
        assert text in answer.out


# --- files beside the recipe ------------------------------------------------------------------------------------------

DAMAGED_DECISIONS = {
    "no YAML": "decisions: [\n",
    "no list": "decisions: 5\n",
    "unknown entry": "decisions:\n  - {food: rice, table: sr28, code: '20036', colour: red}\n",
    "entry lacking": "decisions:\n  - {food: rice}\n",
    "code is a number": "decisions:\n  - {food: rice, table: sr28, code: 01123}\n",
    "a date that no calendar has": "decisions:\n  - {food: rice, table: sr28, code: '20036', date: 2026-99-99}\n",
    "nested beyond sense": "[" * 3000,
    "no text": b"\xff\xfe\xff",
    "escape sequences": 'decisions:\n  - {food: rice, table: sr28, code: "20036", "\\e[31m": 1}\n',
}


@pytest.mark.parametrize("content", DAMAGED_DECISIONS.values(), ids=DAMAGED_DECISIONS.keys())
def test_damaged_decisions_are_told_and_left_out(kitchen: Path, content: str | bytes) -> None:
    write(kitchen, "pots.batch.yaml", batch(GOOD))
    damaged = write(kitchen, "pots.decisions.yaml", content)
    before = damaged.read_bytes()
    for command in ("macros", "match"):
        answer = mealcalc(command, "pots.batch.yaml")
        assert answer.status == 1
        check_told(answer, "pots.decisions.yaml", "unusable-decisions")
        assert "400 g brown rice" in answer.out
    answer = mealcalc("match", "pots.batch.yaml", "--choose", "7=20036")
    assert "Traceback" not in answer.err
    assert answer.status == 1
    assert damaged.read_bytes() == before  # never overwritten


@pytest.mark.parametrize(
    "content", ["region = 'atlantis'\n", "region = \n", "colour = 'red'\n", b"\xff\xfe", "x" * 200_000]
)
def test_a_damaged_configuration_is_told_and_left_out(kitchen: Path, tmp_path: Path, content: str | bytes) -> None:
    (tmp_path / "configuration").mkdir()
    write(tmp_path / "configuration", "config.toml", content)
    write(kitchen, "pots.batch.yaml", batch(GOOD))
    for command in ("macros", "match"):
        answer = mealcalc(command, "pots.batch.yaml")
        assert answer.status == 1
        check_told(answer, "config.toml", "unusable-configuration")
        assert "400 g brown rice" in answer.out
    assert mealcalc("match", "-", given=GOOD).status == 0


# --- the food database ------------------------------------------------------------------------------------------------


def _damage_header(path: Path) -> None:
    path.write_bytes(b"this is no database" * 100)


def _truncate(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:200_000])


def _empty(path: Path) -> None:
    path.write_bytes(b"")


def _damage_middle(path: Path) -> None:
    content = bytearray(path.read_bytes())
    for start in range(8192, len(content) - 4096, 16384):
        content[start : start + 4096] = b"\xa5" * 4096
    path.write_bytes(bytes(content))


@pytest.mark.parametrize(
    ("damage", "statuses"),
    [(_damage_header, {1}), (_truncate, {0}), (_empty, {0}), (_damage_middle, {0, 1})],
    ids=["foreign file", "truncated", "empty", "damaged pages"],
)
def test_a_damaged_database(
    kitchen: Path, tmp_path: Path, data_folder: Path, damage: Callable[[Path], None], statuses: set[int]
) -> None:
    folder = tmp_path / "data"
    folder.mkdir()
    path = folder / "foods.sqlite"
    path.write_bytes((data_folder / "foods.sqlite").read_bytes())
    damage(path)
    write(kitchen, "pots.batch.yaml", batch(GOOD))
    answer = mealcalc_process("macros", "pots.batch.yaml", environment={"MEALCALC_DATA_DIR": str(folder)})
    assert "Traceback" not in answer.err
    assert answer.status in statuses
    if answer.status == 0:
        assert re.search(r"^energy +kcal +734$", answer.out, re.MULTILINE)
    else:
        check_told(answer, str(path))
        assert answer.out == ""


def test_a_data_folder_that_cannot_be_used(kitchen: Path, tmp_path: Path) -> None:
    blocked = write(tmp_path, "a-file", "in the way")
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    write(kitchen, "pots.batch.yaml", batch(GOOD))
    answer = mealcalc_process(
        "macros",
        "pots.batch.yaml",
        environment={"MEALCALC_DATA_DIR": str(blocked / "data"), "TMPDIR": str(temporary)},
    )
    assert answer.status == 0
    assert "cannot be used" in answer.err
    assert str(blocked) in answer.err
    assert re.search(r"^energy +kcal +734$", answer.out, re.MULTILINE)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is forbidden to this user")
@pytest.mark.parametrize("mode", [0o500, 0o000], ids=["read-only", "unreadable"])
def test_a_data_folder_without_rights(kitchen: Path, tmp_path: Path, mode: int) -> None:
    folder, temporary = tmp_path / "data", tmp_path / "temporary"
    folder.mkdir()
    temporary.mkdir()
    write(kitchen, "pots.batch.yaml", batch(GOOD))
    folder.chmod(mode)
    try:
        answer = mealcalc_process(
            "macros", "pots.batch.yaml", environment={"MEALCALC_DATA_DIR": str(folder), "TMPDIR": str(temporary)}
        )
    finally:
        folder.chmod(0o700)
    assert answer.status == 0
    assert "cannot be used" in answer.err
    assert re.search(r"^energy +kcal +734$", answer.out, re.MULTILINE)
