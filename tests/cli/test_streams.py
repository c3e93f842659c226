"""What reaches standard output and standard error: pipes, widths, encodings, interruptions. By real processes."""

import os
import re
import signal
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest

from tests.command import EXAMPLES, mealcalc, mealcalc_process, process_environment, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"
COMMANDS = {
    "macros": ("macros", SMOKY),
    "grounds": ("macros", SMOKY, "--grounds", "--all"),
    "match": ("match", SMOKY),
    "search": ("foods", "search", "cheese"),
    "show": ("foods", "show", "20036"),
    "examples": ("example", "--list"),
    "check": ("check", SMOKY),
}


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS.keys())
def test_a_pipe_gets_text_alone(command: tuple[str | Path, ...]) -> None:
    answer = mealcalc_process(*command, environment={"TERM": "xterm-256color", "FORCE_COLOR": "1"})
    assert answer.status == 0
    assert "\x1b" not in answer.out
    assert answer.out.endswith("\n")
    assert not re.search(r"[ \t]$", answer.out, re.MULTILINE)
    assert "…" not in answer.out


@pytest.mark.parametrize("width", [1, 40, 60, 80, 100, 132, 500])
@pytest.mark.parametrize(
    "command", [COMMANDS[name] for name in ("macros", "grounds", "match", "search", "show")], ids=str
)
def test_tables_fit_their_width_and_cut_no_word(
    monkeypatch: pytest.MonkeyPatch, width: int, command: tuple[str | Path, ...]
) -> None:
    monkeypatch.setenv("COLUMNS", "500")
    wide = mealcalc(*command).out
    monkeypatch.setenv("COLUMNS", str(width))
    out = mealcalc(*command).out
    assert max(map(_columns, out.splitlines())) <= max(40, min(width, 140))
    if width >= 60:
        assert _words(wide) - _words(out) <= {"protein", "carb"}


def _words(text: str) -> set[str]:
    return set(re.findall(r"[^\W\d_]{3,}", text))


def _columns(text: str) -> int:
    return sum(2 if unicodedata.east_asian_width(character) in "WF" else 1 for character in text)


def test_many_components_stand_in_blocks_that_fit(kitchen: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    parts = "".join(f"  - name: Part number {n}\n    ingredients: {n}00 g brown rice, raw\n" for n in range(1, 13))
    write(kitchen, "pots.batch.yaml", f"region: uk\ncontainers: 2\ncomponents:\n{parts}")
    monkeypatch.setenv("COLUMNS", "60")
    out = mealcalc("macros", "pots.batch.yaml", "--brief").out
    assert max(map(len, out.splitlines())) <= 60
    # SR28 20036: 367 kcal in 100 g. Twelve parts of 100 to 1200 g in two containers; every part's figure is there.
    figures = [int(n) for row in re.findall(r"^energy +kcal +(.*)$", out, re.MULTILINE) for n in row.split()]
    assert figures == pytest.approx([367 * 78 / 2, *(367 * n / 2 for n in range(1, 13))], abs=0.5)


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437", "utf-16"])
def test_an_output_that_lacks_characters_gets_them_spelt_out(kitchen: Path, encoding: str) -> None:
    write(kitchen, "pots.txt", "region: uk\n1½ cups crème fraîche\n100 g 玄米\nsalt to taste\n")
    answer = mealcalc_process("macros", "pots.txt", "--all", environment={"PYTHONIOENCODING": encoding})
    assert "Traceback" not in answer.err
    assert answer.status == 1
    if encoding == "ascii":
        assert answer.out.isascii()
        assert answer.err.isascii()
        assert "1 1/2 cups creme fraiche" in answer.out
        assert ">= " in answer.out
        assert "ug" in answer.out.split()


def test_json_loses_nothing_whatever_the_encoding(kitchen: Path) -> None:
    write(kitchen, "pots.txt", "region: uk\n1½ cups crème fraîche\n100 g 玄米\n")
    answer = mealcalc_process("macros", "pots.txt", "--json", environment={"PYTHONIOENCODING": "ascii"})
    assert answer.out.isascii()
    assert [line["text"] for line in answer.json["lines"]] == ["1½ cups crème fraîche", "100 g 玄米"]


def test_the_c_locale() -> None:
    answer = mealcalc_process("foods", "show", "20036", environment={"LC_ALL": "C", "LANG": "C"})
    assert answer.status == 0
    assert "selenium" in answer.out


@pytest.mark.skipif(os.name == "nt", reason="pipes break otherwise there")
@pytest.mark.parametrize("options", [(), ("--json",), ("--csv",)], ids=str)
def test_a_reader_that_has_seen_enough(options: tuple[str, ...]) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "mealcalc", "macros", str(SMOKY), *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=process_environment(),
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full disk to write to")
@pytest.mark.parametrize("arguments", [("macros", str(SMOKY)), ("macros", str(SMOKY), "--json"), ("--help",)], ids=str)
def test_a_full_disk(arguments: tuple[str, ...]) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "mealcalc", *arguments],
            stdout=full,
            stderr=subprocess.PIPE,
            env=process_environment(),
            check=False,
        )
    assert done.returncode == 1
    assert b"Traceback" not in done.stderr
    assert b"error: " in done.stderr
    assert b"hint: free some space" in done.stderr


@pytest.mark.skipif(os.name == "nt", reason="signals are POSIX")
def test_an_interrupted_command_says_so_and_no_more() -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "mealcalc", "match", "-"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=process_environment(),
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    ) as process:
        assert process.stdin is not None
        # More than a pipe holds is taken only when the command reads: by then it waits for input.
        process.stdin.write(b"100 g rice\n" * 20_000)
        process.stdin.flush()
        process.send_signal(signal.SIGINT)
        _, told = process.communicate()
    assert process.returncode == 130
    assert told == b"stopped\n"


@pytest.mark.skipif(os.name == "nt", reason="shells differ")
@pytest.mark.parametrize(("closing", "status"), [(">&-", 0), ("2>&-", 0), ("<&-", 0)])
def test_closed_streams(closing: str, status: int) -> None:
    command = f'"{sys.executable}" -m mealcalc match - {closing}'
    done = subprocess.run(command, shell=True, capture_output=True, env=process_environment(), check=False)
    assert b"Traceback" not in done.stderr
    assert done.returncode == status


def test_the_answer_goes_to_standard_output_and_findings_to_standard_error(kitchen: Path) -> None:
    write(kitchen, "pots.txt", "region: uk\ncontainers: 1\n100 g rice, raw\n100 g zorgles\n")
    for options in ((), ("--json",), ("--csv",)):
        answer = mealcalc("macros", "pots.txt", *options)
        assert answer.err.startswith("pots.txt:4:1: error: ")
        assert answer.err.count("error: ") == 1
        assert "error: " not in answer.out


def test_version_and_help() -> None:
    version = mealcalc_process("--version")
    assert version.status == 0
    assert re.fullmatch(r"mealcalc( \d+\.\d+\.\d+|, run from its source .*)\n", version.out)
    for arguments in (("--help",), ("-h",), ("macros", "--help"), ("foods", "search", "-h")):
        answer = mealcalc(*arguments)
        assert (answer.status, answer.err) == (0, "")
        assert answer.out.startswith("Usage: mealcalc")
