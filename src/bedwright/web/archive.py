"""Reading a zip that somebody else may have made: nothing in it is believed unchecked."""

from __future__ import annotations

import hashlib
import os
import stat
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from django.utils.translation import gettext as _

from bedwright.web.plain_names import plain_path

_PIECE = 1 << 20
_TIMES = 200  # what packs tighter than this is a trick; the text of a database packs about 10 times
_SMALL = 1_000_000  # bytes of a file that may pack as tightly as it likes


class ArchiveError(ValueError):
    """An archive that is not taken, with the reason in words."""


@dataclass(frozen=True)
class Most:
    """What an archive may hold at most."""

    files: int = 20_000
    total_bytes: int = 8_000_000_000


class Archive:
    """A zip whose names, sizes and kinds of entries were checked before anything is read.

    Raises ArchiveError on opening where it is no zip, is damaged, is locked with a password, or
    holds a name that leads elsewhere, a name twice, a link, too many files or too many bytes.
    """

    def __init__(self, file: Path | IO[bytes], most: Most = Most()) -> None:
        try:
            self._zip = zipfile.ZipFile(file)
        except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, ValueError):
            raise ArchiveError(_("this is not a whole zip file")) from None
        self._entries: dict[str, zipfile.ZipInfo] = {}
        try:
            self._check(most)
        except BaseException:
            self._zip.close()
            raise

    def __enter__(self) -> Archive:
        return self

    def __exit__(self, *fault: object) -> None:
        self._zip.close()

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the files, as the archive orders them."""
        return tuple(self._entries)

    def size(self, name: str) -> int:
        """The bytes of a file. Raises ArchiveError where the archive has no such file."""
        return self._entry(name).file_size

    def read(self, name: str, most_bytes: int) -> bytes:
        """A file's content. Raises ArchiveError where it lacks, is damaged or is larger."""
        entry = self._entry(name)
        if entry.file_size > most_bytes:
            raise ArchiveError(_("%(name)s in it is too large") % {"name": name})
        pieces: list[bytes] = []
        self.pour(name, pieces.append)
        return b"".join(pieces)

    def sum(self, name: str) -> str:
        """The SHA-256 of a file, read without keeping it."""
        found = hashlib.sha256()
        self.pour(name, found.update)
        return found.hexdigest()

    def copy(self, name: str, path: Path) -> str:
        """Write a file to a path that does not exist, down to the disk; its SHA-256."""
        found = hashlib.sha256()
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as stream:

            def take(piece: bytes) -> None:
                found.update(piece)
                stream.write(piece)

            self.pour(name, take)
            stream.flush()
            os.fsync(stream.fileno())
        return found.hexdigest()

    def pour(self, name: str, take: Callable[[bytes], object]) -> None:
        """Give a file piece by piece. Raises ArchiveError where it lacks or is damaged."""
        entry = self._entry(name)
        left = entry.file_size
        try:
            with self._zip.open(entry) as stream:
                while piece := stream.read(_PIECE):
                    left -= len(piece)
                    if left < 0:
                        break
                    take(piece)
        except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError):
            left = -1
        if left:
            raise ArchiveError(_("%(name)s in it is damaged") % {"name": entry.filename})

    def _entry(self, name: str) -> zipfile.ZipInfo:
        if name not in self._entries:
            raise ArchiveError(_("%(name)s is missing in it") % {"name": name})
        return self._entries[name]

    def _check(self, most: Most) -> None:
        entries = self._zip.infolist()
        if len(entries) > most.files:
            raise ArchiveError(_("it holds too many files"))
        seen: set[str] = set()
        total = 0
        for entry in entries:
            # zipfile itself cuts a name at a NUL; what stood behind it is in orig_filename.
            name = entry.orig_filename
            if entry.is_dir() and plain_path(name.rstrip("/")):
                continue
            if not plain_path(name):
                raise ArchiveError(_("a file in it bears a name that leads elsewhere"))
            if entry.flag_bits & 0x1:
                raise ArchiveError(_("it is locked with a password"))
            mode = entry.external_attr >> 16
            if mode and not stat.S_ISREG(mode) and stat.S_IFMT(mode):
                raise ArchiveError(_("it holds something that is not a file"))
            if name.casefold() in seen:
                raise ArchiveError(_("two files in it bear the same name"))
            seen.add(name.casefold())
            if entry.file_size > max(_SMALL, _TIMES * entry.compress_size):
                raise ArchiveError(_("it is packed tighter than any honest file"))
            total += entry.file_size
            self._entries[name] = entry
        if total > most.total_bytes:
            raise ArchiveError(_("it holds too many bytes"))
        for name in seen:
            if any(name[:at] in seen for at, sign in enumerate(name) if sign == "/"):
                raise ArchiveError(_("two files in it bear the same name"))
