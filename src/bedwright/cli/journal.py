"""The journal of the site as a file, for the commands that read one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused

if TYPE_CHECKING:
    from bedwright.journal import Entry

# What the site knows of an entry beside the entry itself.
_OF_THE_SITE = frozenset({"revision", "made_at", "made_by", "undone_at"})


def read_journal(name: str | None) -> list[Entry]:
    """The entries of a journal's file that were not taken back; none where none is named."""
    from bedwright.journal.tables import TableError

    if name is None:
        return []
    try:
        return _entries(Path(name))
    except (TableError, UnicodeDecodeError) as error:
        raise Refused(f"bedwright: {name} cannot be read as a journal: {error}") from None
    except OSError as error:
        raise Refused(f"bedwright: {name} cannot be read ({error.strerror})") from None


def _entries(file: Path) -> list[Entry]:
    """The entries of a file that stand. Raises TableError, UnicodeDecodeError, OSError."""
    from bedwright.journal import EntryError, read_entry
    from bedwright.journal.tables import TableError, from_csv, from_json

    text = file.read_bytes().decode("utf-8")
    rows = from_json(text)[0] if file.suffix.lower() == ".json" else from_csv(text)
    found = []
    for at, row in enumerate(rows, 1):
        if row.get("undone_at"):
            continue
        plain = {key: each for key, each in row.items() if key not in _OF_THE_SITE}
        try:
            found.append(read_entry(plain))
        except EntryError as error:
            raise TableError(0, f"entry {at}: {error}") from None
    return found
