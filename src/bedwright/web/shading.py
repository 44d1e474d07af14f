"""The moment of a shade drawing: what casts shade on a day, where the sun stands at an hour."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from itertools import pairwise
from zoneinfo import ZoneInfo

import numpy as np
from django.utils.formats import time_format
from django.utils.translation import gettext as _

from bedwright.climate.solar import SunSeries, sun_path, sun_position, sun_series
from bedwright.drawings.shade import Mark, ShadeLayer
from bedwright.garden import Document
from bedwright.garden.model_structure import Structure, stands_on
from bedwright.light.scene import Cloth, Prism, Screen
from bedwright.reference import Library
from bedwright.reports.days_said import day_words
from bedwright.reports.words_shade import SHADE_WORDS

_LOWEST = 1.0  # degrees: lower than that no shadow can be drawn
_DEGREES_AN_HOUR = 15.0


@dataclass(frozen=True)
class Moment:
    """A day and an hour at the garden: the sun's height and bearing [deg], and how it is said.

    ``by_the_clock`` is false where the garden states no longitude or time zone: then the hour is
    that of the sun itself, which stands in the south (north) at 12.
    """

    on: date
    hour: int
    elevation_deg: float
    azimuth_deg: float
    by_the_clock: bool

    @property
    def words(self) -> str:
        """The moment in words: June 21, 3 p.m."""
        return _("{day}, {hour}").format(day=day_words(self.on), hour=hour_words(self.hour))

    @property
    def up(self) -> bool:
        """Whether the sun stands high enough to cast a shadow that can be drawn."""
        return self.elevation_deg >= _LOWEST


def moment_of(document: Document, library: Library, on: date, hour: int) -> Moment | None:
    """The sun at a day and hour; None where the document does not state its latitude."""
    place = document.garden.garden
    if place.latitude is None:
        return None
    latitude = float(np.degrees(place.latitude.si))
    by_the_clock = place.longitude is not None and place.time_zone is not None
    if place.longitude is not None and place.time_zone is not None:
        longitude = float(np.degrees(place.longitude.si))
        local = datetime.combine(on, time(hour), ZoneInfo(place.time_zone))
        utc = local.astimezone(UTC).replace(tzinfo=None)
    else:  # the sun's own time at the meridian of Greenwich
        longitude, utc = 0.0, datetime.combine(on, time(hour))
        late = sun_path(np.datetime64(utc), _series(library)).equation_of_time_min
        utc -= timedelta(minutes=float(late))
    found = sun_position(np.datetime64(utc), latitude, longitude, _series(library))
    return Moment(on, hour, float(found.elevation_deg), float(found.azimuth_deg), by_the_clock)


@lru_cache(maxsize=2)
def _series(library: Library) -> SunSeries:
    return sun_series(library.rows("sun_terms"), library.rows("delta_t"))


def hour_words(hour: int) -> str:
    """An hour of the day as it is said here."""
    return time_format(time(hour), "P")


def layer_of(document: Document, moment: Moment) -> ShadeLayer | None:
    """The shade of a moment; None while the sun is down."""
    if not moment.up:
        return None
    marks = tuple(
        mark
        for each in document.garden.structure
        if stands_on(moment.on, each.from_day, each.to_day)
        for mark in _marks(each)
    )
    return ShadeLayer(marks, moment.elevation_deg, moment.azimuth_deg, moment.words, SHADE_WORDS)


def _marks(each: Structure) -> list[Mark]:
    plan = np.array([(x.si, y.si) for x, y in each.outline or each.line or ()])
    if each.line is not None:
        return [
            Mark(Screen(start, end, each.base.si, each.height.si, each.openness.si), each.id)
            for start, end in pairwise(plan)
            if not np.array_equal(start, end)
        ]
    if each.kind == "shade cloth":
        return [Mark(Cloth(plan, each.height.si, each.openness.si), each.id)]
    return [Mark(Prism(plan, each.base.si, each.height.si, each.openness.si), each.id)]
