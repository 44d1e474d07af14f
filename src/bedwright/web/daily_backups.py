"""Backups that nobody has to think of: when the site starts and once a day while it serves."""

from __future__ import annotations

import json
import logging
import sqlite3
import threading
from datetime import UTC, datetime, timedelta

from bedwright.garden import write_whole
from bedwright.web import backups
from bedwright.web.backup_reading import BackupError
from bedwright.web.database_check import counts_of
from bedwright.web.home import Home

_AT_START = timedelta(hours=1)  # a site that is started twice in an hour keeps one backup of it
_EACH = timedelta(days=1)
_LOOK, _AGAIN = 60.0, 3600.0  # s between two looks, and before what failed is tried again
_NOTE = "not-made.json"

_log = logging.getLogger("bedwright.web")


def keep_making(home: Home, gone: threading.Event) -> None:
    """Make the backup of the start, then one a day, until ``gone``; a fault is noted and logged."""
    why, age = "start", _AT_START
    while True:
        made = make_if_due(home, why, age, datetime.now(UTC))
        if made is True:
            why, age = "day", _EACH
        if gone.wait(_AGAIN if made is False else _LOOK):
            return
        why, age = "day", _EACH


def make_if_due(home: Home, why: str, age: timedelta, now: datetime) -> bool | None:
    """Make a backup where the newest is older than ``age``: made, failed (noted), or not due."""
    try:
        found = backups.kept(home)
        if found and timedelta(0) <= now - found[0].made_at < age:
            return None
        if not counts_of(home.database).get("site_garden"):
            return None  # nothing to keep yet
        backups.make(home, why, now=now)
        backups.thin(home, now=now)
    except (BackupError, OSError, sqlite3.Error) as error:
        _log.error("no backup: %s", error)
        try:
            write_whole(
                home.backups / _NOTE, json.dumps({"at": now.isoformat(), "fault": str(error)})
            )
        except OSError:
            _log.error("the fault of the backup cannot be noted either")
        return False
    (home.backups / _NOTE).unlink(missing_ok=True)
    return True


def last_fault(home: Home) -> tuple[datetime, str] | None:
    """When and why the last automatic backup was not made; None where it was."""
    try:
        data = json.loads((home.backups / _NOTE).read_text(encoding="utf-8"))
        return datetime.fromisoformat(data["at"]), str(data["fault"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
