"""Wishes, wants and pins as amounts that a plan gives: beds, area, or the stall's weeks."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

import numpy as np

from bedwright.crops.growing import growing
from bedwright.garden.model_rotation import Weights
from bedwright.garden.model_rotation import Wish as Stated
from bedwright.planning.assignment.bars import Setting
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.harvests import Harvests
from bedwright.planning.assignment.model import Candidate, Claim, Option
from bedwright.planning.assignment.options import Horizon
from bedwright.planning.findings import Finding, finding
from bedwright.planning.rotation.problem import FloatArray, Wish

Measure = Literal["beds", "area", "a_week"]
_WEEK = 7
_EACH_YEAR_ON = 0.9  # what a wish counts in each year further on: judgement
KEPT = ("bulb", "tuber")  # parts that keep: what is dug at once is sold for weeks


@dataclass(frozen=True, eq=False)
class Asked:
    """One amount that was asked for, in one year; ``week`` is the first day of a stall's week.

    ``kind`` and ``at`` name the entry of the document. ``wish`` is the same in plain numbers.
    ``a_bed`` is how much of it one usual bed gives: a shortage in beds is shortage / a_bed.
    """

    kind: Literal["wish", "want", "pin", "decision"]
    at: int
    candidate: Candidate
    year: int
    measure: Measure
    wish: Wish
    a_bed: float
    units: tuple[int, ...] = ()
    week: date | None = None
    weeks: int = 0


def asked_of(
    setting: Setting,
    claims: tuple[Claim, ...],
    horizon: Horizon,
    weights: Weights,
    harvests: Harvests,
) -> tuple[tuple[Asked, ...], tuple[Finding, ...]]:
    """Everything that was asked for, and what is to be said of wishes that can't be counted."""
    said: list[Finding] = []
    found = [_claimed(setting, claim) for claim in claims]
    flat = [each for group in found for each in group]
    for at, stated in enumerate(setting.document.garden.wish):
        candidate = candidate_at(setting.document, setting.library, "wish", at)
        for year in horizon.years:
            if stated.years is None or year in stated.years:
                # The first year is planted by this plan, those after it are planned again.
                weight = weights.wishes if stated.weight is None else stated.weight
                weight *= _EACH_YEAR_ON ** (year - horizon.years[0])
                flat += _wished(
                    setting, at, stated, candidate, year, weight, claims, harvests, said
                )
        if stated.years is not None and not set(stated.years) & set(horizon.years):
            said.append(finding("rotation_wish_outside", "note", crop=candidate.name.lower()))
    return tuple(flat), tuple(_once(said))


def _once(said: list[Finding]) -> list[Finding]:
    seen: dict[tuple[str, str], Finding] = {}
    for each in said:
        seen.setdefault((each.code, str(sorted(each.values.items(), key=str))), each)
    return list(seen.values())


def _claimed(setting: Setting, claim: Claim) -> list[Asked]:
    """One required amount for each unit that a claim settles."""
    candidate = next(each for each in setting.candidates if each.id == claim.candidate)
    suits = np.array([_is_of(claim, setting, at) for at in range(len(setting.options))])
    made = []
    for unit in claim.units:
        amount = np.zeros((len(setting.units), len(setting.options)))
        amount[unit, suits] = 1.0
        name = f"{claim.kind} {claim.at} {setting.units[unit].bed} {setting.units[unit].part or ''}"
        wish = Wish(name.strip(), amount, 1.0, math.inf, 0.0, True)
        share = setting.units[unit].share
        made.append(
            Asked(claim.kind, claim.at, candidate, claim.year, "beds", wish, 1 / share, (unit,))
        )
    return made


def _is_of(claim: Claim, setting: Setting, at: int) -> bool:
    option = setting.options[at]
    if setting.crop(at).id != claim.candidate or option.year != claim.year:
        return False
    if claim.on is not None:
        return option.only is not None and option.on == claim.on
    return claim.turn is None or option.turn in (None, claim.turn)


def _wished(
    setting: Setting,
    at: int,
    stated: Stated,
    candidate: Candidate,
    year: int,
    weight: float,
    claims: tuple[Claim, ...],
    harvests: Harvests,
    said: list[Finding],
) -> list[Asked]:
    suits = np.array(
        [_suits(setting, option, candidate, stated, year) for option in range(len(setting.options))]
    )
    areas = np.array([each.area_m2 for each in setting.units])
    beds = sum(each.share for each in setting.units)
    usual = float(areas.sum() / beds)
    bearing = np.array([each.bearing(year) for each in setting.options])
    if stated.a_week is None and (suits & ~bearing).any():
        said.append(_before_bearing(setting, candidate, suits))
    if stated.beds is not None:
        shares = np.array([each.share for each in setting.units])
        most = max(math.ceil(stated.beds), _settled(claims, candidate, year, shares))
        wish = _made(at, year, shares[:, None] * suits, stated.beds, most, weight, stated.must)
        return [Asked("wish", at, candidate, year, "beds", wish, 1.0)]
    if stated.area is not None:
        wanted = float(stated.area.si)
        most = max(wanted + areas.max(), _settled(claims, candidate, year, areas))
        wish = _made(at, year, areas[:, None] * suits, wanted, most, weight / usual, stated.must)
        return [Asked("wish", at, candidate, year, "area", wish, usual)]
    expected = harvests.usual_of(candidate)
    if expected is None:
        said.append(finding("rotation_yield_not_known", "doubt", crop=candidate.name.lower()))
        return []
    # The stall is served by what is fit to sell, as in the expected harvest.
    fit = growing(setting.library, candidate.key).saleable_share
    share = 1.0 if fit is None else fit.value
    if fit is not None and share < 1:
        name, told = candidate.name.lower(), fit.named("share")
        said.append(finding("rotation_saleable", "note", crop=name, share=told))
    kilograms = areas[:, None] * np.nan_to_num(harvests.by_area) * (suits & bearing) * share
    a_bed = expected.figure.value * usual * share
    return _weekly(setting, at, stated, candidate, year, weight, a_bed, suits, kilograms, said)


def _before_bearing(setting: Setting, candidate: Candidate, suits: np.ndarray) -> Finding:
    """That ground wished for counts from its planting, and when a perennial is first picked."""
    young = [setting.options[at] for at in np.flatnonzero(suits)]
    wait = max(each.bears - each.year for each in young if each.bears is not None)
    name = candidate.name.lower()
    return finding("rotation_ground_before_bearing", "note", crop=name, years=float(wait))


def _settled(
    claims: tuple[Claim, ...], candidate: Candidate, year: int, sizes: FloatArray
) -> float:
    """How much of a crop is settled in a year anyhow."""
    return sum(
        float(sizes[list(claim.units)].sum())
        for claim in claims
        if claim.candidate == candidate.id and claim.year == year
    )


def _made(
    at: int,
    year: int,
    amount: FloatArray,
    wanted: float,
    most: float,
    weight: float,
    must: bool,
    week: str = "",
) -> Wish:
    name = f"wish {at} {year} {week}".strip()
    return Wish(name, amount, wanted, most, 0.0 if must else weight, must)


def _suits(setting: Setting, at: int, candidate: Candidate, stated: Stated, year: int) -> bool:
    option, crop = setting.options[at], setting.crop(at)
    same = crop.id == candidate.id or (candidate.id == candidate.key and crop.key == candidate.key)
    if not same or (stated.turn is not None and option.turn not in (None, stated.turn)):
        return False
    # what lasts for years is there in each of them
    return option.year == year or (crop.life == "perennial" and option.year <= year)


def _weekly(
    setting: Setting,
    at: int,
    stated: Stated,
    candidate: Candidate,
    year: int,
    weight: float,
    a_bed: float,
    suits: np.ndarray,
    kilograms: FloatArray,
    said: list[Finding],
) -> list[Asked]:
    """Each week's mass; or their sum, where the crop keeps or its harvest's weeks are unknown."""
    assert stated.a_week is not None and stated.from_day is not None and stated.to_day is not None
    first = date(year, *stated.from_day)
    last = date(year, *stated.to_day)
    if last < first:
        last = last.replace(year=year + 1)
    mondays = [first + timedelta(days=day) for day in range(0, (last - first).days + 1, _WEEK)]
    a_week = float(stated.a_week.si)
    part = growing(setting.library, candidate.key).part
    dated = all(setting.options[each].first_harvest is not None for each in np.flatnonzero(suits))
    if part in KEPT:
        said.append(finding("rotation_keeps", "assumed", crop=candidate.name.lower()))
    elif not dated:
        said.append(finding("rotation_weeks_not_known", "assumed", crop=candidate.name.lower()))
    if part in KEPT or not dated:
        in_time = np.array([_harvested_by(each, last) for each in setting.options])
        wanted = a_week * len(mondays)
        most = wanted + float(kilograms.max(initial=0.0))
        wish = _made(at, year, kilograms * in_time, wanted, most, weight / a_bed, stated.must)
        return [Asked("wish", at, candidate, year, "a_week", wish, a_bed, weeks=len(mondays))]
    found = []
    for monday in mondays:
        end = monday + timedelta(days=_WEEK)
        share = np.array([share_between(each, monday, end) for each in setting.options])
        wish = _made(at, year, kilograms * share, a_week, math.inf, weight / a_bed, stated.must,
                     monday.isoformat())  # fmt: skip
        made = Asked("wish", at, candidate, year, "a_week", wish, a_bed, week=monday, weeks=1)
        found.append(made)
    return found


def _harvested_by(option: Option, last: date) -> float:
    return 1.0 if option.first_harvest is None or option.first_harvest <= last else 0.0


def share_between(option: Option, start: date, end: date) -> float:
    """The share of its harvest that an option gives from a day until before another, spread
    evenly over the days on which it is picked."""
    if option.first_harvest is None or option.last_harvest is None:
        return 0.0
    after = option.last_harvest + timedelta(days=1)
    days = (after - option.first_harvest).days
    inside = (min(after, end) - max(option.first_harvest, start)).days
    return max(inside, 0) / days
