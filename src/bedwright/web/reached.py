"""The address under which a calendar program reaches the garden's calendar."""

from __future__ import annotations

import ipaddress
from urllib.parse import urlsplit

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse

from bedwright.web.network import own_addresses


def address_of(request: HttpRequest, token: str) -> tuple[str, bool]:
    """The whole private address, and whether other machines on the network reach it.

    Asked at the machine itself, at ``localhost``, it bears the machine's address on its network
    where the site answers there.
    """
    here = request.build_absolute_uri(reverse("calendar-private", args=[token]))
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
