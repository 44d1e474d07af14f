"""A bed's nitrogen by week as plain text: when to spread and side-dress, and the weeks."""

from __future__ import annotations

from datetime import date

from bedwright.planning.findings import Finding
from bedwright.planning.supply import NitrogenCourse
from bedwright.reports.fill import sentence
from bedwright.season import BedPlan
from bedwright.units import UnitSystem, show

# Said once for the garden: they are the same on every bed.
OF_THE_GARDEN = frozenset(
    "watering_not_stated wetted_share_assumed leaching_not_counted soil_temperature_from_air "
    "soil_temperature_not_stated drainage_by_balance".split()
)
# Said where the dates stand, not again below.
_SAID_ELSEWHERE = frozenset({"side_dress_on"})
_ZERO_CELSIUS = 273.15


def cleared_before(bed: BedPlan) -> date | None:
    """The day of spreading by the bed's nitrogen; None where none is known or nothing is spread."""
    course = bed.nitrogen
    if course.season is None or course.rest is None:
        return None
    spreads = any(line.preplant.value > 0 for line in bed.prescription.lines)
    return course.spread if spreads else None


def spreading_days(course: NitrogenCourse) -> str:
    """When to spread and when to set out, as the head of what is spread before planting."""
    set_out = course.set_out.isoformat()
    if course.season is None or course.rest is None:
        return f"set out {set_out}"
    return f"spread by {course.spread.isoformat()}, set out {set_out}"


def dressing_days(course: NitrogenCourse) -> str:
    """The days of the side-dressings, or nothing where they can't be dated."""
    return " and ".join(each.on.isoformat() for each in course.dressings)


def nitrogen_notes(course: NitrogenCourse, system: UnitSystem) -> list[str]:
    """What is to be known of the nitrogen over the season, as sentences."""
    return [sentence(each, system) for each in nitrogen_findings(course)]


def nitrogen_findings(course: NitrogenCourse) -> list[Finding]:
    """The notes on the nitrogen over the season that are not said where the dates stand."""
    return [
        each
        for each in course.findings
        if each.weight == "note" and each.code not in _SAID_ELSEWHERE
    ]


def weekly_table(course: NitrogenCourse, system: UnitSystem) -> list[str]:
    """The weeks: soil warmth, what the crop would take, what its roots find, what is missing.

    Within reach is what the soil held and what the week freed; the last two each with low,
    typical and high supply; per area.
    """
    if course.season is None:
        return []
    unit = show(0.0, "mass_per_area", system).split(" ", 1)[1]
    degree = "F" if system is UnitSystem.US else "C"
    lines = [
        f" Nitrogen by week, {unit}: low / typical / high supply",
        f"  {'week of':<11}{'soil ' + degree:>7}{'crop takes':>12}"
        f"{'within reach':>24}{'missing':>22}",
    ]
    for week, start in enumerate(course.starts):
        celsius = float(course.temperature[week]) - _ZERO_CELSIUS
        warmth = celsius * 9 / 5 + 32 if system is UnitSystem.US else celsius
        lines.append(
            f"  {start.isoformat():<11}{warmth:>7.0f}{_mass(course.uptake[week], system):>12}"
            f"{_three(course.within_reach[:, week], system):>24}"
            f"{_three(course.short[:, week], system):>22}"
        )
    return lines


def _mass(amount: float, system: UnitSystem) -> str:
    text = show(float(amount), "mass_per_area", system, digits=2).split(" ", 1)[0]
    return "0" if abs(amount) < 5e-6 else text


def _three(amounts: object, system: UnitSystem) -> str:
    return " / ".join(_mass(each, system) for each in amounts)  # type: ignore[attr-defined]


def source_table(course: NitrogenCourse, system: UnitSystem) -> list[str]:
    """What each source frees in all, typically."""
    lines = [" Nitrogen freed over these weeks, typically"]
    for origin, weekly in course.by_source:
        lines.append(
            f"  {show(float(weekly.sum()), 'mass_per_area', system):<20} {origin.replace('_', ' ')}"
        )
    return lines if course.by_source else []
