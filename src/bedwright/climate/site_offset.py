"""How much colder or warmer a garden's nights are than its station's."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.guards import not_negative, positive


@dataclass(frozen=True)
class SiteOffset:
    """Garden less station, over the nights that both have.

    ``offset_c`` is the mean difference [K], ``low_c`` to ``high_c`` its band, ``sd_c`` the
    spread of single nights; NaN where one night does not tell them. ``nights`` were compared,
    worth ``effective_nights``: nights that follow each other tell less when they are alike.
    ``code`` is "enough", "few" or "none".
    """

    offset_c: float
    sd_c: float
    low_c: float
    high_c: float
    nights: int
    effective_nights: float
    code: str


def site_offset(
    garden_min_c: FloatArray, station_min_c: FloatArray, *, level: float, nights_enough: int
) -> SiteOffset:
    """The garden's correction from readings of its minimum thermometer.

    Parameters
    ----------
    garden_min_c : the gardener's readings [C], (nights,) in order, NaN where not read
    station_min_c : the station's minima of the same nights [C], (nights,), NaN where missing
    level : of the band of the mean [-], above 0 and below 1
    nights_enough : nights below which the correction is called rough, 1 and up

    Paired differences; the band is Student's, with as many nights as the carry-over from one
    night to the next leaves (n (1 - r) / (1 + r), r > 0 only).
    Raises ValueError where the lengths differ or an input is out of range.
    """
    from scipy.special import stdtrit

    positive(nights_enough=nights_enough)
    if not 0 < level < 1:
        raise ValueError(f"level is {level:g}; it must lie between 0 and 1")
    garden, station = (np.asarray(each, np.float64) for each in (garden_min_c, station_min_c))
    if garden.shape != station.shape or garden.ndim != 1:
        raise ValueError(f"{garden.shape} readings of the garden, {station.shape} of the station")
    difference = garden - station
    there = difference[~np.isnan(difference)]
    nights = len(there)
    if nights == 0:
        return SiteOffset(np.nan, np.nan, np.nan, np.nan, 0, 0.0, "none")
    offset = float(there.mean())
    if nights == 1:
        return SiteOffset(offset, np.nan, np.nan, np.nan, 1, 1.0, "few")
    sd = float(there.std(ddof=1))
    effective = _effective_nights(difference - offset, nights)
    half = float(stdtrit(effective - 1, (1 + level) / 2)) * sd / np.sqrt(effective)
    code = "enough" if nights >= nights_enough else "few"
    return SiteOffset(offset, sd, offset - half, offset + half, nights, effective, code)


def _effective_nights(off: FloatArray, nights: int) -> float:
    """Nights worth as much, from the correlation of pairs of nights; two at least."""
    pairs = off[1:] * off[:-1]
    known = ~np.isnan(pairs)
    variance = float(np.nanmean(off**2))
    if not known.any() or variance == 0:
        return float(nights)
    carried = min(max(float(pairs[known].mean()) / variance, 0.0), 1.0)
    return max(nights * (1 - carried) / (1 + carried), 2.0)


def garden_minima(
    station_min_c: FloatArray, offset: SiteOffset, *, draws: int, seed: int
) -> FloatArray:
    """The station's minima as they may have been in the garden [C], (draws, *shape).

    Parameters
    ----------
    station_min_c : minima [C], any shape, NaN where missing
    offset : of the garden, with a known spread
    draws : how many gardens are drawn, 1 and up
    seed : any whole number from 0; the same seed gives the same draws

    Each draw takes one offset from what the readings leave open, and single nights spread about
    it: odds reckoned on all draws are the garden's with that doubt in them. Raises ValueError
    where the spread is not known (fewer than two nights).
    """
    positive(draws=draws)
    not_negative(seed=seed)
    if np.isnan(offset.sd_c):
        raise ValueError(f"{offset.nights} night(s) do not tell how the nights spread; read more")
    station = np.asarray(station_min_c, dtype=np.float64)
    noise = np.random.default_rng(seed)
    error = offset.sd_c / np.sqrt(offset.effective_nights)
    mean = offset.offset_c + error * noise.standard_t(offset.effective_nights - 1, draws)
    nights = offset.sd_c * noise.standard_normal((draws, *station.shape))
    return np.asarray(station + mean.reshape(-1, *(1,) * station.ndim) + nights)
