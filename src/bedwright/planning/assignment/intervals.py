"""How many years each family, and each soil-borne problem of a bed, keeps its crops away."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from bedwright.crops.soil_borne import SoilBorne, soil_borne
from bedwright.garden import Document
from bedwright.planning.assignment.candidates import rotation_of
from bedwright.planning.assignment.model import Candidate, Option, Unit
from bedwright.planning.assignment.units import units_at
from bedwright.planning.rotation.problem import BoolArray, KeepApart
from bedwright.reference import Library

_NOWHERE = -1


@dataclass(frozen=True, eq=False)
class Intervals:
    """Full years without a crop of its own family, by family; and the problems of each unit.

    ``problems`` holds by unit each recorded problem with the year in which it was found last.
    """

    families: dict[str, int]
    problems: dict[int, tuple[tuple[SoilBorne, int], ...]]


def intervals_of(
    document: Document, library: Library, units: tuple[Unit, ...], families: set[str]
) -> Intervals:
    """The intervals that a garden keeps: the usual one, those it states, and its problems'."""
    stated = rotation_of(document)
    own = {document.key("rotation", "away", word): years for word, years in stated.away.items()}
    years = {each: own.get(each, stated.years_away) for each in sorted(families) if each}
    found: dict[int, dict[str, int]] = {}
    for at, problem in enumerate(document.garden.bed_problem):
        key = document.key("bed_problem", at, "problem")
        for bed in problem.beds:
            for unit in units_at(units, bed, None):
                seen = found.setdefault(unit, {})
                seen[key] = max(seen.get(key, problem.found), problem.found)
    known = {each.key: each for each in soil_borne(library)} if found else {}
    problems = {
        unit: tuple((known[key], year) for key, year in seen.items())
        for unit, seen in found.items()
    }
    return Intervals(years, problems)


def years_of(problem: SoilBorne, crop: str) -> int | None:
    """Full years without a host before a crop, rounded up; None where no source says."""
    figure = problem.years_away(crop)
    return None if figure is None else math.ceil(figure.value)


def apart(
    intervals: Intervals,
    units: int,
    candidates: tuple[Candidate, ...],
    options: tuple[Option, ...],
) -> tuple[KeepApart, ...]:
    """The groups whose members must not follow each other too soon.

    Within a problem the longest interval of the crops in question holds between all its hosts.
    """
    groups = []
    for family, years in intervals.families.items():
        members = _members(options, [each.family == family for each in candidates])
        if members.sum() > 1:
            groups.append(KeepApart(family, members, np.full(units, years)))
    by_problem: dict[str, tuple[SoilBorne, list[int]]] = {}
    for unit, found in intervals.problems.items():
        for problem, _ in found:
            by_problem.setdefault(problem.key, (problem, []))[1].append(unit)
    for problem, where in by_problem.values():
        members = _members(options, [problem.feeds(each.key) for each in candidates])
        waits = [years_of(problem, each.key) for each in candidates if problem.feeds(each.key)]
        longest = max((each for each in waits if each is not None), default=None)
        if members.any() and longest is not None:
            away = np.full(units, _NOWHERE)
            away[where] = longest
            groups.append(KeepApart(problem.key, members, away))
    return tuple(groups)


def _members(options: tuple[Option, ...], hosts: list[bool]) -> BoolArray:
    return np.array([hosts[each.candidate] for each in options], dtype=bool)
