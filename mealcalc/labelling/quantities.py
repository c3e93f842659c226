"""Amounts of a whole dish by the definitions of a scheme, with what is known of them and what is not."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from mealcalc.labelling.bounds import (
    NOTHING,
    Bounds,
    added_sugars,
    amount,
    available_carbohydrate,
    fibre,
    protein,
    total_carbohydrate,
)
from mealcalc.labelling.energy import ENERGY_KEYS, line_energy
from mealcalc.labelling.panel_input import PanelInput, PanelLine, SugarKind
from mealcalc.labelling.schemes.base import Scheme

MG_PER_G = 1000.0

SUM_OF_KEYS = "+"
"""Joins keys whose amounts are added, such as FASAT_G+FATRN_G."""

_TABLE_KEY = {"NACL_G": "NA_MG", "SUGAD_G": "SUGAR_G"}
"""Food component of the table that a row of the panel is made from."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """An amount of a dish in the unit of its key.

    low: what is certain. high: the most it can be, infinity where nothing limits it. determined: whether any line says
    anything of it. known_share: share of the counted mass whose value is known. unknown_lines: lines that leave a gap,
    those without amount included.
    """

    low: float
    high: float
    determined: bool = True
    known_share: float = 1.0
    unknown_lines: tuple[PanelLine, ...] = ()

    @property
    def complete(self) -> bool:
        """Whether the amount is known."""
        return self.determined and self.low == self.high

    def per(self, parts: float) -> "Quantity":
        """The same for one of `parts` equal parts."""
        return Quantity(self.low / parts, self.high / parts, self.determined, self.known_share, self.unknown_lines)


def quantity(dish: PanelInput, scheme: Scheme, key: str, method: str | None = None) -> Quantity:
    """Amount of a food component in the whole batch, by the scheme's definition of it.

    Parameters
    ----------
    dish : PanelInput
        The lines of the dish.
    scheme : Scheme
        Gives the protein factor, the carbohydrate, the factors of energy.
    key : str
        Food component key; several joined by '+' are added.
    method : str, optional
        Method of energy; the scheme's usual one by default.

    Returns
    -------
    Quantity
        In the unit of the key, for the whole batch.

    Raises
    ------
    UsageError
        If the scheme has no such method of energy.
    """
    if SUM_OF_KEYS in key:
        parts = [quantity(dish, scheme, part, method) for part in key.split(SUM_OF_KEYS)]
        return _sum(parts)
    bounds_of = _bounds_of(scheme, key, method or scheme.energy_method)
    counted = [line for line in dish.lines if line.counted]
    bounds = [bounds_of(line) for line in counted]
    gaps = [line for line, b in zip(counted, bounds, strict=True) if not b.known]
    missing = [line for line in dish.lines if not line.counted and _leaves_open(line, key)]
    masses_g = _masses_g(counted)
    known_g = sum(mass_g for mass_g, b in zip(masses_g, bounds, strict=True) if b.known)
    mass_g = sum(masses_g)
    determined = _determined(counted, key, bounds)
    return Quantity(
        low=sum(b.low for b in bounds),
        high=math.inf if missing else sum(b.high for b in bounds),
        determined=determined,
        known_share=known_g / mass_g if determined and mass_g > 0 else 0.0,
        unknown_lines=tuple(sorted([*gaps, *missing], key=lambda line: line.number)),
    )


def _bounds_of(scheme: Scheme, key: str, method: str) -> Callable[[PanelLine], Bounds]:
    factor = scheme.protein_factor
    if key in ENERGY_KEYS:
        return lambda line: line_energy(line, scheme, method, key)
    special: dict[str, Callable[[PanelLine], Bounds]] = {
        "PROCNT_G": lambda line: protein(line, factor),
        "CHOCDF_G": lambda line: total_carbohydrate(line, factor),
        "CHOAVLDF_G": lambda line: available_carbohydrate(line, factor),
        "FIBTG_G": fibre,
        "SUGAD_G": added_sugars,
        "NACL_G": lambda line: amount(line, "NA_MG").times(scheme.salt_per_sodium / MG_PER_G),
    }
    return special.get(key, lambda line: amount(line, key))


def _leaves_open(line: PanelLine, key: str) -> bool:
    return _TABLE_KEY.get(key, key) in line.incomplete_keys


def _determined(lines: list[PanelLine], key: str, bounds: list[Bounds]) -> bool:
    """Whether any line says anything of a component: one that no table holds is not determined, and never 0."""
    if key == "SUGAD_G":
        return any(b.low > 0 for b in bounds) or (bool(bounds) and all(b == NOTHING for b in bounds))
    if key in ENERGY_KEYS or key in ("PROCNT_G", "CHOCDF_G", "CHOAVLDF_G"):
        return any(b.known for b in bounds)
    table_key = _TABLE_KEY.get(key, key)
    return any(line.amounts.get(table_key) is not None for line in lines)


def _masses_g(lines: list[PanelLine]) -> list[float]:
    """Masses of lines; one that is not known counts as a mean line, since something of it is unknown."""
    known = [line.mass_g for line in lines if line.mass_g is not None]
    mean_g = sum(known) / len(known) if known else 1.0
    return [mean_g if line.mass_g is None else line.mass_g for line in lines]


def _sum(parts: list[Quantity]) -> Quantity:
    lines = {id(line): line for part in parts for line in part.unknown_lines}
    return Quantity(
        low=sum(part.low for part in parts),
        high=sum(part.high for part in parts),
        # What is certain of one part is certain of the sum.
        determined=any(part.determined for part in parts),
        known_share=min(part.known_share for part in parts),
        unknown_lines=tuple(sorted(lines.values(), key=lambda line: line.number)),
    )


def sugars_of_unknown_kind(dish: PanelInput) -> tuple[PanelLine, ...]:
    """Counted lines with sugars of which it is not known whether they were added."""
    return tuple(
        line
        for line in dish.lines
        if line.counted and line.sugars is SugarKind.UNKNOWN and line.amounts.get("SUGAR_G") != 0.0
    )
