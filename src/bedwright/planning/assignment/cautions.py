"""What is to be known beside a crop on its bed: its yield, salt, metal and old disease."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.planning.assignment.bars import Setting
from bedwright.planning.assignment.build import Question
from bedwright.planning.assignment.intervals import years_of
from bedwright.planning.evidence import evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.screening import screening

_NOTABLE = 0.995  # of the yield: a smaller loss by salt is not told
_USUAL = "screening_none"


def yields_told(asked: Question, unit: int, at: int) -> Iterable[Finding]:
    """By what a crop's harvest is expected, and what the bed's salt takes of it."""
    option, crop = asked.setting.options[at], asked.setting.crop(at)
    goal, expected = asked.harvests.goal(unit, at), asked.harvests.of(unit, at)
    if expected is not None and expected.by == "goal":
        yield finding("rotation_expected_goal", "note", crop=crop.name.lower())
    elif expected is not None and expected.by == "record":
        yield finding("rotation_expected_record", "note", crop=crop.name.lower(),
                      own=float(expected.years),
                      percent=float(round(100 * expected.weight)))  # fmt: skip
    left = asked.harvests.left[unit, option.candidate]
    if left < _NOTABLE:
        code = "rotation_why_salt_costs" if goal is None else "rotation_why_salt_beside_goal"
        yield finding(code, "caution", crop=crop.name.lower(),
                      lost=float(round(100 * (1 - left))))  # fmt: skip


def ground_told(asked: Question, unit: int, at: int) -> Iterable[Finding]:
    """Lead and arsenic in a bed, and its recorded diseases and pests that the crop is a host of."""
    setting, crop = asked.setting, asked.setting.crop(at)
    if crop.resting:
        return
    yield from _problems_over(asked, unit, at)
    yield from metal_of(setting, setting.units[unit].bed)


def _problems_over(asked: Question, unit: int, at: int) -> Iterable[Finding]:
    """Recorded problems whose years have passed: what is left of them is not known."""
    crop, year = asked.setting.crop(at), asked.setting.options[at].year
    for problem, found in asked.intervals.problems.get(unit, ()):
        away = years_of(problem, crop.key)
        if crop.key not in problem.hosts or away is None or problem.banned(crop.key):
            continue
        fed = [p.year for p in asked.setting.pasts if p.unit == unit and problem.feeds(p.crop)]
        last = max([found, *(each for each in fed if each < year)])
        if year - last > away:
            yield finding("rotation_problem_over", "caution", crop=crop.name.lower(),
                          problem=problem.name, year=str(last), away=float(away))  # fmt: skip


def metal_of(setting: Setting, bed: str) -> tuple[Finding, ...]:
    """What the screening values say of a bed, where it is more than usual."""
    place = next(each for each in setting.document.garden.bed if each.id == bed)
    if not any(bed in each.beds for each in setting.document.garden.soil_report):
        return ()
    found = screening(evidence(setting.document, place, setting.library), setting.library)
    return tuple(
        each for each in found if each.code.startswith("screening_") and each.code != _USUAL
    )
