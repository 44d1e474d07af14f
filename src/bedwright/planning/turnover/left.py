"""What is left to pick of a standing crop."""

from __future__ import annotations

import math
from datetime import date, timedelta

from bedwright.crops.timing_tables import TimingTables
from bedwright.garden.model_standing import Standing
from bedwright.planning.turnover.facts import hold_of
from bedwright.planning.turnover.model import Left
from bedwright.reference import Library
from bedwright.working import Figure

_WEEK = 7.0  # days
_SEASONAL = ("annual", "overwintered")  # a perennial's yield is of a short season of each year


def left_of(
    standing: Standing,
    crop: str,
    area: Figure,
    clear: date | None,
    as_of: date,
    library: Library,
    tables: TimingTables,
) -> Left:
    """What may still be picked of a standing crop until its bed is cleared.

    The gardener's own picking a week goes before the table's yield spread over its span. Frost and
    heat to come are not counted.

    Parameters
    ----------
    standing : as the document states it
    crop : its key
    area : of the ground that it takes [m2]
    clear : the day by which the bed is to be empty; None where it is not known
    as_of : the day of reading
    library, tables : the tables
    """
    habits = {row["property"]: row["word"] for row in library.habits(crop)}
    many = habits.get("picked") == "many"
    first, last = _picking(standing, crop, tables)
    rate, once = _expected(standing, crop, area, library, tables, habits)
    hold = hold_of(library, crop)
    total = None
    if once is not None and not many:
        gone = last is not None and last < as_of
        total = None if gone else once.named("left")
        once = total
    elif rate is not None and clear is not None:
        begin = max(as_of, first) if first is not None else as_of
        end = min(clear, last) if last is not None else clear
        weeks = Figure("weeks", max((end - begin).days, 0) / _WEEK, "week", "computed")
        total = Figure("left", rate.value * weeks.value, "kg", "computed",
                       rate.least * weeks.value, rate.most * weeks.value,
                       formula="a week's picking x weeks", inputs=(rate, weeks))  # fmt: skip
    return Left(rate, once if not many else None, first, last, total, hold)


def over_on(left: Left) -> date | None:
    """The day on which nothing more is expected; None where it is not known."""
    if left.last is None:
        return None
    hold = 0 if left.hold is None else round(left.hold.most)
    return left.last + timedelta(days=hold)


def _picking(
    standing: Standing, crop: str, tables: TimingTables
) -> tuple[date | None, date | None]:
    """The days of picking by the tables, where the day of planting is stated.

    A perennial is picked every year: its days are not told by when it was planted.
    """
    start, life = tables.words.get((crop, "start")), tables.words.get((crop, "life"))
    perennial = life is not None and life["word"] not in _SEASONAL
    if standing.since is None or start is None or perennial:
        return None, None
    days = tables.days_to_harvest(crop, tables.usual_start(crop))
    if math.isnan(days):
        return None, None
    first = standing.since + timedelta(days=round(days))
    span = tables.days(crop, "harvest_span")
    return first, None if math.isnan(span) else first + timedelta(days=round(span))


def _expected(
    standing: Standing,
    crop: str,
    area: Figure,
    library: Library,
    tables: TimingTables,
    habits: dict[str, str],
) -> tuple[Figure | None, Figure | None]:
    """A week's picking, and the whole harvest, where they can be told [kg]."""
    stated = standing.pick_per_week
    if stated is not None:
        return Figure("pick_per_week", float(stated.si), "kg", "stated", note=stated.text), None
    table = library.fact("crop_facts", crop, "yield", "kg/m2")
    if table is None or habits.get("life") not in _SEASONAL:
        return None, None
    whole = Figure("harvest", table.value * area.value, "kg", "computed",
                   table.least * area.value, table.most * area.value,
                   formula="yield x area", inputs=(table, area))  # fmt: skip
    span = tables.days(crop, "harvest_span")
    if habits.get("picked") != "many" or math.isnan(span):
        return None, whole if habits.get("picked") == "once" else None
    weeks = Figure("weeks", span / _WEEK, "week", "computed")
    rate = Figure("pick_per_week", whole.value / weeks.value, "kg", "computed",
                  whole.least / weeks.value, whole.most / weeks.value,
                  formula="harvest / weeks of picking", inputs=(whole, weeks))  # fmt: skip
    return rate, None
