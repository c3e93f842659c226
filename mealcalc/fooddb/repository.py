"""The food database as the rest of the tool sees it: rows become records here, and only here."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from types import TracebackType
from typing import Self

from sqlalchemy import Connection, Engine, bindparam, select
from sqlalchemy.exc import DBAPIError

from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb.derived import with_derived_values
from mealcalc.fooddb.schema import (
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
from mealcalc.fooddb.search import FIND, FIND_IN_TABLE, all_words_query, any_word_query
from mealcalc.records import EnergyFactors, Food, HouseholdMeasure
from mealcalc.values import Value

_CODES_AT_ONCE = 500
_STATUS = {code: status for status, code in STATUS_CODES.items()}

_SELECT_FOODS = (
    select(food, edition.c.edition)
    .join(edition, edition.c.edition_id == food.c.edition_id)
    .where(edition.c.table_code == bindparam("table_code"), food.c.code.in_(bindparam("codes", expanding=True)))
)
_SELECT_VALUES = (
    select(food_value.c.food_id, component.c.key, food_value.c.amount, food_value.c.status)
    .join(component, component.c.component_id == food_value.c.component_id)
    .where(food_value.c.food_id.in_(bindparam("food_ids", expanding=True)))
    .order_by(food_value.c.food_id, food_value.c.component_id)
)
_SELECT_MEASURES = (
    select(measure.c.food_id, measure.c.amount, measure.c.description, measure.c.mass_g)
    .where(measure.c.food_id.in_(bindparam("food_ids", expanding=True)))
    .order_by(measure.c.food_id, measure.c.sequence)
)
_SELECT_HEADERS = select(
    edition.c.table_code,
    food.c.code,
    food.c.description,
    food.c.names,
    food.c.group_code,
    food.c.refuse_percent,
    food.c.manufacturer,
).join(edition, edition.c.edition_id == food.c.edition_id)


@dataclass(frozen=True, slots=True)
class FoodHeader:
    """What a food is, without its composition.

    group: code of the food group within its table. refuse_percent: inedible share of the food as purchased, None where
    not published. manufacturer: '' for a generic food.
    """

    table: str
    code: str
    description: str
    names: tuple[str, ...]
    group: str
    refuse_percent: float | None
    manufacturer: str = ""


@dataclass(frozen=True, slots=True)
class Edition:
    """A table in the database: its code, edition and origin, the checksum of its file, and how many foods it holds."""

    table: str
    edition: str
    title: str
    publisher: str
    licence: str
    origin: str
    sha256: str
    food_count: int


class FoodDatabase:
    """An open food database. Use it in a `with` block, or call `close`.

    Every method raises FoodDatabaseError if the database cannot be read. Methods may be called from several threads.

    Parameters
    ----------
    engine : Engine
        Of a database with the schema of `mealcalc.fooddb.schema`.
    place : str
        Where the database is, for messages.
    """

    def __init__(self, engine: Engine, place: str) -> None:
        self._engine = engine
        self.place = place
        self._vocabulary: frozenset[str] | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, traceback: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Give back the connections."""
        self._engine.dispose()

    def editions(self) -> tuple[Edition, ...]:
        """The tables in the database, in the order in which they were loaded."""
        with self._reading() as connection:
            rows = connection.execute(select(edition).order_by(edition.c.edition_id))
            return tuple(
                Edition(
                    table=row.table_code,
                    edition=row.edition,
                    title=row.title,
                    publisher=row.publisher,
                    licence=row.licence,
                    origin=row.origin,
                    sha256=row.sha256,
                    food_count=row.food_count,
                )
                for row in rows
            )

    def groups(self, table: str) -> dict[str, str]:
        """Code -> description of the food groups of a table, in the order of the codes."""
        statement = (
            select(food_group.c.code, food_group.c.description)
            .join(edition, edition.c.edition_id == food_group.c.edition_id)
            .where(edition.c.table_code == table)
            .order_by(food_group.c.code)
        )
        with self._reading() as connection:
            return {row.code: row.description for row in connection.execute(statement)}

    def food(self, table: str, code: str) -> Food | None:
        """The food of a table with that code, or None."""
        return self.foods([(table, code)]).get((table, code))

    def foods(self, keys: Iterable[tuple[str, str]]) -> dict[tuple[str, str], Food]:
        """The foods with these keys, with logical zeros and derived values filled in.

        Parameters
        ----------
        keys : iterable of (str, str)
            Table and code. All of them are fetched by three statements per table and 500 foods.

        Returns
        -------
        dict
            Key -> food, in the order of the keys; a key that the database does not hold is absent.
        """
        wanted = list(dict.fromkeys(keys))
        by_table: dict[str, list[str]] = defaultdict(list)
        for table, code in wanted:
            by_table[table].append(code)
        found: dict[tuple[str, str], Food] = {}
        with self._reading() as connection:
            for table, codes in by_table.items():
                for start in range(0, len(codes), _CODES_AT_ONCE):
                    for one in _fetch_foods(connection, table, codes[start : start + _CODES_AT_ONCE]):
                        found[table, one.code] = one
        return {key: found[key] for key in wanted if key in found}

    def headers(self, table: str) -> list[FoodHeader]:
        """All foods of a table without their compositions, in the order of loading."""
        statement = _SELECT_HEADERS.where(edition.c.table_code == table).order_by(food.c.food_id)
        with self._reading() as connection:
            return [_header(row) for row in connection.execute(statement)]

    def search(self, query: str, limit: int = 20, table: str | None = None) -> list[FoodHeader]:
        """Foods whose description, names or scientific name hold all words of a query, best first.

        The last word may be unfinished. Any text is safe. If no food holds all the words, those that hold some are
        returned.

        Parameters
        ----------
        query : str
            What the user types.
        limit : int
            At most so many foods.
        table : str, optional
            Search this table only.
        """
        all_words = self._find(all_words_query(query), limit, table)
        return all_words or self._find(any_word_query([query]), limit, table)

    def candidates(self, words: Sequence[str], limit: int) -> list[FoodHeader]:
        """Foods that hold any of `words` in singular or plural, best first (bm25; words before the first comma first).

        Words that only say a state ('raw', 'cooked') rank the foods that the other words bring in.
        """
        return self._find(any_word_query(words), limit, None)

    def vocabulary(self) -> frozenset[str]:
        """Every word of the descriptions and names of all tables, in lower case; read once."""
        if self._vocabulary is None:
            with self._reading() as connection:
                self._vocabulary = frozenset(connection.scalars(select(vocabulary.c.word)))
        return self._vocabulary

    def _find(self, query: str, limit: int, table: str | None) -> list[FoodHeader]:
        if not query or limit < 1:
            return []
        with self._reading() as connection:
            if table is None:
                rows = connection.exec_driver_sql(FIND, (query, limit))
            else:
                rows = connection.exec_driver_sql(FIND_IN_TABLE, (query, table, limit))
            return [_header(row) for row in rows]

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        try:
            with self._engine.connect() as connection:
                yield connection
        except DBAPIError as error:
            raise FoodDatabaseError(
                f"the food database {self.place} cannot be read: {error.orig}",
                "if it is damaged, move the file away: the shipped table is then built anew",
            ) from error


def _fetch_foods(connection: Connection, table: str, codes: Sequence[str]) -> Iterator[Food]:
    rows = connection.execute(_SELECT_FOODS, {"table_code": table, "codes": codes}).all()
    food_ids = {"food_ids": [row.food_id for row in rows]}
    compositions: Mapping[int, dict[str, Value]] = defaultdict(dict)
    for food_id, key, amount, status in connection.execute(_SELECT_VALUES, food_ids):
        compositions[food_id][key] = Value(amount, _STATUS[status])
    measures: Mapping[int, list[HouseholdMeasure]] = defaultdict(list)
    for food_id, amount, description, mass_g in connection.execute(_SELECT_MEASURES, food_ids):
        measures[food_id].append(HouseholdMeasure(amount, description, mass_g))
    for row in rows:
        yield with_derived_values(
            Food(
                table=table,
                edition=row.edition,
                code=row.code,
                description=row.description,
                group=row.group_code,
                composition=compositions[row.food_id],
                measures=tuple(measures[row.food_id]),
                names=_names(row.names),
                scientific_name=row.scientific_name,
                refuse_percent=row.refuse_percent,
                refuse_description=row.refuse_description,
                # Printed 0 where protein is 0 or was summed over a recipe: no factor that could convert protein.
                nitrogen_factor=row.nitrogen_factor or None,
                energy_factors=EnergyFactors(
                    protein=row.protein_kcal_per_g, fat=row.fat_kcal_per_g, carbohydrate=row.carbohydrate_kcal_per_g
                ),
            )
        )


def _names(text: str) -> tuple[str, ...]:
    return tuple(text.split(NAME_SEPARATOR)) if text else ()


def _header(row: Sequence[object]) -> FoodHeader:
    table, code, description, names, group, refuse_percent, manufacturer = row
    return FoodHeader(
        str(table),
        str(code),
        str(description),
        _names(str(names)),
        str(group),
        float(refuse_percent) if isinstance(refuse_percent, (int, float)) else None,
        str(manufacturer),
    )
