"""Needs by the days on which the work that takes them is laid."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from bedwright.planning.purchases.model import GROWN, Need
from bedwright.planning.work.model import Work


def by_task(needs: Sequence[Need], work: Work | None) -> Iterator[Need]:
    """Each need on the day of its task, where that is laid before the day that the need names: what
    may be done early is at hand early.

    Parameters
    ----------
    needs : by the days of their plantings
    work : the schedule; None: the needs stay as they are
    """
    laid: dict[tuple[str, str], list[tuple[date, date, date]]] = {}
    for each in () if work is None else work.assigned:
        task = None if work is None else work.task(each.task)
        if task is None or task.bed is None or each.done:
            continue
        for thing in task.bring:
            if thing.amount is not None:
                span = (task.earliest, task.latest, each.day)
                laid.setdefault((task.bed, thing.key), []).append(span)
    for need in needs:
        item = need.item
        key = need.crop if item.kind in GROWN else item.key or item.kind
        days = [
            day for first, last, day in laid.get((need.bed, key), ()) if first <= need.on <= last
        ]
        yield replace(need, on=min([need.on, *days]))
