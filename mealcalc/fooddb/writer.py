"""Writes the edition of a table into the food database: one edition, one transaction.

Every loader ends here, the one of the bundled table too, so that search index and vocabulary are always complete.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import islice

from sqlalchemy import Connection, Engine, Table, delete, func, insert, select
from sqlalchemy.exc import DBAPIError

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb.schema import (
    APPLICATION_ID_IMPORTED,
    NAME_SEPARATOR,
    STATUS_CODES,
    component,
    edition,
    food,
    food_group,
    food_value,
    measure,
    vocabulary,
)
from mealcalc.values import ValueStatus

_FOODS_AT_ONCE = 500
_Cells = tuple[object, ...]
_WORD = re.compile(r"[^\W\d_]+")

_FILL_SEARCH = """\
INSERT INTO food_search (rowid, head, description, names, scientific_name)
SELECT food_id, head, description, names, scientific_name FROM food WHERE edition_id = ?"""
_EMPTY_SEARCH = """\
INSERT INTO food_search (food_search, rowid, head, description, names, scientific_name)
SELECT 'delete', food_id, head, description, names, scientific_name FROM food WHERE edition_id = ?"""


@dataclass(frozen=True, slots=True)
class EditionRow:
    """What is said of a table: its short code (`sr28`), its edition, and where it comes from."""

    table: str
    edition: str
    title: str
    publisher: str
    licence: str
    origin: str
    sha256: str


@dataclass(frozen=True, slots=True)
class MeasureRow:
    """A household measure: `amount` `description` weighs `mass_g`, edible portion; spread and number of weighings."""

    amount: float
    description: str
    mass_g: float
    data_points: int | None = None
    standard_deviation_g: float | None = None


@dataclass(frozen=True, slots=True)
class FoodRow:
    """A food as a loader hands it over.

    values: (component key, amount per 100 g edible portion, status); a missing value is not listed. refuse_percent:
    inedible share of the food as purchased. nitrogen_factor: g protein per g nitrogen. The factors: kcal per g.
    """

    code: str
    group_code: str
    description: str
    values: Sequence[tuple[str, float, ValueStatus]]
    measures: Sequence[MeasureRow] = ()
    names: Sequence[str] = ()
    scientific_name: str = ""
    manufacturer: str = ""
    refuse_percent: float | None = None
    refuse_description: str = ""
    nitrogen_factor: float | None = None
    protein_kcal_per_g: float | None = None
    fat_kcal_per_g: float | None = None
    carbohydrate_kcal_per_g: float | None = None


def write_edition(engine: Engine, row: EditionRow, groups: Iterable[tuple[str, str]], foods: Iterable[FoodRow]) -> int:
    """Write an imported table in one transaction; an earlier edition of the same table makes way for it.

    An SQLite file is marked as holding imported tables, so that it is never replaced.

    Parameters
    ----------
    engine : Engine
        Of a database with the schema in place.
    row : EditionRow
        What is said of the table.
    groups : iterable of (str, str)
        Code and description of each food group.
    foods : iterable of FoodRow
        Taken in chunks, so that memory stays bounded.

    Returns
    -------
    int
        The number of foods written.

    Raises
    ------
    FoodDatabaseError
        If two foods carry one code, a value is below zero, has an unknown component or no status that can be stored,
        or the database cannot be written. It is then as it was before.
    """
    try:
        with engine.begin() as connection:
            remove_edition(connection, row.table)
            count = insert_edition(connection, row, groups, foods)
            if connection.dialect.name == "sqlite":
                connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID_IMPORTED}")
            return count
    except DBAPIError as error:
        raise FoodDatabaseError(
            f"table {row.table} cannot be written: {error.orig}", "nothing has changed; mend the cause and import again"
        ) from error


def remove_edition(connection: Connection, table: str) -> None:
    """Delete a table with its foods, values, measures and words; nothing happens if it is not there."""
    edition_id = connection.scalar(select(edition.c.edition_id).where(edition.c.table_code == table))
    if edition_id is None:
        return
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql(_EMPTY_SEARCH, (edition_id,))
    its_foods = select(food.c.food_id).where(food.c.edition_id == edition_id)
    for part in (food_value, measure):
        connection.execute(delete(part).where(part.c.food_id.in_(its_foods)))
    for part in (food, food_group, vocabulary, edition):
        connection.execute(delete(part).where(part.c.edition_id == edition_id))


def words_of(text: str) -> set[str]:
    """The words of a text for the vocabulary: runs of letters, in lower case."""
    return set(_WORD.findall(text.lower()))


def insert_edition(
    connection: Connection, row: EditionRow, groups: Iterable[tuple[str, str]], foods: Iterable[FoodRow]
) -> int:
    """Insert a table that is not there yet, within the caller's transaction; parameters as of `write_edition`."""
    edition_id = (connection.scalar(select(func.max(edition.c.edition_id))) or 0) + 1
    connection.execute(
        insert(edition).values(
            edition_id=edition_id,
            table_code=row.table,
            edition=row.edition,
            title=row.title,
            publisher=row.publisher,
            licence=row.licence,
            origin=row.origin,
            sha256=row.sha256,
            food_count=0,
        )
    )
    group_rows = [{"edition_id": edition_id, "code": code, "description": text} for code, text in groups]
    if group_rows:
        connection.execute(insert(food_group), group_rows)
    component_ids = _component_ids(connection)
    first_id = (connection.scalar(select(func.max(food.c.food_id))) or 0) + 1
    words: set[str] = set()
    codes: set[str] = set()
    stream = iter(foods)
    while chunk := list(islice(stream, _FOODS_AT_ONCE)):
        for one in chunk:
            if one.code in codes:
                raise FoodDatabaseError(
                    f"table {row.table} has two foods {one.code}", "correct the file and import again"
                )
            codes.add(one.code)
            words |= words_of(" ".join((one.description, *one.names)))
        _insert_foods(connection, edition_id, first_id + len(codes) - len(chunk), chunk, component_ids)
    if words:
        connection.execute(insert(vocabulary), [{"edition_id": edition_id, "word": word} for word in sorted(words)])
    connection.execute(edition.update().where(edition.c.edition_id == edition_id).values(food_count=len(codes)))
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql(_FILL_SEARCH, (edition_id,))
    return len(codes)


def _insert_foods(
    connection: Connection, edition_id: int, first_id: int, foods: Sequence[FoodRow], component_ids: dict[str, int]
) -> None:
    food_rows: list[_Cells] = [
        (
            food_id,
            edition_id,
            one.code,
            one.group_code,
            one.description,
            one.description.partition(",")[0],
            NAME_SEPARATOR.join(one.names),
            one.scientific_name,
            one.manufacturer,
            one.refuse_percent,
            one.refuse_description,
            one.nitrogen_factor,
            one.protein_kcal_per_g,
            one.fat_kcal_per_g,
            one.carbohydrate_kcal_per_g,
        )
        for food_id, one in enumerate(foods, first_id)
    ]
    try:
        value_rows: list[_Cells] = [
            (food_id, component_ids[key], amount, STATUS_CODES[status])
            for food_id, one in enumerate(foods, first_id)
            for key, amount, status in one.values
        ]
    except KeyError as error:
        raise FoodDatabaseError(f"no value can be stored for {error.args[0]!r}", "correct the loader") from error
    measure_rows: list[_Cells] = [
        (food_id, sequence, m.amount, m.description, m.mass_g, m.data_points, m.standard_deviation_g)
        for food_id, one in enumerate(foods, first_id)
        for sequence, m in enumerate(one.measures, 1)
    ]
    _insert_rows(connection, food, food_rows)
    _insert_rows(connection, food_value, value_rows)
    _insert_rows(connection, measure, measure_rows)


def _insert_rows(connection: Connection, table: Table, rows: list[_Cells]) -> None:
    """Insert rows whose cells stand in the order of the table's columns."""
    if not rows:
        return
    if connection.dialect.name == "sqlite":
        # Straight to the driver: executing the compiled insert costs several times as much for each of the four hundred
        # thousand values of the bundled table.
        connection.exec_driver_sql(str(insert(table).compile(dialect=connection.dialect)), rows)
    else:
        names = table.c.keys()
        connection.execute(insert(table), [dict(zip(names, row, strict=True)) for row in rows])


def _component_ids(connection: Connection) -> dict[str, int]:
    known = {key: number for number, key in connection.execute(select(component.c.component_id, component.c.key))}
    new = [key for key in FOOD_COMPONENTS if key not in known]
    first = max(known.values(), default=0) + 1
    if new:
        rows = [{"component_id": first + i, "key": key} for i, key in enumerate(new)]
        connection.execute(insert(component), rows)
        known |= {key: first + i for i, key in enumerate(new)}
    return known
