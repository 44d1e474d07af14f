"""From the garden document to the question of a rotation in plain numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from bedwright.crops.growing import growing
from bedwright.garden import Document
from bedwright.garden.model_rotation import Weights
from bedwright.planning.assignment.bars import (
    Light,
    Setting,
    family_bar,
    light_bar,
    occupied_bars,
    problem_bars,
)
from bedwright.planning.assignment.candidates import candidates_of, rotation_of, weights_of
from bedwright.planning.assignment.claims import Claims, claims_of
from bedwright.planning.assignment.dates import Timer
from bedwright.planning.assignment.ground_bars import (
    manure_bar,
    salt_yields,
    trellis_bar,
    water_bar,
)
from bedwright.planning.assignment.harvests import Harvests, harvests_of
from bedwright.planning.assignment.intervals import Intervals, apart, intervals_of
from bedwright.planning.assignment.model import Bar, Candidate, Decision
from bedwright.planning.assignment.options import Horizon, horizon_of, options_of
from bedwright.planning.assignment.past import pasts_of
from bedwright.planning.assignment.units import beside, nearness, units_of
from bedwright.planning.assignment.wishes import KEPT, Asked, asked_of
from bedwright.planning.assignment.worth import Worth, successions_of, worth_of
from bedwright.planning.findings import Finding, finding
from bedwright.planning.own import library_of
from bedwright.planning.rotation.problem import (
    BoolArray,
    IntArray,
    KeepApart,
    RotationProblem,
)
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library

_ALWAYS = frozenset({"only", "out"})  # bars that even a settled crop can't pass
_SILENT = frozenset({"unasked"})  # that break no rule


@dataclass(frozen=True, eq=False)
class Question:
    """A garden's rotation as numbers, and what each number stands for.

    ``asked`` lies parallel to the problem's wishes. ``claimed`` (units, options) marks what is
    settled. ``harvests`` are the expected yields.
    """

    setting: Setting
    horizon: Horizon
    weights: Weights
    claims: Claims
    intervals: Intervals
    bars: tuple[Bar, ...]
    asked: tuple[Asked, ...]
    worth: Worth
    harvests: Harvests
    claimed: BoolArray
    problem: RotationProblem
    findings: tuple[Finding, ...]


def question(
    document: Document,
    library: Library,
    as_of: date,
    *,
    light: Light | None = None,
    standing: Sequence[Decision] = (),
    decisions: Sequence[Decision] = (),
    without: frozenset[str] = frozenset(),
    years: int | None = None,
    weather: GardenWeather | None = None,
) -> Question:
    """The question that a garden document puts.

    Parameters
    ----------
    document, library : the garden and the tables
    as_of : nothing is planted before this day, but what is settled with its day
    light : a bed's daily light by month [mol/m2/d]; None: light is not asked
    standing : the plan that stands, to be kept as far as may be
    decisions : settled beside the document
    without : beds that are out of use
    years : how many, instead of what the document says
    weather : the garden's, where it was worked already

    Raises WeatherError for a weather file that can't be used.
    """
    library = library_of(document, library)
    units = units_of(document)
    horizon = horizon_of(document, as_of, years)
    weights = weights_of(document)
    timer = Timer.of(document, library, weather)
    candidates = candidates_of(document, library, decisions)
    claims = claims_of(document, library, units, candidates, timer, horizon, decisions, without)
    weekly = _weekly(document, candidates, library)
    options, said = options_of(candidates, claims.claims, timer, horizon, weekly)
    setting = Setting(document, library, units, candidates, options,
                      (*pasts_of(document, library, units), *claims.standing))  # fmt: skip
    families = {each.family for each in candidates}
    intervals = intervals_of(document, library, units, families)
    bars = (
        _only_bar(setting),
        *occupied_bars(setting, claims.free, without),
        family_bar(setting, intervals),
        *problem_bars(setting, intervals),
        light_bar(setting, light),
        manure_bar(setting),
        water_bar(setting),
        trellis_bar(setting),
    )
    left = salt_yields(setting) if candidates else np.zeros((len(units), 0))
    harvests = harvests_of(setting, claims.claims, left)
    asked, unheard = asked_of(setting, claims.claims, horizon, weights, harvests)
    claimed = _claimed(setting, asked)
    bars = (*bars, _unasked_bar(setting, asked, intervals))
    worth = worth_of(setting, weights, harvests, standing)
    problem = _problem(setting, intervals, bars, asked, claimed, worth, weights)
    findings = (
        *said, *unheard, *claims.findings, *_broken(setting, bars, claimed),
        *_light_said(light), *_fed(setting, intervals),
    )  # fmt: skip
    return Question(setting, horizon, weights, claims, intervals, bars, asked, worth, harvests,
                    claimed, problem, findings)  # fmt: skip


def _weekly(
    document: Document, candidates: tuple[Candidate, ...], library: Library
) -> frozenset[str]:
    """The crops whose harvests are to follow each other: wished by the week, and not kept."""
    keys = {
        document.key("wish", at, "crop")
        for at, each in enumerate(document.garden.wish)
        if each.a_week is not None
        and growing(library, document.key("wish", at, "crop")).part not in KEPT
    }
    return frozenset(each.id for each in candidates if each.key in keys)


def _only_bar(setting: Setting) -> Bar:
    """An option with a stated day is for the units that it was stated for."""
    barred = setting.none()
    for at, each in enumerate(setting.options):
        if each.only is not None:
            barred[:, at] = [unit not in each.only for unit in range(len(setting.units))]

    def say(_unit: int, option: int) -> Finding:
        return finding("rotation_settled_elsewhere", "note", crop=setting.crop(option).name.lower())

    return Bar("only", barred, say)


def _unasked_bar(setting: Setting, asked: tuple[Asked, ...], intervals: Intervals) -> Bar:
    """What serves no wish is not planted; clear plastic is for beds with something to be killed."""
    barred = setting.none()
    served = np.zeros(len(setting.options), dtype=bool)
    for each in asked:
        served |= (each.wish.amount > 0).any(axis=0)
    ill = np.array([at in intervals.problems for at in range(len(setting.units))])
    for at in range(len(setting.options)):
        life = setting.crop(at).life
        if life == "plastic":
            barred[:, at] = ~ill
        elif life != "cover":
            barred[:, at] = not served[at]

    def say(_unit: int, option: int) -> Finding:
        return finding("rotation_not_asked", "note", crop=setting.crop(option).name.lower())

    return Bar("unasked", barred, say)


def _claimed(setting: Setting, asked: tuple[Asked, ...]) -> BoolArray:
    found = setting.none()
    for each in asked:
        if each.kind != "wish":
            found |= each.wish.amount > 0
    return found


def _broken(setting: Setting, bars: tuple[Bar, ...], claimed: BoolArray) -> list[Finding]:
    """Rules that what is settled breaks; it stands all the same. One of a unit and crop each."""
    found: dict[tuple[str, int, int], Finding] = {}
    for bar in bars:
        if bar.code in _ALWAYS | _SILENT:
            continue
        for unit, option in np.argwhere(bar.barred & claimed):
            where = (bar.code, int(unit), setting.options[option].candidate)
            if where in found:
                continue
            why = bar.say(int(unit), int(option))
            found[where] = finding(
                "rotation_settled_against", "act", bed=setting.units[unit].bed,
                crop=setting.crop(int(option)).name.lower(),
                year=str(setting.options[option].year), rule=why.code,
                sources=why.sources,
            )  # fmt: skip
    return list(found.values())


def _light_said(light: Light | None) -> list[Finding]:
    return [] if light is not None else [finding("rotation_light_not_asked", "assumed")]


def _fed(setting: Setting, intervals: Intervals) -> list[Finding]:
    """Crops that keep a bed's problem alive without showing it."""
    found = []
    for unit, problems in intervals.problems.items():
        for problem, _ in problems:
            silent = [each.name.lower() for each in setting.candidates
                      if each.key in problem.symptomless]  # fmt: skip
            if silent:
                found.append(finding("rotation_feeds_silently", "caution",
                                     bed=setting.units[unit].bed, problem=problem.name,
                                     crops=", ".join(silent)))  # fmt: skip
    return found


def _problem(
    setting: Setting,
    intervals: Intervals,
    bars: tuple[Bar, ...],
    asked: tuple[Asked, ...],
    claimed: BoolArray,
    worth: Worth,
    weights: Weights,
) -> RotationProblem:
    options = setting.options
    allowed = ~setting.none()
    never = setting.none()
    for bar in bars:
        allowed &= ~bar.barred
        if bar.code in _ALWAYS:
            never |= bar.barred
    allowed |= claimed & ~never
    groups = apart(intervals, len(setting.units), setting.candidates, options)
    stated = rotation_of(setting.document)
    pairs = beside(setting.document, setting.units) if stated.neighbors_apart else ()
    near = nearness(setting.document, setting.units) if weights.near > 0 else None
    return RotationProblem(
        starts=np.array([each.start.toordinal() for each in options], dtype=np.int64),
        ends=np.array([each.free_from.toordinal() for each in options], dtype=np.int64),
        years=np.array([each.year for each in options], dtype=np.int64),
        allowed=allowed,
        worth=worth.total,
        apart=groups,
        wishes=tuple(each.wish for each in asked),
        successions=successions_of(setting, weights),
        beside=pairs,
        apart_beside=_beside_groups(groups, intervals) if pairs else (),
        nearness=near,
        crop=_crops(setting),
        nearness_weight=weights.near if near is not None else 0.0,
    )


def _crops(setting: Setting) -> IntArray:
    """The crop of each option by its number; -1 for covers and plastic, which stand anywhere."""
    return np.array(
        [
            -1 if setting.crop(at).resting else option.candidate
            for at, option in enumerate(setting.options)
        ],
        dtype=np.int64,
    )


def _beside_groups(groups: tuple[KeepApart, ...], intervals: Intervals) -> tuple[KeepApart, ...]:
    return tuple(
        replace(each, name=f"{each.name} beside")
        for each in groups
        if each.name in intervals.families
    )
