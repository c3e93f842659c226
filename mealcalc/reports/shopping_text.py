"""What people read of `mealcalc shop` in the terminal."""

from collections.abc import Sequence
from itertools import groupby

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from mealcalc.money import rounded
from mealcalc.records.shopping import ShoppingItem, ShoppingList
from mealcalc.reference.shopping_tables import SECTIONS
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, one_line
from mealcalc.reports.screen import Screen, table
from mealcalc.reports.shopping_words import (
    at_home_words,
    batch_words,
    buy_words,
    exact_words,
    needed_words,
    unmeasured_words,
)


def shopping_text(shopping: ShoppingList, screen: Screen, *, lines: bool = False) -> str:
    """The answer of `mealcalc shop`; `lines` names the lines that each item is needed for."""
    parts: list[RenderableType] = [Text("Shopping list", "bold")]
    parts += [Text(f"{number}. {batch_words(batch)}") for number, batch in enumerate(shopping.batches, start=1)]
    parts += ["", *_items(shopping.items, shopping, lines=lines)]
    if shopping.optional:
        parts += [
            "",
            Text("May be left out", "bold"),
            *_items(shopping.optional, shopping, lines=lines, headings=False),
        ]
    if shopping.in_words:
        parts += ["", Text("In the words of the recipe: no table holds it, or its weight is not known", "bold")]
        for line in shopping.in_words:
            optional = " (may be left out)" if line.optional else ""
            parts.append(Text(f"- {unmeasured_words(line, shopping)}{optional}", "yellow"))
    if shopping.to_taste:
        names = ", ".join(one_line(name, LONGEST_NAME) for name in shopping.to_taste)
        parts += ["", Text.assemble(("To taste: ", "bold"), names)]
    if shopping.at_home:
        parts += ["", Text("At home", "bold")]
        parts += [Text(f"- {one_line(item.name, LONGEST_NAME)}, {at_home_words(item)}") for item in shopping.at_home]
    parts += ["", *_notes(shopping)]
    return screen.render(*parts)


def _items(
    items: Sequence[ShoppingItem], shopping: ShoppingList, *, lines: bool, headings: bool = True
) -> list[RenderableType]:
    if not items:
        return ["Nothing to buy."]
    block = _table(shopping)
    blanks = [""] * (len(block.columns) - 2)
    for number, (section, group) in enumerate(groupby(items, key=lambda item: item.section if headings else "")):
        if headings:
            if number:
                block.add_row(*blanks, "", "")
            block.add_row("", Text(SECTIONS[section], "bold"), *blanks)
        for item in group:
            block.add_row(*_cells(item, shopping))
            if lines:
                for needed in item.needed:
                    block.add_row("", Text(f"  {needed_words(needed, shopping)}", "dim"), *blanks)
    return [block]


def _table(shopping: ShoppingList) -> Table:
    block = table()
    block.add_column("buy", justify="right", no_wrap=True)
    block.add_column("item", min_width=20)
    block.add_column("needed", justify="right", no_wrap=True)
    if any(item.at_home for item in (*shopping.items, *shopping.optional)):
        block.add_column("at home", justify="right", no_wrap=True)
    if shopping.priced:
        block.add_column("cost", justify="right", no_wrap=True)
    return block


def _cells(item: ShoppingItem, shopping: ShoppingList) -> list[RenderableType]:
    guess = " (a guess)" if not item.sure else ""
    cells: list[RenderableType] = [
        Text(buy_words(item), "bold"),
        Text(one_line(item.name, LONGEST_NAME) + guess, "" if item.sure else "yellow"),
        Text(exact_words(item), "dim"),
    ]
    if any(one.at_home for one in (*shopping.items, *shopping.optional)):
        cells.append(Text(at_home_words(item).removeprefix("at home:").strip(), "dim"))
    if shopping.priced:
        cells.append(Text("?", "yellow") if item.packs is None else Text(f"{item.packs.cost}"))
    return cells


def _notes(shopping: ShoppingList) -> list[RenderableType]:
    notes: list[RenderableType] = []
    if shopping.priced:
        missing = len(shopping.without_price) + sum(not line.optional for line in shopping.in_words)
        bound = "≥ " if missing else ""
        without = f", {missing} item{'' if missing == 1 else 's'} without a price" if missing else ""
        total = rounded(shopping.cost, shopping.currency)
        text = f"Together: {bound}{total} {one_line(shopping.currency, 12)}".strip()
        left_out = " What may be left out is not in it." if shopping.optional else ""
        notes.append(Text(f"{text}{without}.{left_out}", "bold" if not missing else "bold yellow"))
    note = "Amounts are as purchased, with peel, bone and the liquid of cans; whole pieces and packs are rounded up."
    notes.append(Text(one_line(note, LONGEST_LINE), "dim"))
    return notes
