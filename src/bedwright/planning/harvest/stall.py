"""What the stall wants of a crop in each week, and what is offered of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from bedwright.garden.model_rotation import Wish
from bedwright.planning.harvest.model import NOTHING, Balance, Range
from bedwright.planning.harvest.pickings import monday_of

# What is less than a tenth off is within the error of any yield, as in the rotation's wishes.
_NOTABLY = 0.1
_WEEK = 7


def wanted_by_week(wishes: Sequence[Wish], year: int) -> dict[date, float]:
    """What wishes by the week ask for in each week [kg], by its Monday.

    A week in which the stall stands for some days only wants that share of it.
    """
    found: dict[date, float] = {}
    for each in wishes:
        if each.a_week is None or each.from_day is None or each.to_day is None:
            continue
        if each.years is not None and year not in each.years:
            continue
        first, last = date(year, *each.from_day), date(year, *each.to_day)
        if last < first:
            last = last.replace(year=year + 1)
        on = first
        while on <= last:
            week = monday_of(on)
            end = min(week + timedelta(days=_WEEK - 1), last)
            share = ((end - on).days + 1) / _WEEK
            found[week] = found.get(week, 0.0) + each.a_week.si * share
            on = end + timedelta(days=1)
    return found


def balance_of(offered: float, wanted: float | None) -> Balance:
    """Whether a week has what is wanted, notably less, or notably more."""
    if wanted is None:
        return ""
    if offered < wanted * (1 - _NOTABLY):
        return "gap"
    return "glut" if offered > wanted * (1 + _NOTABLY) else "enough"


def offered_of_kept(
    ready: Mapping[date, Range], wanted: Mapping[date, float]
) -> tuple[dict[date, Range], Range]:
    """What is offered by the week of a crop that keeps, and what is left when the wishes end [kg].

    What is ready and not wanted yet waits for the weeks after it; nothing is kept from the year
    before.
    """
    weeks = sorted({*ready, *wanted})
    offered: dict[date, list[float]] = {each: [] for each in weeks}
    left = []
    for end in ("low", "typical", "high"):
        store = 0.0
        for week in weeks:
            store += getattr(ready.get(week, NOTHING), end)
            sold = min(store, wanted.get(week, 0.0))
            offered[week].append(sold)
            store -= sold
        left.append(store)
    return {week: Range(*parts) for week, parts in offered.items()}, Range(*left)
