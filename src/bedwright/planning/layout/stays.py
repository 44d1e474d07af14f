"""From when to when a crop stands in its bed, and how high it is by then."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.sunlight import MONTHS

_MID_MONTH = 15
_SUMMER = (3, 4, 5, 6, 7, 8)  # April to September, of the northern half


@dataclass(frozen=True)
class Stay:
    """A crop's time in its bed. ``start`` is None where no day is known: it is then taken to
    stand grown through the summer half of the year."""

    start: date | None
    first_pick: date | None
    end: date | None

    def share_grown(self, on: date) -> float:
        """How much of its height it has on a day, 0 to 1: evenly from its start to its first
        harvest; 0 while it does not stand."""
        if self.start is None or self.first_pick is None or self.end is None:
            raise ValueError("the crop's days are not known")
        if not self.start <= on <= self.end:
            return 0.0
        days = max((self.first_pick - self.start).days, 1)
        return min((on - self.start).days / days, 1.0)


def stay_of(crop: LayoutCrop, start: date | None) -> Stay:
    """When a crop set out or sown on a day is first picked and when it is done.

    By the tables' days in good weather; one whose days are not known has no end and no start.
    """
    if start is None or math.isnan(crop.days_to_pick):
        return Stay(None, None, None)
    first = start + timedelta(days=round(crop.days_to_pick))
    span = 0 if math.isnan(crop.days_picked) else round(crop.days_picked)
    return Stay(start, first, first + timedelta(days=span))


@dataclass(frozen=True)
class CropDays:
    """The days of a crop's work; ``sow_under_cover`` is None for one that isn't raised, or where
    no table says how long."""

    sow_under_cover: date | None
    start: date
    first_pick: date
    end: date


def crop_days(crop: LayoutCrop, stay: Stay) -> CropDays | None:
    """The days of a crop by the tables' days in good weather; None where they are not known."""
    if stay.start is None or stay.first_pick is None or stay.end is None:
        return None
    sow = None
    if crop.start == "set_out" and not math.isnan(crop.days_raised):
        sow = stay.start - timedelta(days=round(crop.days_raised))
    return CropDays(sow, stay.start, stay.first_pick, stay.end)


def heights_by_month(stay: Stay, height_m: float, latitude_deg: float) -> tuple[float, ...]:
    """How high a crop stands in the middle of each month, January first [m]; 0 where it does
    not stand."""
    if stay.start is None:
        summer = _SUMMER if latitude_deg >= 0 else tuple((each + 6) % MONTHS for each in _SUMMER)
        return tuple(height_m if month in summer else 0.0 for month in range(MONTHS))
    found = [0.0] * MONTHS
    for year in range(stay.start.year, _last_year(stay) + 1):
        for month in range(MONTHS):
            share = stay.share_grown(date(year, month + 1, _MID_MONTH))
            found[month] = max(found[month], share * height_m)
    return tuple(found)


def months_of(stay: Stay, latitude_deg: float) -> tuple[int, ...]:
    """The months, 0 to 11, in which a crop stands: those whose middle it sees, or else the one in
    which it starts."""
    tall = heights_by_month(stay, 1.0, latitude_deg)
    found = tuple(month for month in range(MONTHS) if tall[month] > 0)
    if not found and stay.start is not None:
        return (stay.start.month - 1,)
    return found


def _last_year(stay: Stay) -> int:
    assert stay.end is not None
    return stay.end.year
