"""Heat for people at work: wet bulb globe temperature (WBGT), its limits, and work and rest.

The wet bulb globe temperature counts air, humidity, sun and wind; the heat index knows neither
sun nor wind and in dry heat reads below the air temperature: it must not rule work in a field.
Where humidity is not measured, the morning's minimum taken for the dew point errs on the careful
side in dry places.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, within
from bedwright.reference import Row
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray

_PLAIN = ("ratio", "-")
_NIOSH = Source("niosh_2016_106", "section 8.1", "")
_ZERO_CELSIUS = 273.15  # K, bipm_si_2019 table 4
_REST_W = 117.0  # W, niosh_work_capacity: at rest
_LIMITS = {True: (56.7, 11.5), False: (59.9, 14.1)}  # C, C per decade of W: niosh_2016_106, 8.1

# What follows is of liljegren_2008, as carried by public code.
_STEFAN_BOLTZMANN = 5.6696e-8  # W/m2/K4
_AIR_HEAT, _AIR_MOLE, _WATER_MOLE = 1003.5, 28.97, 18.015  # J/kg/K, g/mol, g/mol
_GAS = 8314.34 / _AIR_MOLE  # J/kg/K
_PRANDTL = _AIR_HEAT / (_AIR_HEAT + 1.25 * _GAS)
_GLOBE_EMITS, _GLOBE_REFLECTS, _GLOBE_M = 0.95, 0.05, 0.0508
_WICK_EMITS, _WICK_REFLECTS, _WICK_M, _WICK_LONG_M = 0.95, 0.4, 0.007, 0.0254
_GROUND_EMITS, _GROUND_REFLECTS = 0.999, 0.45
_SUN_W_M2, _CLEAREST, _MOST_DIRECT, _LOWEST_SUN = 1367.0, 0.85, 0.9, 0.00873
_LEAST_WIND = 0.13  # m/s
_DARK = 1e-3  # share of the clearest sky from which on nothing is direct: computed, exp(-1650)
_BISECTIONS = 40  # halves 120 K to a ten-billionth: computed


@dataclass(frozen=True)
class GlobeHeat:
    """Wet bulb globe temperature [C] with the natural wet bulb and globe that make it."""

    wbgt_c: FloatArray
    wet_bulb_c: FloatArray
    globe_c: FloatArray


@dataclass(frozen=True)
class WorkRest:
    """Minutes of an hour for work and rest by a table; ``advice`` is ``normal`` (no set rests),
    ``rest`` or ``caution`` (the table gives no safe schedule: both minutes are None).
    """

    advice: str
    work_min: float | None
    rest_min: float | None


@formula(
    "WBGT = 0.7 natural wet bulb + 0.2 globe + 0.1 air",
    result=_PLAIN,
    sources=(Source("iso_7243", "", "in the sun; in shade 0.7 wet bulb + 0.3 globe"),),
    example={"wet_bulb_c": "25", "globe_c": "32", "air_c": "20"},
    wet_bulb_c=_PLAIN,
    globe_c=_PLAIN,
    air_c=_PLAIN,
)
def wbgt_in_sun(wet_bulb_c: Numbers, globe_c: Numbers, air_c: Numbers) -> FloatArray:
    """Wet bulb globe temperature in the sun [C] from the three thermometers.

    Parameters
    ----------
    wet_bulb_c : natural wet bulb, in the sun, not fanned [C], -40 to 60
    globe_c : black globe [C], -40 to 120
    air_c : air in the shade [C], -40 to 60

    Raises ValueError for an input outside its range.
    """
    within(-40, 60, wet_bulb_c=wet_bulb_c, air_c=air_c)
    within(-40, 120, globe_c=globe_c)
    wet, globe, air = 0.7, 0.2, 0.1  # iso_7243
    return np.asarray(
        wet * np.asarray(wet_bulb_c) + globe * np.asarray(globe_c) + air * np.asarray(air_c)
    )


@formula(
    "humidity = 100 exp(17.27 Td / (Td + 237.3)) / exp(17.27 T / (T + 237.3)), dew point Td = the "
    "day's minimum, at most 100 %",
    result=("ratio", "%"),
    sources=(Source("fao_56", "equations 11 and 48", "dry places: the dew point lies lower"),),
    example={"air_c": "38", "t_min_c": "17"},
    air_c=_PLAIN,
    t_min_c=_PLAIN,
)
def humidity_from_minimum(air_c: Numbers, t_min_c: Numbers) -> FloatArray:
    """Relative humidity where none is measured, the minimum taken for the dew point [%].

    Parameters
    ----------
    air_c : of the hour asked for [C], -40 to 60
    t_min_c : minimum of the day [C], -40 to 60

    Raises ValueError for an input outside its range. Too moist by some 3 K of dew point at an
    arid station (FAO-56), which for WBGT is the careful side.
    """
    within(-40, 60, air_c=air_c, t_min_c=t_min_c)
    return humidity_of_same_vapor(air_c, t_min_c, 100.0)


def humidity_of_same_vapor(air_c: Numbers, other_c: Numbers, humidity_percent: float) -> FloatArray:
    """Relative humidity of air that holds as much vapor as other air [%], at most 100.

    ``air_c`` and ``other_c`` in [C], -40 to 60, ``humidity_percent`` that of the other air.
    """
    a, b = 17.27, 237.3  # fao_56 equation 11
    air, other = np.asarray(air_c, dtype=np.float64), np.asarray(other_c, dtype=np.float64)
    share = np.exp(a * other / (other + b) - a * air / (air + b))
    return np.asarray(np.minimum(humidity_percent * share, 100.0))


def wbgt_liljegren_2008(
    air_c: Numbers,
    humidity_percent: Numbers,
    radiation_w_m2: Numbers,
    wind_m_s: Numbers,
    zenith_deg: Numbers,
    *,
    pressure_kpa: Numbers = 101.325,
) -> GlobeHeat:
    """Wet bulb globe temperature from weather, by the heat balance of globe and wick [C].

    Parameters
    ----------
    air_c : [C], -20 to 60
    humidity_percent : relative [%], 1 to 100
    radiation_w_m2 : of the sun on level ground [W/m2], 0 to 1500
    wind_m_s : at 2 m [m/s], 0 and up; taken as 0.13 at least
    zenith_deg : of the sun [deg], 0 to 180
    pressure_kpa : of the air [kPa], 50 to 110

    Raises ValueError for an input outside its range.
    """
    within(-20, 60, air_c=air_c)
    within(1, 100, humidity_percent=humidity_percent)
    within(0, 1500, radiation_w_m2=radiation_w_m2)
    not_negative(wind_m_s=wind_m_s)
    within(0, 180, zenith_deg=zenith_deg)
    within(50, 110, pressure_kpa=pressure_kpa)
    given = (air_c, humidity_percent, radiation_w_m2, wind_m_s, zenith_deg, pressure_kpa)
    air, humid, sun, wind, zenith, pressure = np.broadcast_arrays(
        *(np.asarray(each, dtype=np.float64) for each in given)
    )
    kelvin, hpa = air + _ZERO_CELSIUS, 10 * pressure
    wind = np.maximum(wind, _LEAST_WIND)
    vapor = humid / 100 * _saturation_hpa(kelvin)
    height = np.cos(np.radians(zenith))
    shining, direct = _sun_parts(sun, height)
    height = np.maximum(height, _LOWEST_SUN)
    sky = 0.5 * (0.575 * vapor**0.143 + _GROUND_EMITS) * kelvin**4
    globe = _globe(kelvin, hpa, wind, sky, shining, direct, height)
    wick = _wick(kelvin, hpa, wind, sky, shining, direct, height, vapor)
    wet_bulb, black = wick - _ZERO_CELSIUS, globe - _ZERO_CELSIUS
    return GlobeHeat(wbgt_in_sun(wet_bulb, black, air), wet_bulb, black)


@formula(
    "limit = 56.7 - 11.5 log10(watts) for people used to heat, 59.9 - 14.1 log10(watts) for others",
    result=_PLAIN,
    sources=(_NIOSH,),
    example={"work_w": "300", "used_to_heat": "yes"},
    work_w=_PLAIN,
    used_to_heat=("word", ""),
)
def wbgt_limit_niosh_2016(work_w: Numbers, used_to_heat: bool | str) -> FloatArray:
    """WBGT up to which work may go on without set rests [C].

    Parameters
    ----------
    work_w : heat that the body makes [W], 100 to 700; light 180, moderate 300, heavy 415
    used_to_heat : after one to two weeks of work in it; True or ``yes``, False or ``no``

    Raises ValueError for an input outside its range.
    """
    within(100, 700, work_w=work_w)
    start, slope = _LIMITS[_yes(used_to_heat)]
    return np.asarray(start - slope * np.log10(work_w))


@formula(
    "mean watts allowed = 10 ^ ((56.7 - WBGT) / 11.5), or 10 ^ ((59.9 - WBGT) / 14.1) for people "
    "not used to heat; minutes = 60 (allowed - 117) / (watts - 117), 0 to 60",
    result=("time", "min"),
    sources=(_NIOSH, Source("niosh_work_capacity", "", "117 W at rest; the hour's mean counts")),
    example={"wbgt_c": "29", "work_w": "415", "used_to_heat": "yes"},
    wbgt_c=_PLAIN,
    work_w=_PLAIN,
    used_to_heat=("word", ""),
)
def work_minutes_niosh_2016(
    wbgt_c: Numbers, work_w: Numbers, used_to_heat: bool | str
) -> FloatArray:
    """Minutes of work in an hour, the rest of it resting in the same air [min], 0 to 60.

    Parameters
    ----------
    wbgt_c : [C], -40 to 60
    work_w : heat that the body makes at work [W], 150 to 700
    used_to_heat : True or ``yes``, False or ``no``

    Raises ValueError for an input outside its range.
    """
    within(-40, 60, wbgt_c=wbgt_c)
    within(150, 700, work_w=work_w)
    start, slope = _LIMITS[_yes(used_to_heat)]
    allowed = 10.0 ** ((start - np.asarray(wbgt_c, dtype=np.float64)) / slope)
    share = (allowed - _REST_W) / (np.asarray(work_w) - _REST_W)
    return np.asarray(60 * np.clip(share, 0.0, 1.0))


def work_rest(air_c: float, workload: str, rows: Sequence[Row]) -> WorkRest:
    """Work and rest by the air temperature alone, from the table of ``work_rest.csv``.

    The table holds for normal clothing, about 30 % humidity and moving air, in the shade, for
    people who are fit, rested and drinking: in full sun work by the WBGT.

    Parameters
    ----------
    air_c : in the shade [C], -40 to 60; rounded up to a whole degree Fahrenheit
    workload : ``light``, ``moderate`` or ``heavy``
    rows : of ``work_rest.csv``

    Raises ValueError for a workload that the table does not hold.
    """
    within(-40, 60, air_c=air_c)
    steps = {float(row["air_f"]): row for row in rows if row["workload"] == workload and row.used}
    if not steps:
        known = sorted({row["workload"] for row in rows})
        raise ValueError(f"workload is {workload!r}; it must be one of {', '.join(known)}")
    fahrenheit = np.ceil(round(air_c * 9 / 5 + 32, 6))
    if fahrenheit < min(steps):
        return WorkRest("normal", None, None)
    row = steps[min(float(fahrenheit), max(steps))]
    if row["advice"] != "rest":
        return WorkRest(row["advice"], None, None)
    return WorkRest("rest", float(row["work_min"]), float(row["rest_min"]))


@formula(
    "index = -8.784695 + 1.61139411 T + 2.338549 R - 0.14611605 T R - 0.012308094 T^2 - "
    "0.016424828 R^2 + 0.002211732 T^2 R + 0.00072546 T R^2 - 0.000003582 T^2 R^2",
    result=_PLAIN,
    sources=(Source("rothfusz_1990", "", "as carried by pythermalcomfort"),),
    example={"air_c": "29", "humidity_percent": "50 %"},
    air_c=_PLAIN,
    humidity_percent=("ratio", "%"),
)
def heat_index_rothfusz_1990(air_c: Numbers, humidity_percent: Numbers) -> FloatArray:
    """Heat index [C], for comparison only: it under-reads dry heat and knows no sun.

    Parameters
    ----------
    air_c : in the shade [C], 27 to 60
    humidity_percent : relative [%], 0 to 100

    Raises ValueError for an input outside its range.
    """
    within(27, 60, air_c=air_c)
    within(0, 100, humidity_percent=humidity_percent)
    # rothfusz_1990, rows by powers of T, columns by powers of R
    table = np.array(
        [
            [-8.784695, 2.338549, -0.016424828],
            [1.61139411, -0.14611605, 0.00072546],
            [-0.012308094, 0.002211732, -0.000003582],
        ]
    )
    air, humid = np.broadcast_arrays(
        np.asarray(air_c, dtype=np.float64), np.asarray(humidity_percent, dtype=np.float64)
    )
    return np.asarray(np.polynomial.polynomial.polyval2d(air, humid, table))


def _yes(word: bool | str) -> bool:
    known = {True: True, False: False, "yes": True, "no": False}
    if word not in known:
        raise ValueError(f"used_to_heat is {word!r}; it must be yes or no")
    return known[word]


# Heat balance of globe and wick, liljegren_2008 -----------------------------------------------


def _saturation_hpa(kelvin: FloatArray) -> FloatArray:
    return np.asarray(1.004 * 6.1121 * np.exp(17.502 * (kelvin - 273.15) / (kelvin - 32.18)))


def _viscosity(kelvin: FloatArray) -> FloatArray:
    collision = (kelvin / 97.0 - 2.9) / 0.4 * -0.034 + 1.048
    return np.asarray(2.6693e-6 * np.sqrt(_AIR_MOLE * kelvin) / (3.617**2 * collision))


def _film(diameter: float, kelvin: FloatArray, hpa: FloatArray, wind: FloatArray) -> FloatArray:
    """Reynolds number of the air around a body."""
    return np.asarray(wind * hpa * 100 / (_GAS * kelvin) * diameter / _viscosity(kelvin))


def _conductivity(kelvin: FloatArray) -> FloatArray:
    return (_AIR_HEAT + 1.25 * _GAS) * _viscosity(kelvin)


def _sun_parts(sun: FloatArray, height: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Radiation, held to what a clear sky lets through, and the share that is direct."""
    most = _SUN_W_M2 * np.maximum(height, 0.0)
    up = (height >= _LOWEST_SUN) & (sun > 0)
    clear = np.where(up, np.minimum(sun / np.where(up, most, 1.0), _CLEAREST), 1.0)
    clear = np.maximum(clear, _DARK)
    direct = np.clip(np.exp(3 - 1.34 * clear - 1.65 / clear), 0.0, _MOST_DIRECT)
    return np.where(up, clear * most, 0.0), np.where(up, direct, 0.0)


def _globe(
    air: FloatArray,
    hpa: FloatArray,
    wind: FloatArray,
    sky: FloatArray,
    sun: FloatArray,
    direct: FloatArray,
    height: FloatArray,
) -> FloatArray:
    emits = _STEFAN_BOLTZMANN * _GLOBE_EMITS
    taken = (
        (1 - _GLOBE_REFLECTS) * sun / 2 * (1 + direct * (1 / (2 * height) - 1) + _GROUND_REFLECTS)
    )

    def gain(globe: FloatArray) -> FloatArray:
        mean = (globe + air) / 2
        moved = 2 + 0.6 * np.sqrt(_film(_GLOBE_M, mean, hpa, wind)) * _PRANDTL**0.3333
        moved = moved * _conductivity(mean) / _GLOBE_M
        return np.asarray(emits * (sky - globe**4) - moved * (globe - air) + taken)

    return _balance(gain, air - 30, air + 90)


def _wick(
    air: FloatArray,
    hpa: FloatArray,
    wind: FloatArray,
    sky: FloatArray,
    sun: FloatArray,
    direct: FloatArray,
    height: FloatArray,
    vapor: FloatArray,
) -> FloatArray:
    end = _WICK_M / (4 * _WICK_LONG_M)
    slant = np.sqrt(1 - np.minimum(height, 1.0) ** 2) / height / np.pi
    seen = (1 - direct) * (1 + end) + direct * (slant + end) + _GROUND_REFLECTS
    taken = (1 - _WICK_REFLECTS) * sun * seen
    ratio = _AIR_HEAT * _AIR_MOLE / _WATER_MOLE
    # critical temperatures [K] and pressures [atm] of air and water, for their diffusion
    spread = (132 * 647.3) ** 0.5, (36.4 * 218) ** (1 / 3), (132 * 647.3) ** (5 / 12)
    moles = np.sqrt(1 / _AIR_MOLE + 1 / _WATER_MOLE)

    def gain(wick: FloatArray) -> FloatArray:
        mean = (wick + air) / 2
        moved = 0.281 * _film(_WICK_M, mean, hpa, wind) ** 0.6 * _PRANDTL**0.44
        moved = moved * _conductivity(mean) / _WICK_M
        diffusion = 3.64e-8 * (mean / spread[0]) ** 2.334 * spread[1] * spread[2] * moles
        diffusion = diffusion / (hpa / 1013.25)
        schmidt = _viscosity(mean) * _GAS * mean / (hpa * 100 * diffusion)
        wet = _saturation_hpa(wick)
        latent = (313.15 - mean) / 30 * -71100 + 2.4073e6
        cooled = latent / ratio * (wet - vapor) / (hpa - wet) * (_PRANDTL / schmidt) ** 0.56
        radiated = _STEFAN_BOLTZMANN * _WICK_EMITS * (sky - wick**4) + taken
        return np.asarray(air - cooled + radiated / moved - wick)

    return _balance(gain, air - 60, air + 40)


def _balance(
    gain: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray
) -> FloatArray:
    """Where a gain that falls with temperature is zero [K], by halving."""
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2
        warmer = gain(middle) > 0
        low, high = np.where(warmer, middle, low), np.where(warmer, high, middle)
    return np.asarray((low + high) / 2)
