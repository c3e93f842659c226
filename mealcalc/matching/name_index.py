"""The names of default foods in normal form, worked out in advance: a cold start has no time to normalise them all.

`reference/default_names.tsv` is generated from `default_foods.csv` by `python -m mealcalc.matching.name_index`; a test
fails when it is out of date. Each row holds the words of a name in alphabetical order and the numbers of the rows that
bear it.
"""

from collections import defaultdict
from collections.abc import Mapping
from functools import cache
from importlib import resources
from pathlib import Path

from mealcalc.matching.normalise import phrase_key
from mealcalc.reference.tables import default_foods

_FILE = resources.files("mealcalc.reference").joinpath("default_names.tsv")


@cache
def name_index() -> Mapping[str, str]:
    """Words of a name in alphabetical order -> numbers of its rows in the table of default foods, comma separated."""
    rows = _FILE.read_text(encoding="utf-8").splitlines()
    return dict(row.split("\t", 1) for row in rows)  # type: ignore[misc]


@cache
def name_words() -> frozenset[str]:
    """Every word that stands in a name."""
    return frozenset(" ".join(name_index()).split())


def generate() -> str:
    """The text of the file, from the table of default foods as it is now."""
    numbers: dict[str, list[int]] = defaultdict(list)
    for number, row in enumerate(default_foods()):
        for key in dict.fromkeys(phrase_key(name) for name in row.names):
            if key:
                numbers[key].append(number)
    return "".join(f"{key}\t{','.join(map(str, numbers[key]))}\n" for key in sorted(numbers))


if __name__ == "__main__":
    Path(str(_FILE)).write_text(generate(), encoding="utf-8")
