"""Chances and dates read from the recorded dates by their rank, without a distribution."""

from __future__ import annotations

import numpy as np

from bedwright.climate.record import FloatArray

_NOTHING = 1e-9  # sums of weights up to here are rounding


def ratio(one: FloatArray, other: FloatArray) -> FloatArray:
    """``one`` / ``other``, NaN where the other is 0 (but for rounding).

    Parameters
    ----------
    one, other : sums of weights or of weighted days, of one shape; the other 0 and up
    """
    found = np.full(np.shape(one), np.nan)
    return np.asarray(np.divide(one, other, out=found, where=np.asarray(other) > _NOTHING))


def rank_chance_later(days: FloatArray, weights: FloatArray, at: FloatArray) -> FloatArray:
    """The (weighted) share of seasons whose event came after a date, (..., dates).

    Parameters
    ----------
    days : of the event in each season [day], (..., seasons), NaN in seasons without
    weights : of the seasons [-], (..., seasons), 0 for seasons left out
    at : dates [day], (dates,)
    """
    came_later = days[..., :, None] > at  # NaN is not later
    whole = weights.sum(axis=-1)[..., None]
    part = (weights[..., :, None] * came_later).sum(axis=-2)
    return ratio(part, np.broadcast_to(whole, part.shape))


def rank_date_later(days: FloatArray, weights: FloatArray, chance: FloatArray) -> FloatArray:
    """The date after which the event came with a chance, (..., chances).

    Parameters
    ----------
    days : of the event in each season [day], (..., seasons), NaN in seasons without
    weights : of the seasons [-], (..., seasons), 0 for seasons left out
    chance : of a later event [-], (chances,)

    The dates, latest first, stand at the middle of their weight; between them it is
    interpolated. NaN for rarer events than the record holds, and where the chance reaches into
    the seasons without an event.
    """
    flat = days.reshape(-1, days.shape[-1])
    weight = np.broadcast_to(weights, days.shape).reshape(flat.shape)
    found = np.full((len(flat), len(chance)), np.nan)
    for row, (dates, shares) in enumerate(zip(flat, weight, strict=True)):
        counted = ~np.isnan(dates) & (shares > 0)
        if not counted.any():
            continue
        order = np.argsort(-dates[counted], kind="stable")
        ranked, sizes = dates[counted][order], shares[counted][order]
        places = (np.cumsum(sizes) - sizes / 2) / shares.sum()
        found[row] = np.interp(chance, places, ranked, left=np.nan, right=np.nan)
    return found.reshape(*days.shape[:-1], len(chance))
