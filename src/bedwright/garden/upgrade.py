"""Reading documents of older formats: each step turns one format into the next."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

from bedwright.garden.model import FORMAT

Data = dict[str, Any]


def upgrade(data: Data) -> Data:
    """The document in the present format; the given one is left as it was.

    Raises ValueError for a format that is no number or newer than this program knows.
    """
    found = data.get("format", FORMAT)
    if isinstance(found, bool) or not isinstance(found, int) or found < 1:
        raise ValueError(f"the format {found!r} is not a format number")
    if found > FORMAT:
        raise ValueError(f"the document has format {found}; this program knows up to {FORMAT}")
    upgraded = copy.deepcopy(data)
    for number in range(found, FORMAT):
        _STEPS[number](upgraded)
        upgraded["format"] = number + 1
    return upgraded


def _from_1(data: Data) -> None:
    """Format 1 wanted a crop on one bed, and kept the depth of compost with the bed."""
    depths: dict[str, Any] = {}
    for bed in _tables(data, "bed"):
        if "compost" in bed:
            depths[str(bed.get("id"))] = bed.pop("compost")
    for want in _tables(data, "want"):
        if "bed" in want:
            bed = want.pop("bed")
            want["beds"] = [bed]
            if str(bed) in depths:
                want.setdefault("compost", depths[str(bed)])


def _tables(data: Data, name: str) -> list[Data]:
    """The tables of a list; what is no list of tables is left for the check of the fields."""
    items = data.get(name)
    return [each for each in items if isinstance(each, dict)] if isinstance(items, list) else []


_STEPS: dict[int, Callable[[Data], None]] = {1: _from_1}
