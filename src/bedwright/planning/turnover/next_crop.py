"""The crop that a bed is needed for: the last day to clear, and what a week's delay costs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta

from bedwright.crops.growing import growing
from bedwright.crops.timing_tables import TimingTables
from bedwright.garden.model_rotation import OwnCrop
from bedwright.planning.timing_model import Judged
from bedwright.planning.turnover.model import Next
from bedwright.planning.work.bed_days import Grown, bed_days
from bedwright.reference import Library
from bedwright.working import Figure

_WEEK = 7  # days


def next_of(
    bed: str,
    part: int | None,
    plantings: Sequence[Grown],
    own: dict[str, OwnCrop | None],
    turnover_days: int,
    as_of: date,
    library: Library,
    tables: TimingTables,
) -> tuple[Next, Grown] | None:
    """The first planting of a bed after the day of reading; None where none is to come.

    Parameters
    ----------
    bed, part : its id, and the part of it that is meant, None for all
    plantings : all of the garden
    own : the gardener's own words on the crop of each want, by the planting's bed and crop
    turnover_days : that it takes to turn a bed over [days], 0 and up
    as_of : the day of reading
    library, tables : the tables
    """
    found = []
    for grown in plantings:
        if grown.bed != bed or (part is not None and grown.prescription.part not in (None, part)):
            continue
        days = bed_days(grown, tables, library)
        if days is None or days.start >= as_of:
            found.append((date.max if days is None else days.start, grown, days))
    if not found:
        return None
    _, grown, days = min(found, key=lambda each: each[0])
    crop, nth = grown.prescription.crop, grown.prescription.nth
    if days is None:
        return Next(crop.key, crop.name, nth, None, None, None, None, None), grown
    turned = timedelta(days=turnover_days)
    clear = min(days.clear, days.start - turned)
    last = clear + max(days.start_late - days.start, timedelta(0))
    lost = _a_week_late(grown, days.start)
    price = price_per_kg(own.get(f"{grown.bed}/{grown.crop}"), crop.key, library)
    money = worth_of(lost, price)
    return Next(crop.key, crop.name, nth, days.start, clear, last, lost, money), grown


def price_per_kg(own: OwnCrop | None, crop: str, library: Library) -> Figure | None:
    """The gardener's own price [money/kg]; None without one, or where a piece's mass is unknown."""
    if own is None or own.price is None or own.per is None:
        return None
    mass = own.per
    if isinstance(mass, str):
        unit = growing(library, crop).unit_mass.get(mass)
        if unit is None:
            return None
        return Figure("price", float(own.price.si) / unit.value, "money/kg", "computed",
                      formula="price / mass of a piece", inputs=(unit,))  # fmt: skip
    return Figure("price", float(own.price.si / mass.si), "money/kg", "stated")


def worth_of(mass: Figure | None, price: Figure | None) -> Figure | None:
    """Money for a mass; None where either is not known."""
    if mass is None or price is None:
        return None
    return Figure("worth", mass.value * price.value, "money", "computed",
                  mass.least * price.value, mass.most * price.value,
                  formula="mass x price", inputs=(mass, price))  # fmt: skip


def _a_week_late(grown: Grown, start: date) -> Figure | None:
    """The harvest that a week's delay takes [kg], by the weather of the years."""
    judged = _judged(grown, start)
    if judged is None or judged.chosen.harvest_days is None:
        return None
    cost, season = judged.later_cost, judged.chosen.harvest_days.mean
    if cost.days <= 0 or math.isnan(cost.harvest_days) or season <= 0:
        return None
    goal, area = grown.prescription.crop.goal, grown.prescription.evidence.area
    days = Figure("picking_days_lost", max(-cost.harvest_days, 0.0) * _WEEK / cost.days, "day",
                  "computed")  # fmt: skip
    whole = Figure("picking_days", season, "day", "computed")
    return Figure(
        "lost_a_week", goal.value * area.value * min(days.value / season, 1.0), "kg", "computed",
        formula="yield x area x days of picking lost / days of picking",
        inputs=(goal, area, days, whole),
    )  # fmt: skip


def _judged(grown: Grown, start: date) -> Judged | None:
    want = grown.dates
    if want is None:
        return None
    known = [want.stated, *(turn.best for turn in want.turns)]
    return next((each for each in known if each is not None and each.chosen.on == start), None)
