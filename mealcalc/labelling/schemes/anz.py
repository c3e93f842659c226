"""Australia and New Zealand: Food Standards Code, Standard 1.2.8. Per serving and per 100 g or 100 ml."""

from mealcalc.labelling.panel_input import PanelInput
from mealcalc.labelling.schemes.base import Scheme
from mealcalc.labelling.schemes.servings import mass_text, plain_number


def serving_statement(dish: PanelInput) -> tuple[str, ...]:
    """Servings per package and serving size (1.2.8-6(1), Schedule 12)."""
    mass = mass_text(dish, AUSTRALIA_NEW_ZEALAND.rounding["serving size"])
    return (f"Servings per package: {plain_number(dish.servings_per_package)}", f"Serving size: {mass}")


AUSTRALIA_NEW_ZEALAND = Scheme(
    "anz", "Australia and New Zealand: nutrition information panel", "% DI", serving_statement
)
