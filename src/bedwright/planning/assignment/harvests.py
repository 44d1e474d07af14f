"""What a crop is expected to give on a bed: by the gardener's own figures before the tables'.

On a bed for which the gardener states a yield goal the goal stands. Elsewhere the mean of the
garden's own harvests counts beside the table's yield, the more the more years it has; without own
harvests a goal stands for the crop, and without a goal the table. What a bed's salt costs is taken
off all but a goal on its own bed. An own harvest carries the salt of the bed that it was picked on:
it is first brought to a bed without salt, by the salt known now.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from bedwright.planning.assignment.bars import Setting
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.model import Candidate, Claim
from bedwright.planning.assignment.units import units_at
from bedwright.planning.own_weighed import yield_weighed
from bedwright.planning.rotation.problem import FloatArray
from bedwright.planning.yields import stated_goal, yield_per_area
from bedwright.working import Figure

By = Literal["goal", "record", "table"]
_LEAST_LEFT = 0.5  # of the yield: no own harvest is more than doubled for salt: judgement


@dataclass(frozen=True)
class Yield:
    """A yield [kg/m2], and what it goes by; ``years`` of own harvests, which count ``weight``."""

    figure: Figure
    by: By
    years: int = 0
    weight: float = 0.0


@dataclass(frozen=True, eq=False)
class Harvests:
    """Expected yields. ``usual`` are those of each candidate on a bed without salt, None where
    nothing tells; ``goals`` those of unit, candidate and year; ``left`` (units, candidates) is the
    share that salt leaves, NaN where not known.
    """

    setting: Setting
    usual: tuple[Yield | None, ...]
    goals: Mapping[tuple[int, int, int], Figure]
    left: FloatArray

    def usual_of(self, candidate: Candidate) -> Yield | None:
        """The usual yield of one of the setting's candidates."""
        places = [each.id for each in self.setting.candidates]
        return self.usual[places.index(candidate.id)]

    def goal(self, unit: int, at: int) -> Figure | None:
        """The goal [kg/m2] that is stated for an option on a unit."""
        option = self.setting.options[at]
        return self.goals.get((unit, option.candidate, option.year))

    def of(self, unit: int, at: int) -> Yield | None:
        """What an option is expected to give on a unit; None where nothing tells."""
        stated = self.goal(unit, at)
        if stated is not None:
            return Yield(stated, "goal")
        candidate = self.setting.options[at].candidate
        usual = self.usual[candidate]
        if usual is None or np.isnan(self.left[unit, candidate]):
            return usual
        share = float(self.left[unit, candidate])
        left = Figure("yield_left", share, "-", "computed")
        made = Figure("yield", usual.figure.value * share, "kg/m2", "computed",
                      inputs=(usual.figure, left), formula="yield x what salt leaves")  # fmt: skip
        if usual.figure.low is not None or usual.figure.high is not None:
            made = made.ranged(usual.figure.least * share, usual.figure.most * share)
        return Yield(made, usual.by, usual.years, usual.weight)

    @cached_property
    def by_area(self) -> FloatArray:
        """The yields as numbers [kg/m2], (units, options); NaN where nothing tells."""
        which = [each.candidate for each in self.setting.options]
        usual = np.array([np.nan if x is None else x.figure.value for x in self.usual])
        found = np.asarray((usual * np.where(np.isnan(self.left), 1.0, self.left))[:, which])
        for (unit, candidate, year), goal in self.goals.items():
            for at, option in enumerate(self.setting.options):
                if option.candidate == candidate and option.year == year:
                    found[unit, at] = goal.value
        return found


def harvests_of(setting: Setting, claims: Iterable[Claim], left: FloatArray) -> Harvests:
    """The expected yields of a garden.

    Parameters
    ----------
    setting : units, crops and options
    claims : of wants with a yield goal
    left : the share of its yield that each unit's salt leaves each candidate; NaN: not known
    """
    places = {each.id: at for at, each in enumerate(setting.candidates)}
    goals: dict[tuple[int, int, int], Figure] = {}
    for claim in claims:
        if claim.kind == "want":
            goal = stated_goal(setting.document, setting.document.garden.want[claim.at])
            if goal is not None:
                at = places[claim.candidate]
                goals |= {(unit, at, claim.year): goal for unit in claim.units}
    own, stated = _own_of(setting, places, left), _goals_of(setting)
    usual = tuple(
        None
        if each.resting
        else _usual(setting, each, own.get(each.id, ()), stated.get(each.id, ()))
        for each in setting.candidates
    )
    return Harvests(setting, usual, goals, left)


def _goals_of(setting: Setting) -> dict[str, list[Figure]]:
    """The goals [kg/m2] that wants state for each crop, by its id."""
    document = setting.document
    found: dict[str, list[Figure]] = {}
    for at, want in enumerate(document.garden.want):
        goal = stated_goal(document, want)
        if goal is not None:
            crop = candidate_at(document, setting.library, "want", at).id
            found.setdefault(crop, []).append(goal)
    return found


def _usual(
    setting: Setting,
    candidate: Candidate,
    harvests: Sequence[tuple[int, float]],
    stated: Sequence[Figure],
) -> Yield | None:
    table = setting.library.fact("crop_facts", candidate.key, "yield", "kg/m2")
    own = _by_year(harvests)
    if own.size:
        figure, weight = yield_weighed(own, table, setting.library)
        return Yield(figure, "record", own.size, weight)
    if stated:
        mean = float(np.mean([each.value for each in stated]))
        return Yield(Figure("yield_goal", mean, "kg/m2", "stated", inputs=tuple(stated),
                            formula="mean of the goals"), "goal")  # fmt: skip
    return None if table is None else Yield(table, "table")


def _own_of(
    setting: Setting, places: Mapping[str, int], left: FloatArray
) -> dict[str, list[tuple[int, float]]]:
    """Year and yield [kg/m2] of each own harvest of a crop, brought to a bed without salt, by the
    crop's id."""
    document = setting.document
    found: dict[str, list[tuple[int, float]]] = {}
    beds = {bed.id: bed for bed in document.garden.bed}
    for where, season in enumerate(document.garden.history):
        if season.crop is None or season.harvested is None:
            continue
        crop = candidate_at(document, setting.library, "history", where).id
        if crop not in places:
            continue
        bed = beds[season.bed]
        value = yield_per_area(
            season.harvested, bed.area_m2 / (1 if season.part is None else bed.parts)
        )
        units = units_at(setting.units, season.bed, season.part)
        salt_leaves = left[units[0], places[crop]] if units else np.nan
        share = 1.0 if np.isnan(salt_leaves) else float(salt_leaves)
        found.setdefault(crop, []).append((season.year, value / max(share, _LEAST_LEFT)))
    return found


def _by_year(own: Iterable[tuple[int, float]]) -> FloatArray:
    """The mean of each year's harvests (years,)."""
    years: dict[int, list[float]] = {}
    for year, value in own:
        years.setdefault(year, []).append(value)
    return np.array([float(np.mean(years[year])) for year in sorted(years)])
