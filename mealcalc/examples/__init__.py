"""Example batches, all invented: each shows other parts of the recipe format, and each is run by a test."""

from dataclasses import dataclass
from importlib import resources

import yaml

ENDING = ".batch.yaml"


@dataclass(frozen=True, slots=True)
class Example:
    """An example batch: the name to ask for, its title and region."""

    name: str
    title: str
    region: str


def examples() -> tuple[Example, ...]:
    """The shipped examples in alphabetical order."""
    found = []
    for entry in resources.files(__name__).iterdir():
        if entry.name.endswith(ENDING):
            name = entry.name.removesuffix(ENDING)
            content = yaml.safe_load(entry.read_text(encoding="utf-8"))
            found.append(Example(name, content["title"], content["region"]))
    return tuple(sorted(found, key=lambda example: example.name))


def demo_prices() -> str:
    """The price list for the examples, as CSV; its prices are invented."""
    return resources.files(__name__).joinpath("demo-prices.csv").read_text(encoding="utf-8")


def read_example(name: str) -> str:
    """The text of the example `name`."""
    return resources.files(__name__).joinpath(f"{name}{ENDING}").read_text(encoding="utf-8")
