"""What is wrong with a garden document: where, what, and what would be right."""

from __future__ import annotations

from dataclasses import dataclass

Path = tuple[str | int, ...]


@dataclass(frozen=True, order=True)
class Fault:
    """One thing wrong: file, line (0 where none is known), field path, problem and remedy."""

    file: str
    line: int
    field: str
    problem: str
    remedy: str = ""

    def __str__(self) -> str:
        place = f"{self.file}, line {self.line}" if self.line else self.file
        field = f", {self.field}" if self.field else ""
        remedy = f" {self.remedy}" if self.remedy else ""
        return f"{place}{field}: {self.problem}.{remedy}"


class GardenError(ValueError):
    """A garden document that cannot be used: all its faults together."""

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = tuple(sorted(faults))
        super().__init__("\n".join(str(fault) for fault in self.faults))


def field_name(path: Path) -> str:
    """A path as a reader would say it: ``bed 3, length`` for ('bed', 2, 'length')."""
    words: list[str] = []
    for each in path:
        if isinstance(each, int) and words:
            words[-1] = f"{words[-1]} {each + 1}"
        else:
            words.append(str(each))
    return ", ".join(words)
