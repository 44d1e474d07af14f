"""What every request passes: the page's own rules for the browser, who it is, and plain faults."""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.conf import settings
from django.contrib.auth import get_user_model, login
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

Respond = Callable[[HttpRequest], HttpResponse]

_POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self'; script-src 'self'; "
    "connect-src 'self'; worker-src 'self'; object-src 'none'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'"
)
_HERE = "here"  # the user of the site on this machine, who needs no password
OPEN_TO_ALL = ("/sign-in/", "/static/", "/healthy/")

_log = logging.getLogger("bedwright.web")


def headers(respond: Respond) -> Respond:
    """Nothing is fetched from elsewhere, nothing is framed, pages are not kept by others."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = respond(request)
        response.setdefault("Content-Security-Policy", _POLICY)
        response.setdefault("Permissions-Policy", "geolocation=(), microphone=(), camera=(self)")
        response.setdefault("Cross-Origin-Opener-Policy", "same-origin")
        response.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        if not request.path.startswith("/static/"):
            response.setdefault("Cache-Control", "no-store")
        return response

    return answer


def who_is_it(respond: Respond) -> Respond:
    """On this machine alone nobody signs in; over the network everybody does."""

    def answer(request: HttpRequest) -> HttpResponse:
        if request.path.startswith(OPEN_TO_ALL) or request.user.is_authenticated:
            return respond(request)
        if settings.LAN:
            return redirect(f"/sign-in/?next={request.path}")
        user, _ = get_user_model().objects.get_or_create(username=_HERE)
        login(request, user, backend="django.contrib.auth.backends.ModelBackend")
        return respond(request)

    return answer


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
