"""The documents show what the commands print, and leave no command out."""

import difflib
import re
from pathlib import Path

import pytest

from mealcalc.fooddb import FoodDatabase
from tests import documents
from tests.command import ROOT, mealcalc

README = ROOT / "README.md"


@pytest.mark.parametrize("path", documents.SHOWN, ids=lambda path: path.name)
def test_shown_output_is_what_the_commands_print(database: FoodDatabase, path: Path) -> None:  # noqa: ARG001
    text = path.read_text(encoding="utf-8")
    now = documents.with_outputs(text)
    difference = "".join(difflib.unified_diff(text.splitlines(True), now.splitlines(True), "shown", "printed now"))
    assert difference == "", "write the documents anew: make docs"
    assert "```console\n$ mealcalc " in text


def test_the_reference_of_commands_is_up_to_date() -> None:
    assert documents.REFERENCE.read_text(encoding="utf-8") == documents.command_reference(), "run: make docs"


@pytest.mark.parametrize("path", [" ".join(path) for path, _ in documents.commands()])
def test_every_command_is_documented_and_helps(path: str) -> None:
    assert f"## `{path}`\n" in documents.REFERENCE.read_text(encoding="utf-8")
    answer = mealcalc(*path.split()[1:], "--help")
    assert answer.status == 0
    assert answer.out.startswith(f"Usage: {path} ")


def test_every_option_says_what_it_does() -> None:
    for path, command in documents.commands():
        for parameter in command.params:
            if parameter.param_type_name == "option":
                assert getattr(parameter, "help", None), (path, parameter.name)


def test_the_readme_begins_with_the_job_and_the_two_commands() -> None:
    text = README.read_text(encoding="utf-8")
    job = text.split("\n\n")[1]
    assert job.startswith("mealcalc ")
    assert "make demo" in text[: text.index("## ")]
    assert "make test" in text[: text.index("## ")]


def test_links_inside_the_project_lead_somewhere() -> None:
    for document in (README, *sorted((ROOT / "docs").glob("*.md")), ROOT / "DEVELOPERS.md"):
        text = document.read_text(encoding="utf-8")
        for target in re.findall(r"\]\(([^)#\s]+)\)", text):
            if "://" not in target:
                assert (document.parent / target).exists(), f"{document.name}: {target}"


def test_every_line_setting_of_the_readme_is_one(database: FoodDatabase) -> None:  # noqa: ARG001
    text = README.read_text(encoding="utf-8")
    settings = re.findall(r"^\| `(\[[^`]+\])` \|", text, re.MULTILINE)
    assert len(settings) == 7
    for setting in settings:
        (line,) = mealcalc("match", "-", "--region", "uk", "--json", given=f"200 g beef mince {setting}\n").json_lines
        assert [d["code"] for d in line["diagnostics"] if d["severity"] == "error"] == [], setting
