"""Monthly statistics of a record with their standard errors, for comparing generated weather.

Days of one year hang together, so a year is the unit: the standard error of a statistic is that
of the yearly sums of its influence (what each day adds to it), which holds for any dependence
within the year.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bedwright.climate.record import DailyRecord, year_month_day

Array = np.ndarray


@dataclass(frozen=True)
class Statistic:
    """One statistic by month (12,), with its standard error."""

    value: Array
    error: Array


def moments(record: DailyRecord, wet_day_mm: float) -> dict[str, Statistic]:
    """Means, variances, correlations with the day before, and the rain's statistics."""
    years, month, _ = year_month_day(record.dates())
    year = years - years[0]
    assert record.rain_mm is not None
    wet = (record.rain_mm >= wet_day_mm).astype(float)
    found = {
        "wet fraction": _mean(wet, np.ones(len(wet), bool), year, month),
        "wet after wet": _mean(wet, np.concatenate(([False], wet[:-1] == 1)), year, month),
        "rain of a wet day": _mean(record.rain_mm, wet == 1, year, month),
        "variance of a wet day's rain": _variance(record.rain_mm, wet == 1, year, month),
        "correlation of maximum and minimum": _correlation(
            record.t_max_c, record.t_min_c, np.ones(len(wet), bool), year, month
        ),
    }
    for name, values in _series(record):
        every = np.ones(len(values), bool)
        inside = np.concatenate(([False], month[1:] == month[:-1]))
        before = np.concatenate((values[:1], values[:-1]))
        found[f"mean of {name}"] = _mean(values, every, year, month)
        found[f"variance of {name}"] = _variance(values, every, year, month)
        found[f"{name} with the day before"] = _correlation(values, before, inside, year, month)
    return found


def _series(record: DailyRecord) -> Iterator[tuple[str, Array]]:
    yield "maximum", record.t_max_c
    yield "minimum", record.t_min_c
    if record.radiation_mj_m2 is not None:
        yield "radiation", record.radiation_mj_m2


def _by_month(values: Array, chosen: Array, month: Array) -> Array:
    count = np.bincount(month[chosen], minlength=13)[1:]
    return np.bincount(month[chosen], weights=values[chosen], minlength=13)[1:] / count


def _error(influence: Array, chosen: Array, year: Array, month: Array) -> Array:
    """Standard error of a mean of influences (which sum to about 0), years being the unit."""
    count = np.bincount(month[chosen], minlength=13)[1:]
    cell = year * 12 + month - 1
    years = int(year.max()) + 1
    sums = np.bincount(cell[chosen], weights=influence[chosen], minlength=years * 12)
    by_year = sums.reshape(years, 12)
    return np.sqrt((by_year**2).sum(axis=0) * years / (years - 1)) / count


def _mean(values: Array, chosen: Array, year: Array, month: Array) -> Statistic:
    mean = _by_month(values, chosen, month)
    return Statistic(mean, _error(values - mean[month - 1], chosen, year, month))


def _variance(values: Array, chosen: Array, year: Array, month: Array) -> Statistic:
    off = values - _by_month(values, chosen, month)[month - 1]
    return _mean(off**2, chosen, year, month)


def _correlation(one: Array, other: Array, chosen: Array, year: Array, month: Array) -> Statistic:
    one, other = (_standard(each, chosen, month) for each in (one, other))
    value = _by_month(one * other, chosen, month)
    influence = one * other - value[month - 1] * (one**2 + other**2) / 2
    return Statistic(value, _error(influence, chosen, year, month))


def _standard(values: Array, chosen: Array, month: Array) -> Array:
    off = values - _by_month(values, chosen, month)[month - 1]
    return off / np.sqrt(_by_month(off**2, chosen, month))[month - 1]


def z_scores(generated: dict[str, Statistic], target: dict[str, Statistic]) -> dict[str, Array]:
    """How many standard errors of the generated years lie between them and their target."""
    return {
        name: (each.value - target[name].value) / each.error for name, each in generated.items()
    }
