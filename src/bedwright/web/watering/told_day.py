"""What the pages say of a day: minutes of each zone and bed, what is due before planting."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from django.utils.translation import gettext as _

from bedwright.language import named
from bedwright.planning.watering.garden_water import GardenWater, planting_soon
from bedwright.planning.watering.today import BedToday, Today, ZoneToday
from bedwright.reports.days_said import day_words
from bedwright.reports.water_said import (
    clock_words,
    depth_words,
    minutes_words,
    share_words,
    water_sentence,
)
from bedwright.reports.water_text import germination_line, short_lines, soon_lines, zone_rules
from bedwright.reports.words_water import WATER, WEEKDAYS, WHY
from bedwright.units import UnitSystem
from bedwright.working import Figure

_ALIKE = 0.1  # share by which a bed's minutes may be less than its zone's before it is opened
_WEEK = 7


@dataclass(frozen=True)
class BedTold:
    """A bed of a zone: what it lacks by tonight, what costs nothing, minutes as words, ``door``
    where their working opens.
    """

    bed: str
    crop: str
    lack: str
    ready: str
    minutes: str
    door: bool
    felt: str


@dataclass(frozen=True)
class ZoneTold:
    """A zone on the page; ``amount`` is empty where it does not run, ``apart`` tells that its
    beds' minutes differ.
    """

    name: str
    runs: bool
    amount: str
    hours: str
    why: str
    beds: tuple[BedTold, ...]
    apart: bool
    rules: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class RunTold:
    """One run of the week."""

    start: str
    end: str
    zone: str
    minutes: str


def short_minutes(minutes: float) -> str:
    """Whole minutes for a table, as a timer is set; never less than one."""
    return _("{n} min").format(n=max(1, round(minutes)))


def zones_told(water: GardenWater, system: UnitSystem) -> list[ZoneTold]:
    """The zones of the day, those that run first; none where nothing stands."""
    if water.today is None:
        return []
    told = [_zone(zone, water, water.today, system) for zone in water.today.zones]
    return sorted(told, key=lambda each: not each.runs)


def _zone(zone: ZoneToday, water: GardenWater, now: Today, system: UnitSystem) -> ZoneTold:
    runs = zone.why in ("due", "hot", "dry")
    amount = hours = ""
    if runs:
        most = max(bed.net_m for bed in zone.beds)
        amount = depth_words(most, system)
        if zone.minutes is not None:
            amount = minutes_words(zone.minutes)
        run = next((each for each in now.today if each.zone == zone.zone), None)
        if run is not None:
            hours = _("{start} to {end}").format(
                start=clock_words(run.start_min), end=clock_words(run.end_min)
            )
    why = WHY[zone.why].format(next=_next(zone, now))
    own = [bed.minutes.value for bed in zone.beds if bed.minutes is not None and bed.net_m > 0]
    cautions = [
        water_sentence(each, system)
        for each in water.findings
        if each.weight == "caution" and each.values.get("zone") == zone.zone
    ]
    return ZoneTold(
        zone.zone or WATER["no_zone"],
        runs,
        amount,
        hours,
        why,
        tuple(_bed(each, system) for each in zone.beds),
        bool(own) and min(own) < (1 - _ALIKE) * max(own),
        tuple(zone_rules(zone, system)),
        tuple(cautions),
    )


def _next(zone: ZoneToday, now: Today) -> str:
    if zone.next_run is None:
        return ""
    if zone.next_run == 1:
        return WATER["tomorrow"]
    return WEEKDAYS[str((now.on + timedelta(days=zone.next_run)).weekday())]


def _bed(bed: BedToday, system: UnitSystem) -> BedTold:
    felt = ""
    if bed.felt is not None and bed.felt_share is not None:
        felt = WATER["felt"].format(bed=bed.bed, day=day_words(bed.felt.on),
                                    share=share_words(bed.felt_share.value))  # fmt: skip
    minutes = ""
    if bed.net_m > 0 and bed.minutes is not None:
        minutes = short_minutes(bed.minutes.value)
    elif bed.net_m > 0:
        minutes = depth_words(bed.net_m, system)
    return BedTold(
        bed.bed,
        named(bed.crop).lower(),
        depth_words(bed.lack_m, system),
        depth_words(bed.ready_m, system),
        minutes,
        bool(minutes) and bed.minutes is not None,
        felt,
    )


def bed_minutes_figure(water: GardenWater, bed: str) -> Figure | None:
    """The minutes of a bed on the day with their working; None where it gets none."""
    zones = () if water.today is None else water.today.zones
    return next(
        (
            each.minutes
            for zone in zones
            for each in zone.beds
            if each.bed == bed and each.net_m > 0
        ),
        None,
    )


def before_planting(water: GardenWater, system: UnitSystem) -> list[list[str]]:
    """What is watered before each planting that is due soon, and seed that is not up yet."""
    found = [
        [germination_line(each)]
        for each in water.stands
        if each.germination is not None
        and each.stand.start < water.on <= each.stand.start + timedelta(days=each.stand.emergence)
    ]
    return [*found, *(soon_lines(each, system) for each in planting_soon(water))]


def week_told(water: GardenWater) -> list[tuple[str, list[RunTold]]]:
    """The days of a usual week with the runs of each, Monday first; none where nothing runs."""
    if water.today is None or not water.today.runs:
        return []
    found = []
    for day in range(_WEEK):
        runs = [each for each in water.today.runs if each.day == day]
        told = [
            RunTold(clock_words(each.start_min), clock_words(each.end_min), each.zone,
                    short_minutes(each.end_min - each.start_min))
            for each in sorted(runs, key=lambda run: run.start_min)
        ]  # fmt: skip
        found.append((WEEKDAYS[str(day)], told))
    return found


def short_told(water: GardenWater, system: UnitSystem) -> list[str]:
    """What does not fit into the flow and the hours, and what to do about it."""
    return [] if water.today is None else short_lines(water.today, system, water)


def findings_told(water: GardenWater, system: UnitSystem) -> dict[str, list[str]]:
    """The findings by where they stand: to act on, cautions of no zone, and what this rests on."""
    said: dict[str, list[str]] = {"act": [], "caution": [], "note": []}
    for each in water.findings:
        if each.weight == "act":
            said["act"].append(water_sentence(each, system))
        elif each.weight != "caution":
            said["note"].append(water_sentence(each, system))
        elif "zone" not in each.values:
            said["caution"].append(water_sentence(each, system))
    return said
