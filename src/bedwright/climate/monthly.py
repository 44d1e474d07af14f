"""Monthly statistics: of a record, or as a garden without a record states them."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from bedwright.climate.annual_cycle import MONTH_DAYS
from bedwright.climate.record import DailyRecord, FloatArray, year_month_day
from bedwright.guards import not_negative, positive, within


@dataclass(frozen=True, eq=False)
class MonthlyStatistics:
    """Statistics of the days of each month, January first (12,); None where not known.

    ``t_max_c``, ``t_min_c`` [C] and ``radiation_mj_m2`` [MJ/m2 a day] are means, ``_sd`` the
    standard deviations of days about them. ``wet_fraction`` [-] is the share of wet days,
    ``rain_wet_day_mm`` and ``rain_wet_day_sd_mm`` [mm] the rain of one (NaN in a month that has
    none), ``p_wet_after_wet`` [-] the chance that rain goes on. ``lag`` figures [-] are the
    correlations with the day before, both days in the month. ``years`` is how many years
    they rest on, 0 where that is not known.

    Raises ValueError where a row has not twelve months or a value lies outside its range.
    """

    t_max_c: FloatArray
    t_min_c: FloatArray
    t_max_sd_c: FloatArray | None = None
    t_min_sd_c: FloatArray | None = None
    t_max_lag: FloatArray | None = None
    t_min_lag: FloatArray | None = None
    wet_fraction: FloatArray | None = None
    rain_wet_day_mm: FloatArray | None = None
    rain_wet_day_sd_mm: FloatArray | None = None
    p_wet_after_wet: FloatArray | None = None
    radiation_mj_m2: FloatArray | None = None
    radiation_sd_mj_m2: FloatArray | None = None
    years: int = 0

    def __post_init__(self) -> None:
        for each in fields(self):
            values = getattr(self, each.name)
            if each.name != "years" and values is not None and np.shape(values) != (12,):
                raise ValueError(f"{each.name} has {np.shape(values)} values; it must be twelve")
        if np.any(self.t_min_c > self.t_max_c):
            month = int(np.argmax(self.t_min_c > self.t_max_c)) + 1
            raise ValueError(f"t_min_c is above t_max_c in month {month}")
        for name in ("wet_fraction", "p_wet_after_wet"):
            within(0, 1, **_without_gaps(name, getattr(self, name)))
        for name in ("t_max_lag", "t_min_lag"):
            within(-1, 1, **_without_gaps(name, getattr(self, name)))
        for each in fields(self):
            if each.name.endswith(("_sd_c", "_mm", "_m2")):
                not_negative(**_without_gaps(each.name, getattr(self, each.name)))

    @property
    def rain_mm(self) -> FloatArray | None:
        """Rain of each month [mm], from the share of wet days and the rain of one."""
        if self.wet_fraction is None or self.rain_wet_day_mm is None:
            return None
        rain = np.where(self.wet_fraction > 0, self.rain_wet_day_mm, 0.0)
        return np.asarray(self.wet_fraction * MONTH_DAYS * rain)


def _without_gaps(name: str, values: FloatArray | None) -> dict[str, FloatArray]:
    found = np.zeros(0) if values is None else np.asarray(values, dtype=np.float64)
    return {name: found[~np.isnan(found)]}


def stated_monthly(
    t_max_c: FloatArray,
    t_min_c: FloatArray,
    rain_mm: FloatArray | None = None,
    wet_days: FloatArray | None = None,
    radiation_mj_m2: FloatArray | None = None,
) -> MonthlyStatistics:
    """Monthly statistics as climate tables print them.

    Parameters
    ----------
    t_max_c, t_min_c : mean daily maximum and minimum [C], (12,)
    rain_mm : rain of the month [mm], 0 and up, (12,)
    wet_days : days of the month with rain [-], 0 to the month's days, (12,)
    radiation_mj_m2 : mean radiation of a day [MJ/m2], 0 and up, (12,)

    Raises ValueError where rain is stated without its wet days or the other way round, a month
    has one and not the other, or a value lies outside its range.
    """
    if (rain_mm is None) != (wet_days is None):
        raise ValueError("rain_mm and wet_days must be stated together")
    fraction = amount = None
    if rain_mm is not None and wet_days is not None:
        rain, days = np.asarray(rain_mm, np.float64), np.asarray(wet_days, np.float64)
        not_negative(rain_mm=rain, wet_days=days)
        if rain.shape != (12,) or days.shape != (12,):
            raise ValueError(f"rain_mm has {rain.shape} values, wet_days {days.shape}; not twelve")
        odd = (rain > 0) != (days > 0)
        if odd.any():
            month = int(np.argmax(odd)) + 1
            raise ValueError(f"month {month} has rain without wet days or wet days without rain")
        fraction = days / MONTH_DAYS
        amount = np.divide(rain, days, out=np.full(12, np.nan), where=days > 0)
    return MonthlyStatistics(
        np.asarray(t_max_c, np.float64),
        np.asarray(t_min_c, np.float64),
        wet_fraction=fraction,
        rain_wet_day_mm=amount,
        radiation_mj_m2=None if radiation_mj_m2 is None else np.asarray(radiation_mj_m2, float),
    )


def monthly_statistics(record: DailyRecord, wet_day_mm: float) -> MonthlyStatistics:
    """The monthly statistics of a record; missing days are left out.

    Parameters
    ----------
    record : of any length
    wet_day_mm : least rain that makes a day wet [mm], above 0

    Raises ValueError where a month has no temperature at all.
    """
    positive(wet_day_mm=wet_day_mm)
    years, month, _ = year_month_day(record.dates())
    months = [month == each for each in range(1, 13)]
    for name, values in (("t_max_c", record.t_max_c), ("t_min_c", record.t_min_c)):
        bare = [at + 1 for at, days in enumerate(months) if np.isnan(values[days]).all()]
        if bare:
            raise ValueError(f"{name} has no value in month(s) {bare}")
    rain, radiation = record.rain_mm, record.radiation_mj_m2
    wet = None if rain is None else np.where(np.isnan(rain), np.nan, rain >= wet_day_mm)
    amounts = None if rain is None or wet is None else np.where(wet == 1, rain, np.nan)
    return MonthlyStatistics(
        t_max_c=_means(record.t_max_c, months),
        t_min_c=_means(record.t_min_c, months),
        t_max_sd_c=_deviations(record.t_max_c, months),
        t_min_sd_c=_deviations(record.t_min_c, months),
        t_max_lag=_lags(record.t_max_c, months),
        t_min_lag=_lags(record.t_min_c, months),
        wet_fraction=None if wet is None else _means(wet, months),
        rain_wet_day_mm=None if amounts is None else _means(amounts, months),
        rain_wet_day_sd_mm=None if amounts is None else _deviations(amounts, months),
        p_wet_after_wet=None if wet is None else _goes_on(wet, months),
        radiation_mj_m2=None if radiation is None else _means(radiation, months),
        radiation_sd_mj_m2=None if radiation is None else _deviations(radiation, months),
        years=len(np.unique(years)),
    )


def _each(values: FloatArray, months: list[np.ndarray], least: int, of: str) -> FloatArray:
    found = np.full(12, np.nan)
    for at, days in enumerate(months):
        chosen = values[days]
        chosen = chosen[~np.isnan(chosen)]
        if len(chosen) >= least:
            found[at] = chosen.mean() if of == "mean" else chosen.std(ddof=1)
    return found


def _means(values: FloatArray, months: list[np.ndarray]) -> FloatArray:
    return _each(values, months, 1, "mean")


def _deviations(values: FloatArray, months: list[np.ndarray]) -> FloatArray:
    return _each(values, months, 2, "deviation")


def _lags(values: FloatArray, months: list[np.ndarray]) -> FloatArray:
    found = np.full(12, np.nan)
    for at, days in enumerate(months):
        pairs = days[1:] & days[:-1] & ~np.isnan(values[1:]) & ~np.isnan(values[:-1])
        one, other = values[1:][pairs], values[:-1][pairs]
        if len(one) > 2 and np.ptp(one) > 0 and np.ptp(other) > 0:
            found[at] = np.corrcoef(one, other)[0, 1]
    return found


def _goes_on(wet: FloatArray, months: list[np.ndarray]) -> FloatArray:
    """The share of days after a wet day that are wet themselves, by the second day's month."""
    after_wet = np.concatenate(([np.nan], np.where(wet[:-1] == 1, wet[1:], np.nan)))
    return _means(after_wet, months)
