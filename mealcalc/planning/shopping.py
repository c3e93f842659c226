"""One shopping list for several batches: merged by food, what is at home taken off, grouped by section of the shop."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from mealcalc.calculation.line_cooking import state_of
from mealcalc.calculation.nearness import food_group
from mealcalc.diagnostics import Diagnostic, Severity
from mealcalc.fooddb import FoodDatabase
from mealcalc.matching.decisions import Decisions, decision_phrase
from mealcalc.matching.normalise import phrase_key
from mealcalc.planning.pantry import Pantry
from mealcalc.planning.prices import PriceBook, packs_needed, whole_packs
from mealcalc.planning.purchases import known_foods, purchases_of, scaled, words_of_line
from mealcalc.planning.trade_amounts import trade_amounts
from mealcalc.records import Food, FoodState, LineStatus
from mealcalc.records.purchases import FoodKey, PacksBought, Purchase
from mealcalc.records.shopping import (
    BatchToShop,
    NeededFor,
    PantryRow,
    ShoppingItem,
    ShoppingList,
    UnmeasuredLine,
)
from mealcalc.reference.cooking_vocabulary import broader_groups
from mealcalc.reference.shopping_tables import SECTIONS, section_rules

_IN_THE_KITCHEN = frozenset("hot warm lukewarm cold cool boiling iced packed heaped level softened melted".split())

NOTHING_LEFT = 1e-6
"""Share of what is needed that may be missing at home and still be enough: rounding of arithmetic."""


def shopping_list(
    batches: Sequence[BatchToShop],
    database: FoodDatabase,
    decisions: Sequence[Decisions | None] = (),
    *,
    at_home: Sequence[PantryRow] = (),
    book: PriceBook | None = None,
    diagnostics: Sequence[Diagnostic] = (),
) -> ShoppingList:
    """What to buy for several batches.

    Parameters
    ----------
    batches : sequence of BatchToShop
        Calculated batches, each made as many times as its factor says.
    database : FoodDatabase
        Where foods come from.
    decisions : sequence of Decisions, optional
        The cook's saved choices for each batch.
    at_home : sequence of PantryRow
        What need not be bought. Lines that may be left out are served last.
    book : PriceBook, optional
        Prices: packs are chosen from it, and their sections of the shop.
    diagnostics : sequence of Diagnostic
        What was found before; the list carries it on.
    """
    choices = list(decisions) or [None] * len(batches)
    needs = [
        need
        for number, (batch, saved) in enumerate(zip(batches, choices, strict=True))
        for need in _needs(number, batch, database, saved)
    ]
    own_foods = [food for batch in batches for food in known_foods(batch.result)]
    first = batches[0].result.region if batches else None
    pantry = Pantry(at_home, database, first, choices[0] if choices else None, own_foods)
    maker = _ItemMaker(batches, pantry, book, own_foods)
    measured: list[ShoppingItem] = []
    optional: list[ShoppingItem] = []
    in_words: list[UnmeasuredLine] = []
    for wanted, items in ((False, measured), (True, optional)):
        for group in _groups(need for need in needs if need.optional is wanted and need.has_amount):
            item, rest = maker.make(group)
            items += [] if item is None else [item]
            in_words += [_in_words(need, batches) for need in rest]
    left = [item for item in measured if item.at_home < 1.0 - NOTHING_LEFT]
    to_buy = [item for item in optional if item.at_home < 1.0 - NOTHING_LEFT]
    gone = [item for item in (*measured, *optional) if item.at_home >= 1.0 - NOTHING_LEFT]
    return ShoppingList(
        batches=tuple(batches),
        items=_in_order(left),
        optional=_in_order(to_buy),
        at_home=_in_order(gone),
        to_taste=_to_taste((need for need in needs if not need.has_amount), pantry),
        in_words=tuple(sorted(in_words, key=lambda line: (line.optional, line.batch))),
        priced=book is not None,
        currency=maker.currency,
        diagnostics=(*diagnostics, *dict.fromkeys(pantry.diagnostics), *maker.diagnostics),
    )


@dataclass(frozen=True, slots=True)
class _Need:
    """What one line of one batch needs; optional: whether the line may be left out."""

    batch: int
    purchase: Purchase
    optional: bool
    line_text: str

    @property
    def has_amount(self) -> bool:
        """Whether the line says how much, in whatever unit."""
        purchase = self.purchase
        measured = (purchase.mass_g, purchase.volume_ml, purchase.count) != (None, None, None)
        return measured or (purchase.line.amount is not None and not purchase.line.to_taste)


def _needs(number: int, batch: BatchToShop, database: FoodDatabase, decisions: Decisions | None) -> Iterable[_Need]:
    for contribution, purchases in purchases_of(batch.result, database, decisions):
        for purchase in purchases:
            if not purchase.from_tap:
                optional = contribution.line.optional or purchase.line.optional
                yield _Need(number, scaled(purchase, batch.factor), optional, purchase.line.text.strip())


def _groups(needs: Iterable[_Need]) -> Iterable[list[_Need]]:
    """Needs of the same food together, in the order of the recipes."""
    groups: dict[FoodKey, list[_Need]] = defaultdict(list)
    for need in needs:
        groups[need.purchase.key].append(need)
    return groups.values()


class _ItemMaker:
    """Makes items of what lines need, from the pantry and the price list."""

    def __init__(
        self, batches: Sequence[BatchToShop], pantry: Pantry, book: PriceBook | None, own_foods: Sequence[Food]
    ) -> None:
        self._batches = batches
        self._pantry = pantry
        self._book = book
        self._own_foods = tuple(own_foods)
        self.currency = book.rows[0].currency if book is not None and book.rows else ""
        self.diagnostics: list[Diagnostic] = []

    def make(self, group: Sequence[_Need]) -> tuple[ShoppingItem | None, list[_Need]]:
        """The item of one food, and the needs of it that cannot be added up."""
        summed = _summable(group)
        rest = [need for need in group if need not in summed]
        if not summed:
            return None, rest
        purchases = [need.purchase for need in summed]
        region = self._batches[summed[0].batch].result.region
        at_home = self._pantry.take(purchases)
        packs = self._packs(purchases, 1.0 - at_home, region)
        if purchases[0].key.words and packs is None and at_home < 1.0 - NOTHING_LEFT:
            return None, list(group)  # a food that no table and no list knows stays in the cook's words
        grams = [purchase.mass_g for purchase in purchases]
        item = ShoppingItem(
            key=purchases[0].key,
            name=_name(purchases),
            section=(packs.price.row.section if packs is not None else "") or section_of(purchases),
            needed=tuple(NeededFor(need.batch, need.purchase) for need in summed),
            needed_g=None if None in grams else sum(mass_g for mass_g in grams if mass_g is not None),
            at_home=at_home,
            amounts=trade_amounts(purchases, 1.0 - at_home, region),
            packs=packs,
            sure=all(purchase.ingredient.matched.status is not LineStatus.UNSURE for purchase in purchases),
        )
        return item, rest

    def _packs(self, purchases: Sequence[Purchase], left: float, region: str) -> PacksBought | None:
        if self._book is None or left <= NOTHING_LEFT:
            return None
        prices, found = self._book.matched(region, self._own_foods)
        self.diagnostics += [d for d in found if d.severity is not Severity.NOTE and d not in self.diagnostics]
        to_buy = [scaled(purchase, left) for purchase in purchases]
        price = prices.best(to_buy)
        if price is None:
            return None
        packs = sum(packs_needed(purchase, price) or 0.0 for purchase in to_buy)
        return PacksBought(price, packs, whole_packs(packs), price.row.price * Decimal(repr(packs)))


def _summable(group: Sequence[_Need]) -> list[_Need]:
    """Needs of one food whose amounts can be added up: those with a weight, or all in the same unit."""
    weighed = [need for need in group if need.purchase.mass_g is not None]
    if len(weighed) == len(group):
        return weighed
    units = {need.purchase.unit for need in group}
    if len(units) == 1 and all(need.purchase.count is not None for need in group):
        return list(group)
    if all(need.purchase.volume_ml is not None for need in group):
        return list(group)
    return weighed


def section_of(purchases: Sequence[Purchase]) -> str:
    """The section of a shop in which a food stands, by the reviewed table; 'other' where nothing tells."""
    rules, purchase = section_rules(), purchases[0]
    matched = purchase.ingredient.matched
    found = rules.by_food.get(matched.default_food)
    if found is not None:
        return found
    food = matched.food
    states = {matched.food_state, *(str(p.line.state) for p in purchases if p.line.state is not None)}
    if purchase.key.frozen:
        return rules.by_form["frozen"]
    if states & {"canned", "drained"} or (food is not None and state_of(purchase.ingredient) is FoodState.CANNED):
        return rules.by_form["canned"]
    group = None if food is None else food_group(food)
    if group is None:
        return "other"
    return next((rules.by_group[name] for name in broader_groups(group) if name in rules.by_group), "other")


def _name(purchases: Sequence[Purchase]) -> str:
    """What the lines call the food where they agree, else its everyday name, else its description."""
    matched = purchases[0].ingredient.matched
    names = {words_of_line(purchase): decision_phrase(purchase.line) for purchase in reversed(purchases)}
    state = FoodState.COOKED.value
    cooked = f"{state} " if matched.food_state == state and state not in next(iter(names.values())) else ""
    names = {words: _without_temperature(name) for words, name in names.items()}
    everyday = phrase_key(matched.default_food)
    if len(names) == 1 or everyday in names:
        return cooked + names.get(everyday, next(iter(names.values())))
    description = matched.food.description if matched.food is not None else " / ".join(names.values())
    return cooked + (matched.default_food or description)


def _without_temperature(name: str) -> str:
    """The name of a food without first words that say how it goes into the pot: hot stock is stock in the shop."""
    words = name.split()
    while len(words) > 1 and words[0].lower() in _IN_THE_KITCHEN:
        del words[0]
    return " ".join(words)


def _in_order(items: Sequence[ShoppingItem]) -> tuple[ShoppingItem, ...]:
    sections = list(SECTIONS)
    return tuple(sorted(items, key=lambda item: (sections.index(item.section), item.name.casefold())))


def _to_taste(needs: Iterable[_Need], pantry: Pantry) -> tuple[str, ...]:
    """Foods without an amount, each once, unless they are at home."""
    found: dict[str, str] = {}
    for need in needs:
        name = need.purchase.line.name or need.line_text
        words = words_of_line(need.purchase)
        if not pantry.holds(need.purchase.key, words):
            found.setdefault(phrase_key(name), name)
    return tuple(sorted(found.values(), key=str.casefold))


def _in_words(need: _Need, batches: Sequence[BatchToShop]) -> UnmeasuredLine:
    return UnmeasuredLine(need.batch, need.line_text, need.optional, batches[need.batch].factor, need.purchase.used_in)


def with_containers(batch: BatchToShop, containers: int) -> BatchToShop:
    """The batch made so many times that it fills `containers`."""
    return replace(batch, factor=containers / batch.result.batch.containers)
