"""The clearing of beds whose planting was lost and that nothing follows yet."""

from __future__ import annotations

from datetime import timedelta

from bedwright.garden import Document
from bedwright.garden.failed import failed_wants
from bedwright.planning.second_crops import bed_wants
from bedwright.planning.work.model import Bring, Task
from bedwright.planning.work.rates import Rates

_SOON = timedelta(days=13)  # what failed feeds pests and disease as long as it lies: judgement


def failed_tasks(document: Document, rates: Rates) -> tuple[Task, ...]:
    """One task of clearing for each such bed; where a crop follows, its own clearing does it."""
    followed = {each.bed.id for each in bed_wants(document)}
    beds = {each.id: each for each in document.garden.bed}
    made = []
    for (at, bed), on in failed_wants(document.garden).items():
        if bed in followed:
            continue
        crop = document.key("want", at, "crop")
        made.append(
            Task(
                id=f"{bed}/{crop}/clear/1",
                kind="clear",
                bed=bed,
                crop=crop,
                earliest=on,
                latest=on + _SOON,
                hours=rates.time("clear", "m2", beds[bed].area_m2).named("hours"),
                bring=tuple(Bring("tool", each) for each in rates.tools("clear")),
                priority=rates.rule("clear", "weight"),
                late=rates.rule("any", "late_cost"),
                workload=rates.workload("clear"),
            )
        )
    return tuple(made)
