"""Yields and changes of moisture and fat from pairs of published foods, the same food raw and cooked, by a tracer.

A tracer is a constituent that cooking leaves in the food. If the raw food holds T_r and the cooked food T_c grams of it
per 100 g, 100 g of raw food give 100 Y grams of cooked food with Y = T_r / T_c, and per 100 g of raw food the water and
the fat change by

    moisture change = Y W_c - W_r        fat change = Y F_c - F_r        (g; a gain is positive)

Tracer for meat and eggs: protein. For grains, pulses and pasta cooked in water that they take up, and for vegetables
cooked by dry heat: dry matter. Both records are means of samples that need not be the same animals or lots: a small
apparent gain of fat is noise, and where solids are lost to water poured off, the dry-matter tracer gives too much. The
equations are mass balances, our own derivation; the figures come from USDA SR28.
"""

import argparse
import csv
import io
import sys
import zipfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from data_loaders.bundle_sr28 import REFERENCE_FOLDER, bundle_contents
from data_loaders.readers.sr28 import read_release
from mealcalc.diagnostics import has_errors
from mealcalc.errors import InputFileError, MealcalcError
from mealcalc.fooddb.shipped import BUNDLE_FILE

YIELD_FILE = "yield_factors.csv"
YIELD_COLUMNS = (
    "id",
    "food_group",
    "food",
    "cut_or_form",
    "fat_level_percent",
    "method",
    "other_methods",
    "state_before",
    "state_after",
    "basis",
    "yield_percent",
    "moisture_change_g_per_100g",
    "fat_change_g_per_100g",
    "cholesterol_retention_percent",
    "sd_or_ci",
    "n",
    "source",
    "edition",
    "mark",
    "derived_from",
    "note",
)

EDITION = "SR28, September 2015, revised May 2016"
UNLIKE_SAMPLES_G = 1.5
"""More mass than this, in g per 100 g raw, that neither water nor fat explains: the two records are unlike samples."""


@dataclass(frozen=True, slots=True)
class PublishedFood:
    """What a derivation needs of a food of SR28; g (mg of cholesterol, None where not published) per 100 g edible
    portion."""

    code: str
    group_code: str
    description: str
    water_g: float
    protein_g: float
    fat_g: float
    cholesterol_mg: float | None = None


@dataclass(frozen=True, slots=True)
class TracerYield:
    """Cooked grams per 100 g raw, and the changes of water and fat in g per 100 g raw (a gain is positive)."""

    tracer: str
    yield_percent: float
    moisture_change_g: float
    fat_change_g: float

    @property
    def unexplained_g(self) -> float:
        """Mass lost or gained per 100 g raw that neither water nor fat accounts for, in g."""
        return self.yield_percent - 100 - self.moisture_change_g - self.fat_change_g


def protein_tracer(raw: PublishedFood, cooked: PublishedFood) -> TracerYield:
    """Yield and changes if all protein stays: Y = raw protein / cooked protein."""
    return _changes("protein", raw.protein_g / cooked.protein_g, raw, cooked)


def dry_matter_tracer(raw: PublishedFood, cooked: PublishedFood) -> TracerYield:
    """Yield and changes if all dry matter stays: Y = (100 - raw water) / (100 - cooked water)."""
    return _changes("dry matter", (100 - raw.water_g) / (100 - cooked.water_g), raw, cooked)


def cholesterol_retention_percent(raw: PublishedFood, cooked: PublishedFood, changes: TracerYield) -> float | None:
    """True retention of cholesterol, Y C_c / C_r, in percent; None where a record lacks it or the raw food has none.

    True retention: Murphy, Criner & Gray 1975, J Agric Food Chem 23, 1153. It does not follow the fat: most of the
    cholesterol of meat is in the membranes of its cells, which stay. Beyond 100 it is noise of unlike samples.
    """
    if not raw.cholesterol_mg or cooked.cholesterol_mg is None:
        return None
    return changes.yield_percent * cooked.cholesterol_mg / raw.cholesterol_mg


def yield_row(
    raw: PublishedFood, cooked: PublishedFood, changes: TracerYield, cells: Mapping[str, str]
) -> dict[str, str]:
    """A row of the yield table for a pair; `cells` gives the columns that describe food, method, state and basis."""
    notes = [cells.get("note", "")]
    if changes.tracer == "protein" and abs(changes.unexplained_g) >= UNLIKE_SAMPLES_G:
        notes.append(f"unlike samples: {changes.unexplained_g:+.1f} g per 100 g is neither water nor fat")
    if changes.fat_change_g >= UNLIKE_SAMPLES_G and "fried" not in cells["method"]:
        notes.append(f"unlike samples: {changes.fat_change_g:+.1f} g fat per 100 g though none is added")
    row = dict.fromkeys(YIELD_COLUMNS, "")
    row |= cells
    row |= {
        "id": f"sr28-{raw.code}-{cooked.code}",
        "yield_percent": _decimal(changes.yield_percent),
        "moisture_change_g_per_100g": _decimal(changes.moisture_change_g),
        "fat_change_g_per_100g": _decimal(changes.fat_change_g),
        "source": f"derived by this project from USDA SR28 raw and cooked pairs: "
        f"NDB {raw.code} (raw) and {cooked.code} (cooked), {changes.tracer} tracer",
        "edition": EDITION,
        "mark": "read (derived)",
        "derived_from": f"{raw.code}-{cooked.code}",
        "note": "; ".join(note for note in notes if note),
    }
    return row


def foods_of_bundle() -> dict[str, PublishedFood]:
    """The foods of the table that the package ships, by code."""
    with zipfile.ZipFile(REFERENCE_FOLDER / BUNDLE_FILE) as archive:
        return _foods(archive.read("foods.csv"))


def foods_of_release(folder: Path) -> dict[str, PublishedFood]:
    """The foods of the published files of SR28 in a folder, by code.

    Raises
    ------
    InputFileError
        If a file is missing or damaged.
    """
    release, diagnostics = read_release(folder)
    if has_errors(diagnostics):
        raise InputFileError(f"{folder}: the release is damaged", "fetch the files again")
    return _foods(bundle_contents(release)["foods.csv"])


def run(
    description: str,
    rows_of: Callable[[Mapping[str, PublishedFood]], Sequence[dict[str, str]]],
    arguments: Sequence[str] | None,
) -> int:
    """The command line shared by the derivations: print the rows, or `--check` or `--update` them in the yield table.

    Returns 0 when all is well, 1 when the input is damaged or `--check` finds a difference.
    """
    parser = argparse.ArgumentParser(description=description)
    parser.add_argument("folder", type=Path, nargs="?", help="folder of the SR28 files; else the shipped table")
    action = parser.add_mutually_exclusive_group()
    action.add_argument("--check", action="store_true", help="compare with the shipped yield table")
    action.add_argument("--update", action="store_true", help="put the rows into the shipped yield table")
    options = parser.parse_args(arguments)
    write = sys.stdout.write
    try:
        rows = rows_of(foods_of_release(options.folder) if options.folder else foods_of_bundle())
    except MealcalcError as error:
        write(f"{error.message}\n  hint: {error.hint}\n")
        return 1
    path = REFERENCE_FOLDER / YIELD_FILE
    if options.check:
        shipped = {row["id"]: row for row in _read(path)}
        wrong = [row["id"] for row in rows if shipped.get(row["id"]) != row]
        write(f"differs: {' '.join(wrong)}\n" if wrong else f"{len(rows)} rows are what the release gives\n")
        return 1 if wrong else 0
    if options.update:
        # Each row keeps its place in the file, new ones come last.
        table = {row["id"]: row for row in _read(path)}
        table.update({row["id"]: row for row in rows})
        path.write_text(_text(table.values()), encoding="utf-8")
    else:
        write(_text(rows))
    return 0


def _changes(tracer: str, factor: float, raw: PublishedFood, cooked: PublishedFood) -> TracerYield:
    return TracerYield(tracer, 100 * factor, factor * cooked.water_g - raw.water_g, factor * cooked.fat_g - raw.fat_g)


def _foods(table: bytes) -> dict[str, PublishedFood]:
    rows = csv.DictReader(io.StringIO(table.decode("utf-8"), newline=""))
    return {
        row["code"]: PublishedFood(
            row["code"],
            row["group_code"],
            row["description"],
            float(row["WATER_G"]),
            float(row["PROCNT_G"]),
            float(row["FAT_G"]),
            float(row["CHOLE_MG"]) if row["CHOLE_MG"] else None,
        )
        for row in rows
        if row["WATER_G"] and row["PROCNT_G"] and row["FAT_G"]
    }


def _read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def _text(rows: Iterable[Mapping[str, str]]) -> str:
    stream = io.StringIO()
    writer = csv.DictWriter(stream, YIELD_COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return stream.getvalue()


def _decimal(value: float) -> str:
    """One decimal, as the tables of yields print it, and no minus before a zero."""
    return f"{round(value, 1) + 0.0:.1f}"
