"""What is at home, as a CSV file: items with amounts, which a shopping list does not need to hold.

    item,amount,food code
    brown rice,600 g,
    black beans,3 x 400 g cans,
    olive oil,,

An item without an amount is there in any amount. Amounts are as the shop sells them, with peel and liquid.
"""

from collections.abc import Sequence
from pathlib import Path

from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions
from mealcalc.planning.csv_tables import read_rows
from mealcalc.planning.packs import food_code, has_no_unit, weigh_packs
from mealcalc.planning.purchases import counted_alike, words_of_line
from mealcalc.recipe.source import Source, read_source
from mealcalc.records import Food
from mealcalc.records.purchases import FoodKey, Purchase
from mealcalc.records.shopping import PantryRow

COLUMNS = {
    "item": ("name", "food", "ingredient"),
    "amount": ("quantity", "pack size", "have", "at home"),
    "food code": ("code",),
}
REQUIRED = ("item",)


def read_pantry_rows(path: str | Path) -> tuple[tuple[PantryRow, ...], tuple[Diagnostic, ...]]:
    """The usable rows of a list of what is at home, and what is wrong with the others.

    Raises
    ------
    InputFileError
        If the file cannot be read at all.
    """
    return pantry_rows(read_source(path))


def pantry_rows(source: Source) -> tuple[tuple[PantryRow, ...], tuple[Diagnostic, ...]]:
    """As `read_pantry_rows`, of a text at hand."""
    rows, found = read_rows(source, COLUMNS, REQUIRED, "list of what is at home")
    read = []
    for row in rows:
        item, amount, code = row.cell("item"), row.cell("amount"), row.cell("food code")
        if not item:
            hint = "write what it is in the column 'item'"
            found.append(Diagnostic("no-item", Severity.ERROR, "the row names no item: it is not used", row.span, hint))
        elif amount and has_no_unit(amount):
            message = f"the amount '{amount}' of '{item[:60]}' has no unit: it is not subtracted"
            hint = f"write {amount} g or {amount} pieces; an empty amount means that there is enough"
            found.append(Diagnostic("amount-without-unit", Severity.ERROR, message, row.span, hint))
        else:
            read.append(PantryRow(item, amount, row.span, food_code(code) if code else None))
    return tuple(read), tuple(found)


class Pantry:
    """What is at home; amounts are taken from it as lines need them.

    Parameters
    ----------
    rows : sequence of PantryRow
        As read.
    database, decisions, own_foods
        As for the lines of a recipe.
    region : str or None
        Region whose names and pack sizes count.
    """

    def __init__(
        self,
        rows: Sequence[PantryRow],
        database: FoodDatabase,
        region: str | None,
        decisions: Decisions | None = None,
        own_foods: Sequence[Food] = (),
    ) -> None:
        self.diagnostics: list[Diagnostic] = []
        self._left: list[tuple[Purchase, float, PantryRow]] = []
        for row, purchase in weigh_packs(rows, database, region, decisions, own_foods):
            if purchase is None:
                message = f"the amount '{row.pack[:40]}' of '{row.item[:60]}' cannot be read: it is not subtracted"
                hint = "write a number and a unit, such as 400 g, 2 cans or 6 pieces"
                self.diagnostics.append(Diagnostic("bad-amount", Severity.ERROR, message, row.span, hint))
            else:
                self._left.append((purchase, 1.0, row))

    def holds(self, key: FoodKey, words: str) -> bool:
        """Whether there is any of a food."""
        return any(left > 0.0 and _same_food(purchase, key, words) for purchase, left, _ in self._left)

    def take(self, needed: Sequence[Purchase]) -> float:
        """Take what lines need of one food; the share of it that was there (0 to 1).

        An amount at home that cannot be compared with what is needed is told, and nothing is taken.
        """
        key, words = needed[0].key, words_of_line(needed[0])
        missing = 1.0
        for n, (purchase, left, row) in enumerate(self._left):
            if missing <= 0.0 or left <= 0.0 or not _same_food(purchase, key, words):
                continue
            if not row.pack:
                return 1.0
            share = _share(purchase, needed)
            if share is None:
                message = f"'{row.item[:60]}' at home, {row.pack[:40]}, cannot be compared with what is needed"
                hint = "write the amount at home in grams"
                self.diagnostics.append(Diagnostic("not-comparable", Severity.WARNING, message, row.span, hint))
                continue
            taken = min(missing, share * left)
            missing -= taken
            self._left[n] = (purchase, left - taken / share, row)
        return min(1.0, 1.0 - missing)


def _same_food(purchase: Purchase, key: FoodKey, words: str) -> bool:
    if purchase.key == key:
        return not key.words or words_of_line(purchase) == words
    if not (key.code and purchase.key.code):
        return words_of_line(purchase) == words and purchase.key.frozen == key.frozen
    other = purchase.key
    same = (other.table, other.code, other.frozen, other.fat) == (key.table, key.code, key.frozen, key.fat)
    # A food without an everyday name (a saved choice, a code) is any of its code; red onions are no brown ones.
    return same and not (key.default_food and other.default_food)


def _share(at_home: Purchase, needed: Sequence[Purchase]) -> float | None:
    """What is at home divided by what is needed; None where they cannot be compared, above 1 where there is more."""
    alike = all(counted_alike(at_home, purchase) for purchase in needed)
    for have, want in (
        (at_home.count if alike else None, [purchase.count for purchase in needed]),
        (at_home.mass_g, [purchase.mass_g for purchase in needed]),
        (at_home.volume_ml, [purchase.volume_ml for purchase in needed]),
        (at_home.count, [p.count if p.unit == at_home.unit else None for p in needed]),
    ):
        known = [amount for amount in want if amount is not None]
        if have and len(known) == len(want) and sum(known) > 0.0:
            return have / sum(known)
    return None
