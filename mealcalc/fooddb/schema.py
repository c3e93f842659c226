"""Tables of the food database, written for SQLite and PostgreSQL alike.

    edition --< food_group
            --< vocabulary
            --< food --< food_value >-- component
                     --< measure

A missing value has no row in `food_value`: missing, zero and logical zero stay apart. Codes are text and keep their
leading zeros. Full text lives in the SQLite table `food_search`, which indexes columns of `food` and holds no text of
its own.
"""

from collections.abc import Mapping
from types import MappingProxyType

from sqlalchemy import (
    CheckConstraint,
    Column,
    Connection,
    Float,
    ForeignKey,
    Integer,
    MetaData,
    SmallInteger,
    Table,
    Text,
    UniqueConstraint,
    event,
)

from mealcalc.values import ValueStatus

SCHEMA_VERSION = 2
"""Raised whenever a table or the meaning of a column changes; an older database is built anew."""

APPLICATION_ID_BUNDLED = 0x6D636662
"""Mark in the header of an SQLite file that holds the bundled table alone ('mcfb'): it may be built anew any time."""

APPLICATION_ID_IMPORTED = 0x6D636669
"""Mark of a file that holds tables which its owner imported ('mcfi'): it is never replaced."""

STATUS_CODES: Mapping[ValueStatus, int] = MappingProxyType(
    {
        ValueStatus.PUBLISHED: 1,
        ValueStatus.ANALYSED: 2,
        ValueStatus.CALCULATED: 3,
        ValueStatus.BORROWED: 4,
        ValueStatus.LOGICAL_ZERO: 5,
        ValueStatus.TRACE: 6,
        ValueStatus.BELOW_LIMIT: 7,
    }
)
"""How the status of a value is stored. MISSING has no code, because a missing value has no row."""

NAME_SEPARATOR = "\n"
"""Between the names of a food in `food.names`."""

metadata = MetaData()

database_metadata = Table(
    "metadata",
    metadata,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

edition = Table(
    "edition",
    metadata,
    Column("edition_id", Integer, primary_key=True),
    Column("table_code", Text, nullable=False, unique=True),
    Column("edition", Text, nullable=False),
    Column("title", Text, nullable=False),
    Column("publisher", Text, nullable=False),
    Column("licence", Text, nullable=False),
    Column("origin", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("food_count", Integer, nullable=False),
)

food_group = Table(
    "food_group",
    metadata,
    Column("edition_id", ForeignKey("edition.edition_id"), primary_key=True),
    Column("code", Text, primary_key=True),
    Column("description", Text, nullable=False),
    sqlite_with_rowid=False,
)

component = Table(
    "component",
    metadata,
    Column("component_id", Integer, primary_key=True),
    Column("key", Text, nullable=False, unique=True),
)

food = Table(
    "food",
    metadata,
    Column("food_id", Integer, primary_key=True),
    Column("edition_id", ForeignKey("edition.edition_id"), nullable=False),
    Column("code", Text, nullable=False),
    Column("group_code", Text, nullable=False),
    Column("description", Text, nullable=False),
    # The description up to its first comma: the publisher puts what the food is there, and what it is like behind it.
    Column("head", Text, nullable=False),
    Column("names", Text, nullable=False),
    Column("scientific_name", Text, nullable=False),
    Column("manufacturer", Text, nullable=False),
    Column("refuse_percent", Float),
    Column("refuse_description", Text, nullable=False),
    Column("nitrogen_factor", Float),
    Column("protein_kcal_per_g", Float),
    Column("fat_kcal_per_g", Float),
    Column("carbohydrate_kcal_per_g", Float),
    UniqueConstraint("edition_id", "code"),
)

food_value = Table(
    "food_value",
    metadata,
    Column("food_id", ForeignKey("food.food_id"), primary_key=True),
    Column("component_id", ForeignKey("component.component_id"), primary_key=True),
    # Per 100 g edible portion, in the unit of the component.
    Column("amount", Float, nullable=False),
    Column("status", SmallInteger, nullable=False),
    CheckConstraint("amount >= 0"),
    sqlite_with_rowid=False,
)

measure = Table(
    "measure",
    metadata,
    Column("food_id", ForeignKey("food.food_id"), primary_key=True),
    Column("sequence", Integer, primary_key=True),
    Column("amount", Float, nullable=False),
    Column("description", Text, nullable=False),
    Column("mass_g", Float, nullable=False),
    Column("data_points", Integer),
    Column("standard_deviation_g", Float),
    sqlite_with_rowid=False,
)

vocabulary = Table(
    "vocabulary",
    metadata,
    Column("edition_id", ForeignKey("edition.edition_id"), primary_key=True),
    Column("word", Text, primary_key=True),
    sqlite_with_rowid=False,
)

# Porter stems let 'tomato' find 'tomatoes'; accents are folded. A word in the head counts on top of the same word in
# the description ('Rice, white' before 'Snacks, rice cakes, brown rice'), other names count less, scientific names
# least. Weights near 1 keep bm25 out of saturation, where one word more or less no longer shows.
_CREATE_SEARCH = """\
CREATE VIRTUAL TABLE food_search USING fts5(
    head, description, names, scientific_name,
    content = 'food', content_rowid = 'food_id', tokenize = 'porter unicode61 remove_diacritics 2'
)"""
_SET_RANK = "INSERT INTO food_search (food_search, rank) VALUES ('rank', 'bm25(2.0, 1.0, 0.6, 0.3)')"


def _create_search(target: Table, connection: Connection, **_: object) -> None:
    if target is food and connection.dialect.name == "sqlite":
        connection.exec_driver_sql(_CREATE_SEARCH)
        connection.exec_driver_sql(_SET_RANK)


event.listen(food, "after_create", _create_search)
