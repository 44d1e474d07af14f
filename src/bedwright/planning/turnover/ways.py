"""The ways out of a bed: which are open to a standing crop, in what order, and what bars the rest.

What can be eaten comes first, then what lives on elsewhere, then what feeds stock, last the soil.
A diseased plant is burned or binned before anything else is thought of.
"""

from __future__ import annotations

from datetime import date, timedelta

from bedwright.planning.findings import Finding, finding
from bedwright.planning.turnover.case import Case
from bedwright.planning.turnover.facts import moves_of, root_ball, rule, temperature_rule
from bedwright.planning.turnover.feed import feed_ways
from bedwright.planning.turnover.left import over_on
from bedwright.planning.turnover.model import Kind, Way
from bedwright.working import Figure

Ways = tuple[list[Way], list[Way]]  # offered, refused


def ways_of(case: Case) -> tuple[tuple[Way, ...], tuple[Way, ...]]:
    """The ways that are open, the best first, and those that are barred."""
    fed, unfed = feed_ways(case)
    groups = (_picked(case), _moved(case), (list(fed), list(unfed)), _to_the_soil(case))
    offered = [way for group in groups for way in group[0]]
    refused = [way for group in groups for way in group[1]]
    if not case.healthy:
        why = finding("turnover_burn_or_bin", "act")
        offered.insert(0, Way("burn_or_bin", "", None, case.next.clear, (why,)))
    return tuple(offered), tuple(refused)


def _picked(case: Case) -> Ways:
    if case.cover:
        return [], []
    kinds: tuple[Kind, Kind] = ("sell", "house")
    start, barred = case.after_spray("harvest")
    over = over_on(case.left)
    if barred is None and over is not None and over < case.as_of:
        barred = finding("turnover_over", "note", over=over.isoformat())
    if barred is not None:
        return [], [Way(kind, "", None, None, (barred,)) for kind in kinds]
    reasons: list[Finding] = []
    if start is not None:
        reasons.append(finding("turnover_pick_from", "caution", start=start.isoformat()))
    if not case.healthy:
        reasons.append(finding("turnover_only_sound", "caution"))
    said = {
        "sell": finding("turnover_sell", "note"),
        "house": finding("turnover_house", "note"),
    }
    clear = case.next.clear
    return [Way(kind, "", start, clear, (said[kind], *reasons)) for kind in kinds], []


def _moved(case: Case) -> Ways:
    if case.cover:
        return [], []

    def refused(why: Finding) -> Ways:
        return [], [Way("move", "", None, None, (why,))]

    found = moves_of(case.library, case.crop)
    if not case.healthy:
        return refused(finding("turnover_move_diseased", "caution"))
    if found is None:
        return refused(finding("turnover_move_unknown", "note", crop=case.name))
    how, source = found
    sources = (source,)
    if how == "no":
        return refused(finding("turnover_move_no", "note", sources=sources))
    if how == "young" and not _young(case):
        return refused(finding("turnover_move_grown", "note", sources=sources))
    reasons = [
        finding("turnover_move_divide", "note", sources=sources)
        if how == "divide"
        else finding("turnover_move_dormant", "note", sources=sources)
        if how == "dormant"
        else finding("turnover_move_young", "note", sources=sources)
        if how == "young"
        else finding("turnover_move_indoors", "note", sources=sources,
                     night=temperature_rule(case.library, "move_night"))
    ]  # fmt: skip
    return [Way("move", "", None, case.next.clear, (*reasons, *_handling(case, how)))], []


def _young(case: Case) -> bool:
    since = case.standing.since
    most = rule(case.library, "young", "day").value
    return since is not None and (case.as_of - since).days <= most


def _handling(case: Case, how: str) -> list[Finding]:
    """Root ball, weather and care of a plant that is moved."""
    stem = case.standing.stem
    care = finding(
        "turnover_move_care", "note", day=temperature_rule(case.library, "move_day"),
        shade=rule(case.library, "move_shade", "day"),
    )  # fmt: skip
    if how == "young" and stem is None:
        return [care]
    width, depth = root_ball(case.library, None if stem is None else float(stem.si))
    cut = rule(case.library, "move_cut", "-").named("share")
    return [
        finding("turnover_root_ball", "note", sources=width.sources, width=width, depth=depth),
        care,
        finding("turnover_move_cut", "note", share=cut),
    ]


def _to_the_soil(case: Case) -> Ways:
    """Dig in, leave on top, compost: in the order that the next crop is served by."""
    if not case.healthy:
        why = finding("turnover_diseased_stays_out", "caution")
        kinds: tuple[Kind, ...] = ("dig_in", "leave_on_top", "compost")
        return [], [Way(kind, "", None, None, (why,)) for kind in kinds]
    parts = {"dig_in": _dig_in(case), "leave_on_top": _on_top(case)}
    compost = Way("compost", "", None, case.next.clear, (_compost_why(case),))
    order = ["compost", "dig_in", "leave_on_top"]
    if case.residue is not None:
        frees = case.residue.in_a_month.value >= 0
        order = (
            ["dig_in", "compost", "leave_on_top"]
            if frees
            else ["compost", "leave_on_top", "dig_in"]
        )
    offered: list[Way] = []
    refused: list[Way] = []
    for kind in order:
        if kind == "compost":
            offered.append(compost)
        else:
            way, is_open = parts[kind]
            (offered if is_open else refused).append(way)
    return offered, refused


def _compost_why(case: Case) -> Finding:
    if case.life == "perennial":
        return finding("turnover_compost_perennial", "note")
    return finding("turnover_compost", "note")


def _dig_in(case: Case) -> tuple[Way, bool]:
    if case.life == "perennial":
        return _barred("dig_in", finding("turnover_grows_again", "note")), False
    by = _by(case, case.wait.value)
    if by is not None and by < case.as_of:
        return _barred("dig_in", _no_time(case, case.wait.value)), False
    return Way("dig_in", "", None, by, _nitrogen(case)), True


def _on_top(case: Case) -> tuple[Way, bool]:
    if case.life == "perennial":
        why = finding("turnover_grows_again", "note")
        return _barred("leave_on_top", why), False
    if case.sown:
        return _barred("leave_on_top", finding("turnover_next_is_sown", "note")), False
    wait = rule(case.library, "surface_wait", "day")
    by = _by(case, wait.value)
    if by is not None and by < case.as_of:
        return _barred("leave_on_top", _no_time(case, wait.value)), False
    why = finding("turnover_on_top", "note", sources=wait.sources, wait=wait)
    return Way("leave_on_top", "", None, by, (why,)), True


def _barred(kind: Kind, why: Finding) -> Way:
    return Way(kind, "", None, None, (why,))


def _by(case: Case, wait_days: float) -> date | None:
    start, clear = case.next.start, case.next.clear
    if start is None or clear is None:
        return None
    return min(clear, start - timedelta(days=round(wait_days)))


def _no_time(case: Case, wait_days: float) -> Finding:
    assert case.next.start is not None
    return finding("turnover_no_time_to_rot", "note", wait=float(round(wait_days)),
                   left=float((case.next.start - case.as_of).days))  # fmt: skip


def _nitrogen(case: Case) -> tuple[Finding, ...]:
    """The wait, and what the rotting does to the soil's nitrogen."""
    waits = finding("turnover_dig_in", "note", sources=case.wait.sources, wait=case.wait)
    residue = case.residue
    if residue is None:
        return waits, finding("turnover_rot_unknown", "doubt")
    ratio, now = residue.c_to_n, residue.in_a_month
    if now.value >= 0:
        return waits, finding(
            "turnover_frees", "note", nitrogen=now, ratio=float(round(ratio.value))
        )
    bound = Figure("bound", -now.value, "kg", "computed", -now.most, -now.least, inputs=(now,))
    whole = residue.as_a_whole
    most = Figure("bound_most", max(-whole.value, -now.value), "kg", "computed", inputs=(whole,))
    return waits, finding("turnover_binds", "caution", nitrogen=bound, most=most,
                          ratio=float(round(ratio.value)))  # fmt: skip
