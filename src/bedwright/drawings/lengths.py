"""Lengths as one reads them off a tape, and round steps for a scale bar."""

from __future__ import annotations

from bedwright.units import UnitSystem, unit_factor
from bedwright.units.tape import tape

__all__ = ["round_step", "tape"]


def round_step(span_m: float, parts: int, system: UnitSystem) -> tuple[float, float]:
    """A round length that fits into a span so many times or more: [m], and in the unit's number.

    The unit is the foot or the meter; steps are 1, 2 and 5 times a power of ten.
    """
    unit_m = unit_factor("ft" if system is UnitSystem.US else "m")[0]
    most = span_m / parts / unit_m
    power = 1e-6
    while power * 10 <= most:
        power *= 10
    number = max(
        (each * power for each in (1, 2, 5) if each * power <= most * 1.0001), default=power
    )
    return number * unit_m, number
