"""Writing tables: one edition, one transaction, search index and vocabulary always complete."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine

from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb import FoodDatabase, engine_for_import, open_database
from mealcalc.fooddb.schema import APPLICATION_ID_IMPORTED
from mealcalc.fooddb.writer import EditionRow, FoodRow, MeasureRow, words_of, write_edition
from mealcalc.values import ValueStatus

EDITION = EditionRow(
    table="village",
    edition="first, 2020",
    title="Foods of an invented village",
    publisher="the village",
    licence="free",
    origin="made up for this test",
    sha256="0" * 64,
)
GROUPS = [("V1", "Roots")]
ROOT = FoodRow(
    code="007",
    group_code="V1",
    description="Glimmerroot, raw",
    names=("Sparkle turnip", "Old man's root"),
    scientific_name="Radix inventa",
    values=[
        ("FAT_G", 0.2, ValueStatus.ANALYSED),
        ("CHOCDF_G", 8.0, ValueStatus.CALCULATED),
        ("FIBTG_G", 0.0, ValueStatus.TRACE),
        ("NA_MG", 0.0, ValueStatus.BELOW_LIMIT),
        ("PROCNT_G", 1.5, ValueStatus.BORROWED),
    ],
    measures=[MeasureRow(2.0, "slices", 30.0, data_points=5, standard_deviation_g=1.5)],
    refuse_percent=12.0,
    refuse_description="Peel",
    nitrogen_factor=6.25,
    protein_kcal_per_g=2.78,
)
LEAF = FoodRow(
    code="008",
    group_code="V1",
    description="Glimmerroot leaves, boiled",
    values=[("FAT_G", 0.1, ValueStatus.PUBLISHED)],
)


@pytest.fixture(name="path")
def path_fixture(tmp_path: Path, database: FoodDatabase) -> Path:
    path = tmp_path / "foods.sqlite"
    shutil.copyfile(database.place, path)
    return path


@pytest.fixture(name="engine")
def engine_fixture(path: Path) -> Iterator[Engine]:
    engine = engine_for_import(path)
    yield engine
    engine.dispose()


def test_all_that_is_written_comes_back(path: Path, engine: Engine) -> None:
    assert write_edition(engine, EDITION, GROUPS, [ROOT, LEAF]) == 2
    with open_database(path) as database:
        assert [edition.table for edition in database.editions()] == ["sr28", "village"]
        edition = database.editions()[1]
        assert (edition.edition, edition.food_count, edition.sha256) == ("first, 2020", 2, "0" * 64)
        assert database.groups("village") == {"V1": "Roots"}
        food = database.food("village", "007")
    assert food is not None
    assert (food.table, food.edition, food.code, food.group) == ("village", "first, 2020", "007", "V1")
    assert (food.description, food.names) == ("Glimmerroot, raw", ("Sparkle turnip", "Old man's root"))
    assert (food.scientific_name, food.refuse_percent, food.refuse_description) == ("Radix inventa", 12.0, "Peel")
    assert (food.nitrogen_factor, food.energy_factors.protein, food.energy_factors.fat) == (6.25, 2.78, None)
    assert [(m.amount, m.description, m.mass_g) for m in food.measures] == [(2.0, "slices", 30.0)]
    stored = {key: (value.amount, value.status) for key, value in food.composition.items()}
    assert stored == {
        **{key: (amount, status) for key, amount, status in ROOT.values},
        "CHOAVLDF_G": (8.0, ValueStatus.CALCULATED),
    }


def test_search_finds_all_tables_or_one(path: Path, engine: Engine) -> None:
    write_edition(engine, EDITION, GROUPS, [ROOT, LEAF])
    with open_database(path) as database:
        assert [h.code for h in database.search("sparkle turnips")] == ["007"]
        assert [h.code for h in database.search("glimmerroot lea")] == ["008"]
        assert {h.table for h in database.search("raw turnip")} == {"village", "sr28"}
        assert {h.table for h in database.search("raw turnip", table="sr28")} == {"sr28"}
        assert {h.table for h in database.search("raw turnip", table="village")} == {"village"}
        assert database.search("raw turnip", table="nowhere") == []
        assert {"glimmerroot", "sparkle", "onions"} <= database.vocabulary()


def test_a_new_edition_takes_the_place_of_the_old_one(path: Path, engine: Engine) -> None:
    write_edition(engine, EDITION, GROUPS, [ROOT, LEAF])
    second = replace(EDITION, edition="second, 2021")
    assert write_edition(engine, second, GROUPS, [replace(ROOT, description="Glowroot, raw", names=())]) == 1
    with open_database(path) as database:
        assert [edition.edition for edition in database.editions()][1:] == ["second, 2021"]
        assert database.food("village", "008") is None
        assert database.search("sparkle turnip", table="village") == []
        assert [h.code for h in database.search("glowroot")] == ["007"]
        assert "glimmerroot" not in database.vocabulary()
        assert database.food("sr28", "11282") is not None
    with engine.connect() as connection:
        # FTS5 compares its index with the text of the table, and fails if they differ.
        connection.exec_driver_sql("INSERT INTO food_search (food_search, rank) VALUES ('integrity-check', 1)")
        counts = {
            table: connection.exec_driver_sql(f"SELECT count(*) FROM {table}").scalar_one()
            for table in ("food", "measure", "food_value")
        }
    assert counts == {"food": 8790, "measure": 15439, "food_value": 339847 + len(ROOT.values)}


@pytest.mark.parametrize(
    ("foods", "words"),
    [
        ([ROOT, LEAF, ROOT], "table village has two foods 007"),
        ([ROOT, replace(LEAF, values=[("FAT_KG", 1.0, ValueStatus.PUBLISHED)])], "no value can be stored for 'FAT_KG'"),
        ([replace(ROOT, values=[("FAT_G", 0.0, ValueStatus.MISSING)])], "no value can be stored for"),
    ],
)
def test_all_or_nothing(path: Path, engine: Engine, foods: list[FoodRow], words: str) -> None:
    write_edition(engine, EDITION, GROUPS, [LEAF])
    with pytest.raises(FoodDatabaseError, match=words):
        write_edition(engine, replace(EDITION, edition="second"), GROUPS, foods)
    with open_database(path) as database:
        assert [(e.edition, e.food_count) for e in database.editions()][1:] == [("first, 2020", 1)]
        assert [h.code for h in database.search("glimmerroot")] == ["008"]


def test_an_amount_below_zero_is_refused(path: Path, engine: Engine) -> None:
    with pytest.raises(FoodDatabaseError, match="table village cannot be written"):
        write_edition(engine, EDITION, GROUPS, [replace(ROOT, values=[("FAT_G", -0.1, ValueStatus.PUBLISHED)])])
    with open_database(path) as database:
        assert len(database.editions()) == 1


def test_an_import_marks_the_file_as_never_to_be_replaced(path: Path, engine: Engine) -> None:
    write_edition(engine, EDITION, GROUPS, [ROOT])
    assert int.from_bytes(path.read_bytes()[68:72], "big") == APPLICATION_ID_IMPORTED


def test_words_of_the_vocabulary() -> None:
    assert words_of("Crème, 2% fat (baker's)") == {"crème", "fat", "baker", "s"}
