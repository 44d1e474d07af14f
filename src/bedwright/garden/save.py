"""Saving a garden document without losing comments or order, whole or not at all."""

from __future__ import annotations

import difflib
import os
import tempfile
from pathlib import Path
from typing import Any

from bedwright.garden.faults import Path as FieldPath


def changed_text(text: str, path: FieldPath, value: Any) -> str:
    """The TOML text with one field set, comments and order kept.

    Raises KeyError or IndexError where the parent of ``path`` does not exist.
    """
    import tomlkit

    document = tomlkit.parse(text)
    untouched = tomlkit.dumps(document)
    parent: Any = document
    for each in path[:-1]:
        parent = parent[each]
    parent[path[-1]] = value
    return _as_written(text, untouched, tomlkit.dumps(document))


def _as_written(text: str, untouched: str, changed: str) -> str:
    """``changed`` with every line that the change left alone as it stood in ``text``.

    tomlkit drops the space after a date in an inline table; ``untouched`` is what it makes of
    ``text`` without a change.
    """
    old, same, new = (each.split("\n") for each in (text, untouched, changed))
    if len(old) != len(same):
        return changed
    lines: list[str] = []
    matcher = difflib.SequenceMatcher(None, same, new, autojunk=False)
    for tag, start, stop, new_start, new_stop in matcher.get_opcodes():
        lines += old[start:stop] if tag == "equal" else new[new_start:new_stop]
    return "\n".join(lines)


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file so that a reader finds the old content or the new, never half of either."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(descriptor, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o644
        Path(temporary).chmod(mode)
        Path(temporary).replace(path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
