"""Volumes: depths and areas, heaps and cups."""

from __future__ import annotations

from bedwright.guards import not_negative, positive
from bedwright.units.parse import unit_factor
from bedwright.working import Source, formula

_MASS = ("mass", "kg")
_VOLUME = ("volume", "m3")
_AREA = ("area", "m2")
_DEPTH = ("depth", "m")
_DENSITY = ("density", "kg/m3")
_CUP_M3 = unit_factor("cup")[0]

_GEOMETRY = (Source("computed", "", "volume is area times depth"),)


@formula(
    "volume = area x depth",
    result=_VOLUME,
    sources=_GEOMETRY,
    example={"area": "2000 ft2", "depth": "0.25 in"},
    area=_AREA,
    depth=_DEPTH,
)
def volume_for_depth(area: float, depth: float) -> float:
    """Volume of a material that covers an area to a depth [m3].

    Parameters
    ----------
    area : to be covered [m2], 0 and up
    depth : of the layer [m], 0 and up

    Raises ValueError for a negative input.
    """
    not_negative(area=area, depth=depth)
    return area * depth


@formula(
    "depth = volume / area",
    result=_DEPTH,
    sources=_GEOMETRY,
    example={"volume": "4 yd3", "area": "1000 ft2"},
    volume=_VOLUME,
    area=_AREA,
)
def depth_of_volume(volume: float, area: float) -> float:
    """Depth to which a volume covers an area [m].

    Parameters
    ----------
    volume : spread [m3], 0 and up
    area : covered [m2], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(volume=volume)
    positive(area=area)
    return volume / area


@formula(
    "area = volume / depth",
    result=_AREA,
    sources=_GEOMETRY,
    example={"volume": "1 yd3", "depth": "3 in"},
    volume=_VOLUME,
    depth=_DEPTH,
)
def area_of_volume(volume: float, depth: float) -> float:
    """Area that a volume covers to a depth [m2].

    Parameters
    ----------
    volume : at hand [m3], 0 and up
    depth : of the layer [m], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(volume=volume)
    positive(depth=depth)
    return volume / depth


@formula(
    "mass = volume x bulk density",
    result=_MASS,
    sources=(Source("computed", "", "bulk density is mass by filled volume"),),
    example={"volume": "3 yd3", "bulk_density": "1000 lb/yd3"},
    volume=_VOLUME,
    bulk_density=_DENSITY,
)
def mass_of_volume(volume: float, bulk_density: float) -> float:
    """Mass of a filled volume [kg].

    Parameters
    ----------
    volume : filled loosely [m3], 0 and up
    bulk_density : of the material as it lies [kg/m3], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(volume=volume)
    positive(bulk_density=bulk_density)
    return volume * bulk_density


@formula(
    "cups = mass / (bulk density x volume of a cup)",
    result=("ratio", "-"),
    sources=(Source("nist_hb44_2024", "appendix C", "a US cup is 8 US fluid ounces"),),
    example={"mass": "0.5 lb", "bulk_density": "0.88 kg/l"},
    mass=_MASS,
    bulk_density=_DENSITY,
)
def cups_of(mass: float, bulk_density: float) -> float:
    """Level US cups that hold a mass of a dry material [cups].

    Parameters
    ----------
    mass : to be measured out [kg], 0 and up
    bulk_density : of the material as it is scooped [kg/m3], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(mass=mass)
    positive(bulk_density=bulk_density)
    return mass / (bulk_density * _CUP_M3)
