"""Dishes for tests of panels: amounts per 100 g of the cooked dish, or lines."""

from collections.abc import Mapping
from typing import Any

from mealcalc.labelling.panel_input import PanelInput, PanelLine, SugarKind

EVERYTHING = {
    "ENERC_KCAL": 150.0, "ENERC_KJ": 627.6, "WATER_G": 70.0, "PROCNT_G": 10.0, "FAT_G": 8.0, "FASAT_G": 2.0,
    "FAMS_G": 3.0, "FAPU_G": 2.0, "CHOCDF_G": 10.5, "CHOAVLDF_G": 8.5, "FIBTG_G": 2.0, "SUGAR_G": 3.0, "ASH_G": 1.5,
    "ALC_G": 0.0, "CHOLE_MG": 30.0, "NA_MG": 200.0, "CA_MG": 40.0, "FE_MG": 1.2, "K_MG": 250.0, "VITD_UG": 0.3,
}  # fmt: skip
"""Invented amounts per 100 g of everything that food tables hold and panels ask for."""


def line(
    number: int,
    text: str,
    mass_g: float | None,
    amounts: Mapping[str, float | None],
    **settings: Any,
) -> PanelLine:
    """A line of a dish; amounts are those of the whole line."""
    return PanelLine(number, text, mass_g, amounts, **settings)


def dish(*lines: PanelLine, cooked_mass_g: float | None = 1000.0, **settings: Any) -> PanelInput:
    """A dish of lines, invented."""
    return PanelInput("Bean pots", tuple(lines), cooked_mass_g=cooked_mass_g, cooked_mass_ground="weighed", **settings)


def per_100g(amounts: Mapping[str, float | None], *, mass_g: float = 100.0, **settings: Any) -> PanelInput:
    """A dish of one line with amounts per 100 g, whose protein is nitrogen x 6.25 already."""
    whole = {key: None if amount is None else amount * mass_g / 100.0 for key, amount in amounts.items()}
    only = line(1, "the dish", mass_g, whole, nitrogen_factor=6.25, sugars=SugarKind.NATURAL)
    return dish(only, cooked_mass_g=mass_g, **settings)
