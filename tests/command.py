"""Runs the real command: in this process for speed, or as a process of its own where that matters."""

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from mealcalc.cli.app import app

ROOT = Path(__file__).parent.parent
EXAMPLES = ROOT / "mealcalc" / "examples"


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command answered: exit status, standard output, standard error."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Standard output as one JSON document."""
        return json.loads(self.out, parse_constant=_refuse)

    @property
    def json_lines(self) -> list[Any]:
        """Standard output as one JSON document on each line."""
        return [json.loads(line, parse_constant=_refuse) for line in self.out.splitlines()]


def mealcalc(*arguments: str | Path, given: str | bytes = "") -> Answer:
    """Run the command in this process with `given` on standard input; an exception that it lets out fails the test."""
    result = CliRunner().invoke(app, [str(a) for a in arguments], input=given, prog_name="mealcalc")
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Answer(result.exit_code, result.stdout, result.stderr)


def mealcalc_process(
    *arguments: str | Path,
    given: bytes = b"",
    environment: Mapping[str, str] | None = None,
    folder: Path | None = None,
) -> Answer:
    """Run the command as a process of its own; bytes that are no UTF-8 come back as the surrogates of Python."""
    done = subprocess.run(
        [sys.executable, "-m", "mealcalc", *map(str, arguments)],
        input=given,
        env=process_environment(environment),
        cwd=folder,
        capture_output=True,
        check=False,
    )
    return Answer(
        done.returncode, done.stdout.decode("utf-8", "surrogateescape"), done.stderr.decode("utf-8", "surrogateescape")
    )


def process_environment(more: Mapping[str, str] | None = None) -> dict[str, str]:
    """The environment of a process of its own: no settings of whoever runs the tests, and this source tree first."""
    left_out = ("COLUMNS", "NO_COLOR", "FORCE_COLOR", "PYTHONIOENCODING", "PYTHONPATH")
    kept = {name: value for name, value in os.environ.items() if name not in left_out}
    return kept | {"PYTHONPATH": str(ROOT), "PYTHONWARNINGS": "error"} | dict(more or {})


def write(folder: Path, name: str, text: str | bytes) -> Path:
    """A file in `folder`."""
    path = folder / name
    path.write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    return path


def undocumented(shape: object, names: str = "machine-shapes.md") -> set[str]:
    """Keys of a JSON answer that the document of shapes does not name."""
    text = (ROOT / "docs" / names).read_text(encoding="utf-8")

    def keys(value: object) -> set[str]:
        if isinstance(value, dict):
            return {*value, *(key for inner in value.values() for key in keys(inner))}
        return {key for inner in value for key in keys(inner)} if isinstance(value, list) else set()

    return {key for key in keys(shape) if f"`{key}`" not in text}


def _refuse(constant: str) -> float:
    raise ValueError(f"{constant} is no JSON")
