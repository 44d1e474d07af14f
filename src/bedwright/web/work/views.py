"""The work: a week's tasks with their marks, and the weeks of the season."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from bedwright.journal import EntryError
from bedwright.planning.work.making import monday
from bedwright.reports.work_text import overload_words
from bedwright.web.entries import EntryConflict
from bedwright.web.forms_of_parts import Field, Paper
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing
from bedwright.web.work.kept import WorkInHand, work_in_hand
from bedwright.web.work.marking import entry_of, mark_done
from bedwright.web.work.told_season import months_told
from bedwright.web.work.told_week import done_told, week_told

_WEEK = timedelta(days=7)
_YEARS = range(1900, 2101)  # of a day that the page takes


@with_standing
def week(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The work of the week of a day."""
    paper = Paper({"on": standing.as_of.isoformat(), **request.GET.dict()})
    return _week_page(request, standing, paper)


@require_POST
@with_standing
def done(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Write the ticked tasks down as done."""
    paper = Paper.of(request.POST)
    hand = work_in_hand(standing)
    day = paper.day("day")
    if day is None and not paper.faults:
        paper.fault("day", _("Write the day on which it was done."))
    ticked = paper.ticked("task")
    if not ticked:
        paper.fault("", _("Nothing is ticked. Tick what was done, then send."))
    by_id = {} if hand is None else {each.id: each for each in hand.work.tasks}
    tasks = [by_id[each] for each in ticked if each in by_id]
    if len(tasks) < len(ticked):
        paper.fault("", _("The plan was made anew meanwhile: tick once more what was done."))
    if not paper.faults and day is not None:
        try:
            mark_done(standing, tasks, day, _page_id(paper), request.user)
        except EntryError as error:
            for each in error.faults:
                paper.fault("day" if each.field == "on" else "", str(each))
        except EntryConflict:
            paper.fault("", _("This page was sent once before with another day, and that is kept. "
                              "Find it in the journal to change it."))  # fmt: skip
    if paper.faults:
        return _week_page(request, standing, paper)
    said = ngettext("%(count)s task is written down as done.",
                    "%(count)s tasks are written down as done.", len(tasks))  # fmt: skip
    messages.success(request, said % {"count": len(tasks)})
    return redirect(f"{reverse('week')}?on={_day(paper, standing).isoformat()}")


@with_standing
def season(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The weeks of the season: hours asked for against those there are."""
    hand = work_in_hand(standing)
    context: dict[str, Any] = {"hand": hand}
    if hand is not None:
        by_id = {each.id: each for each in hand.work.tasks}
        context |= {
            "months": months_told(hand),
            "overloads": [
                (each.first, overload_words(hand.plan, each, by_id)) for each in hand.work.overloads
            ],
            "stated": any(each.available is not None for each in hand.work.weeks),
        } | _stale(hand, standing)
    return page(request, "work_season.html", standing, **context)


def _week_page(request: HttpRequest, standing: Standing, paper: Paper) -> HttpResponse:
    on = _day(paper, standing)
    begin = monday(on)
    hand = work_in_hand(standing)
    label = Field("on", _("A day of the week"), on.isoformat(), "date",
                  faults=paper.faults.get("on", ()))  # fmt: skip
    context: dict[str, Any] = {
        "begin": begin,
        "end": begin + timedelta(days=6),
        "before": begin - _WEEK,
        "after": begin + _WEEK,
        "now": begin == monday(standing.as_of),
        "on": label,
        "paper": paper,
        "hand": hand,
    }
    if hand is not None:
        finished = [each for each in hand.work.assigned if each.done and each.week == begin]
        entries = entry_of(standing, hand.work, finished)
        context |= week_told(hand, begin) | _stale(hand, standing)
        context |= {
            "finished": done_told(hand, finished, entries),
            "day": Field("day", _("Done on"), paper.text("day") or standing.as_of.isoformat(),
                         "date", faults=paper.faults.get("day", ())),
            "key": uuid4(),
            "ticked": paper.ticked("task"),
            # what comes back each week is marked in its own week: elsewhere it would count here
            "may_return": begin == monday(standing.as_of),
        }  # fmt: skip
    # what is ticked would be lost if the page were loaded anew by itself
    answer = page(request, "week.html", standing, quiet=hand is not None, **context)
    answer.status_code = 422 if paper.faults else 200
    return answer


def _stale(hand: WorkInHand, standing: Standing) -> dict[str, Any]:
    """What is said of weeks that do not know yet all that is done."""
    return {"stale": not hand.settled, "laid_on": hand.plan.as_of}


def _page_id(paper: Paper) -> UUID:
    try:
        return UUID(paper.text("page"))
    except ValueError:
        return uuid4()


def _day(paper: Paper, standing: Standing) -> date:
    """The day whose week is shown; the day of planning where none or a strange one is asked for."""
    on = paper.day("on") or standing.as_of
    if on.year in _YEARS:
        return on
    paper.fault("on", _("Choose a day between 1900 and 2100."))
    return standing.as_of


URLS = [
    path("week/", week, name="week"),
    path("week/done/", done, name="week-done"),
    path("week/season/", season, name="season-work"),
]
