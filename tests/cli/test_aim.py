"""`mealcalc aim` through the real command."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.command import EXAMPLES, mealcalc, process_environment, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"
CHICKEN = EXAMPLES / "yoghurt-chicken-bulgur.batch.yaml"
BOTH = ("--target", "protein at least 45 g", "--target", "energy at most 600 kcal")


def words(text: str) -> str:
    return " ".join(text.split())


def test_portions_for_targets_of_the_file() -> None:
    answer = mealcalc("aim", CHICKEN)
    assert (answer.status, answer.err) == (0, "")
    shown = words(answer.out)
    assert "sought: grams of each component in a container" in shown
    assert "energy at most 600 kcal" in shown
    assert "kept, and binds" in shown
    assert "1 kcal more brings the portions" in shown
    assert "Left in the pots:" in shown


def test_json_of_portions() -> None:
    shape = mealcalc("aim", SMOKY, *BOTH, "--json").json
    assert (shape["sought"], shape["kept"], shape["containers_in_all"]) == ("portions", True, 6)
    (container,) = shape["containers"]
    assert container["eater"] is None
    assert container["figures"]["ENERC_KCAL"] <= 600.0
    assert container["figures"]["PROCNT_G"] >= 45.0
    assert container["figures_without_targets"]["ENERC_KCAL"] == pytest.approx(717.7, abs=0.5)
    assert [t["met"] for t in container["targets"]] == [True, True]
    assert {b["limit"] for b in shape["binding"]} == {"protein at least 45 g", "energy at most 600 kcal"}
    for name, left_g in shape["leftover_g"].items():
        assert left_g + 6 * container["grams"][name] == pytest.approx(6 * container["without_targets_g"][name])
    assert shape["contradicting"] == shape["lines"] == []


def test_amounts_of_lines_with_prices(kitchen: Path) -> None:
    write(kitchen, "prices.csv", 'item,pack size,price,currency,date\n"turkey mince, 7% fat",500 g,5.50,AUD,\n')
    answer = mealcalc("aim", SMOKY, *BOTH, "--change", "turkey mince", "--change", "brown rice", "--whole-packs",
                      "turkey mince=500 g", "--prices", "prices.csv", "--json")  # fmt: skip
    shape = answer.json
    assert shape["sought"] == "amounts"
    mince = next(line for line in shape["lines"] if line["name"] == "turkey mince")
    assert mince["found_g"] == 500.0 * mince["packs"]
    assert [line["name"] for line in shape["lines"]] == ["turkey mince", "brown rice", "water", "bay leaf"]
    assert shape["cost"] == pytest.approx(5.5 * mince["packs"])
    text = mealcalc("aim", SMOKY, *BOTH, "--change", "turkey mince").out
    assert "as written" in text
    assert "change" in text


def test_contradicting_limits_are_named_and_fail() -> None:
    answer = mealcalc("aim", SMOKY, "--target", "protein at least 50 g", "--target", "energy at most 500 kcal")
    assert answer.status == 1
    shown = words(answer.out)
    assert "NOT ALL LIMITS CAN BE KEPT. These contradict each other:" in shown
    assert "protein at least 50 g: the others allow at most 46." in shown
    assert "energy at most 500 kcal: the others need no less than 540." in shown
    assert "All limits can be kept without protein at least 50 g" in shown
    assert "MISSED" in shown
    assert "the compromise with the least sum of squared misses" in shown
    shape = mealcalc("aim", SMOKY, "--target", "protein at least 50 g", "--target", "energy at most 500 kcal", "--json")
    assert [c["enough"] for c in shape.json["contradicting"]] == [True, False]


def test_eaters_and_their_targets() -> None:
    answer = mealcalc("aim", SMOKY, "--eater", "runner=1.5x2", "--eater", "desk worker=1", "--target",
                      "protein at least 35 g", "--target", "desk worker: energy at most 500 kcal")  # fmt: skip
    assert answer.status == 0
    shown = words(answer.out)
    assert "containers of runner: 2, desk worker: 4" in shown
    assert "energy at most 500 kcal (desk worker) binds" in shown


@pytest.mark.parametrize("columns", ["40", "60", "92", "140"])
def test_no_figure_is_cut_on_any_screen(monkeypatch: pytest.MonkeyPatch, columns: str) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    asked = (SMOKY, *BOTH, "--eater", "runner=1.5x2", "--eater", "desk worker=1")
    answer = mealcalc("aim", *asked)
    for container in mealcalc("aim", *asked, "--json").json["containers"]:
        grams = [f"{grams:.0f}" for grams in container["grams"].values()]
        figures = [f"{container['figures']['ENERC_KCAL']:.0f}", f"{container['figures']['FAT_G']:.1f}"]
        for figure in (*grams, *figures):
            assert any(figure in row.split() for row in answer.out.splitlines()), figure
    assert words(answer.out).count("binds: 1") == words(answer.out).count("kept, and") == 4
    assert max(map(len, answer.out.splitlines())) <= int(columns)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ((), "no target is set"),
        (("--target", "zest at least 3 g"), "limits nothing that is known"),
        (("--target", "protein lots"), "does not say whether it is a limit or a wish"),
        (("--target", "cost at most 3"), "needs a price list"),
        (("--most", "zest"), "nothing that can be limited"),
        ((*BOTH, "--keep-ratio", "Brown rice : Gravy"), "no component 'Gravy'"),
        ((*BOTH, "--change", "zorgle"), "no line contains 'zorgle'"),
        ((*BOTH, "--eater", "runner"), "is not NAME=SHARE"),
        ((*BOTH, "--prices", "nowhere.csv"), "there is no such file"),
        ((*BOTH, "--target", "runner: protein at least 3 g", "--eater", "walker=1"), "no eater 'runner'"),
    ],
)
def test_wrong_usage(options: tuple[str, ...], told: str) -> None:
    answer = mealcalc("aim", SMOKY, *options)
    assert answer.status == 2, answer.out
    assert told in answer.err
    assert "hint:" in answer.err


def test_a_bad_target_in_the_file_is_told_and_the_rest_is_aimed_at(kitchen: Path) -> None:
    text = SMOKY.read_text(encoding="utf-8") + "targets:\n  protein: loads\n  energy: at most 600 kcal\n"
    write(kitchen, "pots.batch.yaml", text)
    answer = mealcalc("aim", "pots.batch.yaml")
    assert answer.status == 1
    assert "bad-target" in answer.err
    assert "energy at most 600 kcal" in answer.out


def test_a_batch_in_which_something_does_not_count(kitchen: Path) -> None:
    write(kitchen, "list.txt", "400 g carrots\n300 g unobtainium zzyzx\n")
    answer = mealcalc("aim", "list.txt", "--region", "uk", "--target", "energy at most 100 kcal")
    assert answer.status == 2
    assert "is not known, so it cannot be portioned" in answer.err


def test_the_solver_says_nothing_on_standard_output(kitchen: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "mealcalc", "aim", str(SMOKY), *BOTH, "--most", "protein", "--json"],
        env=process_environment(), cwd=kitchen, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.startswith("{")
    assert done.stderr == ""


def test_scipy_is_not_needed_and_numpy_not_for_macros(kitchen: Path) -> None:
    code = (
        "import sys\n"
        "from mealcalc.cli.app import app\n"
        f"app(['macros', {str(CHICKEN)!r}], standalone_mode=False)\n"
        "before = {'numpy', 'highspy', 'scipy', 'matplotlib'} & set(sys.modules)\n"
        f"app(['aim', {str(CHICKEN)!r}], standalone_mode=False)\n"
        "sys.stderr.write(f\"{sorted(before)} {'highspy' in sys.modules} {'scipy' in sys.modules}\")\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=process_environment(), cwd=kitchen, capture_output=True, text=True, check=True
    )
    assert done.stderr.endswith("[] True False")


def test_a_chart_is_drawn(kitchen: Path) -> None:
    pytest.importorskip("matplotlib", reason="matplotlib is not installed")
    answer = mealcalc("aim", SMOKY, *BOTH, "--plot", "portions.png")
    assert (answer.status, answer.err) == (0, "chart drawn in portions.png\n")
    assert (kitchen / "portions.png").read_bytes().startswith(b"\x89PNG")
    refused = mealcalc("aim", SMOKY, *BOTH, "--plot", "portions.txt")
    assert refused.status == 2
    assert "a picture ends in" in refused.err
