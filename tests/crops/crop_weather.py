"""Invented weather for the tests of crops: a hot inland year, with noise or without."""

from __future__ import annotations

import numpy as np

from bedwright.crops.windows import Crop, Weather

YEAR, TURN = 365, 200


def valley(years: int, *, noise: float = 3.0, seed: int = 1, shift: int = 0) -> Weather:
    """So many years that begin in midwinter; ``shift`` more days of mild winter before them."""
    days = np.arange(years * YEAR)
    spread = np.random.default_rng(seed).normal(0.0, noise, days.size) if noise else 0.0
    mean = 11.5 - 13.5 * np.cos(2 * np.pi * (days - 20) / YEAR) + spread
    soil = 12.5 - 12.0 * np.cos(2 * np.pi * (days - 28) / YEAR)
    light = 12.2 - 3.4 * np.cos(2 * np.pi * (days + 10) / YEAR)
    before = {
        "mean": np.full(shift, 8.0),
        "soil": np.full(shift, 8.0),
        "light": np.full(shift, 9.0),
    }
    mean = np.concatenate([before["mean"], mean])
    return Weather(
        mean + 8.5,
        mean - 8.0,
        np.concatenate([before["soil"], soil]),
        day_length_h=np.concatenate([before["light"], light]),
    )


def level(days: int, t_max_c: float, t_min_c: float, soil_c: float = 20.0) -> Weather:
    """Every day alike."""
    return Weather(np.full(days, t_max_c), np.full(days, t_min_c), np.full(days, soil_c))


def tender(**changes: object) -> Crop:
    """A fruiting crop of the tomato kind."""
    usual: dict[str, object] = {
        "base_c": 10.0,
        "upper_c": 30.0,
        "heat_to_harvest": 900.0,
        "heat_to_flower": 300.0,
        "fruit_days": 45.0,
        "span_days": 50.0,
        "kill_c": (-0.6, 0.0, 0.6),
        "damage_c": 1.0,
        "soil_c": 15.0,
    }
    return Crop(**(usual | changes))  # type: ignore[arg-type]


def dates(first: int, count: int, step: int, years: int, shift: int = 0) -> np.ndarray:
    return shift + first + step * np.arange(count)[:, None] + YEAR * np.arange(years)[None, :]


def turns(years: int, shift: int = 0) -> np.ndarray:
    return shift + TURN + YEAR * np.arange(years)
