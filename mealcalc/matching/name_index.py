"""The names of default foods in normal form, worked out in advance: a cold start has no time to normalise them all.

`reference/default_names.tsv` is generated from `default_foods.csv` by `python -m mealcalc.matching.name_index`; a test
fails when it is out of date. Each row holds the words of a name in alphabetical order, then for every head noun that
names of these words have, the noun and the numbers of the rows that bear such a name; names written with 'of' stand
apart:

    chocolate milk <tab> chocolate:830;milk:815,816
    coconut cream <tab> cream:2101;cream of:2104

'Milk chocolate' and 'chocolate milk' are the same words and two foods: the head noun tells them apart.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources
from pathlib import Path

from mealcalc.matching.normalise import phrase_key, take_phrase_apart
from mealcalc.matching.words import head_noun
from mealcalc.reference.tables import DefaultFood, default_foods

_FILE = resources.files("mealcalc.reference").joinpath("default_names.tsv")


@cache
def name_index() -> Mapping[str, str]:
    """Words of a name in alphabetical order -> `head:numbers` groups, as `rows_by_head` reads them."""
    return read(_FILE.read_text(encoding="utf-8"))


def read(text: str) -> dict[str, str]:
    """The index in the text of its file."""
    return dict(row.split("\t", 1) for row in text.splitlines())


def rows_by_head(groups: str) -> dict[str, list[int]]:
    """Head noun ('' where all words qualify; with ' of' for names written so) -> numbers of its rows in the table of
    default foods, from the second column of the index."""
    by_head = {}
    for group in groups.split(";"):
        head, _, numbers = group.partition(":")
        by_head[head] = [int(number) for number in numbers.split(",")]
    return by_head


def generate(rows: Iterable[DefaultFood]) -> str:
    """The text of the file, from the rows of the table of default foods in order."""
    found: dict[str, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for number, row in enumerate(rows):
        for name in row.names:
            phrase = take_phrase_apart(name)
            head = (head_noun(phrase.words) or "") + (" of" if phrase.inverted else "")
            numbers = found[phrase_key(name)][head]
            if number not in numbers:
                numbers.append(number)
    return "".join(f"{key}\t{_written(found[key])}\n" for key in sorted(found) if key)


def _written(by_head: Mapping[str, list[int]]) -> str:
    return ";".join(f"{head}:{','.join(map(str, by_head[head]))}" for head in sorted(by_head))


if __name__ == "__main__":
    Path(str(_FILE)).write_text(generate(default_foods()), encoding="utf-8")
