"""The light of a day by months at each point: beam, sky and hours of direct sun.

The caller says where the sun stands at moments a step apart and how much radiation each day
brings. Each day's radiation is parted into beam and sky (Erbs and others 1982) and spread over its
moments (Collares-Pereira and Rabl 1979 for the whole, Liu and Jordan 1960 for the sky), so that the
day's sums are kept. Moments whose directions fall into one cell of ``cell_deg`` are worked as one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import positive, within
from bedwright.light.scene import FloatArray, Scene
from bedwright.light.shade import sun_directions, transmission_lots
from bedwright.light.sky import sky_share
from bedwright.light.split import day_shape, diffuse_share_day_erbs, diffuse_share_month_erbs

IntArray = NDArray[np.int64]
Split = Literal["month", "day"]

_CELL_DEG = 1.0  # judgement: a month's light within 0.3 of 60 mol/m2/d at any point
_SHARES = {"month": diffuse_share_month_erbs, "day": diffuse_share_day_erbs}


@dataclass(frozen=True, eq=False)
class SunMoments:
    """Where the sun stands at moments ``step_h`` apart; those of the night may be there.

    ``elevation_deg`` and ``azimuth_deg`` (moments,), from north over east; ``day`` (moments,) the
    number of the day that each belongs to, from 0; ``latitude_deg`` of the place.
    """

    elevation_deg: FloatArray
    azimuth_deg: FloatArray
    day: IntArray
    step_h: float
    latitude_deg: float

    def __post_init__(self) -> None:
        sizes = {np.shape(each) for each in (self.elevation_deg, self.azimuth_deg, self.day)}
        if len(sizes) != 1 or len(next(iter(sizes))) != 1:
            raise ValueError(f"elevation, azimuth and day have shapes {sizes}; all must be alike")
        positive(step_h=self.step_h)
        within(-90, 90, latitude_deg=self.latitude_deg, elevation_deg=self.elevation_deg)


@dataclass(frozen=True, eq=False)
class LightSupply:
    """The light over open level ground, on the mean day of each period.

    ``directions`` (directions, 3) toward the sun; ``beam_mol_m2_d`` and ``sun_h_d``
    (directions, periods) light and hours of sun from each; ``sky_mol_m2_d`` (periods,).
    """

    directions: FloatArray
    beam_mol_m2_d: FloatArray
    sun_h_d: FloatArray
    sky_mol_m2_d: FloatArray

    @property
    def open_mol_m2_d(self) -> FloatArray:
        """Light of a day over open ground (periods,) [mol/m2/d]."""
        return np.asarray(self.beam_mol_m2_d.sum(axis=0) + self.sky_mol_m2_d)


@dataclass(frozen=True, eq=False)
class PointLight:
    """The light at points on the mean day of each period, and that of open ground beside it.

    ``beam_mol_m2_d``, ``sky_mol_m2_d``, ``sun_h_d`` (points, periods): PAR of the beam and from
    the sky, and hours of direct sun on a clear day, in which an hour behind a screen that lets
    0.4 through counts 0.4; ``sky_share`` (points, periods); ``open_mol_m2_d``, ``open_sun_h_d``
    (periods,) the same without anything in the way.
    """

    beam_mol_m2_d: FloatArray
    sky_mol_m2_d: FloatArray
    sun_h_d: FloatArray
    sky_share: FloatArray
    open_mol_m2_d: FloatArray
    open_sun_h_d: FloatArray

    @property
    def light_mol_m2_d(self) -> FloatArray:
        """Daily light integral (points, periods) [mol/m2/d]."""
        return np.asarray(self.beam_mol_m2_d + self.sky_mol_m2_d)


def light_supply(
    moments: SunMoments,
    radiation_mj_m2: FloatArray,
    extraterrestrial_mj_m2: FloatArray,
    period: IntArray,
    *,
    mol_per_mj: float,
    split: Split = "month",
    least_sun_deg: float = 0.0,
    cell_deg: float | None = _CELL_DEG,
) -> LightSupply:
    """The light over open ground by directions of the sun and periods of the year.

    Parameters
    ----------
    moments : of every day, in steps of 20 minutes or less for hours true to the tenth
    radiation_mj_m2 : of each day on level ground (days,) [MJ/m2/d], 0 to 50
    extraterrestrial_mj_m2 : of each day above the air (days,) [MJ/m2/d], 0 to 50
    period : of each day (days,), a month or half month, numbered from 0 without gaps
    mol_per_mj : share of PAR times photons per joule [mol/MJ], 1.2 to 3.5; 2.3 by the tables
    split : ``month`` where radiation is a month's mean, ``day`` where it is each day's own, as
        under a clear sky
    least_sun_deg : the sun counts as hours of direct sun from this height on [deg], 0 to 90
    cell_deg : directions so near are worked as one [deg], 0.1 to 10; None, none are

    Raises ValueError for an input outside its range, and for a day that has radiation but no
    moment with the sun up.
    """
    days = np.asarray(period, dtype=np.int64)
    radiation = np.asarray(radiation_mj_m2, dtype=np.float64)
    above = np.asarray(extraterrestrial_mj_m2, dtype=np.float64)
    _checked(moments, radiation, above, days)
    within(1.2, 3.5, mol_per_mj=mol_per_mj)
    within(0, 90, least_sun_deg=least_sun_deg)
    up = np.flatnonzero(np.asarray(moments.elevation_deg) > 0)
    beam, sky = _parted(moments, up, radiation, above, split)
    directions = sun_directions(moments.elevation_deg[up], moments.azimuth_deg[up])
    shining = np.where(moments.elevation_deg[up] >= least_sun_deg, moments.step_h, 0.0)
    length = np.bincount(days)
    when = days[np.asarray(moments.day)[up]]
    cell = _cells(moments.elevation_deg[up], moments.azimuth_deg[up], cell_deg)
    count = int(cell.max()) + 1 if cell.size else 0
    at = cell * length.size + when
    light, hours = (
        np.bincount(at, weights=each, minlength=count * length.size).reshape(count, length.size)
        / length
        for each in (beam * mol_per_mj, shining)
    )
    return LightSupply(
        _middles(directions, beam, cell, count),
        light,
        hours,
        np.bincount(days, weights=sky * mol_per_mj) / length,
    )


def light_at(
    points: FloatArray,
    scene: Scene | Sequence[Scene],
    supply: LightSupply,
    *,
    own: Sequence[str] | None = None,
) -> PointLight:
    """The light at points among things that stand in its way.

    Parameters
    ----------
    points : (points, 3) east, north and height above the ground [m], height 0 or more
    scene : what stands in the way; one for all periods, or one for each (leaves, shade cloth)
    supply : the light over open ground
    own : a tag for each point; things with the same tag do not shade it

    Raises ValueError for another shape or number of scenes.
    """
    periods = supply.sky_mol_m2_d.size
    scenes = [scene] * periods if isinstance(scene, Scene) else list(scene)
    if len(scenes) != periods:
        raise ValueError(f"there are {len(scenes)} scenes for {periods} periods")
    beam, hours, share = np.zeros((3, len(points), periods))
    for each in {id(one): one for one in scenes}.values():
        those = np.array([at for at, one in enumerate(scenes) if one is each])
        light, shining = supply.beam_mol_m2_d[:, those], supply.sun_h_d[:, those]
        used = np.flatnonzero((light > 0).any(axis=1) | (shining > 0).any(axis=1))
        both = np.hstack([light, shining])[used]
        reached = np.zeros((len(points), both.shape[1]))
        for lot, passed in transmission_lots(points, supply.directions[used], each, own=own):
            reached += passed @ both[lot]
        beam[:, those], hours[:, those] = np.hsplit(reached, 2)
        share[:, those] = sky_share(points, each, own=own)[:, None]
    return PointLight(
        beam,
        share * supply.sky_mol_m2_d,
        hours,
        share,
        supply.open_mol_m2_d,
        supply.sun_h_d.sum(axis=0),
    )


def _checked(moments: SunMoments, radiation: FloatArray, above: FloatArray, days: IntArray) -> None:
    if not radiation.shape == above.shape == days.shape or days.ndim != 1:
        raise ValueError(
            f"radiation, extraterrestrial and period have shapes {radiation.shape}, "
            f"{above.shape}, {days.shape}; all must be (days,)"
        )
    within(0, 50, radiation_mj_m2=radiation, extraterrestrial_mj_m2=above)
    if (radiation > above).any():
        raise ValueError("radiation_mj_m2 is more than extraterrestrial_mj_m2 on some day")
    if days.size == 0 or days.min() < 0 or (np.bincount(days) == 0).any():
        raise ValueError("period must number each day's period from 0 without gaps")
    within(0, days.size - 1, day=np.asarray(moments.day))


def _parted(
    moments: SunMoments,
    up: NDArray[np.intp],
    radiation: FloatArray,
    above: FloatArray,
    split: Split,
) -> tuple[FloatArray, FloatArray]:
    """Beam of each moment with the sun up, and each day's light from the sky [MJ/m2]."""
    height = np.radians(moments.elevation_deg[up])
    around = np.radians(moments.azimuth_deg[up])
    north = np.radians(moments.latitude_deg)
    day, days = np.asarray(moments.day)[up], radiation.size
    rise, ahead = np.sin(height), np.cos(height) * np.cos(around)
    sine = np.sin(north) * rise + np.cos(north) * ahead  # of the declination
    cosine = np.sqrt(np.maximum(1 - sine * sine, 0.0))
    hour = (np.cos(north) * rise - np.sin(north) * ahead) / cosine  # cosine of the hour angle
    flat = max(float(np.cos(north)), 1e-9)
    sunset = np.arccos(np.clip(-np.sin(north) / flat * sine / cosine, -1.0, 1.0))
    lit = np.bincount(day, minlength=days)
    if (radiation[lit == 0] > 0).any():
        raise ValueError("a day has radiation but no moment with the sun up")

    def spread(weights: FloatArray, sums: FloatArray) -> FloatArray:
        whole = np.bincount(day, weights=weights, minlength=days)
        return np.asarray(
            weights * np.divide(sums, whole, out=np.zeros(days), where=whole > 0)[day]
        )

    seen = np.bincount(day, weights=sunset, minlength=days) / np.maximum(lit, 1)
    clearness = np.divide(radiation, above, out=np.zeros(days), where=above > 0)
    sky = radiation * _SHARES[split](clearness, np.degrees(seen))
    whole = spread(rise * np.maximum(day_shape(hour, sunset), 0.0), radiation)
    rest = np.maximum(whole - spread(rise, sky), 0.0)
    # where all that is left of a day is cut away, its beam follows the whole
    kept = np.bincount(day, weights=rest, minlength=days)
    beam = spread(np.where(kept[day] > 0, rest, whole), radiation - sky)
    return beam, sky


def _cells(elevation: FloatArray, azimuth: FloatArray, cell_deg: float | None) -> IntArray:
    if cell_deg is None:
        return np.arange(elevation.size)
    within(0.1, 10, cell_deg=cell_deg)
    row, column = (np.floor(each / cell_deg).astype(np.int64) for each in (elevation, azimuth))
    _, cell = np.unique(row * 10_000 + column, return_inverse=True)
    return np.asarray(cell, dtype=np.int64)


def _middles(directions: FloatArray, beam: FloatArray, cell: IntArray, count: int) -> FloatArray:
    """The mean direction of each cell, by its beam."""
    weight = beam + 1e-9
    total = np.column_stack(
        [np.bincount(cell, weights=weight * each, minlength=count) for each in directions.T]
    )
    return np.asarray(total / np.linalg.norm(total, axis=1)[:, None])
