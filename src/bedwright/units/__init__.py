"""Quantities with units: gardeners' words in, SI inside, gardeners' words out."""

from bedwright.units.kinds import KINDS, Kind, kind
from bedwright.units.parse import Quantity, UnitError, parse, to_si, unit_factor
from bedwright.units.show import UnitSystem, show, show_range

__all__ = [
    "KINDS",
    "Kind",
    "Quantity",
    "UnitError",
    "UnitSystem",
    "kind",
    "parse",
    "show",
    "show_range",
    "to_si",
    "unit_factor",
]
