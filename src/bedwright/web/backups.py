"""Dated backups: making one, reading it back at once, and keeping fewer the older they are.

What is kept is a judgement: all of the last two days, then the newest of each of 14 days, of 8
weeks and of 12 months in which any was made. The newest is never thrown away.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sqlite3
import tempfile
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import IO

from django.utils.translation import gettext as _

from bedwright import __version__
from bedwright.garden import write_whole
from bedwright.web.archive import Archive
from bedwright.web.backup_reading import (
    DATABASE,
    MANIFEST,
    STORE,
    BackupError,
    Manifest,
    Photograph,
    manifest_in,
    verify,
)
from bedwright.web.database_check import counts_in
from bedwright.web.home import Home
from bedwright.web.in_use import held
from bedwright.web.plain_names import plain_path

_STAMP = "%Y%m%dT%H%M%SZ"
_PREFIX, _ENDING, _READ = "bedwright-", ".zip", ".read-back.json"
_ALL_OF = timedelta(days=2)
_DAYS, _WEEKS, _MONTHS = 14, 8, 12
_OF_THE_DAY = ("django_session", "site_signintry")  # what a restored site has no use for


@dataclass(frozen=True)
class Backup:
    """A backup that is kept: where, from when, and when it was last read back, with what result."""

    path: Path
    made_at: datetime
    size: int
    read_at: datetime | None
    fault: str

    @property
    def sound(self) -> bool:
        """Whether it was read back, and whole when it was."""
        return self.read_at is not None and not self.fault


def make(home: Home, why: str, *, now: datetime | None = None, to: Path | None = None) -> Path:
    """Make a backup of a site's folder, read it back, and only then give it its name; its path.

    Into the folder's own backups photographs go once by content; into another folder ``to``, or
    with it the file is whole in itself. Raises BackupError, OSError.
    """
    moment = (now or datetime.now(UTC)).astimezone(UTC)
    if not home.database.is_file():
        raise BackupError(_("there is no database in %(folder)s") % {"folder": home.folder})
    place = to or home.backups
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    if to is not None:
        return _make(home, why, moment, place, store=False)
    with held(home.backups / ".lock", wait=True):
        _sweep(place)
        target = _make(home, why, moment, place, store=True)
        _note(target, datetime.now(UTC), "")
    return target


def _make(home: Home, why: str, moment: datetime, place: Path, *, store: bool) -> Path:
    target = _free(place, moment)
    with tempfile.TemporaryDirectory(dir=place, prefix=".making-") as room:
        copy = Path(room) / DATABASE
        counts = _copy_database(home.database, copy)
        found = tuple(_photographs(home, place / STORE if store else None))
        manifest = Manifest(moment, why, __version__, _sum(copy), counts, found)
        made = Path(room) / "made.zip"
        _pack(made, manifest, copy, None if store else home.photographs)
        # Read back from where it will stand, so that the store beside it is found.
        waiting = place / f".{target.name}"
        made.replace(waiting)
        try:
            verify(waiting, place)
            waiting.replace(target)
        except BaseException:
            waiting.unlink(missing_ok=True)
            raise
    _sync(place)
    return target


def kept(home: Home) -> list[Backup]:
    """The backups in the folder, the newest first."""
    found = []
    for path in home.backups.glob(f"{_PREFIX}*{_ENDING}"):
        made_at = _moment(path)
        if made_at is None:
            continue
        read_at, fault = _noted(path)
        found.append(Backup(path, made_at, path.stat().st_size, read_at, fault))
    return sorted(found, key=lambda each: each.path.name, reverse=True)


def read_back(home: Home, name: str) -> Backup:
    """Read a kept backup again and note the result. Raises BackupError where there is none."""
    found = named(home, name)
    try:
        verify(found.path, home.backups)
    except BackupError as error:
        _note(found.path, datetime.now(UTC), str(error))
    else:
        _note(found.path, datetime.now(UTC), "")
    return named(home, name)


def named(home: Home, name: str) -> Backup:
    """A kept backup by the name of its file. Raises BackupError where there is none."""
    for each in kept(home):
        if each.path.name == name:
            return each
    raise BackupError(_("there is no backup of this name"))


def whole(backup: Backup, target: IO[bytes]) -> None:
    """Write a kept backup as one file that needs no store beside it.

    Raises BackupError, ArchiveError, OSError.
    """
    with Archive(backup.path) as archive, zipfile.ZipFile(target, "w", allowZip64=True) as made:
        manifest = manifest_in(archive)
        for name in archive.names:
            entry = _entry(name, manifest.made_at)
            with made.open(entry, "w", force_zip64=True) as stream:
                archive.pour(name, stream.write)
        for each in manifest.photographs:
            try:
                content = (backup.path.parent / STORE / each.sha256).read_bytes()
            except FileNotFoundError:
                content = b""
            if hashlib.sha256(content).hexdigest() != each.sha256:
                raise BackupError(
                    _("the photograph %(name)s is not the one that was put in")
                    % {"name": each.name}
                )
            entry = _entry(f"{STORE}/{each.name}", manifest.made_at, packed=False)
            made.writestr(entry, content)


def thin(home: Home, *, now: datetime | None = None) -> list[Path]:
    """Throw away the backups that are too many, and the photographs that no kept one names."""
    with held(home.backups / ".lock", wait=True):
        found = kept(home)
        staying = {each.path for each in to_keep(found, now or datetime.now(UTC))}
        gone = [each.path for each in found if each.path not in staying]
        for path in gone:
            path.unlink(missing_ok=True)
            _beside(path).unlink(missing_ok=True)
        if gone:
            _drop_unnamed(home)
    return gone


def to_keep(found: list[Backup], now: datetime) -> list[Backup]:
    """Which of the backups, the newest first, are kept by the rule of this module.

    One that did not read back stands for no day, and counts only while it is two days old.
    """
    spans: tuple[tuple[int, Callable[[datetime], object]], ...] = (
        (_DAYS, lambda at: at.date()),
        (_WEEKS, lambda at: at.isocalendar()[:2]),
        (_MONTHS, lambda at: (at.year, at.month)),
    )
    staying = {each.path for each in found if now - each.made_at <= _ALL_OF}
    good = [each for each in found if not each.fault]
    for most, span in spans:
        seen: dict[object, Path] = {}
        for each in good:
            seen.setdefault(span(each.made_at), each.path)
        staying |= set(list(seen.values())[:most])
    return [each for each in found if each.path in staying]


def _copy_database(source: Path, target: Path) -> dict[str, int]:
    """Copy a database that may be written meanwhile, by SQLite's own backup; rows by table."""
    try:
        read = sqlite3.connect(f"{source.absolute().as_uri()}?mode=rw", uri=True, timeout=10)
        written = sqlite3.connect(target)
        try:
            read.backup(written)
            written.execute("PRAGMA journal_mode=DELETE")  # one file, complete in itself
            written.execute("PRAGMA secure_delete=ON")
            counts = counts_in(written)
            for table in _OF_THE_DAY:
                if table in counts:
                    written.execute(f"DELETE FROM {table}")
            written.commit()
            written.execute("VACUUM")  # what was deleted is nowhere in the file any more
            return counts_in(written)
        finally:
            written.close()
            read.close()
    except sqlite3.Error as error:
        raise BackupError(
            _("the database cannot be copied (%(fault)s)") % {"fault": error}
        ) from error


def _photographs(home: Home, store: Path | None) -> Iterator[Photograph]:
    if not home.photographs.is_dir():
        return
    for path in sorted(home.photographs.rglob("*")):
        name = path.relative_to(home.photographs).as_posix()
        if not path.is_file() or path.is_symlink() or not plain_path(name):
            continue  # a file that is being written, or none of ours
        try:
            content = path.read_bytes()
        except FileNotFoundError:
            continue  # undone meanwhile
        digest = hashlib.sha256(content).hexdigest()
        if store is not None and not (store / digest).is_file():
            write_whole(store / digest, content)
        yield Photograph(name, digest, len(content))


def _pack(target: Path, manifest: Manifest, database: Path, photographs: Path | None) -> None:
    with zipfile.ZipFile(target, "x", allowZip64=True) as made:
        made.writestr(_entry(MANIFEST, manifest.made_at), manifest.text())
        entry = _entry(DATABASE, manifest.made_at)
        with made.open(entry, "w", force_zip64=True) as stream, database.open("rb") as source:
            shutil.copyfileobj(source, stream)
        if photographs is not None:
            for each in manifest.photographs:
                entry = _entry(f"{STORE}/{each.name}", manifest.made_at, packed=False)
                made.writestr(entry, (photographs / each.name).read_bytes())
    with target.open("rb+") as stream:
        os.fsync(stream.fileno())


def _entry(name: str, moment: datetime, *, packed: bool = True) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, moment.timetuple()[:6])
    entry.compress_type = zipfile.ZIP_DEFLATED if packed else zipfile.ZIP_STORED
    entry.external_attr = 0o100600 << 16
    return entry


def _free(place: Path, moment: datetime) -> Path:
    """A name by the moment that no backup bears yet."""
    while True:
        target = place / f"{_PREFIX}{moment.strftime(_STAMP)}{_ENDING}"
        if not target.exists():
            return target
        moment += timedelta(seconds=1)


def _moment(path: Path) -> datetime | None:
    try:
        stamp = path.name.removeprefix(_PREFIX).removesuffix(_ENDING)
        return datetime.strptime(stamp, _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None


def _beside(path: Path) -> Path:
    return path.with_name(path.name.removesuffix(_ENDING) + _READ)


def _note(path: Path, at: datetime, fault: str) -> None:
    write_whole(_beside(path), json.dumps({"at": at.isoformat(), "fault": fault}))


def _noted(path: Path) -> tuple[datetime | None, str]:
    try:
        data = json.loads(_beside(path).read_text(encoding="utf-8"))
        return datetime.fromisoformat(data["at"]), str(data["fault"])
    except (OSError, ValueError, KeyError, TypeError):
        return None, ""


def _drop_unnamed(home: Home) -> None:
    named_by_some: set[str] = set()
    for each in kept(home):
        try:
            with Archive(each.path) as archive:
                named_by_some |= {one.sha256 for one in manifest_in(archive).photographs}
        except (ValueError, BackupError):
            return  # what an unreadable backup names is not known: nothing is thrown away
    for path in (home.backups / STORE).glob("*"):
        if path.name not in named_by_some:
            path.unlink(missing_ok=True)


def _sweep(place: Path) -> None:
    """Drop what a backup left that was cut short; called while nobody else makes one."""
    for each in place.glob(".making-*"):
        shutil.rmtree(each, ignore_errors=True)
    for each in place.glob(f".{_PREFIX}*"):
        each.unlink(missing_ok=True)


def _sum(path: Path) -> str:
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def _sync(folder: Path) -> None:
    """Bring a folder's new name down to the disk, where the system can."""
    if os.name == "posix":
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
