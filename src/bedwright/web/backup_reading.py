"""Reading a backup back: its manifest, its sums, its database and its photographs."""

from __future__ import annotations

import hashlib
import json
import sqlite3
import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from django.utils.translation import gettext as _

from bedwright.web.archive import Archive, ArchiveError
from bedwright.web.database_check import counts_of, faults_of
from bedwright.web.plain_names import plain_path

_FORMAT = 1
MANIFEST = "manifest.json"
DATABASE = "bedwright.sqlite3"
STORE = "photographs"  # the folder beside the backups that holds photographs by their content
_MOST_MANIFEST = 20_000_000
_PIECE = 1 << 20


class BackupError(Exception):
    """A backup that is not made, or does not read back, with the reason in words."""


@dataclass(frozen=True)
class Photograph:
    """A photograph as a manifest names it."""

    name: str
    sha256: str
    size: int


@dataclass(frozen=True)
class Manifest:
    """What a backup says that it holds. ``counts``: rows of each table."""

    made_at: datetime
    why: str
    program: str
    database_sha256: str
    counts: dict[str, int]
    photographs: tuple[Photograph, ...]

    def text(self) -> str:
        """The manifest as it is written into the backup."""
        shown = {
            "what": "bedwright backup",
            "format": _FORMAT,
            "made_at": self.made_at.isoformat(timespec="seconds"),
            "why": self.why,
            "program": self.program,
            "database": {"name": DATABASE, "sha256": self.database_sha256},
            "counts": self.counts,
            "photographs": [
                {"name": each.name, "sha256": each.sha256, "bytes": each.size}
                for each in self.photographs
            ],
        }
        return json.dumps(shown, indent=1, ensure_ascii=False) + "\n"


def manifest_in(archive: Archive) -> Manifest:
    """The manifest of an opened backup. Raises ArchiveError, BackupError."""
    try:
        return _manifest(json.loads(archive.read(MANIFEST, _MOST_MANIFEST)))
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        if isinstance(error, ArchiveError):
            raise
        raise BackupError(_("its manifest cannot be read")) from None


def _manifest(data: Any) -> Manifest:
    if data["what"] != "bedwright backup":
        raise BackupError(_("it is no backup of bedwright"))
    if data["format"] != _FORMAT:
        raise BackupError(_("it was made by another version of bedwright, in a form unknown here"))
    photographs = tuple(
        Photograph(str(each["name"]), str(each["sha256"]), int(each["bytes"]))
        for each in data["photographs"]
    )
    for each in photographs:
        plain_sum = len(each.sha256) == 64 and set(each.sha256) <= set("0123456789abcdef")
        if not plain_path(each.name) or not plain_sum:
            raise BackupError(_("its manifest cannot be read"))
    made_at = datetime.fromisoformat(data["made_at"])
    if made_at.tzinfo is None:
        raise BackupError(_("its manifest cannot be read"))
    return Manifest(
        made_at,
        str(data["why"]),
        str(data["program"]),
        str(data["database"]["sha256"]),
        {str(name): int(count) for name, count in data["counts"].items()},
        photographs,
    )


def verify(path: Path, room: Path) -> Manifest:
    """Read a whole backup back, by way of a folder made in ``room``; what it holds.

    Raises BackupError with the first thing wrong, OSError where ``room`` can't be written.
    """
    with tempfile.TemporaryDirectory(dir=room, prefix=".reading-") as folder:
        return unpack(path, Path(folder), photographs=False)


def unpack(path: Path, folder: Path, *, photographs: bool = True) -> Manifest:
    """Write a backup's database, and its photographs if wanted, into a folder, every sum checked.

    Raises BackupError with the first thing wrong, OSError where the folder can't be written.
    """
    try:
        with Archive(path) as archive:
            manifest = manifest_in(archive)
            copy = folder / DATABASE
            if archive.copy(DATABASE, copy) != manifest.database_sha256:
                raise BackupError(_("its database is not the one that was put in"))
            _check_database(copy, manifest.counts)
            for each in manifest.photographs:
                found = _photograph(archive, path.parent, each, folder if photographs else None)
                if found != each.sha256:
                    raise BackupError(
                        _("the photograph %(name)s is not the one that was put in")
                        % {"name": each.name}
                    )
    except ArchiveError as error:
        raise BackupError(str(error)) from None
    except FileNotFoundError as error:
        if error.filename is not None and Path(error.filename) == path:
            raise BackupError(_("there is no such file")) from None
        raise
    return manifest


def _check_database(path: Path, counts: dict[str, int]) -> None:
    """Hold a copied database against SQLite's checks and the counts. Raises BackupError."""
    faults = faults_of(path)
    try:
        wrong = faults or (["counts"] if counts_of(path) != counts else [])
    except sqlite3.Error as error:
        wrong = [str(error)]
    if wrong:
        raise BackupError(_("its database is damaged (%(fault)s)") % {"fault": wrong[0]})


def _photograph(archive: Archive, beside: Path, wanted: Photograph, folder: Path | None) -> str:
    """The sum of a photograph's content, from the backup itself or the store beside it."""
    inside = f"{STORE}/{wanted.name}"
    target = folder / STORE / wanted.name if folder is not None else None
    if inside in archive.names:
        return archive.sum(inside) if target is None else archive.copy(inside, target)
    found = hashlib.sha256()
    try:
        with (beside / STORE / wanted.sha256).open("rb") as stream:
            pieces = []
            while piece := stream.read(_PIECE):
                found.update(piece)
                pieces.append(piece)
    except FileNotFoundError:
        raise BackupError(_("the photograph %(name)s is missing") % {"name": wanted.name}) from None
    if target is not None:
        from bedwright.garden import write_whole

        write_whole(target, b"".join(pieces))
    return found.hexdigest()
