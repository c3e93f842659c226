"""The published JSON Schema of batch files, beside the reader that reads them."""

import copy
from importlib import resources
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from mealcalc.recipe import batch_variants, batch_yaml, eaters, own_foods, targets
from mealcalc.recipe.batch_schema import batch_schema, schema_path
from mealcalc.recipe.result import MOST_CONTAINERS
from mealcalc.units import METRIC, REGIONS
from tests.recipe.reading import batch_of, errors, read

SCHEMA = batch_schema()
EXAMPLE: dict[str, Any] = SCHEMA["examples"][0]
SHIPPED = sorted(
    entry.name for entry in resources.files("mealcalc.examples").iterdir() if entry.name.endswith(".batch.yaml")
)


def is_valid(content: object) -> bool:
    return Draft202012Validator(SCHEMA).is_valid(content)


def changed(*path: str | int, value: object = None, drop: bool = False) -> dict[str, Any]:
    """The example with one entry set or dropped."""
    content = copy.deepcopy(EXAMPLE)
    place: Any = content
    for step in path[:-1]:
        place = place[step]
    if drop:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    return content


def test_the_schema_is_a_schema_and_stands_where_it_says() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema_path().is_file()


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shipped_example_is_valid_and_read_without_errors(name: str) -> None:
    text = resources.files("mealcalc.examples").joinpath(name).read_text(encoding="utf-8")
    assert is_valid(yaml.safe_load(text))
    assert errors(read(text, name)) == []


def test_there_are_shipped_examples() -> None:
    assert len(SHIPPED) >= 4


def test_the_example_in_the_schema_is_valid_and_read_without_errors() -> None:
    assert is_valid(EXAMPLE)
    result = read(yaml.safe_dump(EXAMPLE, sort_keys=False))
    assert errors(result) == []
    assert len(batch_of(result).own_foods) == 1


def test_every_example_of_a_part_fits_it() -> None:
    checked = 0

    def check(part: object) -> None:
        nonlocal checked
        if isinstance(part, dict):
            if isinstance(part.get("examples"), list):
                inner = {**part, "$defs": SCHEMA["$defs"]}
                for example in part["examples"]:
                    Draft202012Validator(inner).validate(example)
                    checked += 1
            for value in part.values():
                check(value)

    check(SCHEMA)
    assert checked > 30


@pytest.mark.parametrize(
    "content",
    [
        changed("components", drop=True),
        changed("components", value=[]),
        changed("titel", value="Pots"),
        changed("title", value=5),
        changed("region", value="xy"),
        changed("containers", value=0),
        changed("containers", value=-1),
        changed("containers", value=2.5),
        changed("containers", value="six"),
        changed("containers", value=MOST_CONTAINERS + 1),
        changed("containers", value={"volume": "650 ml"}),
        changed("containers", value={"count": 6, "volume": 650}),
        changed("containers", value={"count": 6, "size": "650 ml"}),
        changed("components", 0, "name", drop=True),
        changed("components", 0, "ingredients", drop=True),
        changed("components", 0, "ingredients", value=[]),
        changed("components", 0, "ingredients", value=[{"a": "b"}]),
        changed("components", 0, "fat", value="keept"),
        changed("components", 0, "cooked_weight", value=2140),
        changed("components", 0, "cooked_weight", value="-2140 g"),
        changed("components", 0, "lines", value="1 egg"),
        changed("variants", 0, "name", drop=True),
        changed("variants", 0, "replace", drop=True),
        changed("variants", 0, "remove", value="x"),
        changed("foods", 0, "name", drop=True),
        changed("foods", 0, "per", drop=True),
        changed("foods", 0, "per", value="serving"),
        changed("foods", 0, "FAT", value=6),
        changed("foods", 0, "FAT", value="-6 g"),
        changed("foods", 0, "energy", value="1640"),
        changed("foods", 0, "density", value="1.03"),
        changed("foods", 0, "protien", value="6 g"),
        changed("foods", 0, "batch", value="stock.batch.yaml"),
        changed("eaters", value=["adult"]),
        changed("eaters", value={"adult": 0}),
        changed("eaters", value={"adult": -1}),
        changed("eaters", value={"adult": "big"}),
        changed("eaters", value={"adult": {"portion": 2}}),
        changed("eaters", value={"adult": {"containers": 0}}),
        changed("targets", value=["protein"]),
        changed("targets", value={"protein": "40 grams or so please"}),
        changed("targets", value={"protein": 40}),
        changed("targets", value={"protien": "at least 40 g"}),
        changed("targets", value={"most": "zest"}),
        changed("targets", value={"keep_ratio": ["Brown rice"]}),
        changed("targets", value={"eaters": {"runner": {"most": "protein"}}}),
        changed("targets", value={"whole_packs": ["turkey mince"]}),
        [],
        "400 g rice",
    ],
)
def test_wrong_batches_are_refused_by_schema_and_reader_alike(content: object) -> None:
    assert not is_valid(content)
    result = read(yaml.safe_dump(content, sort_keys=False))
    told = errors(result) or [d.code for d in result.diagnostics if d.code == "empty-variant"]
    # YAML has no other text for a number: what the schema calls a wrong type the reader may still read.
    assert told or content == changed("title", value=5)


def properties(*path: str) -> set[str]:
    place: Any = SCHEMA
    for step in path:
        place = place[step]
    return set(place["properties"])


def test_schema_and_reader_know_the_same_keys() -> None:
    assert properties() == set(batch_yaml.BATCH_KEYS)
    assert set(SCHEMA["properties"]["containers"]["oneOf"][1]["properties"]) == set(batch_yaml.CONTAINER_KEYS)
    assert properties("$defs", "component") == set(batch_yaml.COMPONENT_KEYS)
    assert properties("$defs", "variant") == set(batch_variants.VARIANT_KEYS)
    assert properties("$defs", "food") == set(own_foods.FOOD_KEYS)
    assert properties("$defs", "targets") == set(targets.TARGET_KEYS)
    assert properties("$defs", "eater_targets") == set(targets.EATER_TARGET_KEYS)
    assert set(SCHEMA["$defs"]["eater"]["oneOf"][1]["properties"]) == set(eaters.EATER_KEYS)


def test_schema_and_reader_know_the_same_words() -> None:
    assert SCHEMA["properties"]["region"]["enum"] == [*REGIONS, METRIC]
    assert SCHEMA["$defs"]["component"]["properties"]["fat"]["enum"] == list(batch_yaml.FAT_WORDS)
    assert SCHEMA["$defs"]["count"]["maximum"] == MOST_CONTAINERS
    share = SCHEMA["$defs"]["share"]
    assert (share["minimum"], share["maximum"]) == (eaters.LEAST_SHARE, eaters.LARGEST_SHARE)


def test_every_key_is_described() -> None:
    for part in (SCHEMA, *(SCHEMA["$defs"][name] for name in ("component", "variant", "food", "targets"))):
        for key, schema in part["properties"].items():
            described = schema if "description" in schema else SCHEMA["$defs"][schema["$ref"].split("/")[-1]]
            assert described["description"].endswith("."), key
