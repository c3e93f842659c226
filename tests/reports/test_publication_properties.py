"""Whatever a cook writes into a title or a name: every format is made, and none of it runs or breaks out."""

import json
from dataclasses import replace
from datetime import date
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from mealcalc.cli.publishing import Package, publication_of
from mealcalc.cli.streams import json_text
from mealcalc.fooddb import open_database
from mealcalc.pipeline import calculate
from mealcalc.recipe.reader import read_text
from mealcalc.records import BatchResult
from mealcalc.reports.formats import formats
from mealcalc.reports.sheets import SHEETS
from tests.cli.test_panel import tags_of

POTS = """\
title: Pots
region: uk
containers: 2
components:
  - name: Rice
    cooking: boiled, all water absorbed
    ingredients: |
      300 g white rice
      600 ml water
"""
PLAIN_TAGS = frozenset(
    "html head meta title style body main h1 h2 h3 p ul li strong table caption thead tbody tr th td div figure "
    "figcaption details summary span br script svg defs g path text use pattern rect clippath".split()
)


@cache
def pots() -> BatchResult:
    batch = read_text(POTS, "pots.batch.yaml").batch
    assert batch is not None
    with open_database() as database:
        return calculate(batch, database)


def named(title: str, name: str) -> BatchResult:
    result = pots()
    (component,) = result.components
    renamed = replace(component.component, name=name, cooking=f"boiled {name}")
    return replace(
        result,
        batch=replace(result.batch, title=title, components=(renamed,)),
        components=(replace(component, component=renamed),),
    )


@settings(max_examples=25)
@given(title=st.text(max_size=80), name=st.text(max_size=40), sheet=st.sampled_from(sorted(SHEETS)))
def test_any_text_is_shown_and_never_breaks_out(title: str, name: str, sheet: str) -> None:
    publication, _ = publication_of(named(title, name), ("uk",), Package(), cooked=date(2026, 11, 24))
    files, _ = formats(publication, SHEETS[sheet], 2, 1, json_text)
    for file, content in files.items():
        if file.endswith(".html"):
            tags = tags_of(content.decode("utf-8"))
            assert tags.seen <= PLAIN_TAGS, file
            assert not {a for a in tags.attributes if a.startswith("on")}, file
        elif file.endswith((".json", ".jsonld")):
            json.loads(content)
        elif file.endswith(".pdf"):
            assert content.startswith(b"%PDF")
        else:
            assert content, file
