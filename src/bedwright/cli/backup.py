"""The commands that keep the site safe: a backup now, and putting one back."""

from __future__ import annotations

import argparse
import os
from datetime import UTC, datetime
from pathlib import Path

from bedwright.cli.frame import Refused, command
from bedwright.cli.serve import home_argument, home_of


def add_backup(commands: object) -> None:
    """The arguments of ``bedwright backup`` and ``bedwright restore``."""
    backup = command(
        commands,
        "backup",
        "copy everything of the site into one dated file, read back at once",
        "bedwright backup --to /media/stick",
    )
    home_argument(backup)
    backup.add_argument(
        "--to", metavar="DIR", help="write it there, whole in itself (default: the site's backups)"
    )
    restore = command(
        commands,
        "restore",
        "put a backup in the place of what the site holds",
        "bedwright restore bedwright-20261125T060000Z.zip",
    )
    restore.add_argument(
        "backup", metavar="BACKUP", help="the file, or its name among the site's own backups"
    )
    home_argument(restore)


def backup(given: argparse.Namespace) -> None:
    """Make a backup."""
    from bedwright.web.backup_reading import BackupError
    from bedwright.web.home import Home
    from bedwright.web.serve import database_elsewhere, settle

    if database_elsewhere():
        raise Refused(
            "bedwright: the database is a PostgreSQL (BEDWRIGHT_DATABASE is set): it is backed up "
            "by its own tools, and gardens are taken out on the page Safekeeping"
        )
    os.umask(0o077)
    folder = home_of(given)
    if not Home(folder).database.is_file():
        raise Refused(f"bedwright: there is no database in {folder}: nothing to back up")
    to = Path(given.to).expanduser().resolve() if given.to else None
    try:
        home = settle(folder)
        from bedwright.web import backups

        made = backups.make(home, "asked", to=to)
        if to is None:
            backups.thin(home)
    except BackupError as error:
        raise Refused(f"bedwright: no backup was made: {error}") from None
    except OSError as error:
        raise Refused(
            f"bedwright: no backup was made: {error.filename}: {error.strerror}"
        ) from None
    print(f"{made} is made and was read back whole.")


def restore(given: argparse.Namespace) -> None:
    """Put a backup back."""
    from bedwright.web.backup_reading import BackupError
    from bedwright.web.in_use import InUseError
    from bedwright.web.serve import database_elsewhere, settle

    if database_elsewhere():
        raise Refused(
            "bedwright: BEDWRIGHT_DATABASE is set: a PostgreSQL is restored by its own tools"
        )
    os.umask(0o077)
    folder = home_of(given)
    path = Path(given.backup).expanduser()
    if not path.is_file() and path.name == given.backup:
        path = folder / "backups" / path.name
    if not path.is_file():
        raise Refused(f"bedwright: there is no file {given.backup}")
    try:
        home = settle(folder)
        from bedwright.web.restore import restore as put_back

        done = put_back(path.resolve(), home, datetime.now(UTC))
    except InUseError:
        raise Refused(f"bedwright: the folder {folder} is being served; stop that first") from None
    except BackupError as error:
        raise Refused(f"bedwright: {path} is not restored: {error}. Nothing was changed.") from None
    except OSError as error:
        raise Refused(f"bedwright: not restored: {error.filename}: {error.strerror}") from None
    made = done.manifest
    revisions = made.counts.get("site_revision", 0)
    print(
        f"{folder} is as it was on {made.made_at:%Y-%m-%d %H:%M} UTC: {revisions} revisions, "
        f"{len(made.photographs)} photographs. Passwords are those of that day."
    )
    if done.aside is not None:
        print(f"What was there before lies in {done.aside}; throw it away when all is well.")
