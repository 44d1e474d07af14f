"""Whether a server uses a site's folder now; held by the system, so that a killed one lets go."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

from bedwright.web.home import Home


class InUseError(Exception):
    """Another bedwright uses the folder."""


@contextlib.contextmanager
def use_alone(home: Home) -> Iterator[None]:
    """Hold the folder for this process. Raises InUseError, or OSError where it can't be written."""
    home.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    with held(home.folder / "in-use.lock", wait=False):
        yield


@contextlib.contextmanager
def held(path: Path, *, wait: bool) -> Iterator[None]:
    """Hold a lock file; wait for whoever holds it, or raise InUseError. Raises OSError."""
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        try:
            _lock(descriptor, wait)
        except (BlockingIOError, PermissionError):
            raise InUseError(str(path.parent)) from None
        yield
    finally:
        os.close(descriptor)  # lets the lock go


def _lock(descriptor: int, wait: bool) -> None:
    if sys.platform == "win32":
        import msvcrt

        msvcrt.locking(descriptor, msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(descriptor, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
