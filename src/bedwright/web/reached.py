"""The address under which a telephone or another program reaches a page."""

from __future__ import annotations

import ipaddress
from urllib.parse import urlsplit

from django.conf import settings
from django.http import HttpRequest

from bedwright.web.network import own_addresses


def reached_at(request: HttpRequest, path: str) -> tuple[str, bool]:
    """The whole address of a path of these pages, and whether other machines reach it there.

    Asked at the machine itself, at ``localhost``, it bears the machine's address on its network
    where the site answers there: ``localhost`` would lead a telephone to itself.
    """
    here = request.build_absolute_uri(path)
    parts = urlsplit(here)
    if not _this_machine(parts.hostname or ""):
        return here, True
    addresses = own_addresses() if settings.LAN else ()
    if not addresses:
        return here, False
    port = f":{parts.port}" if parts.port else ""
    return f"{parts.scheme}://{addresses[0]}{port}{parts.path}", True


def _this_machine(host: str) -> bool:
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
