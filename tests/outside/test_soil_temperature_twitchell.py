"""The daily soil model against five depths under alfalfa on Twitchell Island, nothing tuned.

AmeriFlux US-Tw3, 2013-2018 (irrigated peat under a crop, which the model was not made for).
Damping depth 2 m and no cover are the plain choice of a reader who knows no more. What is asserted
is what was found, so that a change shows: the error is reported, not wished.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from bedwright.climate.soil_temperature import Ground, annual_wave, soil_temperature_swat

DEPTHS_CM = (2, 4, 8, 16, 32)
WHOLE_DAY = 44  # half hours of 48
#           bias, root of the mean square [K]
FOUND = {2: (-0.03, 1.69), 4: (-0.03, 1.63), 8: (0.00, 1.46), 16: (-0.23, 1.39), 32: (-0.60, 1.65)}


@cache
def record() -> dict[str, np.ndarray]:
    path = Path(__file__).with_name("data") / "twitchell_daily.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    dates = np.array([row["date"] for row in rows], dtype="datetime64[D]")
    days = np.arange(dates[0], dates[-1] + 1)
    at = (dates - dates[0]).astype(int)
    found: dict[str, np.ndarray] = {
        "day_of_year": (days - days.astype("datetime64[Y]")).astype(int) + 1.0
    }
    for key in rows[0]:
        if key != "date":
            found[key] = np.full(len(days), np.nan)
            found[key][at] = [float(row[key]) if row[key] else np.nan for row in rows]
    whole = found["half_hours"] >= WHOLE_DAY
    for key in ("t_min_c", "t_max_c", "radiation_mj_m2"):
        found[key] = np.where(whole, found[key], np.nan)
    return found


@cache
def errors() -> np.ndarray:
    days = record()
    air = annual_wave(days["day_of_year"], (days["t_min_c"] + days["t_max_c"]) / 2)
    modeled = soil_temperature_swat(
        days["t_max_c"], days["t_min_c"], days["radiation_mj_m2"],
        np.array(DEPTHS_CM) / 100, ground=Ground(2.0, 0.0, 0.23), annual_mean_c=air.mean_c,
    )  # fmt: skip
    return np.asarray(modeled - np.array([days[f"soil_{depth}_cm_c"] for depth in DEPTHS_CM]))


@pytest.mark.parametrize("depth", DEPTHS_CM)
def test_error_of_the_daily_model(depth: int):
    off = errors()[DEPTHS_CM.index(depth)]
    off = off[~np.isnan(off)]
    bias, spread = FOUND[depth]

    assert len(off) > 1000
    assert off.mean() == pytest.approx(bias, abs=0.05)
    assert np.sqrt((off**2).mean()) == pytest.approx(spread, abs=0.05)


def test_the_measured_wave_fades_and_lags_with_depth():
    days = record()
    waves = [annual_wave(days["day_of_year"], days[f"soil_{depth}_cm_c"]) for depth in DEPTHS_CM]

    assert np.all(np.diff([each.amplitude_c for each in waves]) < 0)
    assert np.all(np.diff([each.warmest_day for each in waves]) > 0)


def test_the_measured_soil_is_warmer_than_the_air_which_the_model_does_not_know():
    days = record()
    air = annual_wave(days["day_of_year"], (days["t_min_c"] + days["t_max_c"]) / 2)
    soil = annual_wave(days["day_of_year"], days["soil_16_cm_c"])

    assert soil.mean_c - air.mean_c == pytest.approx(0.8, abs=0.1)
