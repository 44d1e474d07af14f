"""What a check of the document has found so far."""

from __future__ import annotations

from dataclasses import dataclass, field

from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.results import ReadResult

Found = tuple[
    str, int, FieldPath, str, str
]  # file ("" for the document), line, path, problem, remedy


@dataclass
class Checked:
    """The outcome of the cross-check: faults, results by report, table keys by path, the bytes of
    the weather file, and which own crop (its place in ``[[crop]]``) a crop's name means."""

    faults: list[Found] = field(default_factory=list)
    soil: dict[str, tuple[ReadResult, ...]] = field(default_factory=dict)
    water: dict[str, tuple[ReadResult, ...]] = field(default_factory=dict)
    keys: dict[FieldPath, str] = field(default_factory=dict)
    weather: bytes | None = None
    cultivars: dict[FieldPath, int] = field(default_factory=dict)

    def fault(self, path: FieldPath, problem: str, remedy: str = "") -> None:
        """Note a fault of the document."""
        self.faults.append(("", 0, path, problem, remedy))
