"""Opens the food database, building the bundled one on first use.

What is at the path is judged by the first hundred bytes of the file and a handful of rows: enough to tell a whole
database from a truncated, foreign or outdated one without reading it all.
"""

import errno
import os
import stat
from collections.abc import Callable
from enum import Enum
from pathlib import Path

from sqlalchemy import Engine, select
from sqlalchemy.exc import DBAPIError, OperationalError

from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb.atomic_file import remove_leftovers
from mealcalc.fooddb.engines import read_only_engine, writing_engine
from mealcalc.fooddb.repository import FoodDatabase
from mealcalc.fooddb.schema import (
    APPLICATION_ID_BUNDLED,
    APPLICATION_ID_IMPORTED,
    SCHEMA_VERSION,
    database_metadata,
    edition,
)
from mealcalc.fooddb.shipped import BUNDLE_SHA256, BUNDLED_TABLE

DATA_FOLDER_VARIABLE = "MEALCALC_DATA_DIR"
DATABASE_FILE = "foods.sqlite"

_HEADER_BYTES = 100
_MAGIC = b"SQLite format 3\0"

Progress = Callable[[str], None]


class _State(Enum):
    """What is at the path of the database."""

    ABSENT = "nothing, or an empty file"
    WHOLE = "a database that can be used"
    REBUILDABLE = "the bundled table alone, damaged or of another version"
    IMPORTED = "imported tables, damaged or of another version"
    FOREIGN = "no food database"
    UNREADABLE = "a file that may not be read"


def default_database_path() -> Path:
    """Where the food database is: in the folder MEALCALC_DATA_DIR if that is set, else in the user's data folder.

    Raises
    ------
    FoodDatabaseError
        If MEALCALC_DATA_DIR names the home of an unknown user.
    """
    folder = os.environ.get(DATA_FOLDER_VARIABLE)
    if folder:
        try:
            return Path(folder).expanduser() / DATABASE_FILE
        except RuntimeError as error:
            raise FoodDatabaseError(f"{DATA_FOLDER_VARIABLE} is '{folder}': {error}", "give a full path") from error
    from platformdirs import user_data_path

    return user_data_path("mealcalc", appauthor=False) / DATABASE_FILE


def open_database(path: Path | None = None, *, progress: Progress | None = None) -> FoodDatabase:
    """Open the food database for reading; build it from the shipped table first if it is not there.

    Parameters
    ----------
    path : Path, optional
        Of the database; the default is `default_database_path()`.
    progress : callable, optional
        Is told in a sentence what takes a moment or went otherwise than wanted (a first build, a data folder that
        cannot be written).

    Returns
    -------
    FoodDatabase
        If the folder cannot be written and holds no usable database, one in a temporary folder.

    Raises
    ------
    FoodDatabaseError
        If the file is none of ours, or holds imported tables and is damaged or of another version, or the disk is full.
    """
    target = default_database_path() if path is None else path
    say: Progress = progress or (lambda _: None)
    remove_leftovers(target)
    state = _examine(target)
    if state is _State.WHOLE:
        return _opened(target)
    if state is _State.FOREIGN:
        raise FoodDatabaseError(
            f"{target} is no food database of mealcalc",
            f"move it away, or set {DATA_FOLDER_VARIABLE} to another folder",
        )
    if state is _State.IMPORTED:
        raise FoodDatabaseError(
            f"{target} is damaged or was written by another version of mealcalc",
            "move it away and import your tables again; the shipped table is built anew by itself",
        )
    try:
        if state is _State.UNREADABLE:
            raise PermissionError(errno.EACCES, "the file there may not be read")
        _build(target, say)
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
            raise _cannot_build(target, error) from error
        return _open_elsewhere(target, error, say)
    return _opened(target)


def engine_for_import(path: Path | None = None, *, progress: Progress | None = None) -> Engine:
    """A writing engine on the food database, for `writer.write_edition`; the database is built first if need be.

    Parameters
    ----------
    path, progress
        As for `open_database`.

    Raises
    ------
    FoodDatabaseError
        As `open_database`, and if the data folder cannot be written.
    """
    target = default_database_path() if path is None else path
    with open_database(target, progress=progress) as database:
        if database.place != str(target) or not os.access(target, os.W_OK):
            raise FoodDatabaseError(
                f"tables cannot be imported: {target} cannot be written",
                f"set {DATA_FOLDER_VARIABLE} to a folder of your own",
            )
    return writing_engine(target)


def _examine(path: Path) -> _State:
    state = _look_at(path)
    if state in (_State.REBUILDABLE, _State.IMPORTED):
        # A running import leaves the file unfinished for a moment, an interrupted one until it is undone.
        _settle(path)
        state = _look_at(path)
    return state


def _settle(path: Path) -> None:
    """Wait for a process that writes to the file, and let SQLite undo what an interrupted one left."""
    engine = writing_engine(path)
    try:
        with engine.connect() as connection:
            connection.exec_driver_sql("BEGIN IMMEDIATE")
    except OperationalError as error:
        if "locked" in str(error.orig):
            raise FoodDatabaseError(
                f"another program is writing to {path}", "wait until its import has ended, then try again"
            ) from error
    except DBAPIError:
        pass  # damaged, as the second look will find
    finally:
        engine.dispose()


def _look_at(path: Path) -> _State:
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            return _State.FOREIGN  # a folder, or a pipe that would never answer
        with path.open("rb") as stream:
            header = stream.read(_HEADER_BYTES)
    except (FileNotFoundError, NotADirectoryError):
        return _State.ABSENT
    except OSError:
        return _State.UNREADABLE
    size = about.st_size
    if size == 0:
        return _State.ABSENT
    if len(header) < _HEADER_BYTES or not header.startswith(_MAGIC):
        return _State.FOREIGN
    application_id = int.from_bytes(header[68:72], "big")
    if application_id not in (APPLICATION_ID_BUNDLED, APPLICATION_ID_IMPORTED):
        return _State.FOREIGN
    broken = _State.REBUILDABLE if application_id == APPLICATION_ID_BUNDLED else _State.IMPORTED
    # Page size (1 stands for 65536) times pages is the length of a whole file (SQLite database file format, 1.3).
    page_bytes = int.from_bytes(header[16:18], "big")
    pages = int.from_bytes(header[28:32], "big")
    if (65536 if page_bytes == 1 else page_bytes) * pages != size:
        return broken
    return _State.WHOLE if _is_current(path) else broken


def _is_current(path: Path) -> bool:
    """Whether schema version, bundled table and number of foods are those that this version of mealcalc expects."""
    engine = read_only_engine(path, immutable=not os.access(path.parent, os.W_OK))
    try:
        with engine.connect() as connection:
            rows = connection.execute(select(database_metadata.c.name, database_metadata.c.value))
            properties = {row.name: row.value for row in rows}
            foods = connection.scalar(select(edition.c.food_count).where(edition.c.table_code == BUNDLED_TABLE))
    except DBAPIError:
        return False
    finally:
        engine.dispose()
    expected = {"schema_version": str(SCHEMA_VERSION), "bundle_sha256": BUNDLE_SHA256}
    return properties == expected and bool(foods)


def _opened(path: Path) -> FoodDatabase:
    return FoodDatabase(read_only_engine(path, immutable=not os.access(path.parent, os.W_OK)), str(path))


def _build(path: Path, say: Progress) -> None:
    from mealcalc.fooddb.bundled import build_bundled_database

    try:
        build_bundled_database(path, say)
    except DBAPIError as error:
        raise _cannot_build(path, error.orig) from error
    except PermissionError:
        # Some systems do not let a file be replaced while another process has it open: that one has just been built.
        if _examine(path) is not _State.WHOLE:
            raise


def _open_elsewhere(target: Path, error: OSError, say: Progress) -> FoodDatabase:
    """Build in a temporary folder, or open what an earlier run has built there."""
    import tempfile

    reason = error.strerror or str(error)
    try:
        folder = _private_folder(Path(tempfile.gettempdir()))
        path = folder / DATABASE_FILE
        say(f"the data folder {target.parent} cannot be used ({reason}); the food table is kept in {folder} for now")
        if _examine(path) is not _State.WHOLE:
            _build(path, say)
    except OSError as second:
        raise _cannot_build(target, f"{reason}; nor in a temporary folder: {second.strerror or second}") from second
    return _opened(path)


def _private_folder(parent: Path) -> Path:
    """A folder under `parent` that belongs to this user alone, the same at every run where that is possible."""
    import tempfile

    user = os.getuid() if hasattr(os, "getuid") else 0
    folder = parent / f"mealcalc-{user}"
    folder.mkdir(mode=0o700, exist_ok=True)
    about = folder.lstat()
    # A folder that somebody else has put there could hold anything.
    if stat.S_ISDIR(about.st_mode) and (os.name == "nt" or (about.st_uid == user and not about.st_mode & 0o022)):
        return folder
    return Path(tempfile.mkdtemp(prefix="mealcalc-", dir=parent))


def _cannot_build(path: Path, reason: object) -> FoodDatabaseError:
    return FoodDatabaseError(
        f"the food table cannot be built in {path.parent}: {reason}",
        f"it needs about 10 MB: free some space, or set {DATA_FOLDER_VARIABLE} to a folder on another disk",
    )
