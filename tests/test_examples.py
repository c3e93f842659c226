"""Every shipped example through the real command: clean, adding up, and believable by hand."""

from pathlib import Path

import pytest
import yaml

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.examples import examples
from mealcalc.fooddb import FoodDatabase
from tests.command import EXAMPLES, Answer, mealcalc

PATHS = sorted(EXAMPLES.glob("*.batch.yaml"))
VARIANTS = [
    (path, variant["name"])
    for path in PATHS
    for variant in yaml.safe_load(path.read_text(encoding="utf-8")).get("variants", [])
]


@pytest.fixture(autouse=True)
def _built(database: FoodDatabase, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:  # noqa: ARG001
    monkeypatch.setenv("MEALCALC_CONFIG", str(tmp_path))


def _check_clean(answer: Answer) -> None:
    assert (answer.status, answer.err) == (0, "")
    shape = answer.json
    assert shape["complete"] is True
    assert {line["status"] for line in shape["lines"]} <= {"matched", "not_counted"}
    assert all(line["mass_g"] is not None for line in shape["lines"] if line["status"] == "matched")
    assert shape["diagnostics"] == [] or {d["severity"] for d in shape["diagnostics"]} == {"note"}


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.name)
def test_an_example_runs_clean(path: Path) -> None:
    _check_clean(mealcalc("macros", path, "--json", "--strict"))


@pytest.mark.parametrize(("path", "variant"), VARIANTS, ids=[f"{path.name}: {name}" for path, name in VARIANTS])
def test_a_variant_runs_clean_and_changes_something(path: Path, variant: str) -> None:
    answer = mealcalc("macros", path, "--json", "--strict", "--variant", variant)
    _check_clean(answer)
    plain = mealcalc("macros", path, "--json").json
    assert answer.json["per_container"]["FAT_G"] != pytest.approx(plain["per_container"]["FAT_G"], rel=1e-3)


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.name)
def test_lines_components_and_container_add_up(path: Path) -> None:
    shape = mealcalc("macros", path, "--json").json
    containers = shape["containers"]
    for key in FOOD_COMPONENTS:
        whole = shape["per_container"][key]
        parts = [component["per_container"][key] for component in shape["components"]]
        if whole is not None:
            assert whole == pytest.approx(sum(part or 0.0 for part in parts), abs=1e-3)
        if key != "WATER_G":  # water that a pot gives off or takes up belongs to no line
            lines = [line["contribution"][key] or 0.0 for line in shape["lines"]]
            assert (whole or 0.0) * containers == pytest.approx(sum(lines), abs=1e-3 * containers)


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.name)
def test_energy_agrees_with_the_macros(path: Path) -> None:
    """By specific and by general factors: a mixed dish differs by less than a tenth (our judgement)."""
    amounts = mealcalc("macros", path, "--json").json["per_container"]
    by_macros = 4 * amounts["PROCNT_G"] + 9 * amounts["FAT_G"] + 4 * amounts["CHOCDF_G"]
    assert amounts["ENERC_KCAL"] == pytest.approx(by_macros, rel=0.1)
    assert amounts["ENERC_KJ"] == pytest.approx(4.184 * amounts["ENERC_KCAL"], rel=1e-4)


def test_the_examples_show_what_they_are_to_show() -> None:
    texts = {path.name.removesuffix(".batch.yaml"): path.read_text(encoding="utf-8") for path in PATHS}
    assert set(texts) == {example.name for example in examples()}
    assert all(len(yaml.safe_load(text)["components"]) == 2 for text in texts.values())
    assert any("[used 40%]" in text for text in texts.values())  # a marinade partly discarded
    assert any("bone-in" in text for text in texts.values())
    assert any("mince" in variant for _, variant in VARIANTS)


# Eaten grams (worked out from the recipe and the household measures of SR28) and kcal, protein, fat and total
# carbohydrate in 100 g as SR28 prints them (ABBREV.txt). A US cup is 236.588 ml, a British tablespoon 15 ml, a teaspoon
# 5 ml; of the marinade 40 % is eaten.
BY_HAND = [
    # bulgur, dry (20012): 300 g
    (300.0, 342, 12.29, 1.33, 75.87),
    # vegetable broth, ready to serve (06700): 600 ml at 240 g a cup
    (600 * 240 / 236.588, 5, 0.24, 0.07, 0.93),
    # parsley (11297): a small bunch, 18 g (common practice)
    (18.0, 36, 2.97, 0.79, 6.33),
    # lemon juice (09152): the juice of one lemon, 48 g
    (48.0, 22, 0.35, 0.24, 6.90),
    # olive oil (04053): 15 ml at 216 g a cup
    (15 * 216 / 236.588, 884, 0.0, 100.0, 0.0),
    # blanched almonds (12062): 30 g
    (30.0, 590, 21.40, 52.52, 18.67),
    # chicken thigh, meat only, raw (05096): 1.2 kg
    (1200.0, 121, 19.66, 4.12, 0.0),
    # whole-milk yoghurt (01116): 40 % of 300 g
    (0.4 * 300, 61, 3.47, 3.25, 4.66),
    # olive oil (04053): 40 % of 30 ml
    (0.4 * 30 * 216 / 236.588, 884, 0.0, 100.0, 0.0),
    # garlic (11215): 40 % of three cloves of 3 g
    (0.4 * 9, 149, 6.36, 0.50, 33.06),
    # coriander seed (02013): 40 % of two teaspoons, 1.8 g to the US teaspoon of 4.929 ml
    (0.4 * 10 * 1.8 / 4.929, 298, 12.37, 17.77, 54.99),
    # sweet red peppers (11821): three of 119 g
    (3 * 119.0, 31, 0.99, 0.30, 6.03),
    # courgettes (11477): two of 196 g
    (2 * 196.0, 17, 1.21, 0.32, 3.11),
    # onions (11282): two of 110 g
    (2 * 110.0, 40, 1.10, 0.10, 9.34),
]


def test_one_example_worked_out_by_hand() -> None:
    amounts = mealcalc("macros", EXAMPLES / "yoghurt-chicken-bulgur.batch.yaml", "--json").json["per_container"]
    keys = ("ENERC_KCAL", "PROCNT_G", "FAT_G", "CHOCDF_G")
    by_hand = [sum(row[0] * row[column] for row in BY_HAND) / 100 / 5 for column in (1, 2, 3, 4)]
    assert by_hand == pytest.approx([653.7, 59.34, 20.24, 61.04], rel=1e-3)  # in one of five containers
    assert [amounts[key] for key in keys] == pytest.approx(by_hand, rel=2e-3)
