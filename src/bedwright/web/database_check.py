"""Whether an embedded database is whole, asked of SQLite itself."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path

_MOST_FAULTS = 5


@contextlib.contextmanager
def opened(path: Path, *, write: bool = False) -> Iterator[sqlite3.Connection]:
    """The database at ``path``, which must exist. Raises sqlite3.Error."""
    mode = "rw" if write else "ro"
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode={mode}", uri=True, timeout=10)
    try:
        yield connection
    finally:
        connection.close()


def faults_of(path: Path) -> list[str]:
    """What SQLite's integrity and foreign key checks find; empty for a whole database."""
    try:
        with opened(path) as connection:
            found = [
                str(row[0])
                for row in connection.execute(f"PRAGMA integrity_check({_MOST_FAULTS})")
                if row[0] != "ok"
            ]
            for table, row, other, _ in connection.execute("PRAGMA foreign_key_check"):
                found.append(f"row {row} of {table} names a row of {other} that is not there")
                if len(found) >= _MOST_FAULTS:
                    break
    except sqlite3.Error as error:
        return [str(error)]
    return found


def counts_of(path: Path) -> dict[str, int]:
    """The rows of every table, by its name. Raises sqlite3.Error."""
    with opened(path) as connection:
        return counts_in(connection)


def counts_in(connection: sqlite3.Connection) -> dict[str, int]:
    """As :func:`counts_of`, of an open database."""
    asked = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
    names = sorted(str(row[0]) for row in connection.execute(asked))
    return {
        name: int(connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0])
        for name in names
    }


def migrations_of(path: Path) -> set[str]:
    """The changes of shape that the site's tables have gone through. Raises sqlite3.Error."""
    with opened(path) as connection:
        tables = counts_in(connection)
        if "django_migrations" not in tables:
            return set()
        asked = "SELECT name FROM django_migrations WHERE app = 'site'"
        return {str(row[0]) for row in connection.execute(asked)}
