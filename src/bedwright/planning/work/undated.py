"""What can be done for a planting whose day is not known: look at the soil."""

from __future__ import annotations

from datetime import date, timedelta

from bedwright.planning.findings import finding
from bedwright.planning.work.bed_days import Grown
from bedwright.planning.work.model import Bring, Task
from bedwright.planning.work.rates import Rates

_MONTH = timedelta(days=27)


def wants_fork_test(grown: Grown, fork_found: str | None) -> bool:
    """Whether nobody has looked yet if the bed needs loosening, and it may."""
    bed = grown.prescription.bed
    return fork_found is None and not (bed.kind == "raised" and bed.fill == "compost mix")


def fork_test_of(grown: Grown, rates: Rates, as_of: date) -> Task:
    """Push a fork in, on any day of the four weeks from the day of planning."""
    return Task(
        id=f"{grown.bed}/{grown.crop}/fork_test/1",
        kind="fork_test",
        bed=grown.bed,
        crop=grown.prescription.crop.key,
        earliest=as_of,
        latest=as_of + _MONTH,
        hours=rates.time("fork_test", "test", 1).named("hours"),
        bring=tuple(Bring("tool", each) for each in rates.tools("fork_test")),
        cautions=(finding("work_fork_test", "note"),),
        priority=rates.rule("fork_test", "weight"),
        late=rates.rule("any", "late_cost") / 100,
        workload=rates.workload("fork_test"),
    )
