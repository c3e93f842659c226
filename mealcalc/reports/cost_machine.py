"""The machine shapes of `mealcalc cost` and `mealcalc prices`."""

from collections.abc import Sequence
from decimal import Decimal

from mealcalc.diagnostics import Diagnostic
from mealcalc.records.purchases import BatchCost, LineCost, Price, PriceRow, PurchaseCost
from mealcalc.reports.cost_figures import ShownPacks, ShownPart, shown
from mealcalc.reports.machine import number
from mealcalc.reports.tables import write_csv

COST_COLUMNS = (
    "scope", "component", "file_line", "text", "status", "purchased_mass_g", "item", "pack", "packs", "cost",
    "cost_per_container", "currency", "complete",
)  # fmt: skip
"""Columns of the cost as CSV. scope: line, component, batch; packs (of one price) and bought (all packs)."""


def cost_shape(cost: BatchCost, diagnostics: Sequence[Diagnostic]) -> dict[str, object]:
    """The shape of `mealcalc cost --json`; money in whole coins, in parts that add up."""
    figures = shown(cost)
    names = [component.name for component in cost.components for _ in component.lines]
    return {
        "batch": cost.result.batch.title,
        "region": cost.result.region,
        "containers": cost.result.batch.containers,
        "currency": cost.currency or None,
        "complete": cost.complete,
        **_part_shape(figures.batch),
        "each_container": [money(amount) for amount in figures.containers],
        "packs_cost": money(figures.packs_cost),
        "packs_cost_per_container": money(figures.packs_in_container),
        "components": [
            {"name": part.name, "complete": part.complete, **_part_shape(part)} for part in figures.components
        ],
        "lines": [
            _line_shape(line, name, amount) for line, name, amount in zip(cost.lines, names, figures.lines, strict=True)
        ],
        "packs": [_packs_shape(packs) for packs in figures.packs],
        "diagnostics": [diagnostic.to_dict() for diagnostic in diagnostics],
    }


def cost_csv(cost: BatchCost) -> str:
    """The cost as CSV, with the columns `COST_COLUMNS`."""
    figures = shown(cost)
    currency = cost.currency or None
    rows: list[tuple[object, ...]] = []
    amounts = iter(figures.lines)
    for component in cost.components:
        for line in component.lines:
            one = line.purchases[0] if len(line.purchases) == 1 else None
            price = None if one is None or one.price is None else one.price.row
            rows.append(
                (
                    "line",
                    component.name,
                    line.line.span.line,
                    line.line.text,
                    line.status.value,
                    None if one is None else number(one.purchase.mass_g),
                    None if price is None else price.item,
                    None if price is None else price.pack,
                    None if price is None or one is None else number(one.packs),
                    next(amounts),
                    None,
                    currency,
                    None,
                )
            )
    for scope, part in (*(("component", part) for part in figures.components), ("batch", figures.batch)):
        rows.append((scope, part.name, *(None,) * 7, part.used, part.in_container, currency, _yes(part.complete)))
    for packs in figures.packs:
        row = packs.packs.price.row
        rows.append(("packs", *(None,) * 5, row.item, row.pack, packs.packs.packs, packs.cost, None, currency, None))
    whole = (figures.packs_cost, figures.packs_in_container, currency, _yes(cost.complete))
    rows.append(("bought", *(None,) * 8, *whole))
    return write_csv(COST_COLUMNS, rows)


def prices_shape(prices: Sequence[Price], diagnostics: Sequence[Diagnostic]) -> dict[str, object]:
    """The shape of `mealcalc prices FILE --json`: each usable price with the food it is taken for."""
    return {
        "prices": [
            _price_shape(price.row)
            | {
                "food": _food_shape(price),
                "pack_mass_g": number(price.purchase.mass_g),
                "score": number(price.purchase.ingredient.matched.score),
                "status": price.purchase.ingredient.matched.status.value,
            }
            for price in prices
        ],
        "diagnostics": [diagnostic.to_dict() for diagnostic in diagnostics],
    }


def money(amount: Decimal | None) -> float | None:
    """An amount of whole coins as a number of JSON."""
    return None if amount is None else float(amount)


def _part_shape(part: ShownPart) -> dict[str, object]:
    return {
        "cost": money(part.used),
        "cost_per_container": money(part.in_container),
        "cost_per_100g_protein": money(part.per_100g_protein),
        "cost_per_100kcal": money(part.per_100kcal),
    }


def _line_shape(line: LineCost, component: str, amount: Decimal) -> dict[str, object]:
    return {
        "file_line": line.line.span.line,
        "text": line.line.text,
        "component": component,
        "status": line.status.value,
        "cost": money(amount),
        "purchases": [_purchase_shape(purchase) for purchase in line.purchases],
    }


def _purchase_shape(purchase: PurchaseCost) -> dict[str, object]:
    return {
        "name": purchase.purchase.line.name,
        "used_in": list(purchase.purchase.used_in),
        "status": purchase.status.value,
        "purchased_mass_g": number(purchase.purchase.mass_g),
        "edible_share": number(purchase.purchase.edible_share),
        "ground": purchase.purchase.ground,
        "price": None if purchase.price is None else _price_shape(purchase.price.row),
        "packs": None if purchase.price is None else number(purchase.packs),
        "cost_unrounded": number(float(purchase.used)),
    }


def _packs_shape(packs: ShownPacks) -> dict[str, object]:
    return {
        "price": _price_shape(packs.packs.price.row),
        "packs_needed": number(packs.packs.needed),
        "packs": packs.packs.packs,
        "cost": money(packs.cost),
        "used": money(packs.used),
        "left_mass_g": number(packs.packs.left_g),
        "left": money(packs.left),
    }


def _price_shape(row: PriceRow) -> dict[str, object]:
    return {
        "file_line": row.span.line,
        "item": row.item,
        "pack": row.pack,
        "price": money(row.price),
        "currency": row.currency or None,
        "date": None if row.day is None else row.day.isoformat(),
        "section": row.section or None,
        "store": row.store or None,
    }


def _food_shape(price: Price) -> dict[str, object] | None:
    food = price.purchase.ingredient.matched.food
    if food is None:
        return None
    return {"table": food.table, "code": food.code, "description": food.description}


def _yes(value: bool) -> str:
    return "yes" if value else "no"
