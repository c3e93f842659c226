"""Prints what the README and the change log quote: medians of whole commands, and matching beside simpler methods."""

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from benchmarks.matching import compare_matching

EXAMPLE = Path(__file__).parent.parent / "mealcalc" / "examples" / "smoky-bean-turkey.batch.yaml"
RUNS = 10
BOWLS = """\
title: Bowls
region: uk
containers: 6
components:
  - {name: Rice, cooking: "boiled, all water absorbed", ingredients: [400 g brown rice, 900 ml water]}
  - {name: Chicken, cooking: roasted, ingredients: 900 g chicken breast}
  - {name: Greens, cooking: steamed, ingredients: 600 g broccoli}
  - {name: Sauce, ingredients: [200 g Greek yoghurt, 40 g olive oil]}
eaters: {runner: {share: 1.5, containers: 2}, desk worker: {containers: 3}, child: 0.5}
targets:
  protein: at least 30 g
  energy: at most 600 kcal
  fibre: about 6 g
  keep_ratio: [Chicken, Sauce]
  eaters:
    runner: {energy: at most 900 kcal, carbohydrate: at least 70 g}
    child: {protein: at least 12 g, energy: at most 350 kcal}
"""


def main() -> None:
    """Run every benchmark and print its figures."""
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} processors, median of {RUNS} (lowest to highest)")
    with tempfile.TemporaryDirectory() as folder:
        environment = os.environ | {"MEALCALC_DATA_DIR": folder, "MEALCALC_CONFIG": folder}
        # An installed program starts from compiled modules.
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        _report("first use: build the bundled database, whole command", lambda: _first_use(environment, folder), runs=3)
        _mealcalc(environment, "macros", str(EXAMPLE))
        macros = ("macros", str(EXAMPLE))
        _report("cold `mealcalc macros`, 16 lines, database present", lambda: _mealcalc(environment, *macros))
        _report("cold `mealcalc macros --json`, with its intervals", lambda: _mealcalc(environment, *macros, "--json"))
        published = ("publish", str(EXAMPLE), "--scheme", "all", "--out", str(Path(folder) / "published"))
        _report("cold `mealcalc publish`, every format of five schemes", lambda: _mealcalc(environment, *published))
        ways = ("compare", str(EXAMPLE), "--fat-levels", "--swap", "turkey mince=chicken mince", "--containers", "4,8")
        _report("cold `mealcalc compare`, nine ways", lambda: _mealcalc(environment, *ways))
        bowls = Path(folder) / "bowls.batch.yaml"
        bowls.write_text(BOWLS, encoding="utf-8")
        _report("cold `mealcalc aim`, 4 components, 3 eaters", lambda: _mealcalc(environment, "aim", str(bowls)))
        _report("cold `mealcalc --help`", lambda: _mealcalc(environment, "--help"))
        os.environ["MEALCALC_DATA_DIR"] = folder
        _warm()
        compare_matching()


def _report(name: str, run: Callable[[], object], runs: int = RUNS) -> None:
    seconds = []
    for _ in range(runs):
        begun = time.perf_counter()
        run()
        seconds.append(time.perf_counter() - begun)
    print(f"{name}: {statistics.median(seconds):.3f} s ({min(seconds):.3f} to {max(seconds):.3f})")


def _mealcalc(environment: dict[str, str], *arguments: str) -> None:
    subprocess.run([sys.executable, "-m", "mealcalc", *arguments], env=environment, check=True, capture_output=True)


def _first_use(environment: dict[str, str], folder: str) -> None:
    for entry in Path(folder).iterdir():
        shutil.rmtree(entry) if entry.is_dir() else entry.unlink()
    _mealcalc(environment, "foods", "search", "brown rice")


def _warm() -> None:
    import mealcalc

    with mealcalc.open_database() as database:
        mealcalc.run(EXAMPLE, database=database)
        _report("warm `mealcalc.run`, 16 lines", lambda: mealcalc.run(EXAMPLE, database=database))


if __name__ == "__main__":
    main()
