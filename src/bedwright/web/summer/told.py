"""What the page of the heat shows: plantings with their cloth, and a day's hours of work."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from django.utils.translation import gettext as _

from bedwright.garden import Document
from bedwright.language import named
from bedwright.planning.summer.model import PlantingSummer, Summer
from bedwright.planning.summer.people import WorkDay, day_of, heat_for_work
from bedwright.reference import Library
from bedwright.reports.summer_clock import clock_shift_h
from bedwright.reports.summer_said import (
    light_words,
    month_words,
    per_cent,
    planting_lines,
    trial_sentence,
    warmth,
)
from bedwright.reports.summer_work_said import work_spans
from bedwright.reports.water_said import clock_words
from bedwright.reports.words_summer import CLOTH, WORK
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import Field, Paper

_QUARTER, _DAY_MIN = 15, 24 * 60
_COLDEST_C, _HOTTEST_C = -10.0, 50.0  # of a forecast that the page takes
_USUAL_FALL_K = 15.0  # from the high to the low of a dry summer's day: judgement


@dataclass(frozen=True)
class PlantingTold:
    """A planting on the page: its lines, the light under each cloth, and what trials found.

    ``hangs`` tells that a cloth is advised.
    """

    bed: str
    crop: str
    hangs: bool
    lines: list[str]
    shades: list[tuple[str, str, str]]
    trials: list[tuple[str, str]]


@dataclass(frozen=True)
class HourTold:
    """An hour on the page; ``minutes`` of light, moderate and heavy work, in brackets for people
    new to the heat.
    """

    hour: str
    air: str
    wbgt: str
    minutes: list[str]


def plantings_told(summer: Summer, library: Library, system: UnitSystem) -> list[PlantingTold]:
    """Plantings with something to say, those with cloth to hang first."""
    found = []
    for each in sorted(summer.plantings, key=lambda one: one.cloth.verdict != "hang"):
        lines = planting_lines(each, system)
        if lines:
            crop = named(each.name).lower()
            found.append(
                PlantingTold(
                    each.bed,
                    crop,
                    each.cloth.verdict == "hang",
                    lines,
                    _shades(each),
                    _trials(each, library),
                )
            )
    return found


def _shades(each: PlantingSummer) -> list[tuple[str, str, str]]:
    return [
        (
            per_cent(one.percent) if one.percent else CLOTH["open"],
            light_words(one.light_mol_m2_d),
            CLOTH[one.fit],
        )
        for one in each.cloth.shades
    ]


def _trials(each: PlantingSummer, library: Library) -> list[tuple[str, str]]:
    return [
        (trial_sentence(one), library.sources[one.source.source_id].cite())
        for one in each.cloth.trials
    ]


def months_told(summer: Summer, document: Document) -> list[tuple[str, str, str, str]]:
    """Each month in which heat shortens work: its name, whose day, the high, the hours."""
    system = document.garden.garden.units
    found = []
    for each in summer.work:
        shift = clock_shift_h(document, each.day)
        for word, day in ((_("usual day"), each.usual), (_("one day in ten"), each.hot)):
            found.append(
                (
                    month_words(each.month),
                    word,
                    warmth(day.t_max_c, system),
                    work_spans(day, shift),
                )
            )
    return found


def hours_told(day: WorkDay, document: Document, on: date) -> list[HourTold]:
    """The hours of a day by the clock, or by the sun where the clock is not known."""
    system = document.garden.garden.units
    shift = clock_shift_h(document, on) or 0.0
    return [
        HourTold(
            clock_words(round((each.hour + shift) * 4) * _QUARTER % _DAY_MIN),
            warmth(each.air_c, system),
            warmth(each.wbgt_c, system),
            [
                f"{used:.0f}" if used == new else f"{used:.0f} ({new:.0f})"
                for used, new in zip(each.minutes, each.new_minutes, strict=True)
            ],
        )
        for each in day.hours
    ]


def index_words(day: WorkDay, system: UnitSystem) -> str:
    """What the heat index would say, with why not to go by it; empty where it says nothing."""
    if day.index_c is None:
        return ""
    return WORK["index"].format(index=warmth(day.index_c, system))


def forecast_fields(paper: Paper, system: UnitSystem) -> list[Field]:
    """The fields of a forecast: day, high, low, humidity in the afternoon."""
    unit = "F" if system is UnitSystem.US else "C"
    names = (("high", _("High"), unit), ("low", _("Low"), unit),
             ("humidity", _("Humidity in the afternoon"), "%"))  # fmt: skip
    days = Field("on", _("Day"), paper.text("on"), "date", faults=paper.faults.get("on", ()))
    return [
        days,
        *(
            Field(name, label, paper.text(name), "number", unit=said,
                  faults=paper.faults.get(name, ()))
            for name, label, said in names
        ),
    ]  # fmt: skip


def forecast(paper: Paper, document: Document, library: Library, on: date) -> WorkDay | None:
    """Work on a day by what the form says of it; None without a high, a latitude, or at fault."""
    place = document.garden.garden
    high = _celsius(paper, "high", place.units)
    low = _celsius(paper, "low", place.units)
    humidity = paper.number("humidity")
    if humidity is not None and not 1 <= humidity <= 100:
        paper.fault("humidity", _("Write a humidity from 1 to 100."))
    if high is not None and low is not None and low > high:
        paper.fault("low", _("The low is above the high."))
    if paper.faults or high is None or place.latitude is None:
        return None
    elevation = None if place.elevation is None else place.elevation.si
    try:
        day = day_of(
            high, high - _USUAL_FALL_K if low is None else low, humidity, None,
            latitude_deg=float(np.degrees(place.latitude.si)), on=on, elevation_m=elevation,
            library=library,
        )  # fmt: skip
    except ValueError:  # beyond the polar circles
        return None
    return heat_for_work(day, library)


def _celsius(paper: Paper, name: str, system: UnitSystem) -> float | None:
    typed = paper.number(name)
    if typed is None:
        return None
    celsius = (typed - 32) * 5 / 9 if system is UnitSystem.US else float(typed)
    if not _COLDEST_C <= celsius <= _HOTTEST_C:
        paper.fault(
            name,
            _("Write a temperature from %(least)s to %(most)s.")
            % {"least": warmth(_COLDEST_C, system), "most": warmth(_HOTTEST_C, system)},
        )
        return None
    return celsius
