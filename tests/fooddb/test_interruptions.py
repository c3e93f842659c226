"""Kills, races and full disks: afterwards there is a whole database or none, never half of one."""

import errno
import os
import shutil
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from mealcalc.errors import FoodDatabaseError
from mealcalc.fooddb import FoodDatabase, open_database
from mealcalc.fooddb.atomic_file import STALE_AFTER_S, write_whole

ROOT = Path(__file__).parent.parent.parent

OPEN = "from mealcalc.fooddb import open_database; print(open_database().food('sr28', '11282').description)"


def start(folder: Path, program: str = OPEN) -> "subprocess.Popen[str]":
    environment = {**os.environ, "MEALCALC_DATA_DIR": str(folder), "PYTHONPATH": str(ROOT)}
    return subprocess.Popen(
        [sys.executable, "-c", program],
        env=environment,
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    )


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def unfinished(folder: Path) -> list[Path]:
    return list(folder.glob(".foods.sqlite.*.building"))


def assert_whole(path: Path) -> None:
    connection = sqlite3.connect(path)
    try:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("SELECT count(*) FROM food").fetchone() == (8789,)
        assert connection.execute("SELECT count(*) FROM measure").fetchone() == (15438,)
    finally:
        connection.close()


def test_two_processes_at_once(tmp_path: Path) -> None:
    processes = [start(tmp_path) for _ in range(2)]
    for process in processes:
        output, errors = process.communicate()
        assert (process.returncode, output.strip(), errors) == (0, "Onions, raw", "")
    assert names(tmp_path) == ["foods.sqlite"]
    assert_whole(tmp_path / "foods.sqlite")


@pytest.mark.parametrize("written_bytes", [0, 4_000_000])
def test_a_kill_in_the_middle(tmp_path: Path, written_bytes: int) -> None:
    process = start(tmp_path)
    while process.poll() is None:
        if any(path.stat().st_size >= written_bytes for path in unfinished(tmp_path) if path.exists()):
            break
    process.kill()
    process.communicate()
    if (tmp_path / "foods.sqlite").exists():
        assert_whole(tmp_path / "foods.sqlite")
    long_ago = time.time() - STALE_AFTER_S - 60
    for path in unfinished(tmp_path):
        os.utime(path, (long_ago, long_ago))
    with open_database(tmp_path / "foods.sqlite") as database:
        assert database.food("sr28", "11282") is not None
    assert names(tmp_path) == ["foods.sqlite"]
    assert_whole(tmp_path / "foods.sqlite")


def test_a_disk_that_fills_up_while_sqlite_writes(tmp_path: Path) -> None:
    pytest.importorskip("resource", reason="this system has no limit on the size of files")
    program = (
        "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (1_000_000, 1_000_000))\n"
        "from mealcalc.errors import FoodDatabaseError\n"
        "from mealcalc.fooddb import open_database\n"
        "try:\n    open_database()\n"
        "except FoodDatabaseError as error:\n    print(error.message); print(error.hint)\n"
    )
    process = start(tmp_path, program)
    output, errors = process.communicate()
    assert (process.returncode, errors) == (0, "")
    assert output.startswith(f"the food table cannot be built in {tmp_path}: ")
    assert "it needs about 10 MB" in output
    assert names(tmp_path) == []


@pytest.mark.usefixtures("quick_build")
@pytest.mark.parametrize("function", ["os.fsync", "pathlib.Path.replace"])
@pytest.mark.parametrize("before", [None, b""])
def test_a_disk_that_is_full_at_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, function: str, before: bytes | None
) -> None:
    path = tmp_path / "foods.sqlite"
    if before is not None:
        path.write_bytes(before)

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(function, full)
    with pytest.raises(FoodDatabaseError, match="cannot be built in") as caught:
        open_database(path)
    assert "free some space" in caught.value.hint
    assert names(tmp_path) == ([] if before is None else ["foods.sqlite"])
    assert before is None or path.read_bytes() == before


def test_an_interrupted_writer_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_text("old", encoding="utf-8")

    def half(temporary: Path) -> None:
        temporary.write_text("ne", encoding="utf-8")
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_whole(path, half)
    assert path.read_text(encoding="utf-8") == "old"
    assert names(tmp_path) == ["file"]


@pytest.mark.skipif(os.name == "nt", reason="this system does not replace open files")
def test_a_reader_keeps_the_file_it_has_opened(tmp_path: Path, database: FoodDatabase) -> None:
    path = tmp_path / "foods.sqlite"
    shutil.copyfile(database.place, path)
    with open_database(path) as reader:
        assert reader.food("sr28", "11282") is not None
        path.unlink()
        path.write_bytes(b"something else")
        assert reader.food("sr28", "11124") is not None


def test_an_import_that_was_killed_is_undone(tmp_path: Path, database: FoodDatabase) -> None:
    path = tmp_path / "foods.sqlite"
    shutil.copyfile(database.place, path)
    program = (
        "import os, sqlite3\n"
        f"c = sqlite3.connect({str(path)!r}, isolation_level=None)\n"
        "c.execute('PRAGMA cache_size = 10'); c.execute('BEGIN')\n"
        "c.execute(\"UPDATE food SET description = 'spoilt ' || description\")\n"
        "c.execute('PRAGMA application_id = 1')\n"
        "c.execute('CREATE TABLE more AS SELECT * FROM food_value')\n"
        "os._exit(9)\n"
    )
    process = start(tmp_path, program)
    process.communicate()
    assert process.returncode == 9
    assert names(tmp_path) == ["foods.sqlite", "foods.sqlite-journal"]
    with open_database(path) as reader:
        food = reader.food("sr28", "11282")
    assert food is not None
    assert food.description == "Onions, raw"
    assert_whole(path)
