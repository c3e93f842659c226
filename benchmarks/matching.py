"""Matching beside two simpler methods: speed, and how often the first food is right on labelled lines.

The simpler methods get the same parsed food phrase. Labelled lines come from outside the package (the folder that
MEALCALC_REFERENCE_DATA names); without it only speed is shown, on the lines of the examples.
"""

import csv
import os
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from mealcalc.diagnostics import Span
from mealcalc.fooddb import BUNDLED_TABLE, FoodDatabase, open_database
from mealcalc.matching.matcher import Matcher
from mealcalc.recipe.line_parser import parse_line
from mealcalc.recipe.reader import read_batch
from mealcalc.records import LineStatus, RecipeLine

ROUNDS = 5


@dataclass(frozen=True, slots=True)
class Labelled:
    """A line with the codes that are right for it; empty where no label is known."""

    line: RecipeLine
    region: str
    right: frozenset[str]


def compare_matching() -> None:
    """Print milliseconds a line and the share of right foods for our matcher and the simpler methods."""
    lines = _labelled_lines()
    with open_database() as database:
        matchers = {region: Matcher(database, region) for region in {item.region for item in lines}}

        def ours(items: Sequence[Labelled]) -> list[str | None]:
            codes: list[str | None] = []
            for region, matcher in matchers.items():
                part = [item for item in items if item.region == region]
                for matched in matcher.match([item.line for item in part]):
                    counted = matched.status not in (LineStatus.UNMATCHED, LineStatus.NOT_FOOD)
                    codes.append(matched.food.code if counted and matched.food else None)
            return codes

        ordered = [item for region in matchers for item in lines if item.region == region]
        _show("mealcalc", ours, ordered)
        _show("rapidfuzz token_set_ratio over the descriptions", _fuzzy(database), ordered)
        _show("plain FTS5 over the descriptions", _full_text(database), ordered)


def _show(name: str, method: Callable[[Sequence[Labelled]], list[str | None]], items: Sequence[Labelled]) -> None:
    found = method(items)  # also warms caches
    begun = time.perf_counter()
    for _ in range(ROUNDS):
        method(items)
    milliseconds = (time.perf_counter() - begun) / ROUNDS / len(items) * 1000
    labelled = [(code, item) for code, item in zip(found, items, strict=True) if item.right]
    right = sum(
        code in item.right or (code is None and bool(item.right & {"no_match", "not_food"})) for code, item in labelled
    )
    share = f", right food first {right / len(labelled):.1%} of {len(labelled)}" if labelled else ""
    print(f"matching, {name}: {milliseconds:.2f} ms a line{share}")


def _fuzzy(database: FoodDatabase) -> Callable[[Sequence[Labelled]], list[str | None]]:
    from rapidfuzz import fuzz, process, utils

    foods = {header.code: header.description for header in database.headers(BUNDLED_TABLE)}
    choices = {code: utils.default_process(description) for code, description in foods.items()}

    def method(items: Sequence[Labelled]) -> list[str | None]:
        codes: list[str | None] = []
        for item in items:
            query = utils.default_process(item.line.name)
            best = process.extractOne(query, choices, scorer=fuzz.token_set_ratio) if query else None
            codes.append(str(best[2]) if best else None)
        return codes

    return method


def _full_text(database: FoodDatabase) -> Callable[[Sequence[Labelled]], list[str | None]]:
    def method(items: Sequence[Labelled]) -> list[str | None]:
        found = [database.search(item.line.name, limit=1) for item in items]
        return [headers[0].code if headers else None for headers in found]

    return method


def _labelled_lines() -> list[Labelled]:
    folder = os.environ.get("MEALCALC_REFERENCE_DATA")
    path = Path(folder or "") / "data" / "ingredient-lines" / "dev.csv"
    if folder and path.exists():
        with path.open(encoding="utf-8", newline="") as stream:
            rows = list(csv.DictReader(stream))
        regions = [{"any": "uk"}.get(row["region"], row["region"]) for row in rows]
        return [
            Labelled(
                parse_line(row["line"], Span("lines", number, text=row["line"]), region),
                region,
                frozenset([row["best_ndb"], *row["ok_ndb"].split()]),
            )
            for number, (row, region) in enumerate(zip(rows, regions, strict=True), start=1)
        ]
    examples = sorted((Path(__file__).parent.parent / "mealcalc" / "examples").glob("*.batch.yaml"))
    batches = [read_batch(path).batch for path in examples]
    return [
        Labelled(line, batch.region or "uk", frozenset())
        for batch in batches
        if batch is not None
        for line in batch.lines
    ]
