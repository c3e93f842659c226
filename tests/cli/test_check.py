"""`mealcalc check`: all findings, on standard output, since they are the answer."""

from pathlib import Path

import pytest

from tests.command import EXAMPLES, mealcalc, write


def test_an_error_is_shown_with_place_caret_and_hint(kitchen: Path) -> None:
    write(kitchen, "list.txt", "region: uk\ncontainers: 2\n100 g rice, raw\n  200 g zorgles\n")
    answer = mealcalc("check", "list.txt")
    assert answer.status == 1
    assert answer.err == ""
    rows = answer.out.splitlines()
    assert rows[:3] == [
        "list.txt:4:3: error: no food found for 'zorgles': it is not counted in any total [unmatched-food]",
        "      200 g zorgles",
        "      ^^^^^^^^^^^^^",
    ]
    assert rows[3].startswith("  hint: ")
    assert "mealcalc match" in rows[3]
    assert rows[4:] == ["1 error, 0 warnings, 0 notes"]


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.batch.yaml")), ids=lambda path: path.name)
def test_the_examples_have_nothing_to_find(path: Path) -> None:
    answer = mealcalc("check", path, "--strict")
    assert (answer.out, answer.status) == ("0 errors, 0 warnings, 0 notes\n", 0)


def test_errors_come_first_and_each_finding_once(kitchen: Path) -> None:
    write(kitchen, "list.txt", "1 kg beef mince, 12% fat, raw\n100 g zorgles\n100 g zorgles\n")
    findings = mealcalc("check", "list.txt", "--json").json
    severities = [finding["severity"] for finding in findings]
    assert severities == sorted(severities, key=["error", "warning", "note"].index)
    places = [(finding["code"], finding.get("line")) for finding in findings]
    assert len(places) == len(set(places))
    assert [line for code, line in places if code == "unmatched-food"] == [2, 3]


def test_variants_are_checked_too(kitchen: Path) -> None:
    write(
        kitchen,
        "pots.batch.yaml",
        "region: uk\ncontainers: 2\ncomponents:\n  - name: All\n    ingredients: 100 g rice, raw\n"
        "variants:\n  - name: odd\n    replace: {rice: 100 g zorgles}\n",
    )
    assert mealcalc("macros", "pots.batch.yaml").status == 0
    answer = mealcalc("check", "pots.batch.yaml")
    assert answer.status == 1
    assert "pots.batch.yaml:8:" in answer.out
    assert "no food found for 'zorgles'" in answer.out


def test_a_guess_fails_only_when_strict() -> None:
    given = "region: uk\ncontainers: 2\n200 g blorps sugar\n"
    assert mealcalc("check", "-", given=given).status == 0
    assert mealcalc("check", "-", "--strict", given=given).status == 1


def test_a_file_without_a_recipe_is_reported_too(kitchen: Path) -> None:
    write(kitchen, "empty.batch.yaml", "")
    answer = mealcalc("check", "empty.batch.yaml")
    assert (answer.status, answer.err) == (1, "")
    assert "empty.batch.yaml:1:1: error: the recipe is empty" in answer.out
    (finding,) = mealcalc("check", "empty.batch.yaml", "--json").json
    assert set(finding) >= {"code", "severity", "message", "hint", "file", "line", "column"}
