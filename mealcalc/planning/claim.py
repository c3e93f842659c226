"""Figures that someone published for one container, as they were written."""

import re
from collections.abc import Mapping

from mealcalc.components import KJ_PER_KCAL
from mealcalc.errors import UsageError
from mealcalc.records.claims import Claim

LARGEST_CLAIM = 1_000_000.0
"""No figure of a container is larger, in any unit of ours."""


def claim_as_written(written: Mapping[str, str], *, energy_in_kj: bool = False) -> Claim:
    """A claim from figures as they were written, so that their digits tell how they were rounded.

    Parameters
    ----------
    written : mapping
        `energy`, `protein`, `fat`, `carbohydrate`, `fibre` -> the figure of one container: kcal or kJ, else g.
    energy_in_kj : bool
        Whether the energy is in kJ; 1 kcal is 4.184 kJ.

    Raises
    ------
    UsageError
        If nothing is claimed, or a figure is no plain number.
    """
    if not written:
        raise UsageError("no figure is claimed", "give at least one of --energy, --protein, --fat, --carbohydrate")
    read = {name: read_figure(text, name) for name, text in written.items()}
    if energy_in_kj and "energy" in read:
        energy_kj, half = read["energy"]
        read["energy"] = energy_kj / KJ_PER_KCAL, half / KJ_PER_KCAL
    amounts = {name: amount for name, (amount, _) in read.items()}
    return Claim(
        energy_kcal=amounts.get("energy"),
        protein_g=amounts.get("protein"),
        fat_g=amounts.get("fat"),
        carbohydrate_g=amounts.get("carbohydrate"),
        fibre_g=amounts.get("fibre"),
        energy_in_kj=energy_in_kj,
        half_digit={name: half for name, (_, half) in read.items()},
    )


def read_figure(text: str, name: str) -> tuple[float, float]:
    """A claimed figure as written, and half of its last digit: '14' is 14 and 0.5, '14.0' is 14 and 0.05.

    Raises
    ------
    UsageError
        If it is no plain number from 0 to `LARGEST_CLAIM`.
    """
    written = text.strip().replace(",", ".")
    if not re.fullmatch(r"[0-9]{1,7}(?:\.[0-9]{1,6})?", written) or float(written) > LARGEST_CLAIM:
        raise UsageError(
            f"--{name} '{text}' is no figure", f"write a number from 0 to {LARGEST_CLAIM:,.0f}, such as 14.5"
        )
    return float(written), 0.5 * 10.0 ** -len(written.partition(".")[2])
