"""The day on which each crop is to be planted: the schedule's, so that all outputs tell one day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.crops.timing_tables import TimingTables
from bedwright.planning.work.bed_days import BedDays, Grown, bed_days
from bedwright.planning.work.model import Assigned, Work
from bedwright.planning.work.planting import KINDS
from bedwright.reference import Library

State = Literal["planned", "laid", "done", "left_out"]


@dataclass(frozen=True)
class PlantingDay:
    """One sowing or setting out. ``crop`` is the planting's, as ``Grown.crop``; ``key`` the crop's
    own, another where it is the ``companion`` that shares the bed; ``number`` counts from 1.

    ``word`` is sown, set_out or pieces. ``planned`` is the day that the dates tell; ``day`` the one
    on which it is to be done: that of the schedule where it is ``laid``, of the record where it is
    ``done``, else the planned one. ``until`` is the last good day.
    """

    bed: str
    crop: str
    key: str
    companion: bool
    number: int
    word: str
    planned: date
    day: date
    until: date
    state: State


@dataclass(frozen=True)
class _Planned:
    """A planting before the schedule; ``crop`` as it stands in the id of its task."""

    crop: str
    key: str
    number: int
    word: str
    on: date
    until: date


def planting_days(
    plantings: Sequence[Grown],
    library: Library,
    tables: TimingTables,
    work: Work | None,
    *,
    told: bool,
) -> tuple[PlantingDay, ...]:
    """Every planting with a known day, in the order of ``plantings``, its companion after it.

    Parameters
    ----------
    plantings : first crops and second ones
    library, tables : the tables under the garden's own facts
    work : the schedule; None where there is none: then the planned days stand
    told : whether anything is written down as done; if not, what is past is only taken as done
    """
    laid = {} if work is None else {each.task: each for each in work.assigned}
    left = set() if work is None else {each.task for each in work.left_out}
    found = []
    for grown in plantings:
        days = bed_days(grown, tables, library)
        if days is None:
            continue
        for each in _planned(grown, days):
            kind = KINDS.get(each.word, "sow")
            task = f"{grown.bed}/{each.crop}/{kind}/{each.number}"
            day, state = _day(laid.get(task), each.on, told=told)
            found.append(
                PlantingDay(grown.bed, grown.crop, each.key, each.crop != grown.crop, each.number,
                            each.word, each.on, day, each.until,
                            "left_out" if task in left else state)
            )  # fmt: skip
    return tuple(found)


def _planned(grown: Grown, days: BedDays) -> Iterator[_Planned]:
    key, word = grown.prescription.crop.key, days.start_word
    for number, on in enumerate((days.start, *days.again), 1):
        until = days.start_late if number == 1 else on
        yield _Planned(grown.crop, key, number, word, on, until)
    layout = grown.layout
    if layout is None or layout.planting.companion is None:
        return
    other = layout.planting.companion
    if other.key == key or all(each.crop != other.key for each in layout.counts):
        return
    word = other.start or "sown"
    on = days.start if layout.companion_days is None else layout.companion_days.start
    yield _Planned(grown.beside(other.key), other.key, 1, word, on, on)


def _day(laid: Assigned | None, planned: date, *, told: bool) -> tuple[date, State]:
    if laid is None or (laid.done and not told):
        return planned, "planned"
    return laid.day, "done" if laid.done else "laid"
