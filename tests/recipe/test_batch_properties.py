"""Properties of the YAML door: nothing raises, every place lies inside, what is written reads back."""

from typing import Any

import yaml
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.records import Batch
from tests.recipe.reading import assert_inside, batch_of, errors, read
from tests.recipe.test_batch_yaml import FULL

_SNIPPETS = st.sampled_from(
    "title region containers components variants foods name ingredients fat cooked_weight volume count per energy salt "
    ": - | > { } [ ] , # ' \" & * ! % @ ` ? 6 400_g_rice kept au serving 100_g".split()
    + " é \u2028 \x85".split(" ")
    + "\n|\n  |\n    | |: |- |\t".split("|")
)


@given(st.one_of(st.text(), st.lists(_SNIPPETS).map("".join)), st.sampled_from(["", FULL, "region: au\ncomponents:\n"]))
def test_no_text_raises_and_every_place_lies_inside(text: str, before: str) -> None:
    assert_inside(read(before + text), before + text)
    assert_inside(read(text + before), text + before)


_WORDS = st.text("abcdefghijklmnopqrstuvwxyzäéß -'", min_size=1, max_size=20).map(str.strip).filter(bool)
_LINES = st.builds(
    "{} g {}".format, st.integers(1, 5000), st.sampled_from(["rice", "lentils", "crème fraîche", "figs"])
)
_COMPONENTS = st.lists(
    st.fixed_dictionaries(
        {"name": _WORDS, "ingredients": st.lists(_LINES, min_size=1, max_size=5)},
        optional={
            "cooking": _WORDS,
            "fat": st.sampled_from(["kept", "drained"]),
            "cooked_weight": st.integers(1, 9999).map("{} g".format),
        },
    ),
    min_size=1,
    max_size=4,
    unique_by=lambda component: str(component["name"]).casefold(),
)
_BATCHES = st.fixed_dictionaries(
    {
        "title": _WORDS,
        "region": st.sampled_from("au nz uk ie us ca in eu".split()),
        "containers": st.one_of(
            st.integers(1, 1000),
            st.fixed_dictionaries({"count": st.integers(1, 1000), "volume": st.integers(1, 5000).map("{} ml".format)}),
        ),
        "components": _COMPONENTS,
    }
)


def _shape(batch: Batch) -> dict[str, Any]:
    volume = batch.container_volume_ml
    return {
        "title": batch.title,
        "region": batch.region,
        "containers": {"count": batch.containers, "volume": f"{volume:.0f} ml"} if volume else batch.containers,
        "components": [
            {
                "name": c.name,
                "ingredients": [line.text for line in c.lines],
                **({"cooking": c.cooking} if c.cooking else {}),
                "fat": c.fat,
                **({"cooked_weight": f"{c.cooked_mass_g:.0f} g"} if c.cooked_mass_g else {}),
            }
            for c in batch.components
        ],
    }


@given(_BATCHES, st.sampled_from([None, True, False]), st.booleans(), st.sampled_from([None, '"', "'", "|"]))
def test_a_batch_written_as_yaml_reads_back_equal(
    batch: dict[str, Any], flow: bool | None, block: bool, style: str | None
) -> None:
    for component in batch["components"]:
        component.setdefault("fat", "kept")
        component.update({key: " ".join(component[key].split()) for key in ("name", "cooking") if key in component})
    batch["title"] = " ".join(batch["title"].split())
    written = dict(batch)
    if block:
        written["components"] = [{**c, "ingredients": "\n".join(c["ingredients"])} for c in batch["components"]]
    text = yaml.safe_dump(
        written, default_flow_style=flow, default_style=style, allow_unicode=True, sort_keys=False, width=10_000
    )
    result = read(text)
    assert _shape(batch_of(result)) == batch
    assert errors(result) == []
    for line in batch_of(result).lines:
        assert line.text in line.span.text
