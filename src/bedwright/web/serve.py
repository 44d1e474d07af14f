"""Starting the site: folder, database, assets, worker, server."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

from bedwright.web.home import VARIABLE, Home

Tell = Callable[[str], None]
_MOST_BODY = 210_000_000  # bytes of a request that are taken at all; the pages take less
_TRUSTED = "x-forwarded-for x-forwarded-proto x-forwarded-host"


class NotToServeError(Exception):
    """A folder whose database must not be served as it is, with the reason and what to do."""


def settle(folder: Path, *, lan: bool = False, hosts: tuple[str, ...] = ()) -> Home:
    """Let this process and its children know the site's folder, and set Django up for it.

    Raises OSError where the folder can't be written, ValueError where ``BEDWRIGHT_DATABASE`` is
    no address.
    """
    os.environ[VARIABLE] = str(folder)
    os.environ["DJANGO_SETTINGS_MODULE"] = "bedwright.web.settings"
    os.environ["BEDWRIGHT_LAN"] = "1" if lan else "0"
    # Where nobody signs in, the site has no name but this machine's own, whatever was set.
    own = os.environ.get("BEDWRIGHT_HOSTS", "").split(",") if lan else []
    os.environ["BEDWRIGHT_HOSTS"] = ",".join(filter(None, dict.fromkeys([*hosts, *own])))
    home = Home(folder)
    home.make()
    import django

    django.setup()
    return home


def prepare(folder: Path, tell: Tell, *, lan: bool = False, hosts: tuple[str, ...] = ()) -> Home:
    """Make the folder, and check the database and bring it to its present shape.

    Raises what :func:`settle` raises, NotToServeError, and DatabaseError.
    """
    home = settle(folder, lan=lan, hosts=hosts)
    from django.core.management import call_command

    check_database(home, tell)
    tell("bringing the database up to date")
    call_command("migrate", verbosity=0, interactive=False)
    call_command("clearsessions", verbosity=0)
    return home


def check_database(home: Home, tell: Tell) -> None:
    """Look whether the embedded database is whole, and back it up before its shape changes.

    Raises NotToServeError, with what to do, where it is damaged, where it was written by a newer
    bedwright, where a restore was cut short, or where the backup can't be made.
    """
    from bedwright.web import backups
    from bedwright.web.backup_reading import BackupError
    from bedwright.web.database_check import faults_of, migrations_of
    from bedwright.web.restore import cut_short

    if cut_short(home):
        raise NotToServeError(
            "a restore was cut short. Nothing is lost: what was there lies in a folder "
            f"before-restore-... in {home.folder}. Run bedwright restore once more."
        )
    if database_elsewhere() or not home.database.is_file():
        return
    tell("checking that the database is whole")
    faults = faults_of(home.database)
    if faults:
        sound = next((each for each in backups.kept(home) if each.sound), None)
        remedy = (
            f"The newest backup that read back well is of {sound.made_at:%Y-%m-%d %H:%M} UTC:\n"
            f"  bedwright restore {sound.path} --home {home.folder}"
            if sound is not None
            else "There is no backup in the folder that read back well; look for one elsewhere."
        )
        raise NotToServeError(
            f"the database {home.database} is damaged ({faults[0]}).\n"
            "Nothing was changed. Copy the whole folder to another disk before anything else.\n"
            f"{remedy}"
        )
    done, known = migrations_of(home.database), _known_migrations()
    if done - known:
        raise NotToServeError(
            "the database was written by a newer bedwright. Nothing was changed. "
            "Start the newer one, or restore a backup from before into another folder."
        )
    if done and known - done:
        tell("keeping a backup from before the update")
        try:
            backups.make(home, "update", now=datetime.now(UTC))
        except BackupError as error:
            raise NotToServeError(
                f"the backup before the update can't be made: {error}. Nothing was changed."
            ) from error


def database_elsewhere() -> bool:
    """Whether the database is another than the embedded one, with backups of its own."""
    return bool(os.environ.get("BEDWRIGHT_DATABASE"))


def _known_migrations() -> set[str]:
    from django.db.migrations.loader import MigrationLoader

    return {name for app, name in MigrationLoader(None).disk_migrations if app == "site"}


@contextlib.contextmanager
def worker() -> Iterator[None]:
    """The worker process, ended with the server."""
    child = subprocess.Popen(
        [sys.executable, "-m", "bedwright.web.worker"],
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        env=os.environ.copy(),
    )
    try:
        yield
    finally:
        if child.stdin is not None:
            child.stdin.close()
        try:
            child.wait(5)
        except subprocess.TimeoutExpired:
            child.kill()


def answer(home: Home, host: str, port: int, ready: Callable[[int], None], tell: Tell) -> None:
    """Make what pages are served, and answer requests until interrupted.

    Raises OSError where the port is taken or the folder can't be written.
    """
    from waitress.server import create_server

    from bedwright.web.assets import make_assets

    tell("making the pages' face and charts (once)")
    make_assets(home)
    from bedwright.web.wsgi import application  # reads the names of what was made just now

    # Only where it is said that a server stands in front is believed what it says of the asker.
    front = (
        {"trusted_proxy": "127.0.0.1", "trusted_proxy_headers": _TRUSTED}
        if os.environ.get("BEDWRIGHT_HTTPS") == "1"
        else {}
    )
    server = create_server(
        application,
        host=host,
        port=port,
        threads=8,
        ident="bedwright",
        max_request_body_size=_MOST_BODY,
        max_request_header_size=64_000,
        channel_timeout=60,
        **front,
    )
    ready(server.effective_port)
    try:
        with worker():
            server.run()
    finally:
        server.close()
