"""The command that serves the pages."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.cli.frame import DONE, command, refuse

_PORT = 8477


def add_serve(commands: object) -> None:
    """The arguments of ``bedwright serve``."""
    serve = command(
        commands, "serve", "the pages of your garden, on this machine", "bedwright serve"
    )
    serve.add_argument(
        "--home", metavar="DIR", help="the folder that holds everything (default: ~/bedwright)"
    )
    serve.add_argument("--port", type=int, default=_PORT, help=f"default: {_PORT}; 0: any free one")


def serve(given: argparse.Namespace) -> int:
    """Serve the pages until interrupted."""
    from django.db import DatabaseError

    from bedwright.web.home import usual_folder
    from bedwright.web.serve import answer, prepare

    folder = Path(given.home).expanduser() if given.home else usual_folder()

    def tell(step: str) -> None:
        print(f"bedwright: {step}", file=sys.stderr)

    try:
        prepare(folder.resolve(), tell)
    except (OSError, DatabaseError) as error:
        return refuse(f"bedwright: the folder {folder} cannot be used: {error}")

    def ready(port: int) -> None:
        print(f"The pages are at http://localhost:{port}/ (stop with Ctrl+C)", flush=True)

    try:
        answer("127.0.0.1", given.port, ready)
    except OSError as error:
        return refuse(f"bedwright: port {given.port} cannot be used: {error.strerror}")
    except KeyboardInterrupt:
        pass
    return DONE
