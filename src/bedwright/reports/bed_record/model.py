"""What the record of the beds holds. Plain data."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.journal import Note

Source = Literal["journal", "document"]


@dataclass(frozen=True)
class RecordLine:
    """One act on a bed.

    ``act`` is one of ``ACTS``; ``on`` is None where only the ``year`` is written down. ``name``
    is the general name of the material or crop, "" for neither, ``own_name`` the gardener's for it;
    ``key`` its key, ``written`` as it was written. ``amount`` is as written, with its unit; ``kg``
    [kg] the same on the whole bed, None where that is not known; ``is_mass`` tells that it is a
    mass itself. ``count`` is how many, of ``unit`` where one is named. ``label_days`` are those of
    a spray, to feeding and to picking. ``holds_pickings`` tells that a season's harvest has the
    journal's pickings in it. ``entry`` is the id of the journal's entry, or the place in the
    document.
    """

    bed: str
    act: str
    year: int
    on: date | None
    source: Source
    entry: str
    name: str = ""
    key: str = ""
    written: str = ""
    amount: str = ""
    kg: float | None = None
    is_mass: bool = False
    count: int | None = None
    unit: str = ""
    grade: str = ""
    part: int | None = None
    note: str = ""
    own_name: str = ""
    label_days: tuple[int | None, int | None] | None = None
    holds_pickings: bool = False


@dataclass(frozen=True)
class BedRecord:
    """One bed's acts, the oldest first; those of a year without a day before its others."""

    bed: str
    area_m2: float
    lines: tuple[RecordLine, ...]


@dataclass(frozen=True)
class GardenRecord:
    """The acts on all beds up to a day, and what is to be said of acts that are told twice."""

    as_of: date
    beds: tuple[BedRecord, ...]
    notes: tuple[Note, ...]
