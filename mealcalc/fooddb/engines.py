"""Connections to an SQLite file: one kind that can only read, one that builds or imports."""

import sqlite3
from pathlib import Path

from sqlalchemy import Engine, QueuePool, create_engine

SECONDS_TO_WAIT_FOR_LOCK = 10.0
"""How long a connection waits, in seconds, for another process that writes to the file."""


def read_only_engine(path: Path, *, immutable: bool = False) -> Engine:
    """An engine that never writes to the file, nor beside it.

    Parameters
    ----------
    path : Path
        Of an existing database.
    immutable : bool
        True where the medium or folder is read-only: SQLite then takes no locks. Never for a file that may change.
    """
    # The path goes through as_uri so that blanks, '?' and '%' in it cannot end the file part of the URI.
    uri = f"{path.absolute().as_uri()}?mode=ro{'&immutable=1' if immutable else ''}"

    def connect() -> sqlite3.Connection:
        return sqlite3.connect(uri, uri=True, timeout=SECONDS_TO_WAIT_FOR_LOCK, check_same_thread=False)

    return create_engine("sqlite://", creator=connect, poolclass=QueuePool)


def writing_engine(path: Path, *, scratch: bool = False) -> Engine:
    """An engine for building or importing; it creates the file if it is not there.

    Parameters
    ----------
    path : Path
        Of the database.
    scratch : bool
        True for a file that is thrown away on any failure: it needs no journal and no sync.
    """

    def connect() -> sqlite3.Connection:
        connection = sqlite3.connect(path, timeout=SECONDS_TO_WAIT_FOR_LOCK, check_same_thread=False)
        if scratch:
            connection.execute("PRAGMA journal_mode = OFF")
            connection.execute("PRAGMA synchronous = OFF")
        return connection

    return create_engine("sqlite://", creator=connect, poolclass=QueuePool)
