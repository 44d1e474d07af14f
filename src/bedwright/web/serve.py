"""Starting the site: folder, database, assets, worker, server."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from bedwright.web.home import VARIABLE, Home

Tell = Callable[[str], None]


def prepare(folder: Path, tell: Tell, *, lan: bool = False, hosts: tuple[str, ...] = ()) -> Home:
    """Make the folder, bring the database to its present shape, and make what pages are served.

    Raises OSError where the folder can't be written, DatabaseError where the database is broken.
    """
    os.environ[VARIABLE] = str(folder)
    os.environ["DJANGO_SETTINGS_MODULE"] = "bedwright.web.settings"
    os.environ["BEDWRIGHT_LAN"] = "1" if lan else "0"
    os.environ["BEDWRIGHT_HOSTS"] = ",".join(hosts)
    home = Home(folder)
    home.make()
    import django
    from django.core.management import call_command

    django.setup()
    tell("bringing the database up to date")
    call_command("migrate", verbosity=0, interactive=False)
    from bedwright.web.assets import make_assets

    tell("making the pages' face and charts (once)")
    make_assets(home)
    return home


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


def answer(host: str, port: int, ready: Callable[[int], None]) -> None:
    """Answer requests until interrupted. Raises OSError where the port is taken."""
    from waitress.server import create_server

    from bedwright.web.wsgi import application

    server = create_server(application, host=host, port=port, threads=8, ident="bedwright")
    ready(server.effective_port)
    try:
        with worker():
            server.run()
    finally:
        server.close()
