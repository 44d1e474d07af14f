"""Putting a backup in the place of what a site's folder holds; what was there is kept aside."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.utils.translation import gettext as _

from bedwright.web.backup_reading import DATABASE, STORE, BackupError, Manifest, unpack
from bedwright.web.home import Home
from bedwright.web.in_use import use_alone

_UNDER_WAY = "restore-under-way"


@dataclass(frozen=True)
class Restored:
    """What was restored, and where lies what was there before (None: nothing was)."""

    manifest: Manifest
    aside: Path | None


def restore(backup: Path, home: Home, now: datetime) -> Restored:
    """Verify a backup, put aside what the folder holds, and put the backup in its place.

    Nothing is touched before the whole backup was read. Cut short, it is done again from the
    start; :func:`cut_short` tells, and the server does not start until then.
    Raises BackupError, InUseError where a server runs, OSError.
    """
    if not backup.is_file():
        raise BackupError(_("there is no file %(path)s") % {"path": backup})
    with use_alone(home):
        home.make()
        for left in home.folder.glob(".restoring-*"):
            shutil.rmtree(left, ignore_errors=True)
        under_way = home.folder / _UNDER_WAY
        with tempfile.TemporaryDirectory(dir=home.folder, prefix=".restoring-") as room:
            manifest = unpack(backup, Path(room))
            (Path(room) / STORE).mkdir(exist_ok=True)
            under_way.mkdir(exist_ok=True)
            aside = _put_aside(home, now)
            (Path(room) / DATABASE).replace(home.database)
            (Path(room) / STORE).replace(home.photographs)
        under_way.rmdir()
    return Restored(manifest, aside)


def cut_short(home: Home) -> bool:
    """Whether a restore began to move things and did not end."""
    return (home.folder / _UNDER_WAY).exists()


def _put_aside(home: Home, now: datetime) -> Path | None:
    wal = [home.database.with_name(home.database.name + end) for end in ("-wal", "-shm")]
    there = [each for each in (home.database, *wal) if each.exists()]
    if any(home.photographs.iterdir()) if home.photographs.is_dir() else False:
        there.append(home.photographs)
    if not there:
        shutil.rmtree(home.photographs, ignore_errors=True)
        return None
    aside = home.folder / f"before-restore-{now:%Y-%m-%d-%H%M%S}"
    aside.mkdir(mode=0o700)
    for each in there:
        each.replace(aside / each.name)
    if home.photographs.is_dir():
        home.photographs.rmdir()
    return aside
