"""`macros --sure`, and the intervals of `macros --json`, through the real command."""

import subprocess
import sys
from pathlib import Path

import pytest

from mealcalc.components import FOOD_COMPONENTS, MACRO_KEYS
from tests.command import EXAMPLES, mealcalc, process_environment, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"


def test_sure_shows_intervals_and_advice() -> None:
    plain, sure = mealcalc("macros", SMOKY), mealcalc("macros", SMOKY, "--sure")
    assert plain.status == sure.status == 0
    assert "90 % between" not in plain.out
    assert "90 % between" in sure.out
    assert "Line 20, turkey mince: take its values from the pack label" in " ".join(sure.out.split())
    totals, sureness, lines = (sure.out.index(words) for words in ("in one", "how sure", "Line by line"))
    assert totals < sureness < lines
    assert sure.out.index("how sure") > plain.out.index("Foods sr28")


def test_json_always_has_intervals() -> None:
    shape = mealcalc("macros", SMOKY, "--json").json
    assert shape["interval"] == {"level": 0.9, "draws": 10_000, "seed": 20_250_101}
    assert set(shape["per_container_interval"]) == set(shape["per_container"]) == set(FOOD_COMPONENTS)
    for key, interval in shape["per_container_interval"].items():
        if key in shape["incomplete"]:
            assert interval is None, key
        else:
            low, high = interval
            assert low <= shape["per_container"][key] <= high, key
    assert "NA_MG" in shape["incomplete"]


def test_json_has_figures_per_100_g_of_each_component() -> None:
    shape = mealcalc("macros", SMOKY, "--json").json
    for component in shape["components"]:
        share = 100.0 * shape["containers"] / component["cooked_mass_g"]
        for key in MACRO_KEYS:
            assert component["per_100g"][key] == pytest.approx(component["per_container"][key] * share, rel=1e-3)
            low, high = component["per_100g_interval"][key]
            assert low <= component["per_100g"][key] <= high


def test_json_names_the_drivers() -> None:
    drivers = mealcalc("macros", SMOKY, "--json").json["drivers"]
    assert {driver["key"] for driver in drivers} == set(MACRO_KEYS)
    mince = next(driver for driver in drivers if driver["key"] == "FAT_G")
    assert (mince["file_line"], mince["what"]) == (20, "composition")
    assert 0.0 < mince["width_if_settled"] < 1.0


def test_a_component_of_unknown_mass_has_no_figures_per_100_g(kitchen: Path) -> None:
    write(kitchen, "list.txt", "400 g carrots\n300 g unobtainium zzyzx\n")
    answer = mealcalc("macros", "list.txt", "--region", "uk", "--json")
    assert answer.status == 1
    (component,) = answer.json["components"]
    assert component["per_100g"] is None
    assert component["per_100g_interval"] is None
    assert set(answer.json["per_container_interval"].values()) == {None}


@pytest.mark.parametrize(
    ("options", "wanted"), [((), False), (("--csv",), False), (("--sure",), True), (("--json",), True)]
)
def test_numpy_is_imported_only_for_intervals(kitchen: Path, options: tuple[str, ...], *, wanted: bool) -> None:
    code = (
        "import sys\n"
        "from mealcalc.cli.app import app\n"
        f"app({['macros', str(SMOKY), *options]!r}, standalone_mode=False)\n"
        "sys.stderr.write(f\"numpy: {'numpy' in sys.modules}\")\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=process_environment(), cwd=kitchen, capture_output=True, text=True, check=True
    )
    assert done.stderr.endswith(f"numpy: {wanted}")
