"""Checks at the door of a formula: a wrong input is named with its value, never passed on."""

from __future__ import annotations

from typing import Any

import numpy as np


def positive(**values: Any) -> None:
    """Raise ValueError unless every value (or array element) is a number above 0."""
    for name, value in values.items():
        if not np.all(np.asarray(value) > 0):
            raise ValueError(f"{name} is {_shown(value)}; it must be more than 0")


def not_negative(**values: Any) -> None:
    """Raise ValueError unless every value (or array element) is a number of 0 or more."""
    for name, value in values.items():
        if not np.all(np.asarray(value) >= 0):
            raise ValueError(f"{name} is {_shown(value)}; it must not be less than 0")


def within(low: float, high: float, **values: Any) -> None:
    """Raise ValueError unless every value (or array element) lies from ``low`` to ``high``."""
    for name, value in values.items():
        array = np.asarray(value)
        if not np.all((array >= low) & (array <= high)):
            raise ValueError(f"{name} is {_shown(value)}; it must lie from {low:g} to {high:g}")


def _shown(value: Any) -> str:
    return f"{value:g}" if isinstance(value, int | float) else str(value)
