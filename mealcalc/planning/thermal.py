"""Thermal properties of food from its composition: Choi and Okos (1986).

Specific heat is the sum of the parts by mass, volume the sum of their volumes, conductivity the sum of theirs by volume
(parallel model). The polynomials stand in `reference/thermal_properties.csv` with their source. They hold for food
without air in it and above freezing.
"""

from collections.abc import Mapping

from mealcalc.records import Total
from mealcalc.records.cooling import ThermalProperties
from mealcalc.reference.cooling_tables import FOOD_PARTS, thermal_properties

_KEYS = {"water": "WATER_G", "protein": "PROCNT_G", "fat": "FAT_G", "ash": "ASH_G"}


def properties_of(shares: Mapping[str, float], temperature_c: float) -> ThermalProperties:
    """Conductivity, density and specific heat of a food.

    Parameters
    ----------
    shares : mapping
        Mass fractions of the parts of food (`FOOD_PARTS`); their sum is scaled to 1.
    temperature_c : float
        Temperature at which the properties are wanted, C.

    Raises
    ------
    ValueError
        If a share is negative or unknown by name, or all are 0.
    """
    whole = sum(shares.values())
    if whole <= 0.0 or min(shares.values()) < 0.0 or not set(shares) <= set(FOOD_PARTS):
        raise ValueError(f"no composition of food: {dict(shares)}")
    table = thermal_properties()
    fractions = {part: share / whole for part, share in shares.items() if share > 0.0}
    volumes_m3_kg = {p: x / table["density", p].at(temperature_c) for p, x in fractions.items()}
    volume_m3_kg = sum(volumes_m3_kg.values())
    return ThermalProperties(
        conductivity_w_mk=sum(
            v / volume_m3_kg * table["conductivity", p].at(temperature_c) for p, v in volumes_m3_kg.items()
        ),
        density_kg_m3=1.0 / volume_m3_kg,
        specific_heat_j_kgk=1000.0 * sum(x * table["specific_heat", p].at(temperature_c) for p, x in fractions.items()),
        temperature_c=temperature_c,
    )


def shares_of(totals: Mapping[str, Total]) -> dict[str, float] | None:
    """Mass fractions of the parts of food from totals in g; None where no water or no dry matter is known.

    Carbohydrate is without fibre; where fibre is unknown it stays in carbohydrate, whose properties are close. Alcohol
    counts as water.
    """
    grams = {part: max(0.0, totals[key].amount) for part, key in _KEYS.items()}
    grams["water"] += max(0.0, totals["ALC_G"].amount)
    carbohydrate_g = max(0.0, totals["CHOCDF_G"].amount)
    grams["fibre"] = min(max(0.0, totals["FIBTG_G"].amount), carbohydrate_g)
    grams["carbohydrate"] = carbohydrate_g - grams["fibre"]
    whole = sum(grams.values())
    if grams["water"] <= 0.0 or whole <= 0.0:
        return None
    return {part: grams[part] / whole for part in FOOD_PARTS}
