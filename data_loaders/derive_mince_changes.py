"""Yield, moisture and fat change, and retention of cholesterol, of every minced meat that SR28 holds raw and cooked.

    python -m data_loaders.derive_mince_changes [FOLDER]              print the rows
    python -m data_loaders.derive_mince_changes [FOLDER] --check      compare with the shipped yield table
    python -m data_loaders.derive_mince_changes [FOLDER] --update     put them into the shipped yield table

FOLDER holds the SR28 files; without it the table that the package ships is read. A raw and a cooked mince belong
together when their descriptions say the same words but for the words of state, shape and method. How the figures are
calculated, and the limits of that: `tracer_yields`.
"""

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence

from data_loaders.tracer_yields import PublishedFood, cholesterol_retention_percent, protein_tracer, run, yield_row

SPECIES = {
    "beef": ("beef", "minced beef"),
    "pork": ("pork", "minced pork"),
    "lamb": ("lamb", "minced lamb"),
    "veal": ("veal", "minced veal"),
    "chicken": ("chicken", "minced chicken"),
    "turkey": ("turkey", "minced turkey"),
    "emu": ("poultry", "minced emu"),
    "ostrich": ("poultry", "minced ostrich"),
    "bison": ("game", "minced bison"),
    "elk": ("game", "minced elk"),
    "deer": ("game", "minced venison"),
}
"""Word of the description -> our food group and name of the food."""

METHODS = {
    "pan-browned": "pan_browned",
    "pan-broiled": "pan_broiled",
    "pan-fried": "pan_fried",
    "broiled": "grilled_broiled",
    "baked": "baked",
    "braised": "braised",
}
SHAPES = {"crumbles": "crumbles", "patty": "patty", "patties": "patty", "loaf": "loaf"}
ORIGINS = ("grass-fed", "New Zealand", "free range", "USDA Commodity", "frozen")
"""Words that tell one series of a species from another; they stand in the form of the row."""

UNLIKE_CHOLESTEROL_PERCENT = 110
"""True retention of cholesterol beyond this, in percent: the two records are unlike samples."""

MEAT_GROUPS = frozenset(["0500", "1000", "1300", "1700", "3500"])

_WORD = re.compile(r"[a-z0-9%'.-]+")
_STATE_WORDS = frozenset(["raw", "cooked", *METHODS, *SHAPES])
_LEAN = re.compile(r"(\d+)% lean")
_PUBLISHED_AS_FAT_FREE = "fat free"


def mince_pairs(foods: Mapping[str, PublishedFood]) -> list[tuple[PublishedFood, PublishedFood]]:
    """Every raw mince with each of its cooked records, in the order of the codes."""
    raw: dict[frozenset[str], PublishedFood] = {}
    cooked: dict[frozenset[str], list[PublishedFood]] = defaultdict(list)
    for food in sorted(foods.values(), key=lambda f: f.code):
        words = frozenset(_words(food))
        if food.group_code not in MEAT_GROUPS or "ground" not in words:
            continue
        if "raw" in words:
            raw[words - _STATE_WORDS] = food
        else:
            cooked[words - _STATE_WORDS].append(food)
    return [(raw[key], food) for key in raw for food in cooked[key]]


def mince_rows(foods: Mapping[str, PublishedFood]) -> list[dict[str, str]]:
    """The rows of the yield table, one for each pair, by the protein tracer.

    Fat that is poured off takes less than its share of the cholesterol, so these rows carry that retention, too.
    """
    rows = []
    for raw, cooked in mince_pairs(foods):
        changes = protein_tracer(raw, cooked)
        kept = cholesterol_retention_percent(raw, cooked, changes)
        cells = _cells(raw, cooked)
        if kept is not None:
            cells["cholesterol_retention_percent"] = f"{kept:.0f}"
            if kept > UNLIKE_CHOLESTEROL_PERCENT:
                unlike = f"unlike samples: {kept:.0f} % of the cholesterol"
                cells["note"] = "; ".join(note for note in (cells["note"], unlike) if note)
        rows.append(yield_row(raw, cooked, changes, cells))
    return rows


def main(arguments: Sequence[str] | None = None) -> int:
    """Run from the command line; see `tracer_yields.run` for what it returns."""
    return run(__doc__.split("\n")[0], mince_rows, arguments)


def _cells(raw: PublishedFood, cooked: PublishedFood) -> dict[str, str]:
    words = _words(cooked)
    group, name = next(SPECIES[word] for word in words if word in SPECIES)
    method = next((METHODS[word] for word in words if word in METHODS), "")
    shape = next((SHAPES[word] for word in words if word in SHAPES), "")
    notes = []
    if not method:
        # Loose mince is done in a pan; without shape and method the source says no more than that it is cooked.
        method = "pan_browned" if shape == "crumbles" else "cooked"
        if shape == "crumbles":
            notes.append("the source says crumbles and cooked; taken as browned in a pan")
    lean = _LEAN.search(raw.description)
    level = f"{100 - int(lean[1])}" if lean else f"{raw.fat_g:g}"
    if lean and abs(100 - int(lean[1]) - raw.fat_g) >= 1:
        notes.append(f"fat level as labelled; analysed {raw.fat_g:g} g")
    elif not lean:
        notes.append("fat level as analysed")
    origins = [origin for origin in (*ORIGINS, _PUBLISHED_AS_FAT_FREE) if origin in raw.description]
    return {
        "food_group": group,
        "food": name,
        "cut_or_form": ", ".join(part for part in (shape, *origins) if part),
        "fat_level_percent": level,
        "method": method,
        "state_before": "frozen" if "frozen" in origins else "raw",
        "state_after": "drained" if method in ("pan_browned", "pan_broiled", "pan_fried") else "cooked",
        "basis": "edible_raw",
        "note": "; ".join(note for note in notes if note),
    }


def _words(food: PublishedFood) -> list[str]:
    return _WORD.findall(food.description.lower())


if __name__ == "__main__":
    raise SystemExit(main())
