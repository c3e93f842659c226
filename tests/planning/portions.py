"""A batch for the tests of weighing out."""

from mealcalc.recipe.reader import read_text
from mealcalc.records import Batch

TEXT = """\
title: Rice and stew
region: uk
containers: {count: 3, volume: 700 ml}
components:
  - name: Rice
    cooking: boiled, all water absorbed
    ingredients: |
      300 g white rice
      600 ml water
  - name: Stew
    cooking: browned, then simmered 30 min
    cooked_weight: 1000 g
    ingredients: |
      500 g beef mince, 12% fat
      200 g onions, chopped
      400 g canned tomatoes
"""


def batch(text: str = TEXT) -> Batch:
    """The batch of a text that must be one."""
    read = read_text(text, "stew.batch.yaml").batch
    assert read is not None
    return read
