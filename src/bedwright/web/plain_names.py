"""Names of files that somebody else chose: which of them stay where they are put."""

from __future__ import annotations

MOST_CHARACTERS = 200
# Names that one widespread system keeps for its devices, whatever their ending.
_PORTS = {f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10)}
_DEVICES = {"con", "prn", "aux", "nul"} | _PORTS


def plain_name(name: str) -> bool:
    """Whether a name is that of one file in one folder: no path, no sign that no file may bear."""
    return (
        0 < len(name) <= MOST_CHARACTERS
        and not name.startswith(".")
        and not name.endswith((".", " "))
        and not any(each in '/\\:*?"<>|' or not each.isprintable() for each in name)
        and name.partition(".")[0].casefold() not in _DEVICES
    )


def plain_path(name: str) -> bool:
    """Whether a name inside an archive is a path of plain names below the archive's own root."""
    return 0 < len(name) <= 2 * MOST_CHARACTERS and all(map(plain_name, name.split("/")))
