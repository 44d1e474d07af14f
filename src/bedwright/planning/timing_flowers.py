"""What weather the flowers of a planting meet: too hot or too cool for the best fruit set."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.stages import running_total, sum_between
from bedwright.planning.timing_model import DateOutlook


def met_by_flowers(
    seen: DateOutlook,
    offset: int,
    off_range: tuple[NDArray[np.bool_], NDArray[np.bool_]] | None,
    firsts: NDArray[np.int_],
    fruit_days: float,
) -> tuple[float | None, float | None]:
    """The share of the days that are too hot, and too cool, for fruit that is still picked.

    Parameters
    ----------
    seen : of the date: when the first flower and the last picking come on average
    offset : the date [days from a season's start]
    off_range : whether each day of the record is too hot and too cool, (days,) each; or None
    firsts : first days of the seasons [index]
    fruit_days : from set to picking [days]

    Over all seasons that the record holds whole; None where nothing flowers or none is whole.
    """
    flower, last = seen.first_flower, seen.last_harvest
    if off_range is None or flower is None or last is None:
        return None, None
    begin = firsts + offset + round(flower.mean)
    end = firsts + offset + round(last.mean - fruit_days) + 1
    whole = (begin >= 0) & (end <= off_range[0].size) & (end > begin)
    if not whole.any():
        return None, None
    days = float((end - begin)[whole].sum())
    hot, cool = (
        float(sum_between(running_total(each), begin[whole], end[whole]).sum()) / days
        for each in off_range
    )
    return hot, cool
