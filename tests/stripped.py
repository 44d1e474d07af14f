"""A garden document without some of its parts: planned in a moment."""

import tomllib
from collections.abc import Callable
from typing import Any

from bedwright.garden.edit import remove_item


def without(text: str, table: str, drop: Callable[[dict[str, Any]], bool] = lambda _: True) -> str:
    """The text without the items of a list, or without those that are to be dropped."""
    held = tomllib.loads(text).get(table, [])
    for at in reversed(range(len(held))):
        if drop(held[at]):
            text = remove_item(text, (table, at))
    return text
