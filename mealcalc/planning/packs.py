"""Items that the cook lists with an amount (prices, what is at home), understood as recipe lines are."""

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol, TypeVar

from mealcalc.diagnostics import Span
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.pipeline import weigh_lines
from mealcalc.planning.purchases import as_purchased
from mealcalc.recipe.line_parser import parse_line
from mealcalc.records import Food, RecipeLine
from mealcalc.records.purchases import Purchase
from mealcalc.units import METRIC

_BARE_NUMBER = re.compile(r"[\d\s.,/½⅓⅔¼¾]+")
_WORD = re.compile(r"[a-z]+")
_PIECES = frozenset("piece pieces pc pcs no a dozen half of small medium large extra jumbo x".split())
_CODE = re.compile(r"(?:([a-z0-9_]+):)?(\S+)", re.IGNORECASE)


class Packed(Protocol):
    """An item with the amount of it as written; code: (table, code), or None."""

    @property
    def item(self) -> str: ...

    @property
    def pack(self) -> str: ...

    @property
    def code(self) -> tuple[str, str] | None: ...

    @property
    def span(self) -> Span: ...


PackedT = TypeVar("PackedT", bound=Packed)


def plain_pack(text: str) -> str:
    """A pack size as an amount: 'per kg' and 'kg' are 1 kg, 'each' is one piece."""
    text = re.sub(r"^(?:per|a|an|one)\s+", "", text.strip(), flags=re.IGNORECASE)
    if text.lower() in ("each", "ea", "ea.", "item"):
        return "1 piece"
    return f"1 {text}" if text[:1].isalpha() else text


def has_no_unit(pack: str) -> bool:
    """Whether a pack size is a number alone."""
    return _BARE_NUMBER.fullmatch(pack) is not None


def food_code(text: str) -> tuple[str, str] | None:
    """(table, code) of 'sr28:20036' or '20036'; None for anything else."""
    match = _CODE.fullmatch(text)
    return None if match is None else ((match[1] or "sr28").lower(), match[2])


def weigh_packs(
    rows: Sequence[PackedT],
    database: FoodDatabase,
    region: str | None,
    decisions: Decisions | None = None,
    own_foods: Sequence[Food] = (),
) -> list[tuple[PackedT, Purchase | None]]:
    """Each row with its food and amount as sold; None where the amount cannot be read.

    Parameters
    ----------
    rows : sequence
        Items with amounts; an empty amount says nothing of how much there is.
    database, decisions, own_foods
        As for the lines of a recipe.
    region : str or None
        Region of the recipe: decides names and the sizes of pieces and packs.
    """
    region = region or METRIC
    weighed = weigh_lines([_line_of(row, region) for row in rows], database, region, decisions, own_foods)
    found: list[tuple[PackedT, Purchase | None]] = []
    for row, ingredient in zip(rows, weighed, strict=True):
        purchase: Purchase | None = as_purchased(ingredient, region, as_sold=True)
        if row.pack and (not _says_how_much(purchase) or _strange_unit(row.pack, ingredient.matched.line)):
            purchase = None
        found.append((row, purchase))
    return found


def _line_of(row: Packed, region: str) -> RecipeLine:
    line = parse_line(f"{row.pack} {row.item}".strip(), row.span, region)
    if row.code is not None:
        line = replace(line, settings=replace(line.settings, food=row.code))
    return line


def _says_how_much(purchase: Purchase | None) -> bool:
    return purchase is not None and bool(purchase.mass_g or purchase.volume_ml or purchase.count)


def _strange_unit(pack: str, line: RecipeLine) -> bool:
    """Whether the pack size has a word that was read as a part of the item for want of a unit ('3 blobs')."""
    if line.amount is None or line.amount.unit != "piece":
        return False
    return not set(_WORD.findall(pack.lower())) <= _PIECES
