"""Energy by the methods of the schemes: sums of grams times the factors of the law.

kJ and kcal are two sums where the law gives both factors (EU Annex XIV); where it gives kJ only, Calories are kJ / 4.18
(Food Standards Code, S11-2(4)).
"""

from collections.abc import Mapping

from mealcalc.errors import UsageError
from mealcalc.labelling.bounds import (
    Bounds,
    amount,
    available_carbohydrate,
    fibre,
    protein,
    total_carbohydrate,
)
from mealcalc.labelling.panel_input import PanelLine
from mealcalc.labelling.schemes.base import FOOD_TABLE_METHOD, Scheme
from mealcalc.reference.label_tables import EnergyFactor

ENERGY_KEYS = {"ENERC_KJ": "kJ", "ENERC_KCAL": "kcal"}

UREA_KCAL_PER_G = 1.25
"""Energy of protein lost in urine, kcal per g (Agriculture Handbook 74, from memory)."""


def factors_of(scheme: Scheme, method: str) -> tuple[EnergyFactor, ...]:
    """The energy factors of a method, those of components that no food table holds included.

    Raises
    ------
    UsageError
        If the scheme has no such method; the hint lists those it has.
    """
    found = tuple(f for f in scheme.energy_factors if f.method == method)
    if not found or method not in scheme.energy_methods:
        raise UsageError(
            f"scheme {scheme.name} computes no energy by method '{method[:40]}'",
            f"it has: {', '.join(scheme.energy_methods)}",
        )
    return found


def energy_sum(grams: Mapping[str, float], scheme: Scheme, method: str, unit: str) -> float:
    """Energy from grams of components by the factors of a method.

    Parameters
    ----------
    grams : mapping
        Food component key -> g; a component without a factor adds nothing.
    scheme, method
        Which factors.
    unit : str
        kJ or kcal.

    Returns
    -------
    float
        Energy in `unit`.
    """
    factors = factors_of(scheme, method)
    if all(_factor(f, unit) is None for f in factors):
        return _converted(energy_sum(grams, scheme, method, _other(unit)), unit, scheme)
    return sum((_factor(f, unit) or 0.0) * grams.get(f.key, 0.0) for f in factors if f.key)


def line_energy(line: PanelLine, scheme: Scheme, method: str, key: str) -> Bounds:
    """Energy of one counted line in kJ (`ENERC_KJ`) or kcal (`ENERC_KCAL`), with its limits where a part is unknown.

    Polyols and organic acids, which the food tables do not hold, stay in carbohydrate by difference, which counts them
    as carbohydrate.
    """
    if method == FOOD_TABLE_METHOD:
        return _table_energy(line, key)
    factors = {f.key: f for f in factors_of(scheme, method) if f.key}
    unit = ENERGY_KEYS[key]
    if all(_factor(f, unit) is None for f in factors.values()):
        bounds = line_energy(line, scheme, method, "ENERC_KJ" if unit == "kcal" else "ENERC_KCAL")
        return Bounds(_converted(bounds.low, unit, scheme), _converted(bounds.high, unit, scheme))

    def of(component: str) -> float:
        found = factors.get(component)
        return (_factor(found, unit) or 0.0) if found is not None else 0.0

    energy = protein(line, scheme.protein_factor).times(of("PROCNT_G"))
    energy += amount(line, "FAT_G").times(of("FAT_G"))
    energy += amount(line, "ALC_G").times(of("ALC_G"))
    return energy + _carbohydrate_energy(line, scheme, of("CHOCDF_G"), of("CHOAVLDF_G"), of("FIBTG_G"), of("FIBSOL_G"))


def specific_factor_kcal_per_g(heat_kcal_per_g: float, digestibility: float, *, of_protein: bool = False) -> float:
    """A specific Atwater factor: heat of combustion, less 1.25 kcal per g for protein, times digestibility.

    Parameters
    ----------
    heat_kcal_per_g : float
        Heat of combustion in kcal per g.
    digestibility : float
        Share digested, 0 to 1.
    of_protein : bool
        Whether urinary loss is taken off first.

    Returns
    -------
    float
        kcal per g (Agriculture Handbook 74; constants from memory).
    """
    return (heat_kcal_per_g - (UREA_KCAL_PER_G if of_protein else 0.0)) * digestibility


def energy_by_factors_kcal(grams: Mapping[str, float], kcal_per_g: Mapping[str, float]) -> Mapping[str, float]:
    """Energy of each component in kcal by specific factors: grams times kcal per g."""
    return {key: mass_g * kcal_per_g[key] for key, mass_g in grams.items()}


def _carbohydrate_energy(
    line: PanelLine, scheme: Scheme, total: float, available: float, fibre_factor: float, soluble: float
) -> Bounds:
    if total:
        return total_carbohydrate(line, scheme.protein_factor).times(total)
    whole = total_carbohydrate(line, scheme.protein_factor)
    fibre_g = fibre(line)
    if fibre_g.known:
        energy = available_carbohydrate(line, scheme.protein_factor).times(available) + fibre_g.times(fibre_factor)
    else:
        # What is not fibre is available: the sum lies between all fibre and none, whatever the fibre is.
        energy = Bounds(whole.low * min(available, fibre_factor), whole.high * max(available, fibre_factor))
    if soluble:
        held = line.amounts.get("FIBSOL_G")
        energy += Bounds(held, held).times(soluble) if held is not None else Bounds(0.0, fibre_g.high).times(soluble)
    return energy


def _table_energy(line: PanelLine, key: str) -> Bounds:
    found = line.amounts.get(key)
    if found is not None:
        return Bounds(found, found)
    # Nothing a food is made of carries more than fat: 9 kcal or 37 kJ per g.
    most = {"ENERC_KCAL": 9.0, "ENERC_KJ": 37.7}[key]
    return Bounds(0.0, float("inf") if line.mass_g is None else most * line.mass_g)


def _factor(factor: EnergyFactor, unit: str) -> float | None:
    return factor.kj_per_g if unit == "kJ" else factor.kcal_per_g


def _other(unit: str) -> str:
    return "kcal" if unit == "kJ" else "kJ"


def _converted(energy: float, unit: str, scheme: Scheme) -> float:
    kj_per_calorie = scheme.kj_per_calorie()
    if kj_per_calorie is None:
        raise UsageError(f"scheme {scheme.name} states no energy in {unit}")
    return energy / kj_per_calorie if unit == "kcal" else energy * kj_per_calorie
