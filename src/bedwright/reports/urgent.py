"""Which urgent findings of a bed are said when: before the work, later, or about the plan."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.planning.findings import Finding

# What is to be known when the side-dressing is due, not before anything is spread.
OF_LATER = frozenset("keep_back nitrogen_may_run_short nitrogen_runs_short side_dress_more".split())
# What concerns the plan and the shed, not the hand in the bed.
OF_THE_PLAN = frozenset(
    "compost_wish_refused demands_clash no_source_in_shed own_rate_above_most"
    " own_rate_against_advice own_rate_refused salt_costs_yield".split()
)
_URGENT = ("act", "caution")


def urgent(findings: Iterable[Finding]) -> tuple[list[Finding], list[Finding], list[Finding]]:
    """Acts, then cautions: those of the work in the bed, of later work, and of the plan."""
    found = [each for weight in _URGENT for each in findings if each.weight == weight]
    later = [each for each in found if each.code in OF_LATER]
    plan = [each for each in found if each.code in OF_THE_PLAN]
    return [each for each in found if each.code not in OF_LATER | OF_THE_PLAN], later, plan
