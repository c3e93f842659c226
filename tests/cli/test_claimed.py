"""`mealcalc claimed` through the real command."""

from pathlib import Path

import pytest

from tests.command import EXAMPLES, mealcalc, write

SMOKY = EXAMPLES / "smoky-bean-turkey.batch.yaml"


def _ours(containers: int = 6) -> list[str]:
    figures = mealcalc("macros", SMOKY, "--containers", str(containers), "--json").json["per_container"]
    named = {"--energy": "ENERC_KCAL", "--protein": "PROCNT_G", "--fat": "FAT_G", "--carbohydrate": "CHOAVLDF_G"}
    return [word for option, key in named.items() for word in (option, f"{figures[key]:.1f}")]


def test_our_own_figures_agree() -> None:
    answer = mealcalc("claimed", SMOKY, *_ours())
    assert answer.status == 0
    assert "there is no difference to explain" in answer.out


def test_a_wrong_number_of_containers_is_found_and_is_no_failure() -> None:
    answer = mealcalc("claimed", SMOKY, *_ours(5), "--json")
    assert answer.status == 0
    shape = answer.json
    assert shape["scheme"] == "anz"  # the law of the recipe's region, au
    # A fifth of all carbohydrate without fibre is as much as a sixth of all with it; the change tells them apart.
    assert shape["carbohydrate"]["nearer_with_best_change"] == "CHOAVLDF_G"
    assert shape["explanations"][0]["description"] == "5 containers instead of 6"
    text = mealcalc("claimed", SMOKY, *_ours(5)).out
    assert "1  5 containers instead of 6" in text


def test_the_scheme_can_be_chosen() -> None:
    answer = mealcalc("claimed", SMOKY, *_ours(), "--scheme", "US")
    assert "tolerance (us)" in answer.out
    assert "21 CFR 101.9(g)" in answer.out


def test_energy_in_kj() -> None:
    energy_kj = mealcalc("macros", SMOKY, "--json").json["per_container"]["ENERC_KJ"]
    answer = mealcalc("claimed", SMOKY, "--energy", f"{energy_kj:.0f}", "--kj")
    assert f"Claimed energy: {energy_kj:.0f} kJ is" in answer.out
    assert "there is no difference to explain" in answer.out


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ((), "no figure is claimed"),
        (("--kj",), "no figure is claimed"),
        (("--fat", "much"), "--fat 'much' is no figure"),
        (("--fat", "-3"), "--fat '-3' is no figure"),
        (("--fat", "14", "--scheme", "mars"), "Invalid value for '--scheme'"),
        (("--fat", "14", "--variant", "bigger"), "no variant 'bigger'"),
    ],
)
def test_wrong_usage(options: tuple[str, ...], message: str) -> None:
    answer = mealcalc("claimed", SMOKY, *options)
    assert answer.status == 2
    assert message in answer.err
    assert answer.out == ""


def test_a_recipe_that_is_not_wholly_known_fails_and_still_answers(kitchen: Path) -> None:
    write(kitchen, "list.txt", "400 g carrots\n300 g unobtainium zzyzx\n")
    answer = mealcalc("claimed", "list.txt", "--region", "uk", "--fat", "14")
    assert answer.status == 1
    assert "Ours is a lower bound: not known of line 2." in answer.out


def test_a_file_without_a_recipe_fails(kitchen: Path) -> None:
    write(kitchen, "empty.txt", "")
    assert mealcalc("claimed", "empty.txt", "--fat", "14").status == 1
