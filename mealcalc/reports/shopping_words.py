"""How amounts of a shopping list are said: '2 cans of 400 g', '1.2 kg', '9.33 pieces, 1.41 kg'."""

from mealcalc.records.purchases import PacksBought
from mealcalc.records.shopping import BatchToShop, NeededFor, ShoppingItem, ShoppingList, TradeAmount, UnmeasuredLine
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, LONGEST_TITLE, one_line

MEASURED = ("g", "ml")
_PLURALS = {"bunch": "bunches", "loaf": "loaves"}


def amount_words(amount: TradeAmount) -> str:
    """An amount to ask for: 1.2 kg, 750 ml, 3 (pieces), 2 bunches, 2 cans of 400 g."""
    if amount.unit in MEASURED:
        return measured(amount.number, amount.unit)
    if amount.unit == "piece":
        return f"{amount.number:g}"
    unit = amount.unit if amount.number == 1 else _plural(amount.unit)
    size = f" of {measured(amount.each_g, 'g')}" if amount.each_g else ""
    return f"{amount.number:g} {unit}{size}"


def _plural(unit: str) -> str:
    return _PLURALS.get(unit, f"{unit}s")


def measured(number: float, unit: str) -> str:
    """Grams or millilitres as read in a shop: kg and l from 1000 on, one decimal below 10."""
    if number >= 1000.0:
        text = f"{number / 1000.0:.2f}".rstrip("0").rstrip(".")
        return f"{text} {'kg' if unit == 'g' else 'l'}"
    return f"{number:.1f} {unit}".replace(".0 ", " ") if number < 10.0 else f"{number:.0f} {unit}"


def buy_words(item: ShoppingItem) -> str:
    """What to buy of an item: packs of the price list where it holds one, else amounts of the trade."""
    if item.packs is not None:
        return packs_words(item.packs)
    return " and ".join(amount_words(amount) for amount in item.amounts)


def packs_words(packs: PacksBought) -> str:
    """Packs to buy: 2 x 500 g; of single pieces and bunches their number."""
    pack = packs.price.purchase
    if pack.count == 1.0 and pack.pack_g is None and not pack.line.container:
        return amount_words(TradeAmount(float(packs.packs), packs.needed, pack.unit))
    size = one_line(packs.price.row.pack, 40)
    return size if packs.packs == 1 else f"{packs.packs} x {size}"


def exact_words(item: ShoppingItem) -> str:
    """The amount that is left to buy, as exactly as it is known: counted, then weighed."""
    parts = []
    for amount in item.amounts:
        if amount.unit not in MEASURED and abs(amount.exact - amount.number) > 0.005:
            size = f"x {measured(amount.each_g, 'g')}" if amount.each_g else _plural(amount.unit)
            parts.append(f"{amount.exact:.2f} {size}")
        elif amount.unit == "ml":
            parts.append(measured(amount.exact, "ml"))
    if item.to_buy_g is not None:
        parts.append(measured(item.to_buy_g, "g"))
    return ", ".join(parts)


def at_home_words(item: ShoppingItem) -> str:
    """How much of an item is at home, '' where none is."""
    if item.at_home <= 0.0:
        return ""
    whole = item.at_home >= 1.0 - 1e-6
    of = "" if item.needed_g is None else f" {measured(item.needed_g * min(1.0, item.at_home), 'g')}"
    return f"at home: all{of}" if whole else f"at home:{of or f' {item.at_home:.0%}'}"


def batch_words(batch: BatchToShop) -> str:
    """A batch with the number of its containers, and how much more of it is made than the recipe says."""
    number = f"{batch.containers:g}"
    times = "" if batch.factor == 1.0 else f" (recipe x {batch.factor:.3g})"
    title = one_line(batch.result.batch.title, LONGEST_TITLE)
    return f"{title}, {number} container{'' if number == '1' else 's'}{times}"


def needed_words(needed: NeededFor, shopping: ShoppingList) -> str:
    """A line that an item is needed for, with its batch where there are several."""
    return _with_batch(needed.purchase.line.text, needed.batch, needed.purchase.used_in, shopping)


def unmeasured_words(line: UnmeasuredLine, shopping: ShoppingList) -> str:
    """A line in the cook's words, with how many times it is needed."""
    return _with_batch(line.text, line.batch, line.used_in, shopping)


def _with_batch(text: str, number: int, used_in: tuple[str, ...], shopping: ShoppingList) -> str:
    batch = shopping.batches[number]
    notes = [one_line(name, LONGEST_NAME) for name in used_in]
    times = "" if batch.factor == 1.0 else f" x {batch.factor:.3g}"
    if len(shopping.batches) > 1:
        notes.append(f"batch {number + 1}{times}")
    elif times:
        notes.append(times.strip())
    return one_line(text, LONGEST_LINE) + (f" ({', '.join(notes)})" if notes else "")
