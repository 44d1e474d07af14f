"""Lengths as one reads them off a tape."""

from __future__ import annotations

from bedwright.language import said
from bedwright.units.parse import unit_factor
from bedwright.units.show import UnitSystem, plain

_INCHES_PER_FOOT = 12  # by definition
_WHOLE_FEET_FROM, _FINE_BELOW_M = 100, 10.0


def tape(length_m: float, system: UnitSystem) -> str:
    """A length [m, 0 or more] in feet and inches, or in meters: "30 in", "12 ft 6 in", "1.2 m".

    Below three feet it stands in inches, unless it is whole feet; from 100 feet on in whole feet;
    below a meter in centimeters.
    """
    if system is UnitSystem.METRIC:
        if length_m < 0.995:
            return f"{plain(length_m * 100, 2)} cm"
        return f"{plain(round(length_m, 2 if length_m < _FINE_BELOW_M else 1), 9)} m"
    inches = round(length_m / unit_factor("in")[0], 6)
    if inches < 2 * _INCHES_PER_FOOT:
        return f"{plain(round(inches * 2) / 2 if inches >= 1 else inches, 3)} {said('in', 'unit')}"
    feet, rest = divmod(round(inches), _INCHES_PER_FOOT)
    if feet < 3 and rest:
        return f"{round(inches)} {said('in', 'unit')}"
    if feet >= _WHOLE_FEET_FROM:
        return f"{round(inches / _INCHES_PER_FOOT)} {said('ft', 'unit')}"
    whole = f"{feet} {said('ft', 'one unit' if feet == 1 else 'unit')}"
    return f"{whole} {rest} {said('in', 'unit')}" if rest else whole
