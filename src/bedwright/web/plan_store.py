"""Plans that were made, kept as files in the cache: signed, so that only our own are opened."""

from __future__ import annotations

import copyreg
import hashlib
import hmac
import io
import pickle
import zlib
from collections import OrderedDict
from datetime import date
from pathlib import Path
from threading import Lock
from types import MappingProxyType
from typing import Any

from bedwright import __version__
from bedwright.garden import write_whole
from bedwright.season import SeasonPlan, revisions
from bedwright.web.home import home

_KEPT = 6
_MOST_FILES = 60
_SIGNATURE = 32  # bytes of a SHA-256
_plans: OrderedDict[str, SeasonPlan] = OrderedDict()
_lock = Lock()


def _proxy(items: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(items)


def _reduced(view: MappingProxyType[Any, Any]) -> tuple[Any, tuple[dict[Any, Any]]]:
    return _proxy, (dict(view),)


copyreg.pickle(MappingProxyType, _reduced)


def plan_key(text: str, files: str, as_of: date, journal: str = "") -> str:
    """What names a plan: document, files, day, journal, program and tables."""
    parts = [
        __version__,
        repr(sorted(revisions().items())),
        text,
        files,
        as_of.isoformat(),
        journal,
    ]
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def stored_plan(key: str) -> SeasonPlan | None:
    """A plan by its key, from memory or file; None where it is not made, or not by us."""
    with _lock:
        if key in _plans:
            _plans.move_to_end(key)
            return _plans[key]
    try:
        data = _path(key).read_bytes()
    except OSError:
        return None
    signature, body = data[:_SIGNATURE], data[_SIGNATURE:]
    if not hmac.compare_digest(signature, _signed(body)):
        return None
    try:
        found = pickle.loads(zlib.decompress(body))
    except Exception:  # a cache written by another version of a library: made again
        return None
    if not isinstance(found, SeasonPlan):
        return None
    _remember(key, found)
    return found


def keep_plan(key: str, plan: SeasonPlan) -> None:
    """Keep a plan, and drop the oldest of too many. Raises OSError."""
    stream = io.BytesIO()
    pickle.dump(plan, stream, protocol=5)
    body = zlib.compress(stream.getvalue(), 1)
    write_whole(_path(key), _signed(body) + body)
    _remember(key, plan)
    kept = sorted(_path(key).parent.glob("*.plan"), key=lambda each: each.stat().st_mtime)
    for old in kept[:-_MOST_FILES]:
        old.unlink(missing_ok=True)


def _remember(key: str, plan: SeasonPlan) -> None:
    with _lock:
        _plans[key] = plan
        while len(_plans) > _KEPT:
            _plans.popitem(last=False)


def _path(key: str) -> Path:
    return home().cache / "plans" / f"{key}.plan"


def _signed(body: bytes) -> bytes:
    return hmac.new(home().secret().encode(), body, hashlib.sha256).digest()
