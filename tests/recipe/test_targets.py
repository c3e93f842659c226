"""Targets in a batch file and on the command line: limits, wishes, what stays as it is, and what is wrong with them."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.errors import UsageError
from mealcalc.recipe.quantities import Fault
from mealcalc.recipe.targets import LISTED_QUANTITIES, quantity_key, read_target, target_of_option
from mealcalc.records.targets import COST, MASS, Bound, Target, Targets
from tests.recipe.reading import assert_inside, batch_of, codes, errors, read, shown

BATCH = """\
title: Pots
region: uk
containers: 4
components:
  - name: Rice
    ingredients: 400 g brown rice
  - name: Chicken
    ingredients: 800 g chicken breast
"""
FULL = """\
eaters: {runner: 1.5, desk worker: 1}
targets:
  protein: at least 40 g
  energy: at most 2500 kJ
  carbohydrate: 45 g to 70 g
  fibre: about 10 g
  salt: at most 2 g
  cost: at most 3.50
  mass: at most 0.6 kg
  VITC: at least 30 mg
  most: protein
  keep_ratio: [Rice, Chicken]
  change: [brown rice, Chicken]
  whole_packs: {brown rice: 500 g}
  eaters:
    Runner: {energy: at most 900 kcal}
"""


def target(key: str, bound: Bound, amount: float) -> object:
    return key, bound, pytest.approx(amount)


def listed(targets: tuple[Target, ...] | list[Target]) -> list[tuple[str, Bound, float]]:
    return [(t.key, t.bound, t.amount) for t in targets]


def targets_of(text: str) -> Targets:
    result = read(BATCH + text)
    assert errors(result) == [], shown(result.diagnostics)
    targets = batch_of(result).targets
    assert targets is not None
    return targets


def test_a_batch_without_targets_has_none() -> None:
    assert batch_of(read(BATCH)).targets is None


def test_a_block_of_targets_is_read_whole() -> None:
    targets = targets_of(FULL)
    assert listed(targets.every) == [
        target("PROCNT_G", Bound.AT_LEAST, 40),
        target("ENERC_KCAL", Bound.AT_MOST, 2500 / 4.184),
        target("CHOCDF_G", Bound.AT_LEAST, 45),
        target("CHOCDF_G", Bound.AT_MOST, 70),
        target("FIBTG_G", Bound.ABOUT, 10),
        target("NA_MG", Bound.AT_MOST, 800),  # salt = sodium x 2.5
        target(COST, Bound.AT_MOST, 3.5),
        target(MASS, Bound.AT_MOST, 600),
        target("VITC_MG", Bound.AT_LEAST, 30),
    ]
    assert {name: listed(own) for name, own in targets.of_eater.items()} == {
        "runner": [target("ENERC_KCAL", Bound.AT_MOST, 900)]
    }
    assert (targets.most, targets.least) == ("PROCNT_G", "")
    assert targets.keep_ratio == (("Rice", "Chicken"),)
    assert targets.change == ("brown rice", "Chicken")
    assert targets.whole_packs == {"brown rice": "500 g"}
    assert not targets.empty


def test_what_an_eater_wants_takes_the_place_of_what_all_want() -> None:
    targets = targets_of(FULL)
    for_runner = {t.key: t.amount for t in targets.of("runner") if t.bound is Bound.AT_MOST}
    assert for_runner["ENERC_KCAL"] == 900
    assert {t.key: t.amount for t in targets.of("desk worker")}["ENERC_KCAL"] == pytest.approx(2500 / 4.184)
    assert ("PROCNT_G", Bound.AT_LEAST, 40.0) in listed(targets.of("runner"))


def test_eaters_may_be_named_by_their_targets_alone() -> None:
    targets = targets_of("targets: {eaters: {cyclist: {energy: at least 800 kcal}}}\n")
    assert list(targets.of_eater) == ["cyclist"]
    assert not targets.empty
    assert targets_of("targets: {keep_ratio: [Rice, Chicken]}\n").empty


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("targets: [protein]", "wrong-type"),
        ("targets: {protien: at least 40 g}", "unknown-key"),
        ("targets: {protein: 40 g}", "bad-target"),
        ("targets: {protein: at least}", "bad-target"),
        ("targets: {protein: at least 40}", "bad-target"),
        ("targets: {protein: at least 40 kcal}", "bad-target"),
        ("targets: {protein: at least -40 g}", "bad-target"),
        ("targets: {protein: 70 g to 40 g}", "bad-target"),
        ("targets: {protein: at least 40 g and at least 50 g}", "bad-target"),
        ("targets: {protein: at least 9999999 g}", "bad-target"),
        ("targets: {energy: at most 600}", "bad-target"),
        ("targets: {cost: at most 3.50 AUD}", "bad-target"),
        ("targets: {mass: at most 0 g}", "bad-target"),
        ("targets: {protein: [at least 40 g]}", "wrong-type"),
        ("targets: {most: zest}", "unknown-word"),
        ("targets: {keep_ratio: [Rice]}", "bad-target"),
        ("targets: {whole_packs: [rice]}", "wrong-type"),
        ("targets: {eaters: [runner]}", "wrong-type"),
        ("targets: {eaters: {runner: {most: protein}}}", "unknown-key"),
        ("eaters: {runner: 1}\ntargets: {eaters: {rummer: {protein: at least 40 g}}}", "unknown-eater"),
    ],
)
def test_what_is_wrong_is_told_with_its_place_and_a_way_out(text: str, code: str) -> None:
    result = read(BATCH + text + "\n")
    assert codes(result) == [code], shown(result.diagnostics)
    (found,) = result.diagnostics
    assert found.span is not None
    assert found.span.line > 8
    assert found.hint
    assert len(batch_of(result).components) == 2  # nothing else is lost


def test_one_bad_target_costs_that_target_alone() -> None:
    result = read(BATCH + "targets:\n  protein: loads\n  energy: at most 600 kcal\n")
    assert errors(result) == ["bad-target"]
    targets = batch_of(result).targets
    assert targets is not None
    assert listed(targets.every) == [target("ENERC_KCAL", Bound.AT_MOST, 600)]


@pytest.mark.parametrize(
    ("option", "eater", "expected"),
    [
        ("protein at least 40 g", "", [("PROCNT_G", Bound.AT_LEAST, 40.0)]),
        ("protein: at least 40 g", "", [("PROCNT_G", Bound.AT_LEAST, 40.0)]),
        ("Protein ≥ 40 g", "", [("PROCNT_G", Bound.AT_LEAST, 40.0)]),
        ("runner: energy at most 900 kcal", "runner", [("ENERC_KCAL", Bound.AT_MOST, 900.0)]),
        ("desk worker: fat about 20 g", "desk worker", [("FAT_G", Bound.ABOUT, 20.0)]),
        ("carbs 45-70 g", "", [("CHOCDF_G", Bound.AT_LEAST, 45.0), ("CHOCDF_G", Bound.AT_MOST, 70.0)]),
        (
            "available between 45 and 70 g",
            "",
            [("CHOAVLDF_G", Bound.AT_LEAST, 45.0), ("CHOAVLDF_G", Bound.AT_MOST, 70.0)],
        ),
        ("sodium <= 0,8 g", "", [("NA_MG", Bound.AT_MOST, 800.0)]),
        ("cost at most 3.50", "", [(COST, Bound.AT_MOST, 3.5)]),
    ],
)
def test_targets_on_the_command_line(option: str, eater: str, expected: list[tuple[str, Bound, float]]) -> None:
    name, targets = target_of_option(option)
    assert name == eater
    assert [target(*one) for one in expected] == listed(targets)


@pytest.mark.parametrize("option", ["", "protein", "zest at least 3 g", "protein lots", ":", "a: b: c", "40 g"])
def test_what_is_no_target_says_what_to_write(option: str) -> None:
    with pytest.raises(UsageError) as caught:
        target_of_option(option)
    assert caught.value.hint


def test_every_listed_quantity_and_every_food_component_can_be_limited() -> None:
    for name in LISTED_QUANTITIES:
        assert quantity_key(name) is not None
    for key, component in FOOD_COMPONENTS.items():
        unit = "kcal" if key.startswith("ENERC") else component.unit
        found = read_target(component.tagname, f"at most 3 {unit}")
        assert not isinstance(found, Fault), key
        assert found[0].key == ("ENERC_KCAL" if key.startswith("ENERC") else key)


@given(st.sampled_from(["protein", "energy", "cost", "mass", "salt"]), st.text(max_size=40))
def test_any_text_is_a_target_or_a_fault(name: str, text: str) -> None:
    found = read_target(name, text)
    assert isinstance(found, Fault) or all(t.amount >= 0.0 for t in found)


@given(st.text(max_size=60))
def test_any_option_is_a_target_or_refused(text: str) -> None:
    try:
        _, found = target_of_option(text)
    except UsageError:
        return
    assert found


@given(st.dictionaries(st.sampled_from([*LISTED_QUANTITIES, "eaters", "most", "change", "x"]), st.text(max_size=20)))
def test_any_block_is_read_to_its_end(block: dict[str, str]) -> None:
    text = BATCH + yaml.safe_dump({"targets": block}, allow_unicode=True)
    result = read(text)
    batch_of(result)
    assert_inside(result, text)


@given(amount=st.floats(0.1, 9999), bound=st.sampled_from(["at least", "at most", "about"]))
def test_what_is_read_is_what_is_shown(amount: float, bound: str) -> None:
    found = read_target("protein", f"{bound} {amount:.3f} g")
    assert not isinstance(found, Fault)
    again = read_target("protein", str(found[0]).removeprefix("protein "))
    assert not isinstance(again, Fault)
    assert again[0].amount == pytest.approx(found[0].amount, rel=1e-3)
