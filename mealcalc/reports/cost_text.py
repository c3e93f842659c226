"""What people read of `mealcalc cost`: the batch and its components, line by line, the packs to buy."""

from collections.abc import Sequence
from decimal import Decimal

from rich.console import Group, RenderableType
from rich.text import Text

from mealcalc.records import LineStatus
from mealcalc.records.purchases import NOT_KNOWN, BatchCost, CostStatus, LineCost, Price, PurchaseCost
from mealcalc.reports.cost_figures import ShownCost, ShownPart, shown
from mealcalc.reports.plain import LONGEST_LINE, LONGEST_NAME, LONGEST_TITLE, one_line
from mealcalc.reports.screen import Screen, table

UNKNOWN = "?"

_REMARKS = {
    CostStatus.NO_PRICE: ("NO PRICE", "bold red"),
    CostStatus.NOT_COMPARABLE: ("PRICE CANNOT BE COMPARED", "bold red"),
    CostStatus.NO_AMOUNT: ("no amount: not in the cost", "dim"),
    CostStatus.FREE: ("tap water: free", "dim"),
    CostStatus.NOT_FOOD: ("no food", "dim"),
}


def cost_text(cost: BatchCost, screen: Screen, *, lines: bool = True, grounds: bool = False) -> str:
    """The answer of `mealcalc cost`.

    Parameters
    ----------
    cost : BatchCost
        What was calculated.
    screen : Screen
        Width and colour.
    lines : bool
        Whether the account line by line and the packs follow.
    grounds : bool
        Whether each line says how its grams as purchased come about.
    """
    figures = shown(cost)
    number = cost.result.batch.containers
    unit = f"costs in {one_line(cost.currency, 12)}" if cost.currency else "costs in the unit of the price list"
    parts: list[RenderableType] = [
        Text(one_line(cost.result.batch.title, LONGEST_TITLE), style="bold"),
        f"{number} container{'' if number == 1 else 's'}, {unit}",
        "",
        _whole(cost, figures),
        "",
        *_notes(cost),
    ]
    if lines:
        parts += ["", *_lines(cost, figures, grounds=grounds), "", *_packs(figures)]
    return screen.render(*parts)


def prices_text(prices: Sequence[Price], screen: Screen) -> str:
    """The answer of `mealcalc prices FILE`: each price with the food that it is taken for."""
    block = table()
    block.add_column("line", justify="right", style="dim", no_wrap=True)
    block.add_column("price", justify="right", no_wrap=True)
    block.add_column("for", ratio=1)
    block.add_column("grams", justify="right", no_wrap=True)
    block.add_column("taken for", ratio=2)
    for price in prices:
        matched, row = price.purchase.ingredient.matched, price.row
        mass_g = price.purchase.mass_g
        food: Text = Text("no food of a table: serves lines in the same words", "yellow")
        if matched.food is not None:
            unsure = matched.status is LineStatus.UNSURE
            guess = f" (a guess, {matched.score:.2f})" if unsure else ""
            description = one_line(matched.food.description, LONGEST_LINE)
            food = Text(f"{matched.food.table}:{matched.food.code} {description}{guess}", "yellow" if unsure else "dim")
        pack = f"{one_line(row.pack, 40)} {one_line(row.item, LONGEST_NAME)}"
        grams = UNKNOWN if mass_g is None else f"{mass_g:.0f}"
        block.add_row(str(row.span.line), f"{row.price} {one_line(row.currency, 12)}", Text(pack), grams, food)
    return screen.render(block)


def _whole(cost: BatchCost, figures: ShownCost) -> RenderableType:
    block = table()
    block.add_column("cost of what is used", no_wrap=True)
    for heading in ("batch", "one container", "100 g protein", "100 kcal"):
        block.add_column(heading, justify="right", no_wrap=True)
    if len(figures.components) > 1:
        for part in figures.components:
            block.add_row(Text(one_line(part.name, LONGEST_NAME)), *_figures(part))
    block.add_row(
        Text("together" if len(figures.components) > 1 else "batch", "bold"), *_figures(figures.batch, "bold")
    )
    packs = (figures.packs_cost, figures.packs_in_container)
    block.add_row("packs bought for it", *(_money(amount, complete=cost.complete) for amount in packs), "", "")
    return block


def _figures(part: ShownPart, style: str = "") -> list[Text]:
    amounts = (part.used, part.in_container, part.per_100g_protein, part.per_100kcal)
    return [_money(amount, complete=part.complete, style=style) for amount in amounts]


def _money(amount: Decimal | None, *, complete: bool, style: str = "") -> Text:
    """An amount; '≥' in front when a price is missing from it, '?' when nothing is known."""
    if amount is None or (not complete and not amount):
        return Text(UNKNOWN, "yellow")
    return Text(f"{amount}", style) if complete else Text(f"≥ {amount}", "yellow")


def _notes(cost: BatchCost) -> list[RenderableType]:
    missing = [line for line in cost.lines if line.status in NOT_KNOWN]
    unsaid = [line for line in cost.lines if line.status is CostStatus.NO_AMOUNT]
    notes: list[RenderableType] = []
    if missing:
        notes.append(Text(f"INCOMPLETE: no price for line{_s(missing)} {_named(missing)}", style="bold red"))
    if unsaid:
        notes.append(Text(f"Not in the cost, since no amount is written: line{_s(unsaid)} {_named(unsaid)}.", "dim"))
    notes.append(
        Text("Grams are as purchased, trim loss included. Amounts are rounded half up and add up as shown.", "dim")
    )
    return notes


def _named(lines: Sequence[LineCost]) -> str:
    named = [f"{cost.line.span.line} ({one_line(cost.line.name or cost.line.text, 40)})" for cost in lines]
    more = f" and {len(named) - 12} more" if len(named) > 12 else ""
    return ", ".join(named[:12]) + more


def _s(lines: Sequence[object]) -> str:
    return "" if len(lines) == 1 else "s"


def _lines(cost: BatchCost, figures: ShownCost, *, grounds: bool) -> list[RenderableType]:
    block = table()
    block.add_column("line", justify="right", style="dim", no_wrap=True)
    block.add_column("grams", justify="right", no_wrap=True)
    block.add_column("cost", justify="right", no_wrap=True, min_width=6)
    block.add_column("as written, priced as", ratio=1)
    amounts = iter(figures.lines)
    several = len(cost.components) > 1
    for number, component in enumerate(cost.components):
        if several:
            if number:
                block.add_row("", "", "", "")
            block.add_row("", "", "", Text(one_line(component.name, LONGEST_NAME), style="bold"))
        for line in component.lines:
            amount = next(amounts)
            block.add_row(
                str(line.line.span.line), _grams(line), _line_money(line, amount), _priced_as(line, grounds=grounds)
            )
    return ["Line by line, of the whole batch: grams as purchased, cost of what is used.", "", block]


def _grams(line: LineCost) -> str:
    grams = [purchase.purchase.mass_g for purchase in line.purchases]
    if len(grams) != 1 or grams[0] is None:
        return ""
    return f"{grams[0]:.0f}" if grams[0] >= 10 else f"{grams[0]:.1f}"


def _line_money(line: LineCost, amount: Decimal) -> Text:
    if line.status in (CostStatus.NO_AMOUNT, CostStatus.NOT_FOOD, CostStatus.FREE):
        return Text("")
    return _money(amount, complete=line.status not in NOT_KNOWN)


def _priced_as(line: LineCost, *, grounds: bool) -> RenderableType:
    rows = [Text(one_line(line.line.text, LONGEST_LINE))]
    if not line.purchases:
        rows.append(Text("  no food", "dim"))
    for purchase in line.purchases:
        rows.append(_price_of(purchase))
        if grounds and purchase.purchase.ground:
            rows.append(Text(f"  grams: {one_line(purchase.purchase.ground, LONGEST_LINE)}", "dim"))
    return Group(*rows)


def _price_of(purchase: PurchaseCost) -> Text:
    of = purchase.purchase.used_in
    name = f"{one_line(purchase.purchase.line.name, LONGEST_NAME)}: " if of else ""
    if purchase.price is None or purchase.status in _REMARKS:
        words, style = _REMARKS.get(purchase.status, ("", ""))
        return Text(f"  {name}{words}", style)
    row = purchase.price.row
    dated = f", {row.day}" if row.day else ""
    store = f", {one_line(row.store, LONGEST_NAME)}" if row.store else ""
    pack = f"{_number(purchase.packs)} x {one_line(row.pack, 40)} at {row.price}"
    return Text(f"  {name}{pack}: {one_line(row.item, LONGEST_NAME)}{store}{dated}", "dim")


def _packs(figures: ShownCost) -> list[RenderableType]:
    if not figures.packs:
        return ["No packs to buy: no line has a price."]
    block = table()
    for heading, justify in (("packs", "right"), ("of", "left"), ("cost", "right"), ("left over", "right")):
        block.add_column(heading, justify="right" if justify == "right" else "left", no_wrap=heading != "of")
    block.add_column("worth", justify="right", no_wrap=True)
    for row in figures.packs:
        price = row.packs.price.row
        left = row.packs.left_g
        left_over = f"{_number(row.packs.left_share)} packs" if left is None else _mass(left)
        item = f"{one_line(price.pack, 40)} {one_line(price.item, LONGEST_NAME)}"
        nothing = row.packs.left_share < 0.005
        block.add_row(
            str(row.packs.packs),
            Text(item),
            f"{row.cost}",
            "" if nothing else left_over,
            "" if nothing else f"{row.left}",
        )
    block.add_row(
        "",
        Text("together", "bold"),
        Text(f"{figures.packs_cost}", "bold"),
        "",
        f"{figures.packs_cost - figures.batch.used}",
    )
    return ["Packs to buy for the whole batch, and what is left over of them.", "", block]


def _mass(mass_g: float) -> str:
    return f"{mass_g / 1000:.2f} kg" if mass_g >= 1000 else f"{mass_g:.0f} g"


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if value >= 0.01 else f"{value:.2g}"
