"""The hours that there are in each week."""

from __future__ import annotations

import math
from datetime import date, timedelta

from bedwright.garden.model_work import Work as Stated

_DAYS = 7


def hours_of_week(stated: Stated | None, monday: date, from_day: date) -> float:
    """The hours of all people in a week [h], from a day in it on; infinite where none are stated.

    Other hours than usual count by the day, a seventh of their week each.
    """
    if stated is None or stated.hours_per_week is None:
        return math.inf
    whole = 0.0
    for at in range(_DAYS):
        day = monday + timedelta(days=at)
        if day < from_day:
            continue
        hours = stated.hours_per_week
        for each in stated.other_hours:
            if each.holds_on(day):
                hours = each.hours_per_week
        whole += hours / _DAYS
    return round(whole, 6)
