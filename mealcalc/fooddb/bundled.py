"""The bundled table: from the compressed file that the package ships to a database, with the standard library alone."""

import csv
import hashlib
import io
import re
import tomllib
import zipfile
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from importlib import resources
from pathlib import Path

from sqlalchemy import insert

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb.atomic_file import write_whole
from mealcalc.fooddb.engines import writing_engine
from mealcalc.fooddb.schema import APPLICATION_ID_BUNDLED, SCHEMA_VERSION, database_metadata, metadata
from mealcalc.fooddb.shipped import BUNDLE_FILE, BUNDLE_SHA256, SOURCES_FILE, SOURCES_KEY
from mealcalc.fooddb.writer import EditionRow, FoodRow, MeasureRow, insert_edition
from mealcalc.values import ValueStatus

_COMMA_OUTSIDE_PARENTHESES = re.compile(r",(?![^(]*\))")


def build_bundled_database(path: Path, say: Callable[[str], None]) -> None:
    """Build the database of the bundled table at `path`, replacing what is there, whole or not at all.

    Parameters
    ----------
    path : Path
        Of the database.
    say : callable
        Is told once the work begins, which is when the folder has turned out to be writable.

    Raises
    ------
    OSError
        If the folder cannot be made or written to; nothing has happened then.
    FoodDatabaseError
        If the shipped file is damaged.
    sqlalchemy.exc.DBAPIError
        If SQLite cannot write (a full disk); the temporary file is gone then.
    """
    data = resources.files("mealcalc.reference").joinpath(BUNDLE_FILE).read_bytes()
    if hashlib.sha256(data).hexdigest() != BUNDLE_SHA256:
        raise FoodDatabaseError(f"the shipped food table {BUNDLE_FILE} is damaged", "install mealcalc again")

    def fill(temporary: Path) -> None:
        say(f"preparing the food table in {path.parent} (once, a few seconds)")
        _fill(temporary, data)

    write_whole(path, fill)


def bundle_source() -> EditionRow:
    """What sources.toml says of the bundled table."""
    text = resources.files("mealcalc.reference").joinpath(SOURCES_FILE).read_text(encoding="utf-8")
    entry = tomllib.loads(text)[SOURCES_KEY]
    return EditionRow(
        table=entry["table"],
        edition=entry["edition"],
        title=entry["title"],
        publisher=entry["publisher"],
        licence=entry["licence"],
        origin=entry["origin"],
        sha256=entry["sha256"],
    )


def read_bundle(data: bytes) -> tuple[list[tuple[str, str]], Iterator[FoodRow]]:
    """Groups (code, description) and foods of a bundle given as bytes; foods are read as they are asked for."""
    archive = zipfile.ZipFile(io.BytesIO(data))
    groups = [(row["code"], row["description"]) for row in csv.DictReader(_text_of(archive, "groups.csv"))]
    measures: dict[str, list[MeasureRow]] = defaultdict(list)
    for row in csv.DictReader(_text_of(archive, "measures.csv")):
        points = row["data_points"]
        measures[row["code"]].append(
            MeasureRow(
                amount=float(row["amount"]),
                description=row["description"],
                mass_g=float(row["mass_g"]),
                data_points=int(points) if points else None,
                standard_deviation_g=_number(row["standard_deviation_g"]),
            )
        )
    return groups, _foods(_text_of(archive, "foods.csv"), measures)


def split_names(text: str) -> tuple[str, ...]:
    """The single names in a published list of common names: divided by commas, but not within parentheses."""
    return tuple(name for part in _COMMA_OUTSIDE_PARENTHESES.split(text) if (name := part.strip()))


def _foods(stream: io.TextIOWrapper, measures: Mapping[str, list[MeasureRow]]) -> Iterator[FoodRow]:
    reader = csv.reader(stream)
    header = next(reader)
    at = {name: i for i, name in enumerate(header)}
    values_at = [(i, name) for i, name in enumerate(header) if name in FOOD_COMPONENTS]
    published = ValueStatus.PUBLISHED
    for cells in reader:
        code = cells[at["code"]]
        yield FoodRow(
            code=code,
            group_code=cells[at["group_code"]],
            description=cells[at["description"]],
            values=[(key, float(cells[i]), published) for i, key in values_at if cells[i]],
            measures=measures.get(code, ()),
            names=split_names(cells[at["common_names"]]),
            scientific_name=cells[at["scientific_name"]],
            manufacturer=cells[at["manufacturer"]],
            refuse_percent=_number(cells[at["refuse_percent"]]),
            refuse_description=cells[at["refuse_description"]],
            nitrogen_factor=_number(cells[at["nitrogen_factor_g_per_g"]]),
            protein_kcal_per_g=_number(cells[at["protein_kcal_per_g"]]),
            fat_kcal_per_g=_number(cells[at["fat_kcal_per_g"]]),
            carbohydrate_kcal_per_g=_number(cells[at["carbohydrate_kcal_per_g"]]),
        )


def _fill(path: Path, data: bytes) -> None:
    groups, foods = read_bundle(data)
    engine = writing_engine(path, scratch=True)
    try:
        with engine.begin() as connection:
            metadata.create_all(connection)
            connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID_BUNDLED}")
            properties = {"schema_version": str(SCHEMA_VERSION), "bundle_sha256": BUNDLE_SHA256}
            rows = [{"name": name, "value": value} for name, value in properties.items()]
            connection.execute(insert(database_metadata), rows)
            insert_edition(connection, bundle_source(), groups, foods)
    finally:
        engine.dispose()


def _text_of(archive: zipfile.ZipFile, name: str) -> io.TextIOWrapper:
    return io.TextIOWrapper(archive.open(name), encoding="utf-8", newline="")


def _number(text: str) -> float | None:
    return float(text) if text else None
