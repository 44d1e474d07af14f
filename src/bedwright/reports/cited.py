"""The sources that a plan, or any part of it, rests on: found in its own figures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass

from bedwright.working import Source


def sources_in(roots: Iterable[object]) -> Iterator[Source]:
    """Every source within plain data: data classes, mappings, tuples and lists, at any depth."""
    seen: set[int] = set()
    waiting = list(roots)
    while waiting:
        each = waiting.pop()
        if isinstance(each, Source):
            yield each
            continue
        if isinstance(each, Mapping):
            parts: Iterable[object] = each.values()
        elif isinstance(each, tuple | list):
            parts = each
        elif is_dataclass(each) and not isinstance(each, type):
            parts = [getattr(each, field.name) for field in fields(each)]
        else:
            continue
        if id(each) not in seen:
            seen.add(id(each))
            waiting += parts
