"""Files that appear whole or not at all.

The content is written to a temporary file of the same folder, flushed to the disk and renamed to its name, which every
system does at once. A kill, a full disk or a power cut leaves the old file or none, and a temporary file that a later
run removes. Two writers do not wait for each other: the last one stands, and a reader keeps the file that it has
opened. That is right here because all writers of one name write the same content.
"""

import os
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

STALE_AFTER_S = 600.0
"""A temporary file untouched for so long, in seconds, belongs to no writer that still runs; one takes a few seconds."""

_SUFFIX = ".building"


def write_whole(path: Path, write: Callable[[Path], None]) -> None:
    """Put a file at `path`, written by `write`, which is given the path of an empty file to fill.

    Raises
    ------
    OSError
        If the folder cannot be made or written to, or the disk is full; `path` is then as it was.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    temporary = path.with_name(f".{path.name}.{os.getpid()}-{os.urandom(4).hex()}{_SUFFIX}")
    # Made here, not by the library that fills it, so that a folder that refuses says why.
    os.close(os.open(temporary, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o666))
    try:
        write(temporary)
        _flush(temporary)
        temporary.replace(path)
        _flush_folder(path.parent)
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)


def remove_leftovers(path: Path) -> None:
    """Remove the temporary files that killed writers of `path` left behind; what cannot be removed stays."""
    oldest = time.time() - STALE_AFTER_S
    with suppress(OSError), os.scandir(path.parent) as entries:
        for entry in entries:
            if not (entry.name.startswith(f".{path.name}.") and entry.name.endswith(_SUFFIX)):
                continue
            with suppress(OSError):
                if entry.stat(follow_symlinks=False).st_mtime < oldest:
                    Path(entry.path).unlink()


def _flush(path: Path) -> None:
    with path.open("rb+") as stream:
        os.fsync(stream.fileno())


def _flush_folder(folder: Path) -> None:
    """Make the renaming itself outlast a power cut; not every system lets a folder be flushed."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
