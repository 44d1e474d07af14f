"""Things that stand in the light, points among them and suns, for the tests of light."""

from __future__ import annotations

from functools import cache

import numpy as np
from hypothesis import strategies as st

from bedwright.climate.day_length import extraterrestrial_radiation_fao56
from bedwright.climate.solar import SunSeries, sun_position, sun_series
from bedwright.light.daily import LightSupply, SunMoments, light_supply
from bedwright.light.scene import Cloth, Prism, Scene, Screen
from bedwright.light.shade import sun_directions
from bedwright.reference import Library

FAR_M = 50_000.0  # a wall of twice this length has no end, for a garden


def long_wall(top_m: float, *, bearing_deg: float = 0.0, transmission: float = 0.0) -> Scene:
    """A wall through the middle that ends far away, along a bearing."""
    turn = np.radians(bearing_deg)
    along = FAR_M * np.array([np.sin(turn), np.cos(turn)])
    return Scene(screens=(Screen(-along, along, 0.0, top_m, transmission),))


def box(west: float, south: float, east: float, north: float) -> np.ndarray:
    return np.array([[west, south], [east, south], [east, north], [west, north]])


def crown(east: float, north: float, radius: float, corners: int = 12) -> np.ndarray:
    turn = 2 * np.pi * np.arange(corners) / corners
    return np.array([east, north]) + radius * np.column_stack([np.cos(turn), np.sin(turn)])


def mixed_scene() -> Scene:
    """A building, a tree, a tall crop, a trellis, a fence with a corner, a cloth."""
    return Scene(
        prisms=(
            Prism(box(-6, 8, 2, 12), 0.0, 4.0),
            Prism(crown(9, -3, 2.5), 2.0, 6.0, 1.0, 0.4),
            Prism(box(3, 2, 8, 3), 0.0, 1.6, 0.5),
        ),
        screens=(
            Screen(np.array([-4.0, 0.0]), np.array([5.0, 1.0]), 0.2, 1.8, 0.35),
            Screen(np.array([-8.0, -6.0]), np.array([8.0, -6.0]), 0.0, 1.5, 0.1),
            Screen(np.array([8.0, -6.0]), np.array([8.0, 4.0]), 0.0, 1.5, 0.1),
        ),
        cloths=(Cloth(box(-7, -4, -2, 1), 2.0, 0.5),),
    )


def some_points(count: int, seed: int = 4, reach: float = 9.0) -> np.ndarray:
    dice = np.random.default_rng(seed)
    places = dice.uniform(-reach, reach, (count, 2))
    return np.column_stack([places, dice.uniform(0.0, 0.5, count)])


def some_directions(count: int, seed: int = 5, lowest_deg: float = 2.0) -> np.ndarray:
    dice = np.random.default_rng(seed)
    return sun_directions(dice.uniform(lowest_deg, 89, count), dice.uniform(0, 360, count))


@cache
def series() -> SunSeries:
    library = Library()
    return sun_series(library.rows("sun_terms"), library.rows("delta_t"))


def moments(
    latitude: float, first: str, days: int, *, step_min: int = 10
) -> tuple[SunMoments, np.ndarray]:
    """The sun over days at longitude 0, and each day's date."""
    a_day = 24 * 60 // step_min
    at = np.arange(days * a_day)
    start = np.datetime64(first, "m") + np.timedelta64(step_min // 2, "m")
    times = (start + at * np.timedelta64(step_min, "m")).astype("datetime64[ms]")
    sun = sun_position(times, latitude, 0.0, series())
    dates = np.datetime64(first, "D") + np.arange(days)
    found = SunMoments(sun.elevation_deg, sun.azimuth_deg, at // a_day, step_min / 60, latitude)
    return found, dates


def supply(latitude: float, first: str, days: int, clearness: float = 0.6, **more) -> LightSupply:
    """The light of one period at a stated clearness."""
    sun, dates = moments(latitude, first, days)
    number = (dates - dates.astype("datetime64[Y]")).astype(int) + 1
    above = extraterrestrial_radiation_fao56(latitude, number)
    given = {"mol_per_mj": 2.3} | more
    return light_supply(sun, clearness * above, above, np.zeros(days, int), **given)


coordinate = st.floats(-8, 8).map(lambda each: round(each, 3))
share = st.floats(0, 1)


@st.composite
def screens(draw) -> Screen:
    start = np.array([draw(coordinate), draw(coordinate)])
    turn, length = np.radians(draw(st.integers(0, 359))), draw(st.floats(0.3, 12))
    base = draw(st.sampled_from([0.0, 0.3]))
    end = start + length * np.array([np.sin(turn), np.cos(turn)])
    return Screen(start, end, base, base + draw(st.floats(0.2, 3)), draw(share))


@st.composite
def prisms(draw) -> Prism:
    outline = crown(draw(coordinate), draw(coordinate), draw(st.floats(0.3, 3)), 7)
    base = draw(st.sampled_from([0.0, 1.0]))
    top = base + draw(st.floats(0.3, 5))
    return Prism(outline, base, top, draw(share), draw(st.sampled_from([0.0, 0.8])))


@st.composite
def cloths(draw) -> Cloth:
    outline = crown(draw(coordinate), draw(coordinate), draw(st.floats(0.5, 4)), 5)
    return Cloth(outline, draw(st.floats(0.6, 3)), draw(share))


@st.composite
def scenes(draw) -> Scene:
    return Scene(
        tuple(draw(st.lists(prisms(), max_size=2))),
        tuple(draw(st.lists(screens(), max_size=3))),
        tuple(draw(st.lists(cloths(), max_size=1))),
    )
