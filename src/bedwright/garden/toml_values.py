"""Values as TOML text, in the style of the garden document."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\r": "\\r", "\t": "\\t"}


def key_text(word: str) -> str:
    """A key, in quotes where it needs them."""
    return word if _BARE.fullmatch(word) else _string(word)


def value_text(value: Any, *, lines: bool = False) -> str:
    """A value as TOML.

    A table stands within its line; with ``lines`` a list of tables takes a line for each. Raises
    TypeError for what TOML has no word for.
    """
    plain = _plain(value)
    if plain is not None:
        return plain
    if isinstance(value, Mapping):
        pairs = [f"{key_text(str(key))} = {value_text(each)}" for key, each in value.items()]
        return f"{{ {', '.join(pairs)} }}" if pairs else "{}"
    if isinstance(value, Sequence):
        items = [value_text(each) for each in value]
        if lines and items and any(isinstance(each, Mapping) for each in value):
            return "[\n" + "".join(f"  {each},\n" for each in items) + "]"
        return f"[{', '.join(items)}]"
    raise TypeError(f"{value!r} is no value of a garden document")


def table_text(header: str, fields: Mapping[str, Any]) -> list[str]:
    """A table's lines: its header, then its fields; tables within it stand within their line."""
    lines = [header]
    for key, value in fields.items():
        lines += f"{key_text(key)} = {value_text(value, lines=True)}".split("\n")
    return lines


def _plain(value: Any) -> str | None:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, int | float):
        return _number(value)
    return value.isoformat() if type(value) is date else None


def _number(value: float) -> str:
    if not math.isfinite(value):
        raise TypeError("a garden document has no such number")
    text = repr(value)
    if "e" in text and "." not in text:
        mantissa, _, exponent = text.partition("e")
        return f"{mantissa}.0e{exponent}"
    return text


def _string(value: str) -> str:
    def escaped(sign: str) -> str:
        if sign in _ESCAPES:
            return _ESCAPES[sign]
        return f"\\u{ord(sign):04x}" if ord(sign) < 32 or ord(sign) == 127 else sign

    return '"' + "".join(escaped(each) for each in value) + '"'
