"""A figure of the gardener's own beside the table's, as a sentence."""

from __future__ import annotations

from bedwright.language import named
from bedwright.planning.compare.own_figures import OwnFigure
from bedwright.reports.compare_results import percent
from bedwright.reports.words_compare import COMPARE
from bedwright.reports.words_work import TASKS
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.working import Figure

# what a time is told for in US units: how many of the table's measure it holds
_US = {
    "m2": (9.290304, "100 ft2"), "m": (30.48, "100 ft"), "kg": (0.45359237, "1 lb"),
    "m3": (0.764554857984, "1 yd3"),
}  # fmt: skip


def own_said(each: OwnFigure, system: UnitSystem) -> str:
    """What the figure is, the table's, one's own, and how much that counts."""
    alone = each.kind == "yield" and each.table is None
    name = named(each.name)
    if each.kind == "labor":
        name = TASKS.get(each.name, each.name.replace("_", " "))
    table = "" if each.table is None else _shown(each, each.table, system)
    text = COMPARE["own_yield_alone" if alone else f"own_{each.kind}"].format(
        crop=name, task=name, value=_shown(each, each.value, system), table=table,
        own=_shown(each, each.own, system), count=each.count, weight=percent(each.weight),
        seeds=each.count, origin=COMPARE[f"origin_{each.origin}"],
    )  # fmt: skip
    return text[:1].upper() + text[1:]


def _shown(each: OwnFigure, figure: Figure, system: UnitSystem) -> str:
    if each.kind == "yield":
        return show(figure.value, "mass_per_area", system)
    if each.kind == "germination":
        return percent(figure.value)
    us = _US.get(each.per) if system is UnitSystem.US else None
    times, per = us or (1.0, f"1 {each.per}")
    return COMPARE["minutes"].format(minutes=plain(figure.value * 60 * times, 2), per=per)
