"""`mealcalc compare` through the real command."""

import csv
import io
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from mealcalc.reports.comparison_json import COMPARISON_COLUMNS
from tests.command import EXAMPLES, mealcalc, process_environment, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"
PNG = b"\x89PNG\r\n\x1a\n"


def test_figures_and_differences_are_shown() -> None:
    answer = mealcalc("compare", SMOKY, "--swap", "turkey mince=chicken mince")
    assert (answer.status, answer.err) == (0, "")
    figures, differences = answer.out.split("difference from as written")
    assert "fuller mince" in figures
    assert "per 100" in figures
    assert re.search(r"leaner mince +-63 +\+8\.1 +-10\.7 +same +\+1\.9", differences)
    assert re.search(r"≈ -12 +≈ -2\.1", differences)
    assert "do not choose by it" in " ".join(differences.split())


@pytest.mark.parametrize("columns", ["40", "60", "80", "100", "140"])
def test_no_figure_is_cut_on_any_screen(monkeypatch: pytest.MonkeyPatch, columns: str) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    answer = mealcalc("compare", SMOKY, "--containers", "1,999")
    assert answer.status == 0
    shown = " ".join(answer.out.split())
    whole = mealcalc("macros", SMOKY, "--containers", "1", "--json").json
    low, high = whole["per_container_interval"]["ENERC_KCAL"]
    protein_g = f"{whole['per_container']['PROCNT_G']:.1f}"
    assert abs(4111 - low) + abs(4503 - high) < 60.0  # the noise of 10,000 draws
    for words in ("4111 to 4503", protein_g, "same", "leaner"):
        assert words in shown, words
    assert max(map(len, answer.out.splitlines())) <= int(columns)


def test_json_has_every_option_with_its_verdicts() -> None:
    answer = mealcalc("compare", SMOKY, "--fat-levels", "--json")
    shape = answer.json
    assert [o["kind"] for o in shape["options"]] == ["as written", *["variant"] * 3, *["fat level"] * 2]
    first, leaner = shape["options"][:2]
    assert first["per_container"]["FAT_G"]["verdict"] == "reference"
    assert first["per_container"]["FAT_G"]["difference"] is None
    fat = leaner["per_container"]["FAT_G"]
    assert fat["verdict"] == "less"
    low, high = fat["difference_interval"]
    assert low < fat["difference"] < high < 0.0
    assert leaner["per_container"]["COST"] == {
        "amount": None, "complete": False, "interval": None, "difference": None, "difference_interval": None,
        "verdict": "unknown",
    }  # fmt: skip
    plain = mealcalc("macros", SMOKY, "--json").json
    assert first["per_container"]["FAT_G"]["amount"] == plain["per_container"]["FAT_G"]


def test_csv_has_a_row_for_each_figure() -> None:
    answer = mealcalc("compare", SMOKY, "--csv")
    rows = list(csv.DictReader(io.StringIO(answer.out)))
    assert tuple(rows[0]) == COMPARISON_COLUMNS
    assert len(rows) == 4 * 9
    row = next(r for r in rows if (r["option"], r["key"]) == ("leaner mince", "FAT_G"))
    assert (row["verdict"], row["unit"], row["complete"]) == ("less", "g", "yes")
    assert float(row["difference_high"]) < 0.0


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_a_chart_is_drawn(kitchen: Path, ending: str) -> None:
    pytest.importorskip("matplotlib", reason="the extra 'plots' is not installed")
    answer = mealcalc("compare", SMOKY, "--optional", "--swap", "mince=chicken mince", "--plot", f"chart.{ending}")
    assert answer.status == 0
    assert answer.err == f"chart drawn in chart.{ending}\n"
    content = (kitchen / f"chart.{ending}").read_bytes()
    if ending == "png":
        assert content.startswith(PNG)
    elif ending == "pdf":
        assert content.startswith(b"%PDF-")
    else:
        ElementTree.fromstring(content.decode("utf-8"))
        again = mealcalc("compare", SMOKY, "--optional", "--swap", "mince=chicken mince", "--plot", "again.svg")
        assert again.status == 0


def test_a_chart_of_markup_and_dollars_is_drawn(kitchen: Path) -> None:
    pytest.importorskip("matplotlib", reason="the extra 'plots' is not installed")
    text = 'title: "Pots <b> $x^ & $ 🍲 米"\nregion: uk\ncontainers: 2\n'
    text += "components:\n  - name: a\n    ingredients: 100 g carrots\n"
    text += 'variants:\n  - {name: "$\\\\frac{1$ <i>", add: {a: "20 g butter"}}\n'
    write(kitchen, "odd.batch.yaml", text)
    answer = mealcalc("compare", "odd.batch.yaml", "--plot", "odd.svg")
    assert answer.status == 0
    assert (kitchen / "odd.svg").exists()


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--plot", "chart.xyz"), "a picture ends in .png"),
        (("--plot", "nowhere/chart.png"), "cannot be written"),
        (("--containers", "4,six"), "no list of whole numbers"),
        (("--containers", "0"), "0 containers cannot be filled"),
        (("--swap", "zorgle=1 egg"), "no line contains 'zorgle'"),
        (("--json", "--csv"), "exclude each other"),
    ],
)
def test_wrong_usage(options: tuple[str, ...], told: str) -> None:
    answer = mealcalc("compare", SMOKY, *options)
    assert answer.status == 2
    assert told in answer.err


def test_what_does_not_count_is_told_and_fails(kitchen: Path) -> None:
    write(kitchen, "list.txt", "400 g carrots\n200 g butter\n")
    answer = mealcalc("compare", "list.txt", "--region", "uk", "--swap", "butter=200 g unobtainium zzyzx")
    assert answer.status == 1
    assert "INCOMPLETE: unobtainium zzyzx for butter" in answer.out
    assert "no food found for 'unobtainium zzyzx'" in answer.err


def test_a_batch_alone_is_compared_with_nothing(kitchen: Path) -> None:
    write(kitchen, "list.txt", "400 g carrots\n")
    answer = mealcalc("compare", "list.txt", "--region", "uk")
    assert answer.status == 0
    assert "difference from as written" not in answer.out


def test_matplotlib_is_imported_for_charts_alone(kitchen: Path) -> None:
    code = (
        "import sys\n"
        "from mealcalc.cli.app import app\n"
        f"app({['compare', str(SMOKY)]!r}, standalone_mode=False)\n"
        "sys.stderr.write(f\"{'matplotlib' in sys.modules} {'numpy' in sys.modules}\")\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=process_environment(), cwd=kitchen, capture_output=True, text=True, check=True
    )
    assert done.stderr.endswith("False True")


def test_the_same_finding_about_the_same_line_is_told_once() -> None:
    answer = mealcalc("compare", "-", "--region", "uk", "--fat-levels", given="400 g carrots\n200 g beef mince\n")
    assert answer.status == 0
    assert answer.err.count("[raw-or-cooked]") == 1
    assert answer.out.count("% fat") == 14


def test_costs_are_compared_by_a_price_list() -> None:
    answer = mealcalc("compare", SMOKY, "--prices", EXAMPLES / "demo-prices.csv", "--json")
    shape = answer.json
    assert (answer.status, shape["currency"]) == (0, "AUD")
    plain = mealcalc("cost", SMOKY, "--prices", EXAMPLES / "demo-prices.csv", "--json").json
    leaner = next(o for o in shape["options"] if o["name"] == "leaner mince")["per_container"]
    assert leaner["COST"]["verdict"] == "more"
    assert leaner["COST"]["interval"] is None
    assert leaner["PROTEIN_G_PER_MONEY"]["amount"] == pytest.approx(
        leaner["PROCNT_G"]["amount"] / leaner["COST"]["amount"], rel=1e-3
    )
    assert str(round(shape["options"][0]["cost_of_batch"], 2)) in str(plain)
    text = mealcalc("compare", SMOKY, "--prices", EXAMPLES / "demo-prices.csv").out
    assert "Costs are those of the price list" in " ".join(text.split())
