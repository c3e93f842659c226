"""The vectors of `tests/data/labelling/vectors.csv`, each with the scheme and the rounding rule that it speaks of."""

import csv
from decimal import Decimal
from pathlib import Path
from typing import NamedTuple

from mealcalc.reference.label_tables import ClauseStatus

FILE = Path(__file__).parent.parent / "data" / "labelling" / "vectors.csv"

SCHEMES_OF = {"US": ("us",), "CA": ("ca",), "EU": ("eu", "uk"), "AU/NZ": ("anz",)}
"""The United Kingdom rounds by the guidance of the Union."""

STATUS = {"R": ClauseStatus.READ, "P": ClauseStatus.IN_PART, "M": ClauseStatus.MEMORY}

RULES = {
    ("US", "total fat"): "fat",
    ("US", "saturated fat"): "fat",
    ("US", "trans fat"): "fat",
    ("US", "total carbohydrate"): "carbohydrate",
    ("US", "dietary fiber"): "carbohydrate",
    ("US", "total sugars"): "carbohydrate",
    ("US", "% DV vitamin or mineral"): "percent of RDI",
    ("CA", "trans fat"): "fat",
    ("CA", "potassium"): "potassium or calcium",
    ("CA", "energy (optional)"): "kilojoules",
    ("EU", "fat, carbohydrate, sugars, protein or fibre per 100 g"): "fat, carbohydrate, sugars, protein, fibre",
    ("EU", "saturates per 100 g"): "fatty acids",
    ("EU", "salt per 100 g"): "salt",
    ("AU/NZ", "energy"): "energy, kJ",
    ("AU/NZ", "protein, fat, carbohydrate, sugars or fibre"): "protein, fat, fatty acids, carbohydrate, sugars",
    ("AU/NZ", "sodium"): "sodium or potassium",
}
"""Rules whose name in the tables is not the nutrient of the vector."""


class Vector(NamedTuple):
    """One vector for one scheme."""

    name: str
    scheme: str
    nutrient: str
    rule: str
    raw: Decimal
    printed: str
    status: ClauseStatus
    note: str


def read_vectors(path: Path = FILE) -> list[Vector]:
    """Every vector, those of the Union for the United Kingdom too."""
    with path.open(encoding="utf-8", newline="") as file:
        return [vector for row in csv.DictReader(file) for vector in _vectors(row)]


def _vectors(row: dict[str, str]) -> list[Vector]:
    regime, nutrient = row["regime"], row["nutrient"]
    if nutrient.startswith("% DV") and (regime, nutrient) not in RULES:
        rule = "percent of DRV"
    elif (regime, nutrient) == ("EU", "energy"):
        rule = f"energy, {row['unit']}"
    else:
        rule = RULES.get((regime, nutrient), nutrient)
    return [
        Vector(
            f"{row['id']} {scheme} {nutrient} {row['raw_value']} ({STATUS[row['status']].value})",
            scheme,
            nutrient,
            rule,
            Decimal(row["raw_value"]),
            row["printed"],
            STATUS[row["status"]],
            row["note"],
        )
        for scheme in SCHEMES_OF[regime]
    ]
