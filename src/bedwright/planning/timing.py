"""When to plant each crop that is wanted: the garden's weather against the crops' tables."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from bedwright.crops.choice import Limits
from bedwright.crops.frost_damage import Cover
from bedwright.crops.fruit_set import off_range, set_score
from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Document, Want
from bedwright.garden.failed import failed_wants
from bedwright.planning.failed import failed_by_want
from bedwright.planning.findings import Finding, finding
from bedwright.planning.timing_choice import Calendar, Planting, dates_of
from bedwright.planning.timing_model import GardenDates, WantDates
from bedwright.planning.weather import GardenWeather, garden_weather
from bedwright.reference import Library

_TABLES = ("crop_timing", "crop_habits", "emergence", "fruit_set_responses", "protection")


def garden_dates(document: Document, library: Library, as_of: date) -> GardenDates:
    """The dates of every crop that is wanted. ``as_of`` is the day of planning.

    Raises WeatherError for a weather file that can't be used.
    """
    risk = document.garden.limits.risk_accepted / 10
    weather = garden_weather(document, library)
    if weather is None:
        missing = document.garden.weather is None
        said = (
            finding("weather_not_stated", "assumed")
            if missing
            else finding("weather_under_a_year", "doubt")
        )
        return GardenDates(None, risk, (), (said,))
    tables = TimingTables.of(*(library.rows(name) for name in _TABLES))
    plantings: dict[tuple[str, int | None, str | None, str | None], Planting] = {}
    wants = []
    lost, said_lost = failed_wants(document.garden), failed_by_want(document, library)
    for at, want in enumerate(document.garden.want):
        key = document.key("want", at, "crop")
        beds = tuple(bed for bed in want.beds if (at, bed) not in lost)
        cover = None if want.protection is None else document.key("want", at, "protection")
        if tables.missing(key):
            made = _not_timed(want, at, beds, key, cover, tables, risk, library)
            wants.append(replace(made, lost=said_lost.get(at, ())))
            continue
        bulbs_in = bulbs_stated(document, document.cultivars.get(("want", at, "crop")))
        alike = (key, want.days_to_maturity, cover, bulbs_in)
        if alike not in plantings:
            plantings[alike] = planting_of(
                key, want, cover, weather, tables, risk, library, bulbs_in=bulbs_in
            )
        calendar = Calendar(weather, want, as_of)
        made = _dates(want, at, beds, key, cover, plantings[alike], calendar, library)
        wants.append(replace(made, lost=said_lost.get(at, ())))
    return GardenDates(weather, risk, tuple(wants), weather.findings)


def dated(document: Document, library: Library, as_of: date) -> tuple[Document, GardenDates | None]:
    """The document with the best date for each want that states none, and all dates.

    A want whose weather or tables tell no date is left as it is; without weather there are none.
    """
    if document.garden.weather is None:
        return document, None
    dates = garden_dates(document, library, as_of)
    taken = {each.want: each.best.on for each in dates.wants if each.best is not None}
    wants = [
        want.model_copy(update={"set_out": taken[at]})
        if want.set_out is None and at in taken
        else want
        for at, want in enumerate(document.garden.want)
    ]
    garden = document.garden.model_copy(update={"want": wants})
    return replace(document, garden=garden), dates


def planting_of(
    key: str,
    want: Want,
    cover: str | None,
    weather: GardenWeather,
    tables: TimingTables,
    risk: float,
    library: Library,
    *,
    bulbs_in: str | None = None,
) -> Planting:
    """A crop as it is planted in the garden's weather, under a cover, at an accepted risk [-].

    ``want`` gives the cultivar's days to maturity, where it states them; ``bulbs_in`` is its own
    type of bulb, None for that of the latitude.
    """
    day_type = _day_type(key, weather, tables) if bulbs_in is None else bulbs_in
    crop = tables.crop(key, days_to_harvest=want.days_to_maturity, day_type=day_type)
    low, usual_c, high = crop.kill_c
    doubt = weather.site_doubt_k
    crop = replace(crop, kill_c=(low - doubt, usual_c, high + doubt))
    responses = tables.responses(key)
    days = weather.days
    score = off = None
    if responses:
        score = set_score(responses, days.t_max_c, days.t_min_c, t_mean_c=days.mean_c)
        off = off_range(responses, days.t_max_c, days.t_min_c, t_mean_c=days.mean_c)
    start = tables.words[(key, "start")]["word"]
    usual = Limits(kill=risk, lost=risk, bolted=risk)
    # seed and pieces rot in cold soil; plants only stand still in it, which is told
    limits = usual if start != "set_out" else Limits(usual.kill, usual.lost, usual.bolted, 0.0)
    return Planting(
        key=key,
        weather=weather,
        crop=crop,
        score=score,
        off_range=off,
        cover=Cover() if cover is None else tables.cover(cover, key),
        tables=tables,
        limits=limits,
        step_days=round(library.parameter("timing_step", "day").value),
        bulbs_in=bulbs_in,
    )


def _dates(
    want: Want,
    at: int,
    beds: tuple[str, ...],
    key: str,
    cover: str | None,
    planting: Planting,
    calendar: Calendar,
    library: Library,
) -> WantDates:
    found = dates_of(planting, calendar, library)
    said = _said(want, planting, library.crop(key)["name"].lower())
    made = WantDates(
        want=at,
        crop=key,
        name=library.crop(key)["name"],
        beds=beds,
        start=planting.start,
        cover=cover,
        soil_needed_c=planting.crop.soil_c,
        asked=found.asked,
        risk=planting.limits.kill,
        weeks=want.pick_weeks,
        turns=found.turns,
        stated=found.stated,
        curve=found.curve,
        findings=tuple(said),
        site_doubt_k=planting.weather.site_doubt_k,
    )
    if want.set_out is None and made.best is not None:
        by_dates = finding("set_out_by_dates", "assumed", taken=made.best.on.isoformat())
        made = replace(made, findings=(*made.findings, by_dates))
    return made


def _not_timed(
    want: Want,
    at: int,
    beds: tuple[str, ...],
    key: str,
    cover: str | None,
    tables: TimingTables,
    risk: float,
    library: Library,
) -> WantDates:
    name = library.crop(key)["name"]
    lacking = ", ".join(tables.missing(key)).replace("_", " ")
    return WantDates(
        want=at,
        crop=key,
        name=name,
        beds=beds,
        start="",
        cover=cover,
        soil_needed_c=np.nan,
        asked=want.turn,
        risk=risk,
        weeks=want.pick_weeks,
        turns=(),
        stated=None,
        curve=None,
        findings=(finding("crop_not_timed", "doubt", crop=name.lower(), missing=lacking),),
    )


def _day_type(key: str, weather: GardenWeather, tables: TimingTables) -> str | None:
    """For what days a bulb of the place swells; None where its latitude is not known."""
    latitude_deg = weather.record.latitude_deg
    return None if latitude_deg is None else tables.day_type(key, latitude_deg)


def bulbs_stated(document: Document, own: int | None) -> str | None:
    """For what days the gardener's own cultivar bulbs; None where nothing is stated."""
    return None if own is None else document.garden.crop[own].bulbs_in


def bulbs_said(planting: Planting, name: str) -> list[Finding]:
    """That bulbs are taken to be of the type of the place, with the days from which they swell;
    nothing where the gardener states the type."""
    kind = _day_type(planting.key, planting.weather, planting.tables)
    rule = planting.crop.bulbing
    if not kind or rule is None or planting.bulbs_in is not None:
        return []
    return [finding(f"bulbs_in_{kind}_days", "assumed", crop=name, hours=rule.day_length_h)]


def _said(want: Want, planting: Planting, name: str) -> list[Finding]:
    said = bulbs_said(planting, name)
    if not planting.frost_known:
        said.append(finding("kill_not_known", "doubt", crop=name))
    if want.days_to_maturity is None:
        said.append(
            finding(
                "maturity_of_the_table",
                "assumed",
                crop=name,
                days=float(round(planting.days_to_harvest)),
            )
        )
    return said
