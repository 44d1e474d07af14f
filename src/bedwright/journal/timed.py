"""The hours that the journal tells of work on a bed, as own times of the tasks."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.garden import Document
from bedwright.garden.model_work import LaborTime
from bedwright.journal.entries import Did
from bedwright.reference import Library
from bedwright.units import Quantity

_HOUR_S = 3600.0


def times_with(document: Document, entries: Sequence[Did], library: Library) -> list[LaborTime]:
    """The document's own times, and one more for each task on a bed whose hours were written.

    Only tasks that the table counts by area and by one method alone: what the hours are for must
    be known. The bed's whole area counts.
    """
    areas = {bed.id: bed.area_m2 for bed in document.garden.bed}
    methods: dict[str, set[tuple[str, str]]] = {}
    for row in library.rows("labor"):
        if row.used:
            methods.setdefault(row["task"], set()).add((row["condition"], row["per"]))
    found = list(document.garden.labor_time)
    for each in sorted(entries, key=lambda one: (one.on, str(one.id))):
        if each.task is None or each.hours is None or each.bed is None:
            continue
        if methods.get(each.task) != {("", "m2")}:
            continue
        area = areas[each.bed]
        found.append(
            LaborTime(
                task=each.task,
                time=Quantity(each.hours * _HOUR_S, "time", f"{each.hours:g} h"),
                area=Quantity(area, "area", f"{area:g} m2"),
                timed=1,
            )
        )
    return found
