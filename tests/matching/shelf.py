"""A shelf of a few literal foods in place of a food database, and lines without a parser."""

from collections.abc import Iterable, Sequence
from typing import Any

from mealcalc.diagnostics import Span
from mealcalc.fooddb import FoodHeader
from mealcalc.matching.normalise import tokens
from mealcalc.records import Amount, Food, RecipeLine
from mealcalc.values import Value

HUNDRED_GRAMS = Amount(100.0, 100.0, "g")


def line(name: str, /, **fields: Any) -> RecipeLine:
    """A line as the parser hands it on: 100 g of `name` unless told otherwise."""
    usual: dict[str, Any] = {"text": name, "span": Span("recipe", 1, 1, 1, name), "name": name, "amount": HUNDRED_GRAMS}
    return RecipeLine(**usual | fields)


def food(code: str, description: str, group: str = "1100", table: str = "sr28", **amounts: float) -> Food:
    """A food; `amounts` are per 100 g by food component key."""
    composition = {key: Value(amount) for key, amount in amounts.items()}
    return Food(table, "test edition", code, description, group, composition)


class Shelf:
    """Foods by key; candidates are all that share a word with the query, in the order of the shelf."""

    def __init__(self, *foods: Food) -> None:
        self._foods = {(one.table, one.code): one for one in foods}

    def candidates(self, words: Sequence[str], limit: int) -> list[FoodHeader]:
        asked = {token for word in words for token in tokens(word)}
        found = [one for one in self._foods.values() if asked & set(tokens(one.description))]
        return [FoodHeader(one.table, one.code, one.description, one.names, one.group, None) for one in found[:limit]]

    def foods(self, keys: Iterable[tuple[str, str]]) -> dict[tuple[str, str], Food]:
        return {key: self._foods[key] for key in keys if key in self._foods}

    def vocabulary(self) -> frozenset[str]:
        return frozenset(word for one in self._foods.values() for word in one.description.lower().split())
