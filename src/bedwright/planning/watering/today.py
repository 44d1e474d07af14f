"""What runs on a day: each bed's lack of water by tonight, in minutes of its zone's lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.garden.model_water import SoilMoisture
from bedwright.planning.watering.ground import BedSoil, left_share
from bedwright.planning.watering.lines import ZoneLines, bed_minutes, lines_of
from bedwright.planning.watering.phases import days_between, phased_balance, phases_from
from bedwright.planning.watering.schedule import hot_minutes
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.weather_days import SeasonDays, WaterWeather
from bedwright.planning.watering.years import StandYears
from bedwright.reference import Library
from bedwright.water.beds import Start
from bedwright.water.irrigation import run_days, runs_per_week
from bedwright.water.watering import days_off_after_rain
from bedwright.water.zones import Run, Short, Supply, Zone, zone_week
from bedwright.working import Figure

_WEEK = 7
_MOST_RUNS = 7  # a week: zones run once a day at most
_HAIR_M = 1e-9


@dataclass(frozen=True, eq=False)
class Standing:
    """A crop that stands on the day, with all that its watering needs."""

    stand: Stand
    soil: BedSoil
    years: StandYears
    season: SeasonDays
    leaching_share: float
    readings: tuple[SoilMoisture, ...]


@dataclass(frozen=True)
class BedToday:
    """One bed's water today.

    ``lack_m`` is what its roots lack by tonight without a run [m], ``ready_m`` what they may lack
    at no cost to the crop; ``et0_m`` and ``rain_m`` of the day; ``net_m`` what is to be brought
    today, 0 where nothing runs; ``minutes`` of its lines for that, None where their flow is not
    known; ``felt`` the reading that the balance starts from. ``days_off`` counts the days that
    rain waters in place of the lines.
    """

    bed: str
    crop: str
    lack_m: float
    ready_m: float
    use_m: float
    et0_m: float
    rain_m: float
    net_m: float
    minutes: Figure | None
    felt: SoilMoisture | None
    felt_share: Figure | None
    days_off: int
    runs_a_week: int
    usual_minutes: float | None
    hot_day_minutes: float | None


@dataclass(frozen=True)
class ZoneToday:
    """One zone today: ``minutes`` of its longest bed [min]; the others' lines are shut before.

    ``why`` is the code of the reason: due, hot, dry (past what costs nothing), rest (not due),
    rain (it brought enough), little (too little to open the valve). ``runs`` and
    ``run_minutes`` are those of the week; ``days`` the days of the week (Monday 0) on which it
    runs.
    """

    zone: str
    minutes: float | None
    why: str
    next_run: int | None
    runs: int
    run_minutes: float | None
    days: tuple[int, ...]
    beds: tuple[BedToday, ...]


@dataclass(frozen=True)
class Today:
    """The garden's water on a day, and the week's runs by usual days.

    ``today`` are the day's runs with their hours; ``short`` is what does not fit, of the week or
    of the day.
    """

    on: date
    t_max_c: float
    hot: bool
    zones: tuple[ZoneToday, ...]
    today: tuple[Run, ...]
    runs: tuple[Run, ...]
    short: tuple[Short, ...]


def today(
    on: date,
    standing: Mapping[str, Sequence[Standing]],
    lines: Mapping[str, ZoneLines],
    supply: Supply,
    weather: WaterWeather,
    library: Library,
) -> Today:
    """What each zone runs on a day, by what stands, what was read and what the day is to be.

    Parameters
    ----------
    on : the day
    standing : crops that stand on it, by zone
    lines : of the zones
    supply : flow and hours
    weather, library : of the garden, and the tables
    """
    hot_c = library.parameter("water_hot_day", "C").value
    least_m = library.parameter("water_least_run", "m").value
    first = next((each for crops in standing.values() for each in crops), None)
    t_max = float("nan")
    if first is not None:
        t_max = float(first.season.t_max_c[(on - first.stand.start).days])
    hot = t_max >= hot_c
    weeks = {zone: _week(on, crops, lines.get(zone))
             for zone, crops in standing.items()}  # fmt: skip
    zones = [
        Zone(zone, lines[zone].flow_l_h, made.minutes, made.runs)
        for zone, made in weeks.items()
        if made.minutes is not None and lines[zone].flow_l_h > 0
    ]
    week = zone_week(zones, supply)
    found = []
    for zone, crops in standing.items():
        made = weeks[zone]
        days = tuple(sorted(run.day for run in week.runs if run.zone == zone))
        days = days or run_days(made.runs)
        at = _Day(on, days, hot, least_m, weather, library)
        found.append(_zone_today(zone, crops, lines.get(zone), made, at))
    day_zones = [
        Zone(each.zone, lines[each.zone].flow_l_h, each.minutes, _MOST_RUNS)
        for each in found
        if each.minutes is not None and lines[each.zone].flow_l_h > 0
    ]
    day = zone_week(day_zones, supply)  # a day like this one every day: its runs fit if these do
    runs = tuple(each for each in day.runs if each.day == on.weekday())
    return Today(on, t_max, hot, tuple(found), runs, week.runs, week.short or day.short)


@dataclass(frozen=True)
class _Week:
    """A zone's week by usual days: its runs, and each bed's net depth of one run [m]."""

    runs: int
    minutes: float | None
    beds: tuple[tuple[int, float, float | None], ...]


@dataclass(frozen=True, eq=False)
class _Day:
    on: date
    days: tuple[int, ...]
    hot: bool
    least_m: float
    weather: WaterWeather
    library: Library

    @property
    def due(self) -> bool:
        return self.on.weekday() in self.days

    @property
    def next_run(self) -> int | None:
        """Days until the next run after today."""
        today = self.on.weekday()
        return min(((day - today - 1) % _WEEK + 1 for day in self.days), default=None)


def _week(on: date, crops: Sequence[Standing], lines: ZoneLines | None) -> _Week:
    beds = []
    for each in crops:
        day = (on - each.stand.start).days
        need = each.years.week_need(day).mean
        most = float(each.years.ready_m[day])
        beds.append((int(runs_per_week(need, most, each.years.gap_days[day])), need))
    runs = min(max((count for count, _ in beds), default=0), _MOST_RUNS)
    made = []
    for (count, need), each in zip(beds, crops, strict=True):
        net = need / runs if runs else 0.0
        own = lines_of(lines, each.stand.bed)
        minutes = None if own is None else bed_minutes(net, own, each.leaching_share).value
        made.append((count, net, minutes))
    known = [minutes for _, _, minutes in made if minutes is not None]
    return _Week(runs, max(known) if known else None, tuple(made))


def _zone_today(
    zone: str, crops: Sequence[Standing], lines: ZoneLines | None, week: _Week, at: _Day
) -> ZoneToday:
    states = [_state(each, at) for each in crops]
    why, next_run = _why(crops, states, at)
    runs = why in ("due", "hot", "dry")
    beds = []
    for each, (count, _, usual), state in zip(crops, week.beds, states, strict=True):
        day = (at.on - each.stand.start).days
        own = lines_of(lines, each.stand.bed)
        bring = state.lack if runs else 0.0
        beds.append(
            BedToday(
                bed=each.stand.bed,
                crop=each.stand.name,
                lack_m=state.lack,
                ready_m=state.ready,
                use_m=float(each.years.use_m[day]),
                et0_m=float(each.season.et0_m[day]),
                rain_m=float(each.season.rain_m[day]),
                net_m=bring,
                minutes=None if own is None else bed_minutes(bring, own, each.leaching_share),
                felt=state.felt,
                felt_share=state.share,
                days_off=0 if state.since is None else max(state.off - state.since, 0),
                runs_a_week=count,
                usual_minutes=usual,
                hot_day_minutes=hot_minutes(
                    each.stand, each.years, day, at.weather, own, each.leaching_share
                ),
            )
        )
    known = [each.minutes.value for each in beds if each.minutes is not None]
    return ZoneToday(
        zone=zone,
        minutes=max(known) if known else None,
        why=why,
        next_run=next_run,
        runs=week.runs,
        run_minutes=week.minutes,
        days=at.days,
        beds=tuple(beds),
    )


def _why(crops: Sequence[Standing], states: Sequence[_State], at: _Day) -> tuple[str, int | None]:
    """The reason to run a zone or not, and the days until it runs next."""
    if any(each.lack > each.ready for each in states):
        return ("hot" if at.hot else "due" if at.due else "dry"), at.next_run
    rained = [each for each in states if each.since is not None]
    if max((each.lack for each in states), default=0.0) < at.least_m:
        return ("rain" if rained else "little"), at.next_run
    if at.hot:
        return "hot", at.next_run
    gap = min(int(each.years.gap_days[(at.on - each.stand.start).days]) for each in crops)
    rests = [min(each.off, gap - 1) - each.since for each in states if each.since is not None]
    if at.due and len(rests) == len(states) and min(rests) >= 0:
        return "rain", min(rests) + 1
    return ("due" if at.due else "rest"), at.next_run


@dataclass(frozen=True)
class _State:
    """A bed tonight: its lack and what may lack [m], the reading behind it; the days since rain
    that watered it, None without, and for how many days that stands for runs.
    """

    lack: float
    ready: float
    felt: SoilMoisture | None
    share: Figure | None
    since: int | None
    off: int


def _rain_since(each: Standing, day: int) -> tuple[int | None, int]:
    """Days since rain of a day's use or more, up to a week ago, and how many days it waters."""
    for since in range(min(day, _WEEK) + 1):
        rain = float(each.season.rain_m[day - since])
        use = max(float(each.years.use_m[day - since]), _HAIR_M)
        if rain >= use:
            kept = min(rain, float(each.years.ready_m[day - since]))
            et0 = max(float(each.season.et0_m[day]), _HAIR_M)
            return since, int(days_off_after_rain(kept, use / et0, et0))
    return None, 0


def _state(each: Standing, at: _Day) -> _State:
    """A bed's state by tonight if nothing runs.

    The last run is taken to have brought what was lacking by the evening of its day.
    """
    stand, season = each.stand, each.season
    day = (at.on - stand.start).days
    places = each.years.places
    days = stand.bed_days(
        each.soil,
        season.et0_m[: day + 1, None],
        season.rain_m[: day + 1, None],
        float(at.weather.wind_m_s[places].mean()),
        float(at.weather.humidity_min_percent[places].mean()),
    )
    available = np.asarray(days.available_m)
    felt = next((one for one in reversed(each.readings) if stand.start <= one.on <= at.on), None)
    last = next((d for d in range(day - 1, -1, -1) if _weekday(stand, d) in at.days), None)
    first, depletion, share = (0 if last is None else last + 1), 0.0, None
    if felt is not None and (felt.on - stand.start).days >= first:
        # felt in the morning, after whatever ran before
        first = (felt.on - stand.start).days
        share = left_share(felt, each.soil, at.library)
        depletion = (1 - share.value) * float(available[first, 0])
    else:
        felt = None
    balance = phased_balance(
        days_between(days, first, day + 1),
        phases_from(each.years.phases, first, day + 1),
        Start(depletion, 0.0), np.zeros((day + 1 - first, 1)), timing="late",
    )  # fmt: skip
    lack = float(balance.depletion_m[-1, 0])
    since, off = _rain_since(each, day)
    ready = float(each.years.ready_m[day])
    return _State(lack, ready, felt, share, since, off)


def _weekday(stand: Stand, day: int) -> int:
    return (stand.start.toordinal() + day - 1) % _WEEK
