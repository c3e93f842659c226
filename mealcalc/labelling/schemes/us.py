"""United States: 21 CFR 101.9. Amounts per serving; one serving to a single-serving package."""

from mealcalc.labelling.panel_input import PanelInput
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.labelling.schemes.servings import about, mass_text


def serving_statement(dish: PanelInput) -> tuple[str, ...]:
    """Servings per container and serving size (21 CFR 101.9(b)(8), (d)(3): form from memory)."""
    count = about(dish.servings_per_package, UNITED_STATES.rounding["servings"])
    word = "serving" if count == "1" else "servings"
    share = (
        f"1 {dish.portion_name}"
        if dish.servings_per_package == 1
        else f"1/{dish.servings_per_package:g} {dish.portion_name}"
    )
    mass = mass_text(dish, UNITED_STATES.rounding["serving size"])
    return (f"{count} {word} per {dish.portion_name}", f"Serving size {share} ({mass})")


UNITED_STATES = Scheme("us", "United States: Nutrition Facts", "% Daily Value", serving_statement, table_energy=True)
