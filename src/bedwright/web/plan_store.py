"""Plans and what goes with them, kept as signed files: only our own are opened."""

from __future__ import annotations

import copyreg
import hashlib
import hmac
import io
import pickle
import zlib
from collections import OrderedDict
from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from threading import Lock
from types import MappingProxyType
from typing import Any

from bedwright import __version__
from bedwright.garden import write_whole
from bedwright.planning.bed_ledger import BedLedger
from bedwright.planning.work.model import Act, Work
from bedwright.season import SeasonPlan, revisions
from bedwright.web.home import home

_MOST_KEPT = 24  # plans, ledgers, years and the light of beds in memory
_MOST_FILES = 60
_SIGNATURE = 32  # bytes of a SHA-256
_WORKED_OUT = ("grown", "work", "harvest", "purchases", "turnover")  # properties, kept once read
_kept: OrderedDict[tuple[str, str], object] = OrderedDict()
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
        _tables(),
        text,
        files,
        as_of.isoformat(),
        journal,
    ]
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


@lru_cache(maxsize=1)  # a process reads the tables once, too
def _tables() -> str:
    """What names the reference tables."""
    return repr(sorted(revisions().items()))


def stored_plan(key: str) -> SeasonPlan | None:
    """A plan by its key, from memory or file; None where it is not made, or not by us."""
    found = _stored(key, "plan")
    return found if isinstance(found, SeasonPlan) else None


def stored_ledger(key: str) -> BedLedger | None:
    """The ledger of all beds with the plan of this key, as :func:`stored_plan`."""
    found = _stored(key, "ledger")
    return found if isinstance(found, BedLedger) else None


def stored_as(key: str, kind: str) -> object:
    """What was kept under a key as a kind of its own; None where nothing is."""
    return _stored(key, kind)


def keep_as(key: str, kind: str, made: object) -> None:
    """Keep something under a key as a kind of its own. Raises OSError."""
    _keep(key, kind, made)


def forget(key: str, kind: str) -> None:
    """Forget what is kept under a key; what is not kept is no fault."""
    with _lock:
        _kept.pop((key, kind), None)
    _path(key, kind).unlink(missing_ok=True)


def keep_plan(key: str, plan: SeasonPlan) -> None:
    """Keep a plan, and drop the oldest of too many. Raises OSError."""
    _keep(key, "plan", plan)


def worked_out(plan: SeasonPlan) -> SeasonPlan:
    """A plan with what it works out when first asked, so that no page waits for it."""
    for each in _WORKED_OUT:
        getattr(plan, each)
    return plan


def with_work(plan: SeasonPlan, acts: tuple[Act, ...], work: Work) -> SeasonPlan:
    """A plan as it stands after more was done: all of it the same but its work."""
    made = replace(plan, acts=acts)
    known = {each: plan.__dict__[each] for each in _WORKED_OUT if each in plan.__dict__}
    made.__dict__.update(known | {"work": work})
    return made


def keep_ledger(key: str, ledger: BedLedger) -> None:
    """Keep the ledger that belongs to a plan. Raises OSError."""
    _keep(key, "ledger", ledger)


def _stored(key: str, kind: str) -> object:
    with _lock:
        if (key, kind) in _kept:
            _kept.move_to_end((key, kind))
            return _kept[key, kind]
    try:
        data = _path(key, kind).read_bytes()
    except OSError:
        return None
    signature, body = data[:_SIGNATURE], data[_SIGNATURE:]
    if not hmac.compare_digest(signature, _signed(body)):
        return None
    try:
        found: object = pickle.loads(zlib.decompress(body))
    except Exception:  # a cache written by another version of a library: made again
        return None
    _remember(key, kind, found)
    return found


def _keep(key: str, kind: str, made: object) -> None:
    stream = io.BytesIO()
    pickle.dump(made, stream, protocol=5)
    body = zlib.compress(stream.getvalue(), 1)
    write_whole(_path(key, kind), _signed(body) + body)
    _remember(key, kind, made)
    files = _path(key, kind).parent.glob(f"*.{kind}")
    for old in sorted(files, key=lambda each: each.stat().st_mtime)[:-_MOST_FILES]:
        old.unlink(missing_ok=True)


def _remember(key: str, kind: str, made: object) -> None:
    with _lock:
        _kept[key, kind] = made
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)


def _path(key: str, kind: str) -> Path:
    return home().cache / "plans" / f"{key}.{kind}"


def _signed(body: bytes) -> bytes:
    return hmac.new(home().secret().encode(), body, hashlib.sha256).digest()
