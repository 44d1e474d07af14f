"""How long a task takes: the table of labor, under the gardener's own times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from bedwright.garden.model_work import LaborTime
from bedwright.planning.own_weighed import own_times, time_weighed
from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.working import Figure


@dataclass(frozen=True, eq=False)
class Rates:
    """Times by task and method, and the rules of the tasks, read from the tables once.

    ``own`` are the gardener's own times: they replace the table's rows, or are weighed beside
    them where it is told how often they were taken.
    """

    library: Library
    own: tuple[LaborTime, ...] = ()

    @cached_property
    def _times(self) -> dict[tuple[str, str, str], Figure]:
        found = {
            (row["task"], row["condition"], row["per"]): figure_of("time", row, "h")
            for row in self.library.rows("labor")
            if row.used
        }
        for own in own_times(self.own):
            for held in [key for key in found if key[:2] == (own.task, own.method)]:
                found[held] = time_weighed(own, found[held], self.library)
        return found

    @cached_property
    def _rules(self) -> dict[tuple[str, str], Figure]:
        return {
            (row["task"], row["rule"]): figure_of(row["rule"], row, row["unit"])
            for row in self.library.rows("work_rules")
            if row.used
        }

    @cached_property
    def _workloads(self) -> dict[str, str]:
        return {row["task"]: row["workload"] for row in self.library.rows("work_tasks")}

    @cached_property
    def _tools(self) -> dict[tuple[str, str], tuple[str, ...]]:
        found: dict[tuple[str, str], list[str]] = {}
        for row in self.library.rows("work_tools"):
            found.setdefault((row["task"], row["condition"]), []).append(row["thing"])
        return {key: tuple(each) for key, each in found.items()}

    def known(self, task: str, method: str, per: str) -> bool:
        """Whether a task by this method has a time per this measure."""
        return (task, method, per) in self._times

    def time(self, task: str, per: str, amount: float, method: str = "") -> Figure:
        """The hours of one task on so much of its measure [h].

        Raises LookupError where the table has no time in use for it.
        """
        if not self.known(task, method, per):
            raise LookupError(f"labor.csv holds no time in use for {task} {method} per {per}")
        each = self._times[task, method, per]
        return Figure(
            "hours",
            each.value * amount,
            "h",
            "computed",
            low=each.least * amount,
            high=each.most * amount,
            formula=f"time per {per} x amount",
            inputs=(each, Figure(per, amount, "-", "computed")),
        )

    def rule(self, task: str, rule: str, usual: float | None = None) -> float:
        """A rule of a task, in its own unit. Raises LookupError where it and ``usual`` lack."""
        found = self._rules.get((task, rule))
        if found is not None:
            return found.value
        if usual is None:
            raise LookupError(f"work_rules.csv holds no {rule!r} of {task!r} in use")
        return usual

    def length_m(self, task: str, rule: str) -> float:
        """A rule that is a length [m]."""
        for row in self.library.rows("work_rules"):
            if (row["task"], row["rule"]) == (task, rule) and row.used:
                return figure_of(rule, row, "m").value
        raise LookupError(f"work_rules.csv holds no {rule!r} of {task!r} in use")

    def workload(self, task: str) -> str:
        """How heavy a task is: light, moderate or heavy."""
        return self._workloads[task]

    def tools(self, task: str, *methods: str) -> tuple[str, ...]:
        """What to take along for a task, and for its methods."""
        found = [thing for each in ("", *methods) for thing in self._tools.get((task, each), ())]
        return tuple(dict.fromkeys(found))


def total(hours: Sequence[Figure]) -> Figure:
    """Hours of several parts of a task together [h]; a single part as it is."""
    if len(hours) == 1:
        return hours[0]
    return Figure(
        "hours",
        sum(each.value for each in hours),
        "h",
        "computed",
        low=sum(each.least for each in hours),
        high=sum(each.most for each in hours),
        formula="sum of the parts",
        inputs=tuple(hours),
    )
