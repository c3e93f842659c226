"""Variants: lines replaced, left out and added."""

import pytest

from mealcalc.errors import UsageError
from mealcalc.planning.variants import apply_variant
from mealcalc.recipe.reader import read_text
from mealcalc.records import Batch

RECIPE = """\
title: Pots
region: uk
containers: 2
components:
  - name: Base
    ingredients: |
      400 g brown rice
      900 ml water
  - name: Main
    ingredients: |
      1 kg turkey mince, 7% fat
      200 g Greek yoghurt (optional)
      2 onions, diced
variants:
  - name: Leaner
    replace: {"turkey mince": "1 kg turkey mince, 2% fat"}
  - name: plain
    leave_out: ["Greek yoghurt", "onion"]
  - name: richer
    add: {Main: "50 g butter"}
  - name: all at once
    replace: {"brown rice": "400 g bulgur wheat"}
    leave_out: ["Greek yoghurt"]
    add: {Base: "10 g butter", Main: "20 g butter"}
"""


@pytest.fixture
def batch() -> Batch:
    found = read_text(RECIPE, "pots.batch.yaml")
    assert found.diagnostics == ()
    assert found.batch is not None
    return found.batch


def texts(batch: Batch) -> list[str]:
    return [line.text.strip() for line in batch.lines]


def test_a_line_is_replaced_in_its_place(batch: Batch) -> None:
    changed = apply_variant(batch, "Leaner")
    assert texts(changed) == [t.replace("7% fat", "2% fat") for t in texts(batch)]
    assert {line.component for line in changed.components[1].lines} == {"Main"}
    assert changed.title == "Pots (Leaner)"


def test_lines_are_left_out_whatever_their_number(batch: Batch) -> None:
    assert texts(apply_variant(batch, "plain")) == ["400 g brown rice", "900 ml water", "1 kg turkey mince, 7% fat"]


def test_lines_are_added_at_the_end_of_their_component(batch: Batch) -> None:
    assert texts(apply_variant(batch, "richer")) == [*texts(batch), "50 g butter"]


def test_changes_go_together(batch: Batch) -> None:
    changed = apply_variant(batch, "all at once")
    assert [line.text for line in changed.components[0].lines] == ["400 g bulgur wheat", "900 ml water", "10 g butter"]
    assert [line.text for line in changed.components[1].lines] == [
        "1 kg turkey mince, 7% fat",
        "2 onions, diced",
        "20 g butter",
    ]


def test_the_name_is_found_whatever_its_case_and_the_batch_stays_as_it_was(batch: Batch) -> None:
    before = texts(batch)
    assert apply_variant(batch, "LEANER").title == "Pots (Leaner)"
    assert texts(batch) == before


@pytest.mark.parametrize("name", ["fatter", "", "lean"])
def test_an_unknown_name_lists_the_known(batch: Batch, name: str) -> None:
    with pytest.raises(UsageError) as caught:
        apply_variant(batch, name)
    assert f"no variant '{name}'" in caught.value.message
    assert "'Leaner', 'plain', 'richer', 'all at once'" in caught.value.hint


def test_a_batch_without_variants_says_so() -> None:
    batch = read_text("100 g rice\n", "x", "uk").batch
    assert batch is not None
    with pytest.raises(UsageError) as caught:
        apply_variant(batch, "any")
    assert "none" in caught.value.hint
