"""The documents that show commands and what they print: written by running the commands, checked by the tests.

`python -m tests.documents` writes them anew. A block fenced as `console` holds lines that start with `$ ` and, below
each, what the command prints (standard output, then standard error). All blocks of a document run in one folder that
holds the examples at first, so that a later block can use what an earlier one has written. What a block can hold:

    $ mealcalc ...
    $ printf 'text' | mealcalc ...
    $ printf 'text' > file
    $ cat file

A block fenced as `python` is followed by one fenced as `text`: what it prints.
"""

import io
import os
import re
import shlex
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from pathlib import Path

import click
from click.testing import CliRunner

from mealcalc.cli.app import app
from tests import keeping_document
from tests.labelling import rules_document

ROOT = Path(__file__).parent.parent
SHOWN = (
    ROOT / "README.md",
    *(ROOT / "docs" / f"{name}.md" for name in ("comparing-and-targets", "portioning", "shopping")),
)
REFERENCE = ROOT / "docs" / "commands.md"
COLUMNS = 92
"""Width of shown output: what a page shows without scrolling sideways."""

_INTRODUCTION = """\
# Commands

Generated from the commands' own help by `make docs`. Exit status: 0 fine, 1 bad data (everything computable is still
printed), 2 wrong usage; see [the shapes for programs](machine-shapes.md).
"""

_BLOCK = re.compile(r"(```console\n)(.*?)(```)", re.DOTALL)
_CODE = re.compile(r"(```python\n(.*?)```\n\n```text\n)(?:.*?)(```)", re.DOTALL)


def command_reference() -> str:
    """`docs/commands.md`: the help of every command."""
    parts = [_INTRODUCTION]
    for path, command in commands():
        context = click.Context(
            command,
            info_name=" ".join(path),
            terminal_width=100,
            help_option_names=app.context_settings["help_option_names"],
        )
        parts.append(f"## `{' '.join(path)}`\n\n```text\n{command.get_help(context)}\n```\n")
    return "\n".join(parts)


def commands() -> list[tuple[tuple[str, ...], click.Command]]:
    """Every command and group with the words by which it is called."""
    return _walk(app, ("mealcalc",))


def with_outputs(text: str) -> str:
    """`text` with the output of every shown command written anew."""
    with _kitchen() as folder:
        text = _BLOCK.sub(lambda block: block[1] + _run_block(block[2], folder) + block[3], text)
        return _CODE.sub(lambda block: block[1] + _run_code(block[2]) + block[3], text)


def rewrite() -> None:
    """Write every document anew."""
    REFERENCE.parent.mkdir(exist_ok=True)
    REFERENCE.write_text(command_reference(), encoding="utf-8")
    rules_document.DOCUMENT.write_text(rules_document.rules_document(), encoding="utf-8")
    keeping_document.rewrite()
    for path in SHOWN:
        path.write_text(with_outputs(path.read_text(encoding="utf-8")), encoding="utf-8")


def _walk(command: click.Command, path: tuple[str, ...]) -> list[tuple[tuple[str, ...], click.Command]]:
    found = [(path, command)]
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            child = command.get_command(context, name)
            assert child is not None
            found += _walk(child, (*path, name))
    return found


@contextmanager
def _kitchen() -> Iterator[Path]:
    """A folder with the examples, the food database built, and nothing of the settings of whoever runs this."""
    from mealcalc import open_database

    open_database().close()  # that it is built on first use is told once, in words
    before, here = dict(os.environ), Path.cwd()
    with tempfile.TemporaryDirectory() as folder:
        for pattern in ("*.batch.yaml", "*.csv"):
            for example in (ROOT / "mealcalc" / "examples").glob(pattern):
                shutil.copy(example, folder)
        os.environ |= {"COLUMNS": str(COLUMNS), "NO_COLOR": "1", "MEALCALC_CONFIG": str(Path(folder) / "configuration")}
        os.chdir(folder)
        try:
            yield Path(folder)
        finally:
            os.chdir(here)
            os.environ.clear()
            os.environ.update(before)


def _run_block(block: str, folder: Path) -> str:
    shown = [f"{line}\n{_output(line.removeprefix('$ '), folder)}" for line in block.splitlines() if line[:2] == "$ "]
    return "\n".join(shown)


def _run_code(code: str) -> str:
    printed = io.StringIO()
    with redirect_stdout(printed):
        exec(compile(code, "README.md", "exec"), {})
    return printed.getvalue()


def _output(line: str, folder: Path) -> str:
    words = shlex.split(line)
    given = ""
    if words[0] == "cat" and len(words) == 2:
        return (folder / words[1]).read_text(encoding="utf-8")
    if words[0] == "printf" and len(words) > 3:
        given, sign, words = _printed(words[1]), words[2], words[3:]
        if sign == ">" and len(words) == 1:
            (folder / words[0]).write_text(given, encoding="utf-8")
            return ""
    if words[0] != "mealcalc":
        raise ValueError(f"this cannot be shown: {line}")
    result = CliRunner().invoke(app, words[1:], input=given, prog_name="mealcalc")
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    lines = [text.rstrip() for text in (result.stdout + result.stderr).splitlines()]
    return "".join(f"{text}\n" for text in lines)


def _printed(text: str) -> str:
    """What printf makes of its format."""
    return text.encode().decode("unicode_escape").encode("latin-1").decode().replace("%%", "%")


if __name__ == "__main__":
    rewrite()
