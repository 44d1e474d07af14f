"""What the server writes to its log: faults with their place, in the site's own folder."""

from __future__ import annotations

import logging
import logging.config
from pathlib import Path
from typing import Any


def set_up(settings: dict[str, Any]) -> None:
    """Log faults to ``bedwright.log`` in the folder, and to stderr where that can't be written."""
    path = Path(settings["folder"]) / "bedwright.log"
    file: dict[str, Any] = {
        "class": "logging.handlers.RotatingFileHandler",
        "filename": str(path),
        "maxBytes": 1_000_000,
        "backupCount": 2,
        "delay": True,
        "formatter": "line",
    }
    logging.config.dictConfig(
        {
            "version": 1,
            "disable_existing_loggers": False,
            "formatters": {"line": {"format": "%(asctime)s %(levelname)s %(name)s: %(message)s"}},
            "handlers": {"file": file},
            "loggers": {"django": {"handlers": ["file"], "level": "WARNING", "propagate": False},
                        "bedwright": {"handlers": ["file"], "level": "INFO"}},
        }
    )  # fmt: skip
