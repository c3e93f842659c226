"""Our own labelled lines: food, grams and energy stay at least as good as they are (see README.md beside this file)."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from mealcalc.calculation.composition import contribution
from mealcalc.diagnostics import Span
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import weigh_lines
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import LineStatus, WeighedIngredient

LINES = Path(__file__).with_name("labelled_lines.csv")

FLOORS_PERCENT = {"food": 93.0, "grams": 95.0, "energy": 93.0}
"""A little below what was reached when the lines were pinned."""

DECLINED = {"no_match", "not_food"}


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether one line is right in one respect."""

    respect: str
    right: bool
    shown: str


@pytest.fixture(scope="module")
def verdicts(database: FoodDatabase) -> list[Verdict]:
    """Every line, run through parser, matcher and weigher, judged by its labels."""
    with LINES.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    found: list[Verdict] = []
    for region in sorted({row["region"] for row in rows}):
        part = [row for row in rows if row["region"] == region]
        used = "uk" if region == "any" else region
        lines = [
            parse_line(row["line"], Span("lines", n, 1, len(row["line"]) + 1, row["line"]), used)
            for n, row in enumerate(part, start=1)
        ]
        for row, ingredient in zip(part, weigh_lines(lines, database, used), strict=True):
            found += _judge(row, ingredient)
    return found


def _judge(row: dict[str, str], ingredient: WeighedIngredient) -> Iterator[Verdict]:
    matched = ingredient.matched
    counted = matched.food is not None and matched.status not in (LineStatus.UNMATCHED, LineStatus.NOT_FOOD)
    code = matched.food.code if matched.food is not None and counted else "none"
    accepted = {row["best_ndb"], *row["ok_ndb"].split()}
    right_food = code in accepted if counted else bool(accepted & DECLINED)
    energy_kcal = 0.0 if matched.status is LineStatus.NOT_COUNTED else contribution(ingredient).amounts["ENERC_KCAL"]
    mass_g = ingredient.mass_g
    shown = f"{row['id']} {row['region']} '{row['line']}': {code} of {sorted(accepted)}, {mass_g} g, {energy_kcal} kcal"
    yield Verdict("food", right_food, shown)
    if right_food and not counted:
        return
    if row["grams_low"]:
        in_range = mass_g is not None and float(row["grams_low"]) <= round(mass_g, 2) <= float(row["grams_high"])
        yield Verdict("grams", in_range, f"{shown}; wanted {row['grams_low']} to {row['grams_high']} g")
    if row["kcal_low"]:
        low, high = float(row["kcal_low"]) - 0.5, float(row["kcal_high"]) + 0.5
        in_range = energy_kcal is not None and low <= energy_kcal <= high
        yield Verdict("energy", in_range, f"{shown}; wanted {row['kcal_low']} to {row['kcal_high']} kcal")


@pytest.mark.parametrize("respect", sorted(FLOORS_PERCENT))
def test_lines_stay_right(verdicts: list[Verdict], respect: str) -> None:
    asked = [verdict for verdict in verdicts if verdict.respect == respect]
    misses = [verdict.shown for verdict in asked if not verdict.right]
    right_percent = 100.0 * (1.0 - len(misses) / len(asked))
    assert right_percent >= FLOORS_PERCENT[respect], f"{right_percent:.1f} % right; misses:\n" + "\n".join(misses)


def test_every_line_is_judged(verdicts: list[Verdict]) -> None:
    with LINES.open(encoding="utf-8", newline="") as stream:
        assert sum(verdict.respect == "food" for verdict in verdicts) == sum(1 for _ in csv.DictReader(stream))
