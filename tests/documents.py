"""The documents that show commands and what they print: written by running the commands, checked by the tests.

`python -m tests.documents` writes them anew. A block fenced as `console` holds lines that start with `$ ` and, below each,
what the command prints (standard output, then standard error). The block's directory is a fresh folder with the examples.
"""

import os
import re
import shlex
import shutil
import tempfile
from pathlib import Path

import click
from click.testing import CliRunner

from mealcalc.cli.app import app

ROOT = Path(__file__).parent.parent
SHOWN = (ROOT / "README.md",)
REFERENCE = ROOT / "docs" / "commands.md"
_BLOCK = re.compile(r"(```console\n)(.*?)(```)", re.DOTALL)


def command_reference() -> str:
    """`docs/commands.md`: the help of every command."""
    parts = [
        "# Commands\n\nGenerated from the commands' own help by `make docs`. Exit status: 0 fine, 1 bad data (everything "
        "computable is still printed), 2 wrong usage.\n"
    ]
    for path, command in _walk(app, ("mealcalc",)):
        context = click.Context(command, info_name=" ".join(path), max_content_width=100, terminal_width=100)
        parts.append(f"## `{' '.join(path)}`\n\n```text\n{command.get_help(context)}\n```\n")
    return "\n".join(parts)


def with_outputs(text: str, folder: Path) -> str:
    """`text` with the output of every shown command written anew; commands run in `folder`."""
    return _BLOCK.sub(lambda block: block[1] + _run_block(block[2], folder) + block[3], text)


def rewrite() -> None:
    """Write every document anew."""
    REFERENCE.parent.mkdir(exist_ok=True)
    REFERENCE.write_text(command_reference(), encoding="utf-8")
    for path in SHOWN:
        with tempfile.TemporaryDirectory() as folder:
            path.write_text(with_outputs(path.read_text(encoding="utf-8"), Path(folder)), encoding="utf-8")


def _walk(command: click.Command, path: tuple[str, ...]) -> list[tuple[tuple[str, ...], click.Command]]:
    found = [(path, command)]
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            child = command.get_command(context, name)
            assert child is not None
            found += _walk(child, (*path, name))
    return found


def _run_block(block: str, folder: Path) -> str:
    for example in (ROOT / "mealcalc" / "examples").glob("*.batch.yaml"):
        shutil.copy(example, folder)
    shown = []
    for line in block.splitlines():
        if line.startswith("$ "):
            shown.append(f"{line}\n{_output(line.removeprefix('$ '), folder)}")
    return "\n".join(shown)


def _output(line: str, folder: Path) -> str:
    words = shlex.split(line)
    given = ""
    if words[0] == "printf":
        bar = words.index("|")
        given, words = words[1].encode().decode("unicode_escape").encode("latin-1").decode(), words[bar + 1 :]
    if words[0] != "mealcalc":
        raise ValueError(f"only mealcalc commands can be shown: {line}")
    runner = CliRunner()
    here = Path.cwd()
    try:
        os.chdir(folder)
        result = runner.invoke(app, words[1:], input=given, prog_name="mealcalc")
    finally:
        os.chdir(here)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    lines = [text.rstrip() for text in (result.stdout + result.stderr).splitlines()]
    return "".join(f"{text}\n" for text in lines)


if __name__ == "__main__":
    rewrite()
