"""The ground of a bed: all of it, or one of its parts."""

from __future__ import annotations


def meet(one: int | None, other: int | None) -> bool:
    """Whether two parts of a bed, None for all of it, have ground in common."""
    return one is None or other is None or one == other
