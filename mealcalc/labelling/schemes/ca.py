"""Canada: Food and Drug Regulations, B.01.400 to .402. Per serving of stated size, in English and French."""

from mealcalc.labelling.panel_input import PanelInput
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.labelling.schemes.servings import about, mass_text


def serving_statement(dish: PanelInput) -> tuple[str, ...]:
    """Serving size in both languages, and servings per package, which are optional (form from memory)."""
    mass = mass_text(dish, CANADA.rounding["serving size"])
    count = about(dish.servings_per_package, CANADA.rounding["servings"])
    share = "1" if dish.servings_per_package == 1 else f"1/{dish.servings_per_package:g}"
    french = "contenant" if dish.portion_name == "container" else dish.portion_name
    lines = [f"Per {share} {dish.portion_name} ({mass})", f"pour {share} {french} ({mass})"]
    if count != "1":
        lines.append(f"{count} servings per {dish.portion_name}")
    return tuple(lines)


CANADA = Scheme("ca", "Canada: Nutrition Facts / Valeur nutritive", "% DV", serving_statement, table_energy=True)
