"""The freeze-free season: from a season's last freeze to the next season's first."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.climate.freeze_odds import FreezeDays
from bedwright.climate.normal_dates import date_with_earlier_chance, earlier_chance
from bedwright.climate.rank_dates import ratio
from bedwright.climate.record import FloatArray, IntArray
from bedwright.climate.season_days import BoolArray
from bedwright.guards import not_negative


@dataclass(frozen=True, eq=False)
class FreezeFreeSeasons:
    """The length of each freeze-free season [days], (thresholds, seasons - 1).

    Column i lies between the last freeze of season i and the first of season i + 1. A season
    that no freeze ended or began has no length (NaN) but is ``known``: it is longer than any.
    """

    length: FloatArray
    known: BoolArray
    seasons: FloatArray
    ended_share: FloatArray
    mean_length: FloatArray
    sd_length: FloatArray


def freeze_free_seasons(days: FreezeDays, season_lengths: IntArray) -> FreezeFreeSeasons:
    """Freeze-free seasons of a record, as days from the last freeze to the first.

    Parameters
    ----------
    days : last and first freezes, (thresholds, seasons), of seasons that follow each other
    season_lengths : days of each season, 365 or 366, (seasons,)

    Raises ValueError where there are fewer than two seasons or lengths of another number.
    """
    lengths = np.asarray(season_lengths)
    if lengths.shape != days.last.shape[-1:] or len(lengths) < 2:
        raise ValueError(
            f"there are {len(lengths)} season lengths for {days.last.shape[-1]} seasons; "
            "two seasons or more are needed"
        )
    length = days.first[:, 1:] + lengths[:-1] - days.last[:, :-1]
    known = days.first_known[:, 1:] & days.last_known[:, :-1]
    length = np.where(known, length, np.nan)
    ended = ~np.isnan(length)
    whole, part = known.sum(axis=-1).astype(float), ended.sum(axis=-1).astype(float)
    mean = ratio(np.where(ended, length, 0.0).sum(axis=-1), part)
    squares = np.where(ended, length - mean[:, None], 0.0) ** 2
    return FreezeFreeSeasons(
        length=length,
        known=known,
        seasons=whole,
        ended_share=ratio(part, whole),
        mean_length=mean,
        sd_length=np.sqrt(ratio(squares.sum(axis=-1), part - 1)),
    )


def chance_of_longer_season(seasons: FreezeFreeSeasons, length: FloatArray) -> FloatArray:
    """Chance of a freeze-free season longer than so many days, (thresholds, lengths).

    Parameters
    ----------
    seasons : of the record
    length : days, 0 and up, (lengths,)
    """
    at = np.atleast_1d(np.asarray(length, dtype=np.float64))
    not_negative(length=at)
    ended = earlier_chance(
        at,
        seasons.mean_length[:, None],
        seasons.sd_length[:, None],
        seasons.ended_share[:, None],
    )
    return np.asarray(1 - ended)


def length_with_chance_of_longer(seasons: FreezeFreeSeasons, chance: FloatArray) -> FloatArray:
    """The length that the freeze-free season exceeds with a chance [days], (thresholds, chances).

    Parameters
    ----------
    seasons : of the record
    chance : of a longer season [-], above 0 and below 1, (chances,)

    NaN where so many seasons are not ended by a freeze at all. Raises ValueError for a chance
    out of range.
    """
    wanted = np.atleast_1d(np.asarray(chance, dtype=np.float64))
    if not np.all((wanted > 0) & (wanted < 1)):
        raise ValueError(f"chance is {wanted.tolist()}; it must lie between 0 and 1")
    found = date_with_earlier_chance(
        1 - wanted,
        seasons.mean_length[:, None],
        seasons.sd_length[:, None],
        seasons.ended_share[:, None],
    )
    return np.asarray(found)
