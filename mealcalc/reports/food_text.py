"""What people read in the terminal about foods: a search, and one food whole."""

from collections.abc import Iterable

from rich.console import RenderableType
from rich.text import Text

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.fooddb import FoodHeader
from mealcalc.records import Food
from mealcalc.reports.plain import LONGEST_LINE, one_line
from mealcalc.reports.screen import Screen, table
from mealcalc.values import ValueStatus


def headers_text(headers: Iterable[FoodHeader], screen: Screen) -> str:
    """Foods found by a search, with the names that they also go by."""
    block = table()
    block.add_column("food", no_wrap=True)
    block.add_column("description")
    for header in headers:
        described = Text(one_line(header.description, LONGEST_LINE))
        if header.names:
            described.append(f" ({one_line(', '.join(header.names), LONGEST_LINE)})", "dim")
        block.add_row(f"{header.table}:{header.code}", described)
    return screen.render(block)


def food_text(food: Food, group: str, screen: Screen) -> str:
    """One food whole: composition with the status of each value, household measures, refuse and energy factors."""
    block = table()
    block.add_column("in 100 g, edible portion")
    block.add_column("amount", justify="right", no_wrap=True)
    block.add_column("", no_wrap=True)
    block.add_column("", style="dim", no_wrap=True)
    for key, component in FOOD_COMPONENTS.items():
        value = food.composition.get(key)
        status = ValueStatus.MISSING if value is None else value.status
        shown = "?" if value is None or value.amount is None else f"{value.amount:.{component.decimals}f}"
        block.add_row(component.name, shown, component.unit, "" if status is ValueStatus.PUBLISHED else status.value)
    parts: list[RenderableType] = [
        Text(one_line(food.description, LONGEST_LINE), style="bold"),
        Text(one_line(f"{food.table}:{food.code}, {food.edition}", LONGEST_LINE)),
    ]
    if group:
        parts.append(Text(f"group: {one_line(group, LONGEST_LINE)}"))
    if food.names:
        parts.append(Text(f"also called: {one_line(', '.join(food.names), LONGEST_LINE)}"))
    if food.scientific_name:
        parts.append(Text(one_line(food.scientific_name, LONGEST_LINE), style="italic"))
    parts += ["", block, "", *(Text(note) for note in _notes(food))]
    return screen.render(*parts)


def _notes(food: Food) -> Iterable[str]:
    for measure in food.measures:
        yield f"{measure.amount:g} {one_line(measure.description, LONGEST_LINE)} = {measure.mass_g:g} g edible portion"
    if food.refuse_percent:
        part = one_line(food.refuse_description, LONGEST_LINE)
        yield f"refuse of the food as bought: {food.refuse_percent:g} %{f' ({part})' if part else ''}"
    factors = food.energy_factors
    if factors.protein is not None and factors.fat is not None and factors.carbohydrate is not None:
        yield (
            f"energy factors, kcal per g: protein {factors.protein:g}, fat {factors.fat:g}, "
            f"carbohydrate {factors.carbohydrate:g}"
        )
