"""The work of a garden's season: its tasks, scheduled from a day on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.harvest.model import HarvestPlan
from bedwright.planning.turnover.model import Turnover
from bedwright.planning.weather import GardenWeather
from bedwright.planning.work.bed_days import Grown
from bedwright.planning.work.making import never_cold
from bedwright.planning.work.model import Act, Work
from bedwright.planning.work.rates import Rates
from bedwright.planning.work.schedule import scheduled
from bedwright.planning.work.tasks import tasks_of
from bedwright.reference import Library
from bedwright.reference.library import fold

_WEEK = 7
_PLANTED = frozenset({"set_out", "sow", "plant"})
_YEAR = 366


def work_of(
    document: Document,
    library: Library,
    as_of: date,
    plantings: Sequence[Grown],
    weather: GardenWeather | None = None,
    acts: Sequence[Act] = (),
    shade_from: Mapping[str, date] | None = None,
    harvest: HarvestPlan | None = None,
    turnover: Sequence[Turnover] = (),
    *,
    quick: bool = False,
) -> Work:
    """The tasks of the season and their schedule.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    as_of : the day from which is planned
    plantings : first crops and second ones
    weather : the garden's years of days, for the weeks too cold to work; None where not stated
    acts : what the journal tells of done work, beside what the document tells
    shade_from : by planting as ``bed/crop``, the day from which it wants shade
    harvest : what the plantings are expected to give; None: each its goal
    turnover : what stands in the beds and must come out
    quick : the first good schedule is taken, and what would make all of it fit is not searched
    """
    usual = None if weather is None else _Usual(weather)
    cold: Callable[[date], bool] = never_cold
    if usual is not None:
        least = Rates(library).rule("any", "cold_below")
        cold = _colder(usual, least)
    tasks, said = tasks_of(document, library, plantings, shade_from, cold, harvest, turnover, as_of)
    told = (*_told(document), *acts)
    work = scheduled(tasks, document.garden.work, told, as_of, quick=quick)
    people = 1 if document.garden.work is None else document.garden.work.people
    short = sorted({each.kind for each in tasks if each.people > people})
    if short:
        said = (*said, finding("work_wants_two", "caution", kinds=", ".join(short)))
    return replace(work, findings=(*work.findings, *_put_off(work, library), *said))


def _put_off(work: Work, library: Library) -> Iterator[Finding]:
    """Plantings that the hours put into a later week than the plan's day for them."""
    at = {each.task: each for each in work.assigned if not each.done}
    for task in work.tasks:
        laid = at.get(task.id)
        if task.kind in _PLANTED and laid is not None and laid.week > task.earliest:
            name = library.crop(str(task.crop))["name"].lower()
            yield finding(
                "work_planting_later", "caution", bed=str(task.bed), crop=name,
                planned=task.earliest.isoformat(), laid=laid.day.isoformat(),
            )  # fmt: skip


def _told(document: Document) -> tuple[Act, ...]:
    """What the document says is done."""
    return tuple(
        Act(
            fold(each.task).replace(" ", "_"),
            each.on,
            each.bed,
            None if each.crop is None else document.keys.get(("labor_done", at, "crop")),
        )
        for at, each in enumerate(document.garden.labor_done)
    )


class _Usual:
    """A week as it usually is, over all years of the record."""

    def __init__(self, weather: GardenWeather) -> None:
        dates = weather.record.dates()
        self.days = (dates - dates.astype("datetime64[Y]")).astype(np.int64) + 1
        self.highs, self.lows = weather.record.t_max_c, weather.record.t_min_c

    def _near(self, monday: date) -> NDArray[np.bool_]:
        middle = monday.timetuple().tm_yday + _WEEK // 2
        away = np.abs((self.days - middle + _YEAR // 2) % _YEAR - _YEAR // 2)
        known = ~np.isnan(self.highs) & ~np.isnan(self.lows)
        return np.asarray((away <= _WEEK // 2) & known)

    def mean_c(self, monday: date) -> float:
        near = self._near(monday)
        return float(((self.highs + self.lows) / 2)[near].mean()) if near.any() else np.inf


def _colder(usual: _Usual, least_c: float) -> Callable[[date], bool]:
    known: dict[date, bool] = {}

    def cold(monday: date) -> bool:
        if monday not in known:
            known[monday] = usual.mean_c(monday) < least_c
        return known[monday]

    return cold
