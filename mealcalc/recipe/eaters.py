"""Who eats of a batch and how much: `eaters:` of a batch file, and the same on the command line.

    eaters:
      adult: 1.5                            # size of a container, 1 being a usual one
      child: {share: 0.6, containers: 2}    # and how many of the batch are theirs

The containers of which nothing is said are divided among the eaters of whom nothing is said.
"""

import re

import yaml

from mealcalc.recipe.result import MOST_CONTAINERS
from mealcalc.recipe.yaml_nodes import NodeReader, Text
from mealcalc.records import Eater

EATER_KEYS = ("share", "containers")

LEAST_SHARE, LARGEST_SHARE = 0.05, 20.0
"""Shares beyond which a slip of the keyboard is more likely than the eater (our judgement)."""

WANTED_SHARE = f"a number from {LEAST_SHARE:g} to {LARGEST_SHARE:g}, such as 1.5"

_NUMBER = re.compile(r"[0-9]{1,4}([.,][0-9]{1,6})?")


def read_eaters(reader: NodeReader, node: yaml.Node) -> tuple[Eater, ...]:
    """The eaters under `eaters:`; what is wrong with one is told in the reader's diagnostics, and the rest is read."""
    if not isinstance(node, yaml.MappingNode):
        reader.wrong_type(node, "'eaters'", "a mapping (name: share)")
        return ()
    eaters: dict[str, Eater] = {}
    for key, value in node.value:
        name = reader.key(key, eaters, "'eaters'")
        if name is None:
            continue
        share: float | None = 1.0
        containers = None
        if isinstance(value, yaml.MappingNode):
            fields = reader.fields(value, EATER_KEYS, f"eater '{name[:60]}'") or {}
            if "share" in fields:
                share = _share(reader, reader.text(fields["share"][1], "'share'", WANTED_SHARE))
            if "containers" in fields:
                containers = _containers(reader, reader.text(fields["containers"][1], "'containers'", "a whole number"))
        else:
            share = _share(reader, reader.text(value, f"'{name[:60]}'", WANTED_SHARE))
        if share is not None:
            eaters[name] = Eater(name, share, containers, reader.span(key))
    return tuple(eaters.values())


def share_in(text: str) -> float | None:
    """The share written in `text`; None if it is none."""
    number = float(text.replace(",", ".")) if _NUMBER.fullmatch(text.strip()) else 0.0
    return number if LEAST_SHARE <= number <= LARGEST_SHARE else None


def containers_in(text: str) -> int | None:
    """The number of containers written in `text`; None if it is none."""
    number = int(text) if text.strip().isascii() and text.strip().isdigit() and len(text) < 9 else 0
    return number if 1 <= number <= MOST_CONTAINERS else None


def _share(reader: NodeReader, text: Text | None) -> float | None:
    if text is None:
        return None
    share = share_in(text.text)
    if share is None:
        reader.error(
            "bad-share", f"'{text.text[:40]}' is not the share of an eater", text.span, f"write {WANTED_SHARE}"
        )
    return share


def _containers(reader: NodeReader, text: Text | None) -> int | None:
    if text is None:
        return None
    number = containers_in(text.text)
    if number is None:
        reader.error(
            "bad-containers",
            f"'{text.text[:40]}' is not a number of containers",
            text.span,
            f"write a whole number from 1 to {MOST_CONTAINERS}",
        )
    return number
