"""What counting the journal in gives occasion to say; words live with the reports."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

Value = str | int | float | date


@dataclass(frozen=True)
class Note:
    """One thing to be said: a code, what fills its sentence (masses in kg), the entries meant."""

    code: str
    values: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    entries: tuple[str, ...] = ()


def note(code: str, *entries: object, **values: Value) -> Note:
    """A note on entries, by their ids."""
    return Note(code, MappingProxyType(values), tuple(str(each) for each in entries))
