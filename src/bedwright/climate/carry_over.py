"""How residuals are carried from day to day: between correlations and the carry and shock
of a first-order scheme (today = carry x yesterday + shock x new noise)."""

from __future__ import annotations

import numpy as np

from bedwright.climate.record import FloatArray

_LEAST_EIGENVALUE = 1e-9  # below this a covariance counts as not positive


def carry_and_shock(
    before: FloatArray, now: FloatArray, lag: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Carry and shock that lead from one day's correlations to the next day's.

    Parameters
    ----------
    before : correlations of the residuals of the day before [-], (..., n, n)
    now : correlations of the day itself [-], (..., n, n)
    lag : correlations of the day (rows) with the day before (columns) [-], (..., n, n)

    carry = lag before^-1, and shock shock' = now - carry before carry' with shock lower
    triangular (Matalas' scheme, as in Richardson 1981). What a rounded or smoothed correlation
    leaves below zero is dropped.
    """
    carry = lag @ np.linalg.inv(before)
    rest = now - carry @ before @ np.swapaxes(carry, -1, -2)
    values, vectors = np.linalg.eigh((rest + np.swapaxes(rest, -1, -2)) / 2)
    values = np.maximum(values, _LEAST_EIGENVALUE)
    whole = (vectors * values[..., None, :]) @ np.swapaxes(vectors, -1, -2)
    return carry, np.linalg.cholesky(whole)


def correlations(carry: FloatArray, shock: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The covariances to which a carry and a shock tend: of one day, and with the day before.

    Parameters
    ----------
    carry : what stays of yesterday's residuals [-], (n, n), eigenvalues inside the unit circle
    shock : weights of the new noise [-], (n, n)

    Raises ValueError where the carry grows without end.
    """
    from scipy.linalg import solve_discrete_lyapunov

    largest = float(np.abs(np.linalg.eigvals(carry)).max())
    if largest >= 1:
        raise ValueError(f"carry grows without end: its largest eigenvalue is {largest:g}")
    now = np.asarray(solve_discrete_lyapunov(carry, shock @ shock.T), dtype=np.float64)
    return now, np.asarray(carry @ now, dtype=np.float64)
