"""A shopping list as Markdown, and as a page for the phone with boxes to tick."""

import hashlib
import re
from collections.abc import Iterable, Sequence
from itertools import groupby

from mealcalc.money import rounded
from mealcalc.records.shopping import ShoppingItem, ShoppingList
from mealcalc.reference.shopping_tables import SECTIONS
from mealcalc.reports.pages import page
from mealcalc.reports.plain import LONGEST_NAME, one_line
from mealcalc.reports.shopping_words import (
    at_home_words,
    batch_words,
    buy_words,
    exact_words,
    needed_words,
    unmeasured_words,
)

_NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=(?:g|kg|ml|l)\b)|(?<=\bbatch) (?=\d)|(?<=\d) (?=x \d)|(?<=\bx) (?=\d)")

OPTIONAL, IN_WORDS = "May be left out", "In the words of the recipe"

# What Markdown, or HTML inside it, would take for markup.
_MARKUP = re.compile(r"([\\`*_{}\[\]<>!|~&])")
_AT_START = re.compile(r"^(\d+(?=[.)](?:\s|$)))?([#+.)-])")


def shopping_markdown(shopping: ShoppingList) -> str:
    """A shopping list as Markdown with task boxes, as many note programs show them."""
    rows = ["# Shopping list", ""]
    rows += [f"{number}. {_plain(batch_words(batch))}" for number, batch in enumerate(shopping.batches, start=1)]
    for heading, entries in _blocks(shopping):
        rows += ["", f"## {heading}", ""]
        rows += [f"- [ ] {f'**{_plain(buy)}** ' if buy else ''}{_plain(name)}{f' ({_plain(note)})' if note else ''}"
                 for buy, name, note, _ in entries]  # fmt: skip
    if shopping.at_home:
        rows += ["", "## At home", ""]
        rows += [f"- {_plain(one_line(item.name, LONGEST_NAME))}" for item in shopping.at_home]
    total = _total(shopping)
    rows += ["", total] if total else []
    return "\n".join(rows) + "\n"


def shopping_page(shopping: ShoppingList) -> str:
    """A shopping list as one self-contained page in HTML.

    What is ticked is kept in the browser alone, for this very list; another list starts unticked.
    """
    blocks = [
        {
            "heading": heading,
            "entries": [
                {
                    "buy": _together(buy),
                    "name": name,
                    "note": _together(note),
                    "lines": [_together(line) for line in lines],
                    "id": _id(heading, buy, name, note),
                }
                for buy, name, note, lines in entries
            ],
        }
        for heading, entries in _blocks(shopping)
    ]
    batches = [batch_words(batch) for batch in shopping.batches]
    return page(
        "shopping.html",
        {
            "batches": batches,
            "blocks": blocks,
            "number": sum(len(block["entries"]) for block in blocks),
            "at_home": [f"{one_line(item.name, LONGEST_NAME)}, {at_home_words(item)}" for item in shopping.at_home],
            "total": _total(shopping),
            "list_id": _id(*batches, *(str(block) for block in blocks)),
        },
    )


Entry = tuple[str, str, str, list[str]]
"""What to buy, of what, a note, the lines it is needed for."""


def _blocks(shopping: ShoppingList) -> list[tuple[str, list[Entry]]]:
    """The list under its headings: sections of the shop, then what stands apart."""
    blocks = [
        (SECTIONS[section], _entries(items, shopping))
        for section, items in groupby(shopping.items, key=lambda item: item.section)
    ]
    if shopping.optional:
        blocks.append((OPTIONAL, _entries(shopping.optional, shopping)))
    if shopping.in_words:
        words: list[Entry] = [
            ("", unmeasured_words(line, shopping), "may be left out" if line.optional else "", [])
            for line in shopping.in_words
        ]
        blocks.append((IN_WORDS, words))
    if shopping.to_taste:
        blocks.append(("To taste", [("", one_line(name, LONGEST_NAME), "", []) for name in shopping.to_taste]))
    return blocks


def _entries(items: Iterable[ShoppingItem], shopping: ShoppingList) -> list[Entry]:
    return [
        (
            buy_words(item),
            one_line(item.name, LONGEST_NAME),
            _note(item, shopping),
            [needed_words(needed, shopping) for needed in item.needed],
        )
        for item in items
    ]


def _note(item: ShoppingItem, shopping: ShoppingList) -> str:
    exact = exact_words(item)
    parts: Sequence[str] = (
        "" if exact == buy_words(item) else f"needed {exact}",
        at_home_words(item),
        "" if item.sure else "the food is a guess",
        "" if item.packs is None else f"{item.packs.cost} {one_line(shopping.currency, 12)}".strip(),
    )
    return ", ".join(part for part in parts if part)


def _total(shopping: ShoppingList) -> str:
    if not shopping.priced:
        return ""
    missing = len(shopping.without_price) + sum(not line.optional for line in shopping.in_words)
    total = f"{rounded(shopping.cost, shopping.currency)} {one_line(shopping.currency, 12)}".strip()
    if missing:
        return f"Together at least {total}: {missing} item{'' if missing == 1 else 's'} without a price"
    return f"Together {total}"


def _together(text: str) -> str:
    """Text in which a number and its unit, or a batch and its number, are not parted by the end of a line."""
    return _NUMBER_AND_UNIT.sub("\u00a0", text)


def _id(*parts: str) -> str:
    return hashlib.sha256("\n".join(parts).encode("utf-8", "replace")).hexdigest()[:16]


def _plain(text: str) -> str:
    """Text that Markdown shows as it stands."""
    return _AT_START.sub(r"\1\\\2", _MARKUP.sub(r"\\\1", one_line(text, 10_000)))
