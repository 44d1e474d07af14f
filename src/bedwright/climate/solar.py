"""Where the sun stands: elevation, azimuth, declination and equation of time, for many moments.

The series are those of NREL's solar position algorithm, cut to the terms of ``sun_terms.csv``.
Declination and equation of time are slow; for long runs of moments they are worked at nodes a
day apart and joined by straight lines (0.001 degree at most), which makes a position cheap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, within
from bedwright.reference import Row
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray
DateArray = NDArray[np.datetime64]

_ARCSEC = np.pi / 180 / 3600
_AMPLITUDES = {"1e-8 rad": 1e-8, "arcsec": _ARCSEC, "deg": np.pi / 180}
_ARGUMENTS = {"rad per millennium": (1.0, 1.0), "deg per century": (np.pi / 180, 10.0)}
_EPOCH = np.datetime64("2000-01-01T12:00:00.000", "ms")
_DAYS_PER_MILLENNIUM = 365250.0
_MS_PER_DAY = 86_400_000.0
_SECONDS_PER_DAY = 86_400.0
_CHUNK = 16_384  # positions that fit a core's cache: judgement
_PARALLAX_RAD = 8.794 * _ARCSEC  # reda_andreas_2004, horizontal, at the mean distance
_LOWEST_DEG = -(0.26667 + 0.5667)  # reda_andreas_2004: half the disk, refraction at the horizon


@dataclass(frozen=True)
class SunSeries:
    """The terms of the sun's path, ready for use: made by :func:`sun_series` from the tables.

    ``terms`` holds for each series the columns power of time, amplitude [rad], phase [rad] and
    rate [rad per millennium], written for cosines; ``years`` and ``delta_t_s`` the difference
    between dynamical and universal time.
    """

    terms: dict[str, FloatArray]
    years: FloatArray
    delta_t_s: FloatArray

    def summed(self, series: str, millennia: FloatArray) -> FloatArray:
        """One series at the given times [rad]."""
        total = np.zeros_like(millennia)
        for power, amplitude, phase, rate in self.terms[series]:
            wave = amplitude * np.cos(phase + rate * millennia) if rate or phase else amplitude
            total += wave * millennia**power if power else wave
        return total


@dataclass(frozen=True)
class SunPosition:
    """Where the sun's center stands: ``elevation_deg`` above the horizon, ``azimuth_deg`` from
    north over east, 0 to 360.
    """

    elevation_deg: FloatArray
    azimuth_deg: FloatArray


@dataclass(frozen=True)
class SunPath:
    """What the sun does for all places alike: ``declination_deg``, and ``equation_of_time_min``,
    apparent less mean solar time.
    """

    declination_deg: FloatArray
    equation_of_time_min: FloatArray


def sun_series(terms: Sequence[Row], delta_t: Sequence[Row]) -> SunSeries:
    """The series of the sun from the rows of ``sun_terms.csv`` and ``delta_t.csv``.

    Raises ValueError for a wave or unit that is not known, and where a series is missing.
    """
    grouped: dict[str, list[tuple[float, ...]]] = {}
    for row in (each for each in terms if each.used):
        try:
            amplitude = row.numbers["amplitude"] * _AMPLITUDES[row["amplitude_unit"]]
            factor, per_millennium = _ARGUMENTS[row["argument_unit"]]
            turn = {"cos": 0.0, "sin": -np.pi / 2}[row["wave"]]
        except KeyError as missing:
            raise ValueError(f"sun_terms.csv line {row.line}: {missing} is not known") from None
        phase = row.numbers["phase"] * factor + turn
        rate = row.numbers["rate"] * factor * per_millennium
        grouped.setdefault(row["series"], []).append((row.numbers["power"], amplitude, phase, rate))
    missing_series = {"longitude", "nutation", "obliquity", "sidereal"} - set(grouped)
    if missing_series:
        raise ValueError(f"sun_terms.csv has no rows for {', '.join(sorted(missing_series))}")
    steps = sorted((float(row["year"]), row.numbers["typical"]) for row in delta_t if row.used)
    years, seconds = (np.array(column) for column in zip(*steps, strict=True))
    return SunSeries({name: np.array(rows) for name, rows in grouped.items()}, years, seconds)


def days_since_2000(times_utc: DateArray | np.datetime64) -> FloatArray:
    """Days since noon of 1 January 2000, universal time, of moments [UTC]."""
    milliseconds = np.asarray(times_utc).astype("datetime64[ms]") - _EPOCH
    if np.isnat(milliseconds).any():
        raise ValueError("times_utc holds a moment that is not a time")
    return np.asarray(milliseconds.astype(np.int64) / _MS_PER_DAY)


def sun_path(times_utc: DateArray | np.datetime64, series: SunSeries) -> SunPath:
    """Declination and equation of time at moments [UTC], of the years of ``delta_t.csv``."""
    days = _checked_days(times_utc, series)
    sine, equation = _slow(days, series)
    return SunPath(np.degrees(np.arcsin(sine)), np.degrees(equation) * 4)


def sun_position(
    times_utc: DateArray | np.datetime64,
    latitude_deg: Numbers,
    longitude_deg: Numbers,
    series: SunSeries,
    *,
    pressure_kpa: float | None = None,
    temperature_c: float = 10.0,
) -> SunPosition:
    """Elevation and azimuth of the sun's center, within 0.001 degree of NREL's algorithm.

    Parameters
    ----------
    times_utc : moments [UTC], 1900 to 2100; any shape that broadcasts with the place
    latitude_deg : north positive [deg], -90 to 90
    longitude_deg : east positive [deg], -180 to 360
    series : of :func:`sun_series`
    pressure_kpa : of the air [kPa]; given, elevation is the apparent one, lifted by refraction
    temperature_c : of the air, for the refraction [C]

    Raises ValueError for an input outside its range. Near the zenith and at the poles azimuth
    loses sense; the direction as a whole keeps its accuracy.
    """
    within(-90, 90, latitude_deg=latitude_deg)
    within(-180, 360, longitude_deg=longitude_deg)
    days = _checked_days(times_utc, series)
    latitude = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    longitude = np.asarray(longitude_deg, dtype=np.float64)
    shape = np.broadcast_shapes(days.shape, latitude.shape, longitude.shape)
    flat = [
        each if each.size == 1 else np.broadcast_to(each, shape).ravel()
        for each in (days, latitude, longitude)
    ]
    elevation, azimuth = np.empty((2, int(np.prod(shape))))
    slow = _slow(flat[0], series)
    thickness = 0.0 if pressure_kpa is None else _thickness(pressure_kpa, temperature_c)
    for start in range(0, elevation.size, _CHUNK):
        part = slice(start, start + _CHUNK)
        day, north, east, sine, equation = (
            each.reshape(1) if each.size == 1 else each[part] for each in (*flat, *slow)
        )
        up, around = _seen(day, north, east, sine, equation)
        if pressure_kpa is not None:
            up += thickness * _lift(up)
        elevation[part], azimuth[part] = up, around
    return SunPosition(elevation.reshape(shape), azimuth.reshape(shape))


def _seen(
    day: FloatArray, north: FloatArray, east: FloatArray, sine: FloatArray, equation: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Elevation [deg] (seen from the ground, without air) and azimuth [deg]."""
    turns = day + east / 360
    turns -= np.rint(turns)
    # sine and cosine of the hour angle by the tangent of its half: one slow function, not two
    half = np.tan(np.pi * turns + equation / 2)
    square = half * half
    with_sine = np.sqrt(1 - sine * sine) / (1 + square)
    west = 2 * half * with_sine
    south = (1 - square) * with_sine
    sin_north, cos_north = np.sin(north), np.cos(north)
    height = np.clip(sin_north * sine + cos_north * south, -1.0, 1.0)
    azimuth = np.degrees(np.arctan2(-west, cos_north * sine - sin_north * south))
    azimuth += 360.0 * (azimuth < 0)
    elevation = np.arcsin(height) - _PARALLAX_RAD * np.sqrt(1 - height * height)
    return np.degrees(elevation), azimuth


@formula(
    "lift = pressure / 101 kPa x 283 / (273 + C) x 1.02 / (60 tan(elevation + 10.3 / (elevation "
    "+ 5.11))) degrees",
    result=("angle", "deg"),
    sources=(Source("reda_andreas_2004", "atmospheric refraction", "as carried by pvlib"),),
    example={"elevation_deg": "39.872046 deg", "pressure_kpa": "82", "temperature_c": "11"},
    elevation_deg=("angle", "deg"),
    pressure_kpa=("ratio", "-"),
    temperature_c=("ratio", "-"),
)
def refraction_deg(
    elevation_deg: Numbers, pressure_kpa: Numbers, temperature_c: Numbers
) -> FloatArray:
    """By how much the air lifts the sun [deg]; 0 where even its upper edge is below the horizon.

    Parameters
    ----------
    elevation_deg : of the sun's center without air [deg], -90 to 90
    pressure_kpa : of the air [kPa], 0 and up
    temperature_c : of the air [C], -90 to 60

    Raises ValueError for an input outside its range.
    """
    within(-90, 90, elevation_deg=elevation_deg)
    lift = _lift(np.asarray(elevation_deg, dtype=np.float64))
    return np.asarray(_thickness(pressure_kpa, temperature_c) * lift)


def _thickness(pressure_kpa: Numbers, temperature_c: Numbers) -> FloatArray:
    """The air as a multiple of that for which the lift was worked."""
    within(-90, 60, temperature_c=temperature_c)
    not_negative(pressure_kpa=pressure_kpa)
    pressure, warmth = 101.0, 283.0  # reda_andreas_2004: kPa, K
    return np.asarray(pressure_kpa / pressure * warmth / (273 + np.asarray(temperature_c)))


def _lift(elevation: FloatArray) -> FloatArray:
    """Lift by the refraction of standard air [deg]."""
    scale, shift, offset = 1.02 / 60, 10.3, 5.11  # reda_andreas_2004
    height = np.maximum(elevation, _LOWEST_DEG)
    lift = scale / np.tan(np.radians(height + shift / (height + offset)))
    lift *= elevation >= _LOWEST_DEG
    return np.asarray(lift)


def _checked_days(times_utc: DateArray | np.datetime64, series: SunSeries) -> FloatArray:
    days = days_since_2000(times_utc)
    years = 2000 + days / 365.25
    first, last = series.years[0], series.years[-1]
    if days.size and not (years.min() >= first and years.max() <= last):
        raise ValueError(f"times_utc leaves the years {first:.0f} to {last:.0f} of the tables")
    return days


def _slow(days: FloatArray, series: SunSeries) -> tuple[FloatArray, FloatArray]:
    """Sine of the declination, and the equation of time [rad], at each day."""
    if days.size == 0:
        return days.copy(), days.copy()
    first = np.floor(days.min())
    count = int(days.max() - first) + 2
    if count > days.size:
        return _exact(days, series)
    nodes = _exact(first + np.arange(count), series)
    sine, equation = np.empty((2, days.size))
    steps = [np.diff(each, append=0.0) for each in nodes]
    for start in range(0, days.size, _CHUNK):
        part = slice(start, start + _CHUNK)
        share = days[part] - first
        left = share.astype(np.int64)
        share -= left
        sine[part] = nodes[0][left] + share * steps[0][left]
        equation[part] = nodes[1][left] + share * steps[1][left]
    return sine, equation


def _exact(days: FloatArray, series: SunSeries) -> tuple[FloatArray, FloatArray]:
    delta_t = np.interp(2000 + days / 365.25, series.years, series.delta_t_s)
    millennia = (days + delta_t / _SECONDS_PER_DAY) / _DAYS_PER_MILLENNIUM
    nutation = series.summed("nutation", millennia)
    longitude = series.summed("longitude", millennia) + np.pi + nutation
    tilt = series.summed("obliquity", millennia)
    ascension = np.arctan2(np.cos(tilt) * np.sin(longitude), np.cos(longitude))
    sidereal = series.summed("sidereal", days) + nutation * np.cos(tilt)
    # the hour angle at longitude 0 less the turn of the mean day: the equation of time
    equation = sidereal - 2 * np.pi * days - ascension
    equation -= 2 * np.pi * np.rint(equation / (2 * np.pi))
    return np.sin(tilt) * np.sin(longitude), equation
