"""What the plan has to say: a code and its values, no prose. Shells put it into words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Literal

from bedwright.working import Figure, Source

Weight = Literal["act", "caution", "doubt", "assumed", "note"]
Value = float | str | Figure


@dataclass(frozen=True)
class Finding:
    """One thing to say of a bed.

    ``weight`` orders findings for the reader: act first, then cautions, doubts, assumptions and
    notes. ``values`` fill the sentence that the shell keeps for ``code``.
    """

    code: str
    weight: Weight
    values: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    sources: tuple[Source, ...] = ()

    def __reduce__(self) -> tuple[Any, ...]:
        """Findings are handed between processes, which a view of a mapping can't be."""
        return _again, (self.code, self.weight, dict(self.values), self.sources)


ACT: Weight = "act"
NOTE: Weight = "note"


def finding(
    code: str, weight: Weight, *, sources: tuple[Source, ...] = (), **values: Value
) -> Finding:
    """A finding with its values."""
    return Finding(code, weight, MappingProxyType(dict(values)), sources)


def _again(
    code: str, weight: Weight, values: dict[str, Value], sources: tuple[Source, ...]
) -> Finding:
    return Finding(code, weight, MappingProxyType(values), sources)
