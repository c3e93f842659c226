"""`mealcalc scale` through the real command."""

from pathlib import Path

import pytest

from tests.command import Answer, mealcalc, write
from tests.planning.portions import TEXT


@pytest.fixture
def stew(kitchen: Path) -> Path:
    return write(kitchen, "stew.batch.yaml", TEXT)


def scale(*arguments: str | Path, status: int = 0) -> Answer:
    answer = mealcalc("scale", *arguments)
    assert answer.status == status, answer.err
    return answer


def test_to_containers(stew: Path) -> None:
    out = scale(stew, "--containers", "5").out
    assert "times 5/3 (1.667): 5 containers instead of 3" in out
    assert "500 g white rice" in out
    assert "835 g beef mince, 12% fat" in out  # 833.3 g
    assert "In one container, and what rounding changes: energy" in out
    assert "cooking times: boiled, all water absorbed, browned, then simmered 30 min" in out


def test_to_a_line(stew: Path) -> None:
    out = scale(stew, "--line", "beef mince=1.3 kg").out
    assert "times 2.6: 1.3 kg of 'beef mince' (line 14) instead of 500 g beef mince, 12% fat" in out
    assert "8 containers instead of 3, each 97.5% of what it was" in out
    assert "1300 g beef mince" in out


def test_json(stew: Path) -> None:
    shape = scale(stew, "--factor", "4/3", "--keep-containers", "--json").json
    assert (shape["factor_exact"], shape["containers"]) == ("4/3", 3)
    assert shape["portion_factor"] == pytest.approx(1.3333)
    mince = next(line for line in shape["lines"] if "mince" in line["text"])
    assert mince == {
        "file_line": 14,
        "component": "Stew",
        "text": "500 g beef mince, 12% fat",
        "scaled": "665 g beef mince, 12% fat",
        "quantity_low": 666.6667,
        "quantity_high": 666.6667,
        "unit": "g",
        "notes": [],
        "written": True,
    }
    assert set(shape["rounding"]) == {"ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G"}
    assert {c["kind"] for c in shape["cautions"]} == {"cooking", "weight"}


def test_the_file_is_written_and_calculates(stew: Path) -> None:
    target = stew.with_name("large.batch.yaml")
    assert f"wrote {target}" in scale(stew, "--containers", "6", "--write", target).err
    before, after = (mealcalc("macros", path, "--json").json for path in (stew, target))
    assert after["containers"] == 6
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G"):
        assert after["per_container"][key] == pytest.approx(before["per_container"][key], rel=1e-4)


def test_the_file_can_be_printed(stew: Path) -> None:
    answer = scale(stew, "--factor", "1/3", "--write", "-")
    assert answer.out.startswith("# Scaled by 1/3 (about 0.333333): amounts rounded for the kitchen.\n")
    assert "165 g beef mince, 12% fat" in answer.out
    assert (
        "caution: cooking times (boiled, all water absorbed, browned, then simmered 30 min): not scaled" in answer.err
    )
    exact = scale(stew, "--factor", "1/3", "--write", "-", "--exact").out
    assert "166.6666667 g beef mince, 12% fat" in exact


def test_nothing_is_written_over_another_file(stew: Path) -> None:
    assert "is there already" in scale(stew, "--factor", "2", "--write", stew, status=2).err
    assert stew.read_text(encoding="utf-8") == TEXT
    scale(stew, "--factor", "2", "--write", stew, "--overwrite")
    assert "1000 g beef mince" in stew.read_text(encoding="utf-8")


def test_a_file_that_uses_others_stays_in_its_folder(kitchen: Path) -> None:
    write(kitchen, "stock.txt", "region: uk\n1 l water\n")
    text = "region: uk\ncomponents: [{name: a, ingredients: [500 g stock]}]\nfoods: [{name: stock, batch: stock.txt}]\n"
    path = write(kitchen, "soup.batch.yaml", text)
    answer = scale(path, "--factor", "2", "--write", kitchen / "other" / "soup.batch.yaml", status=2)
    assert "write it beside soup.batch.yaml" in answer.err
    assert not (kitchen / "other").exists()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ([], "give one of --containers, --line and --factor"),
        (["--containers", "2", "--factor", "2"], "give one of"),
        (["--containers", "0"], "0 is not in the range"),
        (["--containers", "2", "--keep-containers"], "exclude each other"),
        (["--factor", "0"], "would multiply the batch by 0"),
        (["--factor", "x"], "is no number"),
        (["--line", "pasta=1 kg"], "no line contains 'pasta'"),
        (["--line", "beef"], "is not LINE=AMOUNT"),
        (["--factor", "2", "--exact"], "--exact is about the file"),
    ],
)
def test_what_cannot_be_done_is_refused(stew: Path, arguments: list[str], message: str) -> None:
    answer = scale(stew, *arguments, status=2)
    assert message in answer.err
    assert answer.out == ""


def test_standard_input_can_be_scaled_and_not_written() -> None:
    given = "region: uk\ncontainers: 2\n400 g brown rice\n"
    assert "600 g brown rice" in mealcalc("scale", "-", "--factor", "1.5", given=given).out
    assert "is no file to write anew" in mealcalc("scale", "-", "--factor", "1.5", "--write", "-", given=given).err


def test_lines_that_are_not_counted_are_scaled_and_told(kitchen: Path) -> None:
    path = write(kitchen, "list.txt", "region: uk\ncontainers: 2\n3 zorgle berries\n400 g rice\n")
    answer = scale(path, "--factor", "3", status=1)
    assert "9 zorgle berries" in answer.out
    assert "zorgle" in answer.err
