"""The last drawings that were made, so that a page which is opened again draws nothing anew."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable

from django.utils.safestring import SafeString, mark_safe


class Kept:
    """So many drawings at most, by what they show; the oldest goes first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._drawings: OrderedDict[Hashable, SafeString] = OrderedDict()

    def __len__(self) -> int:
        return len(self._drawings)

    def drawn(self, key: Hashable, make: Callable[[], str]) -> SafeString:
        """The drawing of a key, made where it is not kept.

        ``make`` gives SVG of our own drawings, which escape every word that they are given.
        """
        found = self._drawings.get(key)
        if found is None:
            found = mark_safe(make())
            self._drawings[key] = found
            while len(self._drawings) > self._most:
                self._drawings.popitem(last=False)
        return found
