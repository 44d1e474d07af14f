"""The findings of a season plan by bed and of the whole, and which of them another plan lacks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from bedwright.planning.findings import Finding
from bedwright.reports.differences.model import Room, Said
from bedwright.season import SeasonPlan

_DAY = re.compile(r"\b\d{4}-\d\d-\d\d\b")
_WEIGHTS = ("act", "caution", "doubt", "assumed", "note")


class _Findings(Protocol):
    """A part of the plan that says something."""

    @property
    def findings(self) -> tuple[Finding, ...]: ...


_Key = tuple[str, str, tuple[tuple[str, str], ...]]


def bed_findings(plan: SeasonPlan, bed: str) -> tuple[Said, ...]:
    """What a plan says of one bed, each thing once."""
    return _once(_of_bed(plan, bed))


def garden_findings(plan: SeasonPlan) -> tuple[Said, ...]:
    """What a plan says of the garden as a whole, each thing once."""
    return _once(_of_garden(plan))


def only_in(these: Sequence[Said], those: Sequence[Said]) -> tuple[Said, ...]:
    """Those of the first that the second lack, the urgent first.

    A finding is the same where its room, its code and the words that it names are the same; its
    numbers and days may differ.
    """
    known = {_key(each) for each in those}
    found = [each for each in these if _key(each) not in known]
    return tuple(sorted(found, key=lambda each: _WEIGHTS.index(each.finding.weight)))


def _of_bed(plan: SeasonPlan, bed: str) -> Iterator[Said]:
    for planting in plan.plantings:
        if planting.prescription.bed.id == bed:
            yield from _said("bed", planting.findings)
    for layout in plan.layouts:
        if layout.planting.bed.id == bed:
            yield from _said("layout", layout.findings)
    for each in () if plan.summer is None else plan.summer.plantings:
        if each.bed == bed:
            yield from _said("summer", each.findings)
    for turnover in plan.turnover:
        if turnover.bed == bed:
            yield from _said("turnover", turnover.findings)


def _of_garden(plan: SeasonPlan) -> Iterator[Said]:
    yield from _said("dates", plan.shared.findings)
    rooms: tuple[tuple[Room, _Findings | None], ...] = (
        ("dates", plan.dates),
        ("water", plan.water),
        ("summer", plan.summer),
        ("work", plan.work),
        ("harvest", plan.harvest),
        ("purchases", plan.purchases),
        ("rotation", plan.years),
    )
    for room, part in rooms:
        yield from _said(room, () if part is None else part.findings)


def _said(room: Room, findings: Iterable[Finding]) -> Iterator[Said]:
    return (Said(room, each) for each in findings)


def _once(said: Iterable[Said]) -> tuple[Said, ...]:
    found: dict[_Key, Said] = {}
    for each in said:
        found.setdefault(_key(each), each)
    return tuple(found.values())


def _key(said: Said) -> _Key:
    words = (
        (name, _DAY.sub("", each))
        for name, each in said.finding.values.items()
        if isinstance(each, str)
    )
    return said.room, said.finding.code, tuple(sorted(words))
