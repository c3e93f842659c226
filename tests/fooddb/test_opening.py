"""Opening the food database: first use, what is found at the path, and the ways out."""

import errno
import os
import sqlite3
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb import FoodDatabase, default_database_path, engine_for_import, engines, open_database
from mealcalc.fooddb.atomic_file import STALE_AFTER_S
from mealcalc.fooddb.schema import APPLICATION_ID_IMPORTED, SCHEMA_VERSION

FOODS = 8789


def is_whole(path: Path) -> bool:
    with sqlite3.connect(path) as connection:
        checked = connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        count = connection.execute("SELECT count(*) FROM food").fetchone()[0]
    connection.close()
    return bool(checked and count == FOODS)


def execute(path: Path, statement: str) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute(statement)
    connection.close()


# --- where it is ------------------------------------------------------------------------------------------------------


def test_the_variable_names_the_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("MEALCALC_DATA_DIR", str(tmp_path))
    assert default_database_path() == tmp_path / "foods.sqlite"


@pytest.mark.parametrize("value", [None, ""])
def test_without_the_variable_it_is_the_users_data_folder(monkeypatch: pytest.MonkeyPatch, value: str | None) -> None:
    if value is None:
        monkeypatch.delenv("MEALCALC_DATA_DIR")
    else:
        monkeypatch.setenv("MEALCALC_DATA_DIR", value)
    path = default_database_path()
    assert path.is_absolute()
    assert path.name == "foods.sqlite"
    assert path.parent.name == "mealcalc"


def test_a_home_that_is_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MEALCALC_DATA_DIR", "~no-such-user-anywhere/data")
    with pytest.raises(FoodDatabaseError, match="MEALCALC_DATA_DIR is '~no-such-user-anywhere/data'"):
        default_database_path()


# --- first use --------------------------------------------------------------------------------------------------------


def test_first_use_builds_and_the_second_only_opens(tmp_path: Path) -> None:
    path = tmp_path / "new folder" / "it's 100% mine?" / "foods.sqlite"
    said: list[str] = []
    with open_database(path, progress=said.append) as database:
        assert [edition.food_count for edition in database.editions()] == [FOODS]
    assert said == [f"preparing the food table in {path.parent} (once, a few seconds)"]
    assert [entry.name for entry in path.parent.iterdir()] == ["foods.sqlite"]
    assert is_whole(path)
    before = path.stat()
    with open_database(path, progress=said.append) as database:
        assert database.food("sr28", "11282") is not None
    assert len(said) == 1
    assert (path.stat().st_mtime_ns, path.stat().st_ino) == (before.st_mtime_ns, before.st_ino)


def test_what_the_edition_says(database: FoodDatabase) -> None:
    (edition,) = database.editions()
    assert (edition.table, edition.edition) == ("sr28", "SR28, September 2015, revised May 2016")
    assert "public domain" in edition.licence
    assert "Nutrient Data Laboratory" in edition.publisher


# --- what may be found at the path ------------------------------------------------------------------------------------


def empty(path: Path) -> None:
    path.write_bytes(b"")


def truncate(path: Path) -> None:
    os.truncate(path, path.stat().st_size // 2)


def lengthen(path: Path) -> None:
    with path.open("ab") as stream:
        stream.write(b"\0" * 512)


def scribble_over_the_schema(path: Path) -> None:
    with path.open("rb+") as stream:
        stream.seek(100)
        stream.write(b"\xff" * 3000)


def older_schema(path: Path) -> None:
    execute(path, f"UPDATE metadata SET value = '{SCHEMA_VERSION - 1}' WHERE name = 'schema_version'")


def another_bundle(path: Path) -> None:
    execute(path, "UPDATE metadata SET value = 'other' WHERE name = 'bundle_sha256'")


def without_the_bundled_edition(path: Path) -> None:
    execute(path, "DELETE FROM edition")


def without_metadata(path: Path) -> None:
    execute(path, "DROP TABLE metadata")


DAMAGES = [truncate, lengthen, scribble_over_the_schema, older_schema, another_bundle, without_the_bundled_edition]
DAMAGES += [without_metadata]


@pytest.mark.usefixtures("quick_build")
@pytest.mark.parametrize("damage", [empty, *DAMAGES])
def test_the_bundled_table_alone_is_built_anew(whole: Path, damage: Callable[[Path], None]) -> None:
    damage(whole)
    said: list[str] = []
    with open_database(whole, progress=said.append) as database:
        assert database.food("sr28", "11282") is not None
    assert len(said) == 1
    assert is_whole(whole)


@pytest.mark.parametrize("damage", DAMAGES)
def test_imported_tables_are_never_replaced(whole: Path, damage: Callable[[Path], None]) -> None:
    execute(whole, f"PRAGMA application_id = {APPLICATION_ID_IMPORTED}")
    damage(whole)
    before = whole.read_bytes()
    with pytest.raises(FoodDatabaseError, match="is damaged or was written by another version") as caught:
        open_database(whole)
    assert "import your tables again" in caught.value.hint
    assert whole.read_bytes() == before


def foreign_database(path: Path) -> None:
    path.unlink()
    execute(path, "CREATE TABLE recipes (name TEXT)")


def no_database(path: Path) -> None:
    path.write_text("chopped onions, 200 g\n" * 10, encoding="utf-8")


def short_text(path: Path) -> None:
    path.write_text("x", encoding="utf-8")


def folder_in_its_place(path: Path) -> None:
    path.unlink()
    path.mkdir()


def pipe_in_its_place(path: Path) -> None:
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no named pipes")
    path.unlink()
    os.mkfifo(path)


@pytest.mark.parametrize("put", [foreign_database, no_database, short_text, folder_in_its_place, pipe_in_its_place])
def test_what_is_not_ours_stays(whole: Path, put: Callable[[Path], None]) -> None:
    put(whole)
    before = whole.lstat()
    with pytest.raises(FoodDatabaseError, match="is no food database of mealcalc") as caught:
        open_database(whole)
    assert str(whole) in caught.value.message
    assert "MEALCALC_DATA_DIR" in caught.value.hint
    assert (whole.lstat().st_ino, whole.lstat().st_size) == (before.st_ino, before.st_size)


def test_damage_that_shows_only_on_reading_has_a_way_out(whole: Path) -> None:
    with sqlite3.connect(whole) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'food_value'").fetchone()
        (page_bytes,) = connection.execute("PRAGMA page_size").fetchone()
    connection.close()
    with whole.open("rb+") as stream:
        stream.seek((page - 1) * page_bytes)
        stream.write(b"\xff" * page_bytes)
    with open_database(whole) as database, pytest.raises(FoodDatabaseError, match="cannot be read") as caught:
        database.food("sr28", "11282")
    assert "move the file away" in caught.value.hint


# --- folders that cannot be used --------------------------------------------------------------------------------------


@pytest.fixture(name="temporary")
def temporary_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "tmp"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


@pytest.mark.usefixtures("quick_build")
def test_a_file_in_place_of_the_folder(tmp_path: Path, temporary: Path) -> None:
    (tmp_path / "data").write_text("in the way", encoding="utf-8")
    said: list[str] = []
    for _ in range(2):
        with open_database(tmp_path / "data" / "foods.sqlite", progress=said.append) as database:
            assert database.food("sr28", "11282") is not None
            assert Path(database.place).is_relative_to(temporary)
    assert (tmp_path / "data").read_text(encoding="utf-8") == "in the way"
    # The second run says where it is again, but finds the database built.
    assert [message.split(" ")[0] for message in said] == ["the", "preparing", "the"]
    assert f"the data folder {tmp_path / 'data'} cannot be used (" in said[0]
    (folder,) = temporary.iterdir()
    if os.name != "nt":
        assert folder.stat().st_mode & 0o077 == 0


def refuse_new_files(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    """Let `folder` behave as one that may not be written, which the superuser never meets."""
    really_open, really_access = os.open, os.access

    def refusing_open(path: Path, flags: int, mode: int = 0o777) -> int:
        if Path(path).parent == folder and flags & os.O_CREAT:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))
        return really_open(path, flags, mode)

    def refusing_access(path: Path, mode: int) -> bool:
        return really_access(path, mode) and not (mode & os.W_OK and folder in (Path(path), Path(path).parent))

    monkeypatch.setattr(os, "open", refusing_open)
    monkeypatch.setattr(os, "access", refusing_access)


def test_a_read_only_folder_with_a_database(whole: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    refuse_new_files(monkeypatch, whole.parent)
    said: list[str] = []
    with open_database(whole, progress=said.append) as database:
        assert database.place == str(whole)
        assert database.food("sr28", "11282") is not None
    assert said == []
    assert [entry.name for entry in whole.parent.iterdir()] == ["foods.sqlite"]


@pytest.mark.usefixtures("quick_build")
def test_a_read_only_folder_without_one(tmp_path: Path, temporary: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    refuse_new_files(monkeypatch, tmp_path)
    said: list[str] = []
    with open_database(tmp_path / "foods.sqlite", progress=said.append) as database:
        assert Path(database.place).is_relative_to(temporary)
        assert database.food("sr28", "11282") is not None
    assert f"the data folder {tmp_path} cannot be used (" in said[0]


@pytest.mark.usefixtures("quick_build")
def test_a_folder_that_really_is_read_only(whole: Path, temporary: Path) -> None:
    whole.parent.chmod(0o500)
    try:
        if os.access(whole.parent, os.W_OK):
            pytest.skip("this user may write everywhere")
        with open_database(whole) as database:
            assert database.place == str(whole)
        missing = whole.parent / "other.sqlite"
        with open_database(missing) as database:
            assert Path(database.place).is_relative_to(temporary)
    finally:
        whole.parent.chmod(0o700)


@pytest.mark.usefixtures("quick_build")
def test_a_temporary_folder_that_somebody_else_has_prepared(tmp_path: Path, temporary: Path) -> None:
    if not hasattr(os, "getuid"):
        pytest.skip("this system has no user numbers")
    (tmp_path / "data").write_text("in the way", encoding="utf-8")
    trap = temporary / f"mealcalc-{os.getuid()}"
    trap.mkdir()
    trap.chmod(0o777)
    with open_database(tmp_path / "data" / "foods.sqlite") as database:
        assert Path(database.place).is_relative_to(temporary)
        assert not Path(database.place).is_relative_to(trap)


@pytest.mark.usefixtures("quick_build")
def test_nowhere_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "data").write_text("in the way", encoding="utf-8")
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "data"))
    with pytest.raises(FoodDatabaseError, match="nor in a temporary folder") as caught:
        open_database(tmp_path / "data" / "foods.sqlite")
    assert "MEALCALC_DATA_DIR" in caught.value.hint


# --- what killed builds leave behind ----------------------------------------------------------------------------------


def test_leftovers_go_once_they_are_old(whole: Path) -> None:
    old = whole.parent / ".foods.sqlite.1-00000000.building"
    new = whole.parent / ".foods.sqlite.2-00000000.building"
    other = whole.parent / ".other.sqlite.3-00000000.building"
    for path in (old, new, other):
        path.write_bytes(b"half a database")
    long_ago = time.time() - STALE_AFTER_S - 60
    os.utime(old, (long_ago, long_ago))
    os.utime(other, (long_ago, long_ago))
    open_database(whole).close()
    assert not old.exists()
    assert new.exists()
    assert other.exists()


# --- while others write -----------------------------------------------------------------------------------------------


def test_reading_while_an_import_prepares(whole: Path) -> None:
    writer = sqlite3.connect(whole, isolation_level=None)
    writer.execute("BEGIN IMMEDIATE")
    writer.execute("DELETE FROM vocabulary")
    with open_database(whole) as database:
        assert database.food("sr28", "11282") is not None
        assert "onions" in database.vocabulary()
    writer.execute("ROLLBACK")
    writer.close()


def test_a_file_that_stays_locked_is_not_taken_for_a_damaged_one(whole: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engines, "SECONDS_TO_WAIT_FOR_LOCK", 0.05)
    before = whole.stat().st_ino
    writer = sqlite3.connect(whole, isolation_level=None)
    writer.execute("BEGIN EXCLUSIVE")
    with pytest.raises(FoodDatabaseError, match="another program is writing to") as caught:
        open_database(whole)
    assert caught.value.hint == "wait until its import has ended, then try again"
    writer.execute("ROLLBACK")
    writer.close()
    open_database(whole).close()
    assert whole.stat().st_ino == before


# --- for imports ------------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("quick_build")
def test_an_engine_for_import_builds_first(tmp_path: Path) -> None:
    path = tmp_path / "foods.sqlite"
    engine = engine_for_import(path)
    engine.dispose()
    assert is_whole(path)


def test_no_engine_for_import_on_a_read_only_folder(whole: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    refuse_new_files(monkeypatch, whole.parent)
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(FoodDatabaseError, match="tables cannot be imported"):
        engine_for_import(whole)
