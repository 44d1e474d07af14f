"""The one folder that holds everything of a garden's site: database, photographs, backups."""

from __future__ import annotations

import os
import secrets
from dataclasses import dataclass
from pathlib import Path

VARIABLE = "BEDWRIGHT_HOME"


@dataclass(frozen=True)
class Home:
    """Where the site keeps what it holds. ``cache`` may be deleted at any time."""

    folder: Path

    @property
    def database(self) -> Path:
        """The embedded database, when no other is set."""
        return self.folder / "bedwright.sqlite3"

    @property
    def photographs(self) -> Path:
        """Photographs of the journal, resized and stripped of place data."""
        return self.folder / "photographs"

    @property
    def backups(self) -> Path:
        """Dated backups."""
        return self.folder / "backups"

    @property
    def cache(self) -> Path:
        """What can be made again: plans, charts, the page's face."""
        return self.folder / "cache"

    def make(self) -> None:
        """Make the folders that lack, for their owner's eyes alone. Raises OSError."""
        for each in (self.folder, self.photographs, self.backups, self.cache / "made"):
            each.mkdir(mode=0o700, parents=True, exist_ok=True)

    def secret(self) -> str:
        """The key that signs sessions and cached plans; made on first use. Raises OSError."""
        path = self.folder / "secret.key"
        try:
            found = path.read_text(encoding="ascii").strip()
        except FileNotFoundError:
            found = ""
        if found:
            return found
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        made = secrets.token_urlsafe(50)
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(descriptor, "w", encoding="ascii") as stream:
            stream.write(made)
            stream.flush()
            os.fsync(stream.fileno())
        return made


def usual_folder() -> Path:
    """Where the site's folder lies when the gardener names none."""
    return Path(os.environ.get(VARIABLE, str(Path.home() / "bedwright")))


def home() -> Home:
    """The site's folder in this process."""
    return Home(usual_folder())
