"""Batch files in YAML (`*.batch.yaml`): every field and every ingredient line with its place in the file.

The shape is published as a JSON Schema, `mealcalc/reference/batch.schema.json`. What is wrong with one field costs that
field alone: it is told as a diagnostic and the rest is read.
"""

import re

import yaml

from mealcalc.diagnostics import Severity, Span
from mealcalc.recipe.batch_variants import read_variants
from mealcalc.recipe.eaters import read_eaters
from mealcalc.recipe.own_foods import read_own_foods
from mealcalc.recipe.quantities import Fault, read_mass_g, read_volume_ml
from mealcalc.recipe.result import ReadResult, RegionChoice, check_containers, containers_assumed, no_ingredients
from mealcalc.recipe.source import Source, title_of
from mealcalc.recipe.targets import read_targets
from mealcalc.recipe.yaml_lines import WANTED, ingredient_lines
from mealcalc.recipe.yaml_nodes import Field, NodeReader, Text, is_nothing
from mealcalc.records import Batch, BatchComponent
from mealcalc.units import METRIC, REGIONS

BATCH_KEYS = ("title", "region", "containers", "components", "variants", "foods", "eaters", "targets")
CONTAINER_KEYS = ("count", "volume")
COMPONENT_KEYS = ("name", "cooking", "fat", "cooked_weight", "ingredients")
FAT_WORDS = ("kept", "drained")

LARGEST_COOKED_MASS_G = 1_000_000.0
"""A tonne: beyond it the unit was mistaken (our judgement)."""

LARGEST_CONTAINER_ML = 100_000.0
"""A hundred litres: beyond it the unit was mistaken (our judgement)."""

_BATCH_HINTS = {
    "ingredients": "ingredients belong to a component: 'components:', then '- name: ...' and 'ingredients: |' under it",
    **dict.fromkeys(("servings", "serves", "portions", "yield", "makes"), "did you mean 'containers'?"),
    **dict.fromkeys(("name", "recipe"), "did you mean 'title'?"),
}
_COMPONENT_HINTS = {
    **dict.fromkeys(("weight", "cooked", "cooked weight", "cooked_mass"), "did you mean 'cooked_weight'?"),
    **dict.fromkeys(("lines", "items"), "did you mean 'ingredients'?"),
    "title": "did you mean 'name'?",
    "method": "did you mean 'cooking'?",
}
_NUMBER = re.compile(r"[-+]?[0-9]{1,12}(\.[0-9]{1,12})?")


def read_batch_yaml(source: Source, choice: RegionChoice) -> ReadResult:
    """Read a batch file in YAML.

    Parameters
    ----------
    source : Source
        The text of the file.
    choice : RegionChoice
        Regions known from outside the file.

    Returns
    -------
    ReadResult
        The batch, or None if the text is no YAML mapping or holds no ingredient line.
    """
    reader = NodeReader(source)
    root = reader.compose()
    fields = None
    if root is not None:
        fields = reader.fields(root, BATCH_KEYS, "the batch", _BATCH_HINTS)
    elif not reader.diagnostics:
        reader.diagnostics.append(no_ingredients(source.start))
    if fields is None:
        return ReadResult(None, (*source.diagnostics, *reader.diagnostics), "")
    region, ground = _region(reader, fields, choice)
    containers, volume_ml = _containers(reader, fields, region)
    components = _components(reader, fields, region)
    if not any(component.lines for component in components):
        if not any(d.severity is Severity.ERROR for d in reader.diagnostics):
            reader.diagnostics.append(no_ingredients(source.start))
        return ReadResult(None, (*source.diagnostics, *reader.diagnostics), ground)
    variants = read_variants(reader, fields["variants"][1], components, region) if "variants" in fields else ()
    foods, sub_batches = read_own_foods(reader, fields["foods"][1], region) if "foods" in fields else ((), ())
    eaters = read_eaters(reader, fields["eaters"][1]) if "eaters" in fields else ()
    names = tuple(eater.name for eater in eaters)
    targets = read_targets(reader, fields["targets"][1], names) if "targets" in fields else None
    title = reader.text(fields["title"][1], "'title'") if "title" in fields else None
    batch = Batch(
        title=title.text if title else title_of(source),
        components=components,
        region=region,
        containers=containers,
        container_volume_ml=volume_ml,
        variants=variants,
        own_foods=foods,
        sub_batches=sub_batches,
        eaters=eaters,
        targets=targets,
        file=source.name,
    )
    return ReadResult(batch, (*source.diagnostics, *reader.diagnostics), ground)


def _region(reader: NodeReader, fields: dict[str, Field], choice: RegionChoice) -> tuple[str, str]:
    stated = None
    span = reader.source.start
    if "region" in fields:
        stated = reader.text(fields["region"][1], "'region'", f"one of: {' '.join(REGIONS)}")
        span = stated.span if stated else reader.span(fields["region"][0])
    settled = choice.settle(stated.text if stated else None, span)
    # An empty region was told already; that metric measures are used instead is said in the same breath.
    reader.diagnostics += settled.diagnostics
    return settled.region, settled.ground


def _containers(reader: NodeReader, fields: dict[str, Field], region: str) -> tuple[int, float | None]:
    if "containers" not in fields:
        reader.diagnostics.append(containers_assumed(reader.source.start))
        return 1, None
    key, node = fields["containers"]
    wanted = "a whole number, or {count: 6, volume: 650 ml}"
    if not isinstance(node, yaml.MappingNode):
        return _count(reader, reader.text(node, "'containers'", wanted)), None
    parts = reader.fields(node, CONTAINER_KEYS, "'containers'") or {}
    volume_ml = _volume_ml(reader, parts["volume"][1], region) if "volume" in parts else None
    if "count" not in parts:
        reader.error("missing-key", "'containers' has no 'count'", reader.span(key), f"write {wanted}")
        return 1, volume_ml
    return _count(reader, reader.text(parts["count"][1], "'count'", "a whole number")), volume_ml


def _count(reader: NodeReader, text: Text | None) -> int:
    if text is None:
        return 1
    number = float(text.text) if _NUMBER.fullmatch(text.text) else None
    count, found = check_containers(number, text.text, text.span)
    reader.diagnostics += found
    return count


def _volume_ml(reader: NodeReader, node: yaml.Node, region: str) -> float | None:
    example = "650 ml"
    text = reader.text(node, "'volume'", f"a volume such as {example}")
    if text is None:
        return None
    volume_ml = read_volume_ml(text.text, region or METRIC, example)
    if not isinstance(volume_ml, Fault) and volume_ml > LARGEST_CONTAINER_ML:
        volume_ml = Fault(f"is more than {LARGEST_CONTAINER_ML / 1000:g} litres", f"write it like {example}")
    if isinstance(volume_ml, Fault):
        reader.error("bad-volume", f"volume '{text.text[:60]}' {volume_ml.reason}", text.span, volume_ml.hint)
        return None
    return volume_ml


def _components(reader: NodeReader, fields: dict[str, Field], region: str) -> tuple[BatchComponent, ...]:
    if "components" not in fields:
        reader.error(
            "missing-key",
            "the batch has no 'components'",
            reader.source.start,
            "write 'components:', then '- name: ...' and 'ingredients: |' under it",
        )
        return ()
    key, node = fields["components"]
    wanted = "a list of components, each starting with '- name: ...'"
    items = reader.items(node, "'components'", wanted)
    if not items and (is_nothing(node) or isinstance(node, yaml.SequenceNode)):
        reader.error("no-ingredients", "'components' is empty", reader.span(key), f"write {wanted}")
    components: list[BatchComponent] = []
    places: dict[str, Span] = {}
    for number, item in enumerate(items, start=1):
        component = _component(reader, item, number, places, region)
        if component is not None:
            components.append(component)
    return tuple(components)


def _component(
    reader: NodeReader, node: yaml.Node, number: int, places: dict[str, Span], region: str
) -> BatchComponent | None:
    """One component; None if it has no line. `places` holds the components read before, by name in lower case."""
    fields = reader.fields(node, COMPONENT_KEYS, f"component {number}", _COMPONENT_HINTS)
    if fields is None:
        return None
    name, span = _component_name(reader, node, fields, number, places)
    lines = []
    if "ingredients" in fields:
        lines = ingredient_lines(reader, fields["ingredients"][1], f"the ingredients of '{name}'", region, name)
    if not lines:
        reader.error(
            "empty-component",
            f"component '{name}' has no ingredients",
            reader.span(fields["ingredients"][0]) if "ingredients" in fields else span,
            f"write {WANTED}, or remove the component",
        )
    cooking = reader.text(fields["cooking"][1], "'cooking'") if "cooking" in fields else None
    fat_text = reader.text(fields["fat"][1], "'fat'", " or ".join(FAT_WORDS)) if "fat" in fields else None
    fat = reader.choice(fat_text, "'fat'", FAT_WORDS) if fat_text else None
    cooked_mass_g = _cooked_mass_g(reader, fields["cooked_weight"][1]) if "cooked_weight" in fields else None
    if not lines:
        return None
    return BatchComponent(
        name=name,
        lines=tuple(lines),
        cooking=cooking.text if cooking else "",
        fat=fat or FAT_WORDS[0],
        cooked_mass_g=cooked_mass_g,
        span=span,
    )


def _component_name(
    reader: NodeReader, node: yaml.Node, fields: dict[str, Field], number: int, places: dict[str, Span]
) -> tuple[str, Span]:
    text = reader.text(fields["name"][1], "'name'") if "name" in fields else None
    span = text.span if text else reader.span(node)
    name = text.text if text else f"component {number}"
    if "name" not in fields:
        reader.error("missing-key", f"component {number} has no 'name'", span, "write '- name: ...' as its first line")
    elif name.casefold() in places:
        first = places[name.casefold()]
        reader.error(
            "duplicate-component",
            f"component '{name}' stands twice, first on line {first.line}",
            span,
            "give each component a name of its own",
        )
        name = f"{name} ({number})"
    places[name.casefold()] = span
    return name, span


def _cooked_mass_g(reader: NodeReader, node: yaml.Node) -> float | None:
    example = "2140 g"
    text = reader.text(node, "'cooked_weight'", f"a weight such as {example}")
    if text is None:
        return None
    mass_g = read_mass_g(text.text, example)
    if not isinstance(mass_g, Fault) and mass_g > LARGEST_COOKED_MASS_G:
        mass_g = Fault(f"is more than {LARGEST_COOKED_MASS_G / 1000:g} kg", f"write it like {example}")
    if isinstance(mass_g, Fault):
        reader.error("bad-weight", f"cooked weight '{text.text[:60]}' {mass_g.reason}", text.span, mass_g.hint)
        return None
    return mass_g
