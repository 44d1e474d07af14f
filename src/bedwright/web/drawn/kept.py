"""The last things that were made, so that a page which is opened again makes nothing anew."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

_Made = TypeVar("_Made")


class Kept(Generic[_Made]):
    """So many things at most, by what they show; the oldest goes first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._things: OrderedDict[Hashable, _Made] = OrderedDict()

    def made(self, key: Hashable, make: Callable[[], _Made]) -> _Made:
        """The thing of a key, made where it is not kept; what ``make`` raises comes through."""
        found = self._things.get(key)
        if found is None:
            found = self._things[key] = make()
            while len(self._things) > self._most:
                self._things.popitem(last=False)
        return found
