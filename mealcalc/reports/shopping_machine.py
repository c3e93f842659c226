"""A shopping list for programs: JSON and CSV."""

from collections.abc import Sequence

from mealcalc.diagnostics import Diagnostic
from mealcalc.money import rounded
from mealcalc.records.purchases import PacksBought
from mealcalc.records.shopping import NeededFor, ShoppingItem, ShoppingList
from mealcalc.reference.shopping_tables import SECTIONS
from mealcalc.reports.cost_machine import money
from mealcalc.reports.machine import number
from mealcalc.reports.shopping_words import buy_words, unmeasured_words
from mealcalc.reports.tables import write_csv

SHOPPING_COLUMNS = (
    "list", "section", "item", "buy", "number", "unit", "each_g", "exact", "needed_mass_g", "at_home_share", "packs",
    "pack", "cost", "currency", "table", "code", "lines",
)  # fmt: skip
"""Columns of a shopping list as CSV. list: buy, optional, at_home, to_taste or in_words."""


def shopping_shape(shopping: ShoppingList, diagnostics: Sequence[Diagnostic]) -> dict[str, object]:
    """The shape of `mealcalc shop --json`."""
    return {
        "batches": [
            {
                "batch": batch.result.batch.title,
                "file": batch.result.batch.file,
                "containers": number(batch.containers),
                "factor": number(batch.factor),
            }
            for batch in shopping.batches
        ],
        "items": [_item_shape(item) for item in shopping.items],
        "optional": [_item_shape(item) for item in shopping.optional],
        "at_home": [_item_shape(item) for item in shopping.at_home],
        "to_taste": list(shopping.to_taste),
        "in_words": [
            {
                "batch": line.batch,
                "text": line.text,
                "optional": line.optional,
                "times": number(line.times),
                "used_in": list(line.used_in),
            }
            for line in shopping.in_words
        ],
        "currency": shopping.currency or None,
        "cost": money(rounded(shopping.cost, shopping.currency)) if shopping.priced else None,
        "without_price": len(shopping.without_price) if shopping.priced else None,
        "diagnostics": [diagnostic.to_dict() for diagnostic in diagnostics],
    }


def shopping_csv(shopping: ShoppingList) -> str:
    """A shopping list as CSV, with the columns `SHOPPING_COLUMNS`: a row for each item and amount."""
    rows: list[tuple[object, ...]] = []
    for name, items in (("buy", shopping.items), ("optional", shopping.optional), ("at_home", shopping.at_home)):
        for item in items:
            rows += _item_rows(name, item, shopping)
    blanks = (None,) * (len(SHOPPING_COLUMNS) - 3)
    rows += [("to_taste", None, name, *blanks) for name in shopping.to_taste]
    rows += [("in_words", None, unmeasured_words(line, shopping), *blanks) for line in shopping.in_words]
    return write_csv(SHOPPING_COLUMNS, rows)


def _item_rows(name: str, item: ShoppingItem, shopping: ShoppingList) -> list[tuple[object, ...]]:
    packs = item.packs
    lines = "; ".join(needed.purchase.line.text.strip() for needed in item.needed)
    rest = (
        number(item.needed_g),
        number(item.at_home),
        None if packs is None else packs.packs,
        None if packs is None else packs.price.row.pack,
        None if packs is None else rounded(packs.cost, shopping.currency),
        (shopping.currency or None) if packs is not None else None,
        item.key.table or None,
        item.key.code or None,
        lines,
    )
    amounts: list[tuple[object, ...]] = [(a.number, a.unit, a.each_g, number(a.exact)) for a in item.amounts]
    blanks = (None,) * len(rest)
    # What stands once for an item stands in its first row, so that columns can be added up.
    return [
        (name, SECTIONS[item.section], item.name, buy_words(item), *amount, *(rest if first == 0 else blanks))
        for first, amount in enumerate(amounts or [(None,) * 4])
    ]


def _item_shape(item: ShoppingItem) -> dict[str, object]:
    return {
        "name": item.name,
        "section": item.section,
        "section_name": SECTIONS[item.section],
        "food": {"table": item.key.table, "code": item.key.code} if item.key.code else None,
        "sure": item.sure,
        "buy": buy_words(item),
        "amounts": [
            {"number": number(a.number), "unit": a.unit, "each_g": number(a.each_g), "exact": number(a.exact)}
            for a in item.amounts
        ],
        "needed_mass_g": number(item.needed_g),
        "at_home_share": number(item.at_home),
        "to_buy_mass_g": number(item.to_buy_g),
        "packs": None if item.packs is None else _packs_shape(item.packs),
        "lines": [_needed_shape(needed) for needed in item.needed],
    }


def _packs_shape(packs: PacksBought) -> dict[str, object]:
    row = packs.price.row
    return {
        "number": packs.packs,
        "needed": number(packs.needed),
        "item": row.item,
        "pack": row.pack,
        "price": money(row.price),
        "cost": money(packs.cost),
        "left_mass_g": number(packs.left_g),
        "store": row.store or None,
    }


def _needed_shape(needed: NeededFor) -> dict[str, object]:
    purchase = needed.purchase
    return {
        "batch": needed.batch,
        "file_line": purchase.line.span.line,
        "text": purchase.line.text.strip(),
        "used_in": list(purchase.used_in),
        "purchased_mass_g": number(purchase.mass_g),
        "edible_share": number(purchase.edible_share),
        "ground": purchase.ground,
    }
