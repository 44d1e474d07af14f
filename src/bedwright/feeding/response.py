"""How fast nitrogen is set free: the answer of rates to warmth and moisture, and to drainage."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

_Numbers = float | NDArray[np.float64]
_Array = NDArray[np.float64]

_ZERO_CELSIUS = 273.15  # K, bipm_si_2019 table 4
_COLDEST, _HOTTEST = 233.15, 343.15  # K: -40 to 70 C, more than any bed sees: judgement
_TEMPERATURE = ("temperature", "K")
_RATE = ("ratio", "1/week")
_FACTOR = ("ratio", "-")


def _celsius(temperature: _Numbers) -> _Array:
    within(_COLDEST, _HOTTEST, temperature=temperature)
    return np.asarray(temperature, dtype=np.float64) - _ZERO_CELSIUS


@formula(
    "log10 rate = 6.14 - 2285 / temperature in kelvin",
    result=_RATE,
    sources=(Source("campbell_1981", "abstract", "k per week of five semi-arid soils"),),
    example={"temperature": "25 C", "intercept": "6.14", "slope": "2285"},
    temperature=_TEMPERATURE,
    intercept=("ratio", "-"),
    slope=("ratio", "-"),
)
def mineralization_rate_campbell_1981(
    temperature: _Numbers, intercept: float = 6.14, slope: float = 2285.0
) -> _Array:
    """First-order rate at which a soil's mineralizable nitrogen is set free [1/week].

    Parameters
    ----------
    temperature : of the soil [K], 233.15 to 343.15; measured at 15 to 35 C
    intercept : of the published line [-], above 0
    slope : of the published line [K, given as a plain number], above 0

    Raises ValueError for an input outside its range.
    """
    positive(intercept=intercept, slope=slope)
    kelvin = _celsius(temperature) + _ZERO_CELSIUS
    return np.asarray(10.0 ** (intercept - slope / kelvin))


@formula(
    "factor = Q10 ^ ((temperature - reference) / 10)",
    result=_FACTOR,
    sources=(Source("campbell_1981", "abstract", "1.72 from 15 to 25 C, 1.87 from 25 to 35 C"),),
    example={"temperature": "15 C", "reference": "25 C", "q10": "2"},
    temperature=_TEMPERATURE,
    reference=_TEMPERATURE,
    q10=_FACTOR,
)
def temperature_factor_q10(temperature: _Numbers, reference: _Numbers, q10: _Numbers) -> _Array:
    """A rate as a multiple of the rate at the reference temperature [-].

    Parameters
    ----------
    temperature : of the soil [K], 233.15 to 343.15
    reference : at which the rate is stated [K], 233.15 to 343.15
    q10 : multiple for ten kelvins more [-], above 0

    Raises ValueError for an input outside its range.
    """
    positive(q10=q10)
    within(_COLDEST, _HOTTEST, reference=reference)
    tens = (_celsius(temperature) - _celsius(reference)) / 10
    return np.asarray(np.asarray(q10, dtype=np.float64) ** tens)


@formula(
    "factor = (temperature in C - 5) / 30, from 0 to 1",
    result=_FACTOR,
    sources=(Source("dssat_soilorg", "temperature factor", ""),),
    example={"temperature": "20 C"},
    temperature=_TEMPERATURE,
)
def temperature_factor_ceres(temperature: _Numbers) -> _Array:
    """Answer of decay to warmth in the CERES routine [-], 0 to 1.

    Parameters
    ----------
    temperature : of the soil [K], 233.15 to 343.15

    Raises ValueError for an input outside its range.
    """
    still, span = 5.0, 30.0  # dssat_soilorg
    return np.clip((_celsius(temperature) - still) / span, 0.0, 1.0)


@formula(
    "factor = 47.91 / (1 + exp(106.06 / (temperature in C + 18.27)))",
    result=_FACTOR,
    sources=(Source("rothc_code", "rate modifying factor for temperature", ""),),
    example={"temperature": "25 C"},
    temperature=_TEMPERATURE,
)
def temperature_factor_rothc(temperature: _Numbers) -> _Array:
    """Answer of decay to warmth in the RothC model, 1 at about 9.3 C [-].

    Parameters
    ----------
    temperature : of the soil [K], 233.15 to 343.15; nothing decays at -18.27 C and below

    Raises ValueError for an input outside its range.
    """
    top, pull, shift = 47.91, 106.06, 18.27  # rothc_code
    above = _celsius(temperature) + shift
    live = above > 0
    exponent = pull / np.where(live, above, 1.0)
    return np.where(live, top / (1 + np.exp(np.minimum(exponent, 700.0))), 0.0)


@formula(
    "factor = 0.1 x C up to 20 C, exp(0.47 - 0.027 C + 0.00193 C^2) above",
    result=_FACTOR,
    sources=(
        Source("daisy_abiotic", "temperature factor", ""),
        Source("from_memory", "", "coefficients recalled; they give the values read, 5 to 35 C"),
    ),
    example={"temperature": "30 C"},
    temperature=_TEMPERATURE,
)
def temperature_factor_daisy(temperature: _Numbers) -> _Array:
    """Answer of decay to warmth in the Daisy model, 1 at 10 C, up to its peak at 37 C [-].

    Parameters
    ----------
    temperature : of the soil [K], 233.15 to 333.15; above 37 C a line falls to 0 at 60 C

    Raises ValueError for an input outside its range.
    """
    slope, a, b, c = 0.1, 0.47, -0.027, 0.00193  # from_memory, checked against daisy_abiotic
    bend, peak, dead = 20.0, 37.0, 60.0  # C, daisy_abiotic
    celsius = _celsius(temperature)
    within(_COLDEST, _ZERO_CELSIUS + dead, temperature=temperature)
    warm = np.minimum(celsius, peak)
    rising = np.where(warm < bend, slope * warm, np.exp(a + b * warm + c * warm**2))
    falling = np.clip((dead - celsius) / (dead - peak), 0.0, 1.0)
    return np.where(celsius <= peak, np.maximum(rising, 0.0), rising * falling)


@formula(
    "dry: factor = (water - air dry) / (drained limit - air dry); wet: 1 - 0.5 x share of the "
    "drainable pores that is filled",
    result=_FACTOR,
    sources=(Source("dssat_soilorg", "moisture factor", ""),),
    example={"water": "20 %", "air_dry": "5 %", "drained_limit": "25 %", "saturation": "45 %"},
    water=("ratio", "-"),
    air_dry=("ratio", "-"),
    drained_limit=("ratio", "-"),
    saturation=("ratio", "-"),
)
def moisture_factor_ceres(
    water: _Numbers, air_dry: float, drained_limit: float, saturation: float
) -> _Array:
    """Answer of decay to the soil's water [-], 0 when air dry, 1 at the drained limit.

    Parameters
    ----------
    water : in the soil by volume [-], 0 to the saturation
    air_dry : water that stays in air-dry soil [-], 0 and up
    drained_limit : water that stays after draining [-], above air dry
    saturation : water when all pores are full [-], above the drained limit, at most 1

    Raises ValueError for an input outside its range.
    """
    not_negative(air_dry=air_dry, drained_limit=drained_limit, saturation=saturation)
    positive(room_above_air_dry=drained_limit - air_dry, pores=saturation - drained_limit)
    within(0, 1, saturation=saturation)
    within(0, saturation, water=water)
    wet_loss = 0.5  # dssat_soilorg
    amount = np.asarray(water, dtype=np.float64)
    dry = np.clip((amount - air_dry) / (drained_limit - air_dry), 0.0, 1.0)
    filled = np.clip((amount - drained_limit) / (saturation - drained_limit), 0.0, 1.0)
    return dry * (1 - wet_loss * filled)


@formula(
    "share = 1 - exp(-drainage / water held)",
    result=_FACTOR,
    sources=(Source("computed", "", "drainage from a well-mixed root zone"),),
    example={"drainage": "10 mm", "water_held": "75 mm"},
    drainage=("depth", "mm"),
    water_held=("depth", "mm"),
)
def leached_share(drainage: _Numbers, water_held: float) -> _Array:
    """Share of the nitrate that drainage carries below the roots [-].

    Parameters
    ----------
    drainage : depth of water that leaves the root zone [mm], 0 and up
    water_held : depth of water that the root zone holds [mm], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(drainage=drainage)
    positive(water_held=water_held)
    return -np.expm1(-np.asarray(drainage, dtype=np.float64) / water_held)
