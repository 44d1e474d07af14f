"""How fast somebody may guess at a password: a wait that grows with every failure.

Counted in the database, for each pair of name and address, for each address, and for each name.
A try is counted before its password is looked at, so that many at once gain nothing.
"""

from __future__ import annotations

import hashlib
import hmac
from datetime import datetime, timedelta

from django.conf import settings
from django.db import transaction

from bedwright.web.models import SignInTry

# Failures that cost no wait, and the longest wait (s). A name alone waits little: somebody else's
# guessing must not shut the gardener out for long.
_FREE = {"pair": (5, 3600), "address": (20, 3600), "name": (50, 120)}
_FIRST_WAIT = 15  # s after the first failure too many; each further one doubles it
_FORGOTTEN = timedelta(days=1)


def wait_s(failures: int, kind: str) -> int:
    """The wait after so many failures: none, then 15 s, doubling to the longest of its kind."""
    free, most = _FREE[kind]
    return 0 if failures < free else min(most, _FIRST_WAIT * 2 ** min(failures - free, 16))


def begin(name: str, address: str, now: datetime) -> int:
    """Count a try, and give 0; or count nothing, and give the seconds still to wait."""
    keys = _keys(name, address)
    with transaction.atomic():
        SignInTry.objects.filter(last_at__lt=now - _FORGOTTEN).delete()
        for key in keys.values():
            SignInTry.objects.get_or_create(key=key, defaults={"last_at": now})
        found = {each.key: each for each in
                 SignInTry.objects.select_for_update().filter(key__in=keys.values())}  # fmt: skip
        left = 0
        for kind, key in keys.items():
            waited = max(0, int((now - found[key].last_at).total_seconds()))
            left = max(left, wait_s(found[key].failures, kind) - waited)
        if left > 0:
            return left
        for tried in found.values():
            tried.failures += 1
            tried.last_at = now
            tried.save()
    return 0


def succeeded(name: str, address: str) -> None:
    """Forget the failures of this name from this address; take this try back from the others."""
    keys = _keys(name, address)
    with transaction.atomic():
        SignInTry.objects.filter(key=keys["pair"]).delete()
        for kind in ("address", "name"):
            held = SignInTry.objects.select_for_update().filter(key=keys[kind]).first()
            if held is not None and held.failures > 0:
                held.failures -= 1
                held.save()


def _keys(name: str, address: str) -> dict[str, str]:
    folded = name.strip().casefold()
    asked = {"pair": f"{folded}\0{address}", "address": address, "name": folded}
    return {
        kind: hmac.new(
            settings.SECRET_KEY.encode(), f"{kind}\0{each}".encode(), hashlib.sha256
        ).hexdigest()
        for kind, each in asked.items()
    }
