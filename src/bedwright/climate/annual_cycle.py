"""Smooth curves over the year through monthly means, each month's mean kept exactly."""

from __future__ import annotations

import numpy as np

from bedwright.climate.record import FloatArray

MONTH_DAYS = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
YEAR_DAYS = int(MONTH_DAYS.sum())
_EDGES = np.concatenate(([0], np.cumsum(MONTH_DAYS))).astype(np.float64)
_DAYS = np.arange(YEAR_DAYS + 1, dtype=np.float64)


def daily_curve(monthly: FloatArray) -> FloatArray:
    """Daily values of a common year, smooth across the turn of the year.

    Parameters
    ----------
    monthly : means of the months, January first, shape (..., 12) [any unit], none missing

    Returns (..., 365), whose mean over each month is the month's value. The curve is the
    derivative of a periodic cubic spline through the running sum, so it may rise above the
    highest month and fall below the lowest, as the weather's own course does.

    Raises ValueError where there are not twelve months or one of them is not a number.
    """
    from scipy.interpolate import CubicSpline

    values = _checked(monthly)
    mean = values @ MONTH_DAYS / YEAR_DAYS
    running = _running_sum(values) - mean[..., None] * _EDGES
    running[..., -1] = running[..., 0]
    spline = CubicSpline(_EDGES, running, axis=-1, bc_type="periodic")
    return np.asarray(np.diff(spline(_DAYS), axis=-1) + mean[..., None])


def daily_curve_not_negative(monthly: FloatArray) -> FloatArray:
    """As :func:`daily_curve`, for rain, chances and variances: never below 0.

    Parameters
    ----------
    monthly : means of the months, January first, shape (..., 12) [any unit], 0 and up

    Raises ValueError where there are not twelve months or one of them is below 0 or missing.
    """
    from scipy.interpolate import PchipInterpolator

    values = _checked(monthly)
    if np.any(values < 0):
        raise ValueError(f"a month's value is {values.min():g}; it must not be less than 0")
    thrice = np.concatenate([values, values, values], axis=-1)
    edges = np.concatenate([_EDGES[:-1] - YEAR_DAYS, _EDGES[:-1], _EDGES + YEAR_DAYS])
    days = np.tile(MONTH_DAYS, 3)
    running = np.concatenate(
        [np.zeros((*values.shape[:-1], 1)), np.cumsum(thrice * days, axis=-1)], axis=-1
    )
    curve = PchipInterpolator(edges, running, axis=-1)
    return np.maximum(np.diff(curve(_DAYS), axis=-1), 0.0)


def _checked(monthly: FloatArray) -> FloatArray:
    values = np.asarray(monthly, dtype=np.float64)
    if values.shape[-1:] != (len(MONTH_DAYS),):
        raise ValueError(f"monthly values have the shape {values.shape}; the last must be 12")
    if not np.all(np.isfinite(values)):
        raise ValueError(f"a month's value is not a number: {values.tolist()}")
    return values


def _running_sum(values: FloatArray) -> FloatArray:
    sums = np.cumsum(values * MONTH_DAYS, axis=-1)
    return np.concatenate([np.zeros((*values.shape[:-1], 1)), sums], axis=-1)
