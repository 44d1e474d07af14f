"""Plantings that would stand on the same ground at the same time: whole beds and their parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType

from bedwright.garden.ground import meet
from bedwright.planning.findings import Finding
from bedwright.planning.prescription import Prescription
from bedwright.planning.supply import NitrogenCourse
from bedwright.planning.timing_model import WantDates

_UNKNOWN_DAY, _UNKNOWN_END = "set_out_not_stated", "season_days_assumed"


@dataclass(frozen=True)
class GroundHeld:
    """The ground that a planting holds: a bed or one ``part`` of it, from ``start`` to ``last``.

    ``last`` is the last day of harvest, ``free`` the first day on which another crop may start;
    None where it ``stays`` or nothing tells.
    """

    bed: str
    part: int | None
    crop: str
    start: date
    last: date | None
    free: date | None
    stays: bool = False


def ground_held(
    plan: Prescription, course: NitrogenCourse, dates: WantDates | None, turnover_days: int
) -> GroundHeld | None:
    """The ground of a planting; None where nothing tells its day.

    It is held until the last harvest, by the weather where that tells it, else by the days of the
    tables; a cover's end is told by the weather alone. ``turnover_days``, 0 and up, lie between
    that day and the next crop.
    """
    if any(each.code == _UNKNOWN_DAY for each in plan.findings):
        return None
    stays = plan.crop.kind == "perennial"
    last = None if stays else _last(plan, course, dates)
    free = None if last is None else last + timedelta(days=1 + turnover_days)
    name = plan.crop.name.lower()
    return GroundHeld(plan.bed.id, plan.part, name, course.set_out, last, free, stays)


def _last(plan: Prescription, course: NitrogenCourse, dates: WantDates | None) -> date | None:
    outlook = None if dates is None else dates.taken
    if outlook is not None:
        if outlook.last_harvest is None:
            return None
        return outlook.on + timedelta(days=round(outlook.last_harvest.mean))
    assumed = any(each.code == _UNKNOWN_END for each in course.findings)
    return None if assumed or plan.crop.kind == "cover" else course.last_harvest


def still_standing(held: Sequence[GroundHeld | None]) -> tuple[tuple[Finding, ...], ...]:
    """For each planting: what still stands on its ground, or on a part of it, on its first day.

    Of two with one first day the one told later is said to come too early.
    """
    order = sorted(
        (at for at, each in enumerate(held) if each is not None),
        key=lambda at: (_known(held[at]).start, at),
    )
    found: list[tuple[Finding, ...]] = [()] * len(held)
    for place, at in enumerate(order):
        own = _known(held[at])
        before = [_known(held[each]) for each in order[:place]]
        found[at] = tuple(_said(own, before))
    return tuple(found)


def _known(each: GroundHeld | None) -> GroundHeld:
    assert each is not None
    return each


def _said(own: GroundHeld, before: Sequence[GroundHeld]) -> Iterator[Finding]:
    for first in before:
        if first.bed != own.bed or not meet(first.part, own.part):
            continue
        part = own.part if first.part is None else first.part
        values: dict[str, str] = {"bed": own.bed, "crop": own.crop, "first": first.crop,
                                  "second": own.start.isoformat()}  # fmt: skip
        if part is not None:
            values["part"] = str(part)
        if first.stays:
            code = "first_crop_stays" if part is None else "first_crop_stays_part"
            yield Finding(code, "act", MappingProxyType(values))
        elif first.last is not None and first.free is not None and first.free > own.start:
            values |= {"last": first.last.isoformat(), "free": first.free.isoformat()}
            code = "first_crop_still_stands" if part is None else "first_crop_still_stands_part"
            yield Finding(code, "act", MappingProxyType(values))
