"""`mealcalc macros` through the real command."""

import csv
import io
from pathlib import Path

import pytest

from tests.command import EXAMPLES, mealcalc, write

LIST = "400 g brown rice\n2 tbsp olive oil\n"
SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"


def test_a_file_with_components_shows_each_and_the_container(kitchen: Path) -> None:
    write(
        kitchen,
        "two.batch.yaml",
        "title: Two parts\nregion: uk\ncontainers: 4\ncomponents:\n"
        "  - name: Grain\n    ingredients: 400 g brown rice, raw\n"
        "  - name: Oil\n    ingredients: 40 g olive oil\n",
    )
    answer = mealcalc("macros", "two.batch.yaml")
    assert answer.status == 0
    assert answer.err == ""
    rows = [row.split() for row in answer.out.splitlines()]
    assert rows[0] == ["Two", "parts"]
    assert rows[1] == ["4", "containers,", "measures", "of", "region", "uk"]
    assert ["in", "one", "container", "Grain", "Oil"] in rows
    # SR28 20036: 367 kcal, 3.20 g fat in 100 g; 04053: 884 kcal, 100 g fat. 400 g and 40 g in four containers.
    assert ["energy", "kcal", "455", "367", "88"] in rows
    assert ["fat", "g", "13.2", "3.2", "10.0"] in rows
    assert ["6", "400", "367", "7.5", "3.2", "76.2", "400", "g", "brown", "rice,", "raw"] in rows


def test_a_list_on_standard_input_is_one_batch() -> None:
    answer = mealcalc("macros", "-", "--region", "au", given=LIST)
    assert answer.status == 0
    assert "in the" in answer.out
    assert "1 container, measures of region au" in answer.out
    assert "no number of containers is given" in answer.err


def test_containers_can_be_given_with_the_call() -> None:
    whole = mealcalc("macros", "-", "--region", "uk", "--json", given=LIST).json
    answer = mealcalc("macros", "-", "--region", "uk", "--containers", "4", "--json", given=LIST)
    assert answer.json["containers"] == 4
    assert answer.json["per_container"]["FAT_G"] == pytest.approx(whole["per_container"]["FAT_G"] / 4, abs=1e-4)
    assert "containers" not in answer.err


@pytest.mark.parametrize("number", ["0", "-1", "2.5", "1001", "six"])
def test_containers_that_cannot_be_filled_are_wrong_usage(number: str) -> None:
    answer = mealcalc("macros", "-", "--containers", number, given=LIST)
    assert answer.status == 2
    assert "--containers" in answer.err
    assert answer.out == ""


def test_without_a_region_metric_measures_are_used_and_told() -> None:
    answer = mealcalc("macros", "-", given=LIST)
    assert "metric measures" in answer.out
    assert "no region is given" in answer.err
    assert answer.status == 0


def test_the_region_of_the_configuration_counts_where_the_recipe_names_none(tmp_path: Path) -> None:
    folder = tmp_path / "configuration"
    folder.mkdir()
    write(folder, "config.toml", 'region = "au"\n')
    assert mealcalc("macros", "-", "--json", given=LIST).json["region"] == "au"
    assert mealcalc("macros", "-", "--json", given="region: us\n" + LIST).json["region"] == "us"
    assert mealcalc("macros", "-", "--region", "IE", "--json", given="region: us\n" + LIST).json["region"] == "ie"


def test_tablespoons_differ_by_region() -> None:
    grams = {
        region: mealcalc("macros", "-", "--region", region, "--json", given=LIST).json["lines"][1]["mass_g"]
        for region in ("au", "uk")
    }
    assert grams["au"] / grams["uk"] == pytest.approx(20 / 15, rel=1e-4)


@pytest.mark.parametrize("region", ["atlantis", "", "u k"])
def test_an_unknown_region_is_wrong_usage(region: str) -> None:
    answer = mealcalc("macros", "-", "--region", region, given=LIST)
    assert answer.status == 2
    assert "unknown region" in answer.err
    assert "au, nz, uk, ie, us, ca, in, eu" in answer.err
    assert answer.out == ""


def test_a_variant_replaces_its_line() -> None:
    plain = mealcalc("macros", SMOKY, "--json").json
    lean = mealcalc("macros", SMOKY, "--variant", "leaner mince", "--json").json
    assert lean["batch"] == "Smoky bean and turkey pots (leaner mince)"
    assert lean["per_container"]["FAT_G"] < plain["per_container"]["FAT_G"] - 5
    assert len(lean["lines"]) == len(plain["lines"])


def test_an_unknown_variant_is_wrong_usage_and_lists_the_known() -> None:
    answer = mealcalc("macros", SMOKY, "--variant", "feather-light")
    assert answer.status == 2
    assert "no variant 'feather-light'" in answer.err
    assert "'leaner mince', 'fuller mince', 'no yoghurt'" in answer.err


def test_optional_lines_can_be_left_out() -> None:
    with_all = mealcalc("macros", SMOKY, "--json").json
    without = mealcalc("macros", SMOKY, "--without-optional", "--json").json
    left_out = {line["text"] for line in with_all["lines"]} - {line["text"] for line in without["lines"]}
    assert left_out == {"200 g Greek yoghurt (optional)"}
    # SR28 01293: 9.00 g protein in 100 g; 200 g in six containers.
    difference = with_all["per_container"]["PROCNT_G"] - without["per_container"]["PROCNT_G"]
    assert difference == pytest.approx(200 * 9.00 / 100 / 6, abs=1e-3)


def test_brief_leaves_out_the_lines() -> None:
    answer = mealcalc("macros", SMOKY, "--brief")
    assert "Line by line" not in answer.out
    assert "protein" in answer.out


def test_all_shows_every_food_component() -> None:
    out = mealcalc("macros", SMOKY, "--all", "--brief").out
    for name in ("vitamin B-12", "calcium", "sugars", "cholesterol", "selenium"):
        assert name in out


def test_grounds_say_where_grams_come_from() -> None:
    assert "1 tbsp (au) = 20 ml" in mealcalc("macros", SMOKY, "--grounds").out.replace("\n" + " " * 45, " ")
    assert "20 ml" not in mealcalc("macros", SMOKY).out


def test_csv_holds_each_component_and_the_container() -> None:
    answer = mealcalc("macros", SMOKY, "--csv")
    rows = list(csv.DictReader(io.StringIO(answer.out)))
    shape = mealcalc("macros", SMOKY, "--json").json
    assert {(row["scope"], row["name"]) for row in rows} == {
        ("component", "Brown rice"),
        ("component", "Beans and turkey"),
        ("container", "Smoky bean and turkey pots"),
    }
    whole = {row["key"]: row for row in rows if row["scope"] == "container"}
    assert {key: float(row["amount_per_container"]) for key, row in whole.items()} == shape["per_container"]
    assert whole["NA_MG"]["unknown_lines"] == "12"


def test_two_machine_shapes_at_once_are_wrong_usage() -> None:
    answer = mealcalc("macros", SMOKY, "--json", "--csv")
    assert answer.status == 2
    assert "exclude each other" in answer.err


def test_a_guess_fails_only_when_strict() -> None:
    guess = "200 g blorps sugar\n"
    plain = mealcalc("macros", "-", "--region", "uk", given=guess)
    assert (plain.status, "unsure" in plain.out) == (0, True)
    assert "that is a guess" in plain.err
    assert mealcalc("macros", "-", "--region", "uk", "--strict", given=guess).status == 1
    assert mealcalc("macros", "-", "--region", "uk", "--strict", given="200 g sugar\n").status == 0


def test_notes_are_shown_on_request() -> None:
    blend = "1 kg beef mince, 12% fat, raw\n"
    assert "[blend]" not in mealcalc("macros", "-", "--region", "uk", given=blend).err
    assert "[blend]" in mealcalc("macros", "-", "--region", "uk", "--notes", given=blend).err


def test_each_finding_is_told_once() -> None:
    err = mealcalc("macros", "-", "--region", "uk", given="100 g zorgles\n100 g rice, raw\n").err
    assert err.count("[unmatched-food]") == 1


@pytest.mark.parametrize("arguments", [(), ("macros",), ("macros", "--nonsense", "x"), ("macro", "x")])
def test_calls_that_mean_nothing_are_wrong_usage(arguments: tuple[str, ...]) -> None:
    assert mealcalc(*arguments).status == 2


def test_a_folder_or_nothing_is_wrong_usage(kitchen: Path) -> None:
    (kitchen / "pots.batch.yaml").mkdir()
    for name, reason in (("pots.batch.yaml", "is a folder"), ("pot.batch.yaml", "no such file"), ("a\0b", "cannot be")):
        answer = mealcalc("macros", name)
        assert reason in answer.err
        assert answer.out == ""
        assert "hint:" in answer.err
        assert answer.status == (1 if "\0" in name else 2)
