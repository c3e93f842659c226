"""`mealcalc match` in a terminal: a pseudo-terminal stands in for the cook's."""

import os
import select
import signal
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
import yaml

from tests.command import process_environment, write

pty = pytest.importorskip("pty", reason="pseudo-terminals exist on POSIX systems only")

PROMPT = "'stop': "


INTERRUPT = "interrupt"


def _in_terminal(
    arguments: Sequence[str], answers: Sequence[str], environment: dict[str, str] | None = None
) -> tuple[int, str]:
    """Run the command in a terminal and give one answer at each prompt; exit status and all that it shows."""
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "mealcalc", *arguments],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=process_environment({"TERM": "xterm", "COLUMNS": "80"} | (environment or {})),
    )
    os.close(theirs)
    with process:
        try:
            shown = _converse(ours, process, list(answers))
        except BaseException:
            process.kill()
            raise
        finally:
            os.close(ours)
    return process.returncode, shown


def _converse(terminal: int, process: "subprocess.Popen[bytes]", waiting: list[str]) -> str:
    shown, answered = "", 0
    interrupts = 0
    while True:
        ready, _, _ = select.select([terminal], [], [], 2 if interrupts else 60)
        if not ready and 0 < interrupts < 30:
            # Between the prompt and the wait for an answer a signal can pass unseen; a cook presses again, too.
            interrupts += 1
            process.send_signal(signal.SIGINT)
            continue
        assert ready, f"nothing more came after: {shown}"
        try:
            part = os.read(terminal, 65536)
        except OSError:  # the other end is closed
            part = b""
        if not part:
            break
        shown += part.decode("utf-8", "replace")
        if shown.count(PROMPT) > answered and waiting:
            answered += 1
            answer = waiting.pop(0)
            if answer == INTERRUPT:
                interrupts = 1
                process.send_signal(signal.SIGINT)
            else:
                os.write(terminal, answer.encode())
    assert not waiting, f"never asked for {waiting}: {shown}"
    return shown.replace("\r\n", "\n")


@pytest.fixture
def recipe(kitchen: Path) -> Path:
    return write(kitchen, "pots.txt", "region: uk\n100 g zorgles\n400 g brown rice, raw\n200 g blorps sugar\n")


def _saved(kitchen: Path) -> dict[str, str]:
    path = kitchen / "pots.decisions.yaml"
    if not path.exists():
        return {}
    entries = yaml.safe_load(path.read_text(encoding="utf-8"))["decisions"]
    return {entry["food"]: entry["code"] for entry in entries}


def test_doubtful_lines_are_asked_about_by_search_and_by_number(kitchen: Path, recipe: Path) -> None:
    status, shown = _in_terminal(["match", str(recipe)], ["lentils raw\n", "1\n", "1\n"])
    assert "1 of 2, line 2: 100 g zorgles" in shown
    assert "2 of 2, line 4: 200 g blorps sugar" in shown
    saved = _saved(kitchen)
    assert set(saved) == {"zorgles", "blorps sugar"}
    assert saved["blorps sugar"] == "19335"
    assert "saved 2 choices in" in shown
    assert status == 0


def test_a_code_can_be_typed_and_a_line_left_as_it_is(kitchen: Path, recipe: Path) -> None:
    status, _ = _in_terminal(["match", str(recipe)], ["sr28:16069\n", "\n"])
    assert _saved(kitchen) == {"zorgles": "16069"}
    assert status == 0


def test_words_that_find_nothing_are_asked_again(kitchen: Path, recipe: Path) -> None:
    status, shown = _in_terminal(["match", str(recipe)], ["qqqqqq\n", "none\n", "stop\n"])
    assert "nothing found for 'qqqqqq'" in shown
    assert _saved(kitchen) == {"zorgles": "none"}
    assert status == 1


@pytest.mark.parametrize("end", ["stop\n", "\x04", INTERRUPT], ids=["stop", "end of input", "interrupt"])
def test_stopping_keeps_what_was_answered(kitchen: Path, recipe: Path, end: str) -> None:
    _, shown = _in_terminal(["match", str(recipe)], ["16069\n", end])
    assert _saved(kitchen) == {"zorgles": "16069"}
    assert "Traceback" not in shown


def test_nothing_is_asked_when_told_so_and_for_machine_shapes(recipe: Path) -> None:
    for arguments in (["--no-ask"], ["--json"], ["--csv"]):
        status, shown = _in_terminal(["match", str(recipe), *arguments], [])
        assert PROMPT not in shown
        assert status == 1


def test_all_foods_are_asked_about_on_request(kitchen: Path, recipe: Path) -> None:
    _, shown = _in_terminal(["match", str(recipe), "--ask-all"], ["\n", "none\n", "stop\n"])
    assert "2 of 3, line 3: 400 g brown rice, raw" in shown
    assert _saved(kitchen) == {"brown rice": "none"}


def test_colour_in_a_terminal_unless_no_color_is_set(recipe: Path) -> None:
    _, coloured = _in_terminal(["macros", str(recipe)], [])
    assert "\x1b[" in coloured
    for environment in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
        _, plain = _in_terminal(["macros", str(recipe)], [], environment)
        assert "\x1b" not in plain
