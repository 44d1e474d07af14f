"""By which names and addresses other machines on the network reach this one."""

from __future__ import annotations

import contextlib
import ipaddress
import socket

# An address set aside for documents: asking the way to it sends nothing to anybody.
_ANYWHERE = ("192.0.2.1", 9)


def own_addresses() -> tuple[str, ...]:
    """The addresses (IPv4) of this machine on its networks, the likeliest first; may be empty."""
    found: list[str] = []
    asked = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    with contextlib.closing(asked), contextlib.suppress(OSError):  # no network leads further
        asked.connect(_ANYWHERE)
        found.append(str(asked.getsockname()[0]))
    with contextlib.suppress(OSError):  # a name that nobody here knows
        found += socket.gethostbyname_ex(socket.gethostname())[2]
    useful = (each for each in found if not _of_no_use(each))
    return tuple(dict.fromkeys(useful))


def own_names() -> tuple[str, ...]:
    """The name of this machine, plain and as local networks tell it."""
    name = socket.gethostname().split(".")[0].lower()
    return (name, f"{name}.local") if name and name != "localhost" else ()


def in_terminal(address: str) -> str:
    """The QR code of an address, drawn with the characters of a terminal."""
    import io

    import segno

    drawn = io.StringIO()
    segno.make(address, micro=False).terminal(out=drawn, compact=True, border=2)
    return drawn.getvalue()


def _of_no_use(address: str) -> bool:
    found = ipaddress.ip_address(address)
    return found.is_loopback or found.is_unspecified or found.is_link_local
