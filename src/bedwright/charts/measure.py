"""Numbers of the engine in the reader's units, for axes and tables."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date

from bedwright.language import ENGLISH, said, using
from bedwright.units import UnitSystem, show, unit_factor
from bedwright.units.show import plain

Words = Mapping[str, str]
MONTHS = tuple(f"month_{at}" for at in range(1, 13))
_NICE = (1.0, 2.0, 2.5, 5.0, 10.0)


def unit_of(kind: str, system: UnitSystem) -> tuple[float, str]:
    """What one of the reader's units is in the engine's, and what it is called."""
    with using(ENGLISH):
        unit = show(0.0, kind, system).split(" ", 1)[1]
    return unit_factor(unit)[0], said(unit, "unit")


def day_words(day: date, words: Words) -> str:
    """A day in words: May 15."""
    return words["day"].format(month=words[MONTHS[day.month - 1]], day=day.day)


def nice_top(highest: float) -> float:
    """The end of an axis from 0: the next round step above the highest value."""
    step = nice_step(highest)
    return max(step, math.ceil(highest / step - 1e-9) * step)


def nice_step(span: float, steps: int = 5) -> float:
    """A round step that divides a span into about so many."""
    if not span > 0:
        return 1.0
    raw = span / steps
    power = 10.0 ** math.floor(math.log10(raw))
    return next(each for each in _NICE if each * power >= raw * 0.999) * power


def rounded(value: float | None, digits: int = 4) -> float | None:
    """A number as it is laid into a specification: as many digits as a drawing can show."""
    if value is None or not math.isfinite(value):
        return None
    return float(plain(value, digits))
