"""The season's calendar: a page with its private address, the file, and what a program reads."""

from __future__ import annotations

import contextlib
import hashlib
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils.cache import get_conditional_response
from django.utils.http import content_disposition_header, quote_etag
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from bedwright.garden import GardenError
from bedwright.language import LANGUAGES, spoken
from bedwright.web.calendar.kept import calendar_of, made_of, work_on, write_calendar
from bedwright.web.models import GardenCalendar
from bedwright.web.reached import reached_at
from bedwright.web.standing import Standing, standing_of
from bedwright.web.views.common import page, plan_or_work, with_standing

_TYPE = "text/calendar; charset=utf-8"
_SOON = 60  # s after which a program may ask again for what is not made yet


@require_safe
@with_standing
def calendar(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The page: the private address, how it is used, the file."""
    found = GardenCalendar.objects.filter(garden=standing.garden).first()
    shown: dict[str, Any] = {"calendar": found, "job": None}
    if found is not None and plan_or_work(standing)[0] is not None:
        shown["job"] = work_on(standing, found)
    if found is not None and found.token:
        whole, reached = reached_at(request, reverse("calendar-private", args=[found.token]))
        shown |= {"address": whole, "reached": reached, "bare": whole.partition("://")[2]}
    shown["languages"] = LANGUAGES
    return page(request, "calendar.html", standing, **shown)


@require_POST
@with_standing
def renew(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Make a private address, or another one in the place of the old."""
    found = calendar_of(standing.garden, spoken())
    first = not found.token
    found.renew()
    work_on(standing, found)
    if first:
        messages.success(request, _("The private address is made."))
    else:
        messages.success(request, _("There is a new address. The old one is dead."))
    return redirect("calendar")


@require_POST
@with_standing
def close(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Take the private address away."""
    found = GardenCalendar.objects.filter(garden=standing.garden).first()
    if found is not None:
        found.close()
    messages.success(request, _("The address is dead. Nobody reads the calendar by it any more."))
    return redirect("calendar")


@require_POST
@with_standing
def language(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Tell the events in another language."""
    code = request.POST.get("language", "")
    if code not in LANGUAGES:
        raise Http404
    found = calendar_of(standing.garden, code)
    found.language = code
    found.save(update_fields=["language"])
    work_on(standing, found)
    return redirect("calendar")


@require_safe
@with_standing
def download(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The calendar as a file; while it is not made yet, the page, which says so."""
    found = calendar_of(standing.garden, spoken())
    if found.made_of != made_of(standing, found):
        plan = standing.plan()
        if plan is None or plan.acts != standing.acts:
            work_on(standing, found)
            return redirect("calendar")
        write_calendar(standing, plan)
        found.refresh_from_db()
    answer = _answer(request, found)
    name = f"{slugify(standing.garden.name) or 'garden'}.ics"
    answer["Content-Disposition"] = (
        content_disposition_header(as_attachment=True, filename=name) or "attachment"
    )
    return answer


@require_safe
def private(request: HttpRequest, token: str) -> HttpResponse:
    """The calendar for whoever knows its secret address; nothing for anybody else.

    What is there is given at once; where the garden or the day changed since, it is made anew for
    the next time.
    """
    found = GardenCalendar.objects.select_related("garden__standing").filter(token=token).first()
    if found is None:
        raise Http404
    # The pages tell of a document with faults; the program keeps what it has.
    with contextlib.suppress(GardenError, LookupError):
        work_on(standing_of(found.garden), found)
    if not found.text:
        later = HttpResponse(status=503, content_type="text/plain")
        later["Retry-After"] = str(_SOON)
        return later
    return _answer(request, found)


def _answer(request: HttpRequest, found: GardenCalendar) -> HttpResponse:
    content = found.text.encode("utf-8")
    tag = quote_etag(hashlib.sha256(content).hexdigest())
    answer = HttpResponse(content, content_type=_TYPE)
    answer["ETag"] = tag
    # Kept by whoever asked and by nobody between; asked for anew each time.
    answer["Cache-Control"] = "private, no-cache"
    asked = get_conditional_response(request, etag=tag, response=answer)
    return asked if isinstance(asked, HttpResponse) else answer


URLS = [
    path("calendar/", calendar, name="calendar"),
    path("calendar/renew/", renew, name="calendar-renew"),
    path("calendar/close/", close, name="calendar-close"),
    path("calendar/language/", language, name="calendar-language"),
    path("calendar/season.ics", download, name="calendar-file"),
    path("private-calendar/<str:token>.ics", private, name="calendar-private"),
]
