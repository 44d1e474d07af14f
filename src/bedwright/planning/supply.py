"""A bed's nitrogen week by week against its crop: the whole course, with what to say of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.release import SeasonNitrogen
from bedwright.feeding.response import leached_share
from bedwright.feeding.uptake import UptakeCurve, season_length, uptake_curve
from bedwright.garden.model_climate import Climate, Watering
from bedwright.planning.drained import Drained
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nitrogen_run import CASES, Run, Setting, run_season
from bedwright.planning.nitrogen_sources import Counted, NitrogenSource, nitrogen_sources
from bedwright.planning.prescription import Prescription
from bedwright.planning.side_dressing import (
    LONGEST_REST,
    Dressing,
    Rest,
    Shortage,
    dressing_weeks,
    dressings_of,
    extra_dressing,
    first_shortage,
    rest_needed,
)
from bedwright.planning.soil_warmth import soil_warmth
from bedwright.reference import Library
from bedwright.working import Figure

Array = NDArray[np.float64]
_TYPICAL = CASES.index("typical")
_WEEK = 7  # days
_LEAST_LOST = 1e-5  # kg/m2: a tenth of a kilogram a hectare is not worth a line


@dataclass(frozen=True)
class NitrogenCourse:
    """The course of a bed's nitrogen; every mass in kg/m2, the weeks from spreading on.

    ``available``, ``in_soil`` and ``short`` have the rows low, typical, high. ``uptake`` is what
    the crop wants, ``uptake_range`` the same at both ends of its guideline. ``temperature`` is
    the soil's [K]. ``by_source`` is what each source typically adds in each week, before losses
    to binding and drainage. ``dressings`` are those of the prescription, ``extra`` the one more
    that would fill a typical shortage, or else one of a low supply. Arrays are empty and
    ``season`` and ``rest`` None where no temperature is stated.
    """

    bed: str
    crop: str
    spread: date
    set_out: date
    last_harvest: date
    starts: tuple[date, ...]
    temperature: Array
    uptake: Array
    uptake_range: Array
    available: Array
    in_soil: Array
    short: Array
    by_source: tuple[tuple[str, Array], ...]
    sources: tuple[NitrogenSource, ...]
    season: SeasonNitrogen | None
    shortages: tuple[Shortage, ...]
    dressings: tuple[Dressing, ...]
    extra: Dressing | None
    rest: Rest | None
    curve: UptakeCurve
    findings: tuple[Finding, ...]

    @property
    def within_reach(self) -> Array:
        """What the roots find in each week, held and freed in it; rows low, typical, high."""
        if self.season is None:
            return self.in_soil
        return self.in_soil + self.season.leached + self.season.uptake


def nitrogen_course(
    plan: Prescription,
    climate: Climate | None,
    watering: Watering | None,
    library: Library,
    *,
    soil: Counted = "credit",
    rest_weeks: int | None = None,
    drained: Drained | None = None,
) -> NitrogenCourse:
    """The course of a prescribed bed's nitrogen.

    Parameters
    ----------
    plan : the bed's prescription
    climate, watering : what the document states of them, None where it does not
    library : the tables under the garden's own facts
    soil : whether the soil's own nitrogen counts as the prescription's credit or as a pool
    rest_weeks : between spreading and setting out, 0 to 8; the rule of the trade where None
    drained : what the bed's water balance tells; without it what the document states of drainage

    Raises ValueError for a rest outside its range.
    """
    habit = library.parameter("habit_rest", "week")
    rest = round(habit.value) if rest_weeks is None else rest_weeks
    if not 0 <= rest <= LONGEST_REST:
        raise ValueError(f"a rest of {rest} weeks; it must lie from 0 to {LONGEST_REST}")
    days = season_length(library, plan.crop.key)
    said: list[Finding] = []
    if days.origin == "assumed":
        said.append(finding("season_days_assumed", "assumed", days=days, sources=days.sources))
    if climate is None:
        said.append(finding("soil_temperature_not_stated", "assumed"))
        return _course(plan, None, rest, days, library, tuple(said))
    setting = _setting(plan, climate, watering, library, soil, days, drained, said)
    weeks = dressing_weeks(setting, rest, max(1, plan.nitrogen.side_dressings))
    run = run_season(setting, rest, weeks)
    said += soil_warmth(climate, run.starts, library).findings
    shortages = tuple(
        found for case in CASES if (found := first_shortage(run, case, setting)) is not None
    )
    dressings = dressings_of(plan, run, weeks)
    needed = rest_needed(setting, run, habit)
    by_case = {each.case: each for each in shortages}
    short = by_case.get("typical") or by_case.get("low")
    extra = extra_dressing(plan, setting, run, short) if short is not None else None
    said += _supply_findings(plan, setting, run, shortages, extra)
    said += _drainage_findings(setting, run)
    said += _practice_findings(setting, run, weeks, dressings, needed)
    return _course(
        plan, run, rest, days, library, tuple(said), setting, shortages, dressings, extra, needed
    )


def rested_course(
    plan: Prescription,
    climate: Climate | None,
    watering: Watering | None,
    library: Library,
    drained: Drained | None = None,
) -> NitrogenCourse:
    """The course with the rest that the bed needs, where that is longer than the rule's."""
    found = nitrogen_course(plan, climate, watering, library, drained=drained)
    if found.rest is None or found.rest.verdict != "more":
        return found
    weeks = min(LONGEST_REST, math.ceil(found.rest.needed / _WEEK))
    return nitrogen_course(plan, climate, watering, library, rest_weeks=weeks, drained=drained)


def _course(
    plan: Prescription,
    run: Run | None,
    rest: int,
    days: Figure,
    library: Library,
    said: tuple[Finding, ...],
    setting: Setting | None = None,
    shortages: tuple[Shortage, ...] = (),
    dressings: tuple[Dressing, ...] = (),
    extra: Dressing | None = None,
    needed: Rest | None = None,
) -> NitrogenCourse:
    none = np.zeros((len(CASES), 0))
    need = plan.nitrogen.crop_need
    season = run.season if run is not None else None
    demand = run.demand if run is not None else none[0]
    scale = np.array([need.least, need.most]) / need.value if need.value > 0 else np.ones(2)
    return NitrogenCourse(
        bed=plan.bed.id,
        crop=plan.crop.key,
        spread=plan.season - timedelta(days=_WEEK * rest),
        set_out=plan.season,
        last_harvest=plan.season + timedelta(days=round(days.value)),
        starts=run.starts if run is not None else (),
        temperature=run.kelvin if run is not None else none[0],
        uptake=demand,
        uptake_range=scale[:, None] * demand[None, :],
        available=season.available if season is not None else none,
        in_soil=season.in_soil if season is not None else none,
        short=season.short if season is not None else none,
        by_source=_by_source(run) if run is not None else (),
        sources=setting.sources if setting is not None else (),
        season=season,
        shortages=shortages,
        dressings=dressings,
        extra=extra,
        rest=needed,
        curve=uptake_curve(library, plan.crop.key, plan.crop.kind),
        findings=said,
    )


def _by_source(run: Run) -> tuple[tuple[str, Array], ...]:
    """What each source typically adds week by week; the parts of a side-dressing together."""
    found: dict[str, Array] = {}
    adds = run.season.brought[_TYPICAL] + run.season.freed[_TYPICAL]
    for at, source in enumerate(run.columns):
        found[source.origin] = found.get(source.origin, np.zeros(len(run.starts))) + adds[at]
    for origin, weekly in run.credits:
        found[origin] = weekly[_TYPICAL]
    return tuple(found.items())


def _setting(
    plan: Prescription,
    climate: Climate,
    watering: Watering | None,
    library: Library,
    soil: Counted,
    days: Figure,
    drained: Drained | None,
    said: list[Finding],
) -> Setting:
    sources = nitrogen_sources(plan, library, soil)
    unknown = [
        each.material.name for each in sources if each.material is not None and each.pools is None
    ]
    if unknown:
        names = ", ".join(dict.fromkeys(unknown))
        said.append(finding("release_by_week_not_known", "assumed", materials=names))
    ph = plan.evidence.ph
    return Setting(
        sources=sources,
        climate=climate,
        curve=uptake_curve(library, plan.crop.key, plan.crop.kind),
        need=plan.nitrogen.crop_need,
        set_out=plan.season,
        season_days=days.value,
        ph=ph.value if ph is not None else None,
        wetted=_wetted(watering, library, said) if drained is None else drained.wetted,
        leached=_leached(plan, watering, drained, library, said),
        library=library,
        drained=drained,
    )


def _wetted(watering: Watering | None, library: Library, said: list[Finding]) -> Figure:
    if watering is None:
        said.append(finding("watering_not_stated", "assumed"))
    if watering is None or watering.method == "overhead":
        return Figure("wetted_share", 1.0, "-", "assumed", note="watered all over")
    if watering.wetted_share is not None:
        stated = watering.wetted_share
        return Figure("wetted_share", stated.si, "-", "stated", note=stated.text)
    share = library.parameter("drip_wetted_share", "-").named("share")
    said.append(finding("wetted_share_assumed", "assumed", share=share, sources=share.sources))
    return share


def _leached(
    plan: Prescription,
    watering: Watering | None,
    drained: Drained | None,
    library: Library,
    said: list[Finding],
) -> float:
    """Share of the soil's nitrate that a week's drainage carries off [-], by what is stated."""
    if drained is not None:
        if watering is not None and watering.weekly_drainage is not None:
            stated = watering.weekly_drainage
            was = Figure("weekly_drainage", stated.si, "m", "stated", note=stated.text)
            said.append(finding("drainage_by_balance", "assumed", stated=was))
        return 0.0
    if watering is None or watering.weekly_drainage is None:
        said.append(finding("leaching_not_counted", "assumed"))
        return 0.0
    known = plan.evidence
    held_share = library.parameter("field_capacity_of_saturation", "-").value
    by_mass = known.saturation_water.value / 100 * held_share
    held_kg_m2 = by_mass * known.bulk_density.value * known.mixing_depth.value
    return float(leached_share(watering.weekly_drainage.si * 1000, held_kg_m2))  # kg/m2 is mm


def _supply_findings(
    plan: Prescription,
    setting: Setting,
    run: Run,
    shortages: tuple[Shortage, ...],
    extra: Dressing | None,
) -> list[Finding]:
    """When and by how much the bed runs short, and what would make up for it."""
    said: list[Finding] = []
    by_case = {each.case: each for each in shortages}
    typical, low = by_case.get("typical"), by_case.get("low")
    if typical is not None:
        said.append(
            finding(
                "nitrogen_runs_short",
                "act",
                week=float(typical.week),
                on=typical.on.isoformat(),
                missing=_missing(run),
            )
        )
        if extra is not None:
            said.append(_made_up("side_dress_more", plan, extra))
    elif low is not None:
        said.append(
            finding(
                "nitrogen_may_run_short",
                "note",
                week=float(low.week),
                on=low.on.isoformat(),
                missing=Figure("nitrogen_missing", low.total, "kg/m2", "computed"),
            )
        )
        if extra is not None:
            said.append(_made_up("keep_back", plan, extra))
    elif setting.need.value > 0:
        said.append(finding("nitrogen_keeps_up", "note"))
    left = _ranged("nitrogen_left", run.season.in_soil[:, -1])
    if left.value > setting.library.parameter("short_tolerance", "-").value * setting.need.value:
        said.append(finding("nitrogen_left_in_soil", "note", left=left))
    return said


def _drainage_findings(setting: Setting, run: Run) -> list[Finding]:
    """What the water balance lets drain, and the nitrogen that goes with it."""
    lost = _ranged("nitrogen_lost", run.season.leached.sum(axis=1))
    if setting.drained is None or lost.value < _LEAST_LOST:
        return []
    return [finding("nitrogen_drained", "note", drainage=setting.drained.total, lost=lost)]


def _ranged(name: str, cases: Array) -> Figure:
    return Figure(
        name,
        float(cases[_TYPICAL]),
        "kg/m2",
        "computed",
        low=float(cases.min()),
        high=float(cases.max()),
        formula="release, uptake and losses week by week",
    )


def _missing(run: Run) -> Figure:
    return _ranged("nitrogen_missing", run.season.short.sum(axis=1))


def _made_up(code: str, plan: Prescription, extra: Dressing) -> Finding:
    """The side-dressing that would fill the gap, from what the bed is given anyway."""
    key, kilograms = extra.materials[0]
    name = next(line.material.name for line in plan.lines if line.material.key == key).lower()
    mass = Figure(
        "mass",
        kilograms,
        "kg",
        "computed",
        formula="nitrogen missing / nitrogen that it frees before the last harvest x area",
    )
    on = extra.on.isoformat()
    if code == "keep_back":
        return finding("keep_back", "note", material=name, mass=mass, on=on)
    return finding("side_dress_more", "act", material=name, mass=mass, on=on)


def _practice_findings(
    setting: Setting,
    run: Run,
    weeks: tuple[int, ...],
    dressings: tuple[Dressing, ...],
    needed: Rest,
) -> list[Finding]:
    """Days of side-dressing, the rest against the habit, and what lying open would cost."""
    said: list[Finding] = []
    if dressings:
        days = ", ".join(each.on.isoformat() for each in dressings)
        said.append(finding("side_dress_on", "note", days=days))
    if any(each.when == "preplant" for each in setting.sources):
        code = f"rest_{needed.verdict}" if round(needed.needed) else "rest_none"
        said.append(
            finding(
                code,
                "note",
                rest_days=float(round(needed.needed)),
                habit_weeks=needed.habit.value,
                sources=needed.habit.sources,
            )
        )
    if needed.for_supply is None:
        said.append(finding("no_rest_helps", "note"))
    open_air = run_season(setting, run.rest, weeks, placement="surface")
    lost = open_air.season.ammonia.sum(axis=1) - run.season.ammonia.sum(axis=1)
    if lost.max() > setting.library.parameter("least_need", "kg/m2").value:
        said.append(finding("ammonia_if_left_open", "caution", lost=_ranged("ammonia", lost)))
    return said
