"""What every request passes: the page's own rules for the browser, who it is, and plain faults."""

from __future__ import annotations

import logging
from collections.abc import Callable
from urllib.parse import urlencode, urlsplit

from django.conf import settings
from django.contrib.auth import get_user_model, login
from django.core.exceptions import DisallowedHost
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import get_language

from bedwright.language import ENGLISH, using
from bedwright.web.users import ON_THIS_MACHINE

Respond = Callable[[HttpRequest], HttpResponse]

_POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self'; script-src 'self'; "
    "connect-src 'self'; worker-src 'self'; object-src 'none'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'"
)
# A private calendar is read by whoever knows its secret address: its view looks at that.
OPEN_TO_ALL = ("/sign-in/", "/static/", "/healthy/", "/language/", "/private-calendar/")
_MOST_BYTES = 40_000_000  # of a request: a photograph as a telephone takes it, with room
# Where a whole garden may come in.
_LARGE = dict.fromkeys(("/safekeeping/take-in/", "/start/open/"), 200_000_000)

_log = logging.getLogger("bedwright.web")


def headers(respond: Respond) -> Respond:
    """Nothing is fetched from elsewhere, nothing is framed, pages are not kept by others."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = respond(request)
        response.setdefault("Content-Security-Policy", _POLICY)
        response.setdefault("Permissions-Policy", "geolocation=(), microphone=(), camera=(self)")
        response.setdefault("Cross-Origin-Opener-Policy", "same-origin")
        response.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        response.setdefault("X-Content-Type-Options", "nosniff")
        response.setdefault("X-Frame-Options", "DENY")
        if not request.path.startswith("/static/"):
            response.setdefault("Cache-Control", "no-store")
        return response

    return answer


def rightly_asked(respond: Respond) -> Respond:
    """Only what is asked by a name of this site, from its own pages, and in a size we take.

    A foreign name is how a page elsewhere would make a browser read this site (DNS rebinding).
    A browser also says whether a page elsewhere asks: such may lead here by a link, no more.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        from bedwright.web.views import faults

        try:
            request.get_host()
        except DisallowedHost:
            return faults.not_this_name(request)
        asked = request.headers
        elsewhere = asked.get("Sec-Fetch-Site") == "cross-site"
        link = request.method == "GET" and asked.get("Sec-Fetch-Mode") == "navigate" and (
            asked.get("Sec-Fetch-Dest", "document") == "document"
        )  # fmt: skip
        if elsewhere and not link:
            return faults.not_from_this_page(request)
        size = request.META.get("CONTENT_LENGTH") or "0"
        if size.isdecimal() and int(size) > _LARGE.get(request.path, _MOST_BYTES):
            return faults.too_large(request)
        return respond(request)

    return answer


def speak(respond: Respond) -> Respond:
    """What the engine's reports say, they say in the language of the page."""

    def answer(request: HttpRequest) -> HttpResponse:
        with using((get_language() or ENGLISH)[:2]):
            return respond(request)

    return answer


def who_is_it(respond: Respond) -> Respond:
    """On this machine alone nobody signs in; over the network everybody does."""

    def answer(request: HttpRequest) -> HttpResponse:
        if request.path.startswith(OPEN_TO_ALL):
            return respond(request)
        known = request.user.is_authenticated
        if settings.LAN:
            # A browser may still be known from when the site answered to this machine alone.
            if known and request.user.get_username() != ON_THIS_MACHINE:
                return respond(request)
            return _sign_in_first(request)
        if not known:
            user, _ = get_user_model().objects.get_or_create(username=ON_THIS_MACHINE)
            login(request, user, backend="django.contrib.auth.backends.ModelBackend")
        return respond(request)

    return answer


def _sign_in_first(request: HttpRequest) -> HttpResponse:
    """To the sign-in page; what a script asked or a form sent is refused, never taken for done."""
    from bedwright.web.views.faults import not_signed_in

    if request.headers.get("HX-Request") == "true":
        refused = not_signed_in(request)
        if request.method == "GET":
            shown = urlsplit(request.headers.get("HX-Current-URL", "")).path or "/"
            refused["HX-Redirect"] = _with_next(shown)
        return refused
    page = request.headers.get("Sec-Fetch-Mode", "navigate") == "navigate"
    if request.method in ("GET", "HEAD") and page:
        return redirect(_with_next(request.get_full_path()))
    return not_signed_in(request)


def _with_next(path: str) -> str:
    return f"{reverse('sign-in')}?{urlencode({'next': path})}"


def plain_faults(respond: Respond) -> Respond:
    """A fault of the database or the disk becomes a page that says what is safe and what to do."""

    def answer(request: HttpRequest) -> HttpResponse:
        return respond(request)

    def process_exception(request: HttpRequest, fault: Exception) -> HttpResponse | None:
        from bedwright.web.views.faults import not_written

        if isinstance(fault, DatabaseError | OSError):
            _log.exception("%s %s", request.method, request.path)
            return not_written(request, fault)
        return None

    answer.process_exception = process_exception  # type: ignore[attr-defined]
    return answer
