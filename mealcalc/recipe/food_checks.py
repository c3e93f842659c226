"""Whether the figures of the cook's own food agree with one another, and the figures that follow from others."""

from collections.abc import Mapping
from dataclasses import dataclass

from mealcalc.components import FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.diagnostics import Severity
from mealcalc.values import Value, ValueStatus, amount_of

ROUNDING_G = 0.5
"""Labels print whole grams above ten: half a gram for each figure is rounding, on the basis on which it is stated."""

MOST_KCAL = 925.0
"""Energy per 100 g that no food reaches: pure fat has about 900 (9 kcal/g)."""

MOST_SODIUM_MG = 40_000.0
"""Sodium in 100 g of salt by the factor 2.5 of labels (by atomic masses it is 39.3 g)."""

ENERGY_TOLERANCE_SHARE = 0.15
ENERGY_TOLERANCE_KCAL = 10.0
"""Stated energy may differ from that of the macros by either (polyols, organic acids, rounding) without a word."""

KJ_TOLERANCE_SHARE = 0.05
KJ_TOLERANCE = 10.0
"""kJ and kcal of a label are two separate sums with rounded factors: 37/9, 17/4, 29/7, 8/2 lie between 4.0 and 4.25."""

KCAL_PER_G: Mapping[str, float] = {"PROCNT_G": 4.0, "FAT_G": 9.0, "ALC_G": 7.0}
AVAILABLE_KCAL_PER_G = 4.0
FIBRE_KCAL_PER_G = 2.0
"""General factors: Regulation (EU) No 1169/2011, Annex XIV."""

_MAIN = ("PROCNT_G", "FAT_G", "WATER_G", "ALC_G", "ASH_G")
_SUMMED = frozenset((*_MAIN, "CHOCDF_G", "CHOAVLDF_G", "FIBTG_G"))
"""Components whose sum is checked, so that none of them needs a limit of its own."""


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A finding about the figures; `key` is the food component whose place is shown."""

    severity: Severity
    code: str
    key: str
    message: str
    hint: str


def contradictions(values: Mapping[str, Value], scale: float) -> list[Contradiction]:
    """What cannot be, or can hardly be, about stated values.

    Parameters
    ----------
    values : mapping of str to Value
        Stated values per 100 g, by key of the food component; nothing derived.
    scale : float
        Factor from the basis of the label to 100 g; rounding of the label grows with it.
    """
    return [
        *_parts(values),
        *_sums(values, scale),
        *_limits(values),
        *_energy_units(values),
        *_energy_of_macros(values),
    ]


def derive(values: dict[str, Value]) -> None:
    """Add what follows from stated values, marked as calculated: the other energy unit, the other carbohydrate.

    kJ = 4.184 kcal; total carbohydrate = available carbohydrate + fibre, where fibre is known.
    """
    kcal, kj = amount_of(values, "ENERC_KCAL"), amount_of(values, "ENERC_KJ")
    if kcal is not None and kj is None:
        values["ENERC_KJ"] = Value(kcal * KJ_PER_KCAL, ValueStatus.CALCULATED)
    elif kj is not None and kcal is None:
        values["ENERC_KCAL"] = Value(kj / KJ_PER_KCAL, ValueStatus.CALCULATED)
    total, available, fibre = (amount_of(values, key) for key in ("CHOCDF_G", "CHOAVLDF_G", "FIBTG_G"))
    if fibre is None:
        return
    if available is not None and total is None:
        values["CHOCDF_G"] = Value(available + fibre, ValueStatus.CALCULATED)
    elif total is not None and available is None and total >= fibre:
        values["CHOAVLDF_G"] = Value(total - fibre, ValueStatus.CALCULATED)


def _parts(values: Mapping[str, Value]) -> list[Contradiction]:
    pairs = [(key, component.part_of) for key, component in FOOD_COMPONENTS.items() if component.part_of]
    found = []
    for part, whole in [*pairs, ("SUGAR_G", "CHOAVLDF_G")]:
        less, more = amount_of(values, part), amount_of(values, whole)
        if less is not None and more is not None and less > more * (1 + 1e-9):
            names = FOOD_COMPONENTS[part].name, FOOD_COMPONENTS[whole].name
            unit = FOOD_COMPONENTS[part].unit
            found.append(
                Contradiction(
                    Severity.ERROR,
                    "food-part-above-whole",
                    part,
                    f"a part is above its whole: {names[0]} {less:.4g} {unit}, {names[1]} {more:.4g} {unit} per 100 g",
                    "compare both with the pack",
                )
            )
    return found


def _sums(values: Mapping[str, Value], scale: float) -> list[Contradiction]:
    summed = [key for key in _MAIN if amount_of(values, key) is not None]
    if amount_of(values, "CHOCDF_G") is not None:
        summed.append("CHOCDF_G")
    else:
        summed += [key for key in ("CHOAVLDF_G", "FIBTG_G") if amount_of(values, key) is not None]
    total = sum(amount_of(values, key) or 0.0 for key in summed)
    if total <= 100 + ROUNDING_G * len(summed) * scale:
        return []
    parts = " + ".join(f"{FOOD_COMPONENTS[key].name} {amount_of(values, key):.4g}" for key in summed)
    return [
        Contradiction(
            Severity.ERROR,
            "food-over-100",
            max(summed, key=lambda key: amount_of(values, key) or 0.0),
            f"100 g of the food would hold {total:.4g} g: {parts}",
            "compare the figures and their basis ('per', 'serving', 'density') with the pack",
        )
    ]


def _limits(values: Mapping[str, Value]) -> list[Contradiction]:
    found = []
    kj, kcal = amount_of(values, "ENERC_KJ"), amount_of(values, "ENERC_KCAL")
    stated = kcal if kcal is not None else None if kj is None else kj / KJ_PER_KCAL
    if stated is not None and stated > MOST_KCAL:
        found.append(
            Contradiction(
                Severity.ERROR,
                "food-energy",
                "ENERC_KCAL" if kcal is not None else "ENERC_KJ",
                f"energy of {stated:.4g} kcal per 100 g is more than pure fat has (about 900)",
                "check the unit (kJ or kcal) and the basis ('per')",
            )
        )
    for key, value in values.items():
        unit = FOOD_COMPONENTS[key].unit
        most = MOST_SODIUM_MG if key == "NA_MG" else {"g": 100.0, "mg": 1e5, "µg": 1e8}.get(unit)
        if key not in _SUMMED and most and (value.amount or 0.0) > most * (1 + 1e-9):
            found.append(
                Contradiction(
                    Severity.ERROR,
                    "food-over-100",
                    key,
                    f"{FOOD_COMPONENTS[key].name} of {value.amount:.4g} {unit} per 100 g is more than a food can hold",
                    "check the unit and the basis ('per')",
                )
            )
    return found


def _energy_units(values: Mapping[str, Value]) -> list[Contradiction]:
    kj, kcal = amount_of(values, "ENERC_KJ"), amount_of(values, "ENERC_KCAL")
    if kj is None or kcal is None:
        return []
    expected = kcal * KJ_PER_KCAL
    if abs(kj - expected) <= max(KJ_TOLERANCE, KJ_TOLERANCE_SHARE * expected):
        return []
    return [
        Contradiction(
            Severity.WARNING,
            "food-energy",
            "ENERC_KJ",
            f"{kj:.4g} kJ and {kcal:.4g} kcal per 100 g are not the same energy: {kcal:.4g} kcal are {expected:.4g} kJ",
            "compare both with the pack",
        )
    ]


def _energy_of_macros(values: Mapping[str, Value]) -> list[Contradiction]:
    kj, kcal = amount_of(values, "ENERC_KJ"), amount_of(values, "ENERC_KCAL")
    stated = kcal if kcal is not None else None if kj is None else kj / KJ_PER_KCAL
    protein, fat = amount_of(values, "PROCNT_G"), amount_of(values, "FAT_G")
    total, available = amount_of(values, "CHOCDF_G"), amount_of(values, "CHOAVLDF_G")
    fibre = amount_of(values, "FIBTG_G") or 0.0
    if stated is None or protein is None or fat is None or (total is None and available is None):
        return []
    if available is None:
        available = max(0.0, (total or 0.0) - fibre)
    expected = AVAILABLE_KCAL_PER_G * available + FIBRE_KCAL_PER_G * fibre
    expected += sum(factor * (amount_of(values, key) or 0.0) for key, factor in KCAL_PER_G.items())
    off = abs(stated - expected)
    if off <= ENERGY_TOLERANCE_KCAL or off <= ENERGY_TOLERANCE_SHARE * max(stated, expected):
        return []
    return [
        Contradiction(
            Severity.WARNING,
            "food-energy",
            "ENERC_KCAL" if kcal is not None else "ENERC_KJ",
            f"energy of {stated:.4g} kcal per 100 g does not agree with protein, fat and carbohydrate, which make "
            f"{expected:.4g} kcal",
            "check units and basis; alcohol, polyols or organic acids may explain it",
        )
    ]
