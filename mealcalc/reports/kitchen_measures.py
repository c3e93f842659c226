"""Amounts of recipe lines in metric and US measures side by side."""

from mealcalc.records import Contribution, LineStatus
from mealcalc.reports.publication import G_PER_OZ, both_masses
from mealcalc.units import MASS_G, VOLUME_ML

US_CUP_ML = VOLUME_ML["us"]["cup"]
US_TBSP_ML = VOLUME_ML["us"]["tbsp"]
US_TSP_ML = VOLUME_ML["us"]["tsp"]

_US_MEASURES = (
    (US_CUP_ML / 4, (US_CUP_ML, "US cup", 4)),
    (US_TBSP_ML, (US_TBSP_ML, "US tbsp", 2)),
    (0.0, (US_TSP_ML, "US tsp", 4)),
)
"""Least volume, and the measure that it is written in: its volume, its name, steps in one."""

_NEARLY = 0.97
"""So little less still counts: a metric tablespoon of 15 ml is a US one."""

_QUARTERS = ("", " 1/4", " 1/2", " 3/4")


def both_measures(contribution: Contribution, region: str) -> str:
    """The amount of a line in both systems: `400 g (14.1 oz)`, `900 ml (3 3/4 US cups)`; '' where it has none.

    A volume is converted as a volume, all else by the grams that it counts with; `about` stands before grams that are
    not written in the line.
    """
    line = contribution.line
    if contribution.ingredient.matched.status in (LineStatus.NOT_FOOD, LineStatus.NOT_COUNTED):
        return ""
    amount = line.amount
    if amount is not None and not amount.implied and line.measured is None:
        in_ml = VOLUME_ML[region].get(amount.unit)
        if in_ml is not None:
            volume_ml = amount.middle * in_ml
            return f"{_plain(volume_ml)} ml ({us_volume(volume_ml)})" if volume_ml > 0 else ""
        if amount.unit in MASS_G and not line.container:
            return _masses(amount.middle * MASS_G[amount.unit])
    mass_g = contribution.ingredient.mass_g
    return "" if mass_g is None or mass_g <= 0 else f"about {_masses(mass_g)}"


def _masses(mass_g: float) -> str:
    """A mass in g, and in oz or from one pound in lb and oz."""
    tenths = round(mass_g / G_PER_OZ * 10)
    if tenths < 160:
        return both_masses(mass_g)
    pounds, rest = divmod(tenths, 160)
    return f"{mass_g:.0f} g ({pounds} lb{f' {rest / 10:.1f} oz' if rest else ''})"


def us_volume(volume_ml: float) -> str:
    """A volume in US cups to the quarter, else tablespoons to the half, else teaspoons to the quarter."""
    unit_ml, name, step = next(measure for least_ml, measure in _US_MEASURES if volume_ml >= least_ml * _NEARLY)
    parts = round(volume_ml / unit_ml * step) * (4 // step)
    if parts == 0:
        return f"less than 1/4 {name}"
    whole, quarters = divmod(parts, 4)
    number = f"{whole or ''}{_QUARTERS[quarters]}".strip()
    return f"{number} {name}{'s' if name == 'US cup' and parts > 4 else ''}"


def _plain(number: float) -> str:
    return f"{number:.0f}" if number >= 10 else f"{number:.1f}".removesuffix(".0")
