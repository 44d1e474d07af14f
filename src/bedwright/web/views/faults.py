"""Pages for what went wrong: what happened, what is safe, what to do."""

from __future__ import annotations

import errno
import logging
import sqlite3
import sys
from typing import Any

from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.translation import gettext as _

_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_log = logging.getLogger("bedwright.web")


def _fault(request: HttpRequest, status: int, what: str, safe: str, do: str) -> HttpResponse:
    words = {"what": what, "safe": safe, "do": do}
    return render(request, "web/fault.html", words, status=status)


def not_found(request: HttpRequest, exception: Any = None) -> HttpResponse:
    """No page at this address."""
    return _fault(
        request, 404, _("There is no page at this address."),
        _("Nothing was changed."), _("Go to Today and find your way from there."),
    )  # fmt: skip


def not_allowed(request: HttpRequest, exception: Any = None) -> HttpResponse:
    """Refused."""
    return _fault(
        request, 403, _("This is not open to you."),
        _("Nothing was changed."), _("Sign in as somebody who may."),
    )  # fmt: skip


def not_from_this_page(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form that was not sent from a page of ours, or from one that is too old."""
    return _fault(
        request, 403, _("This form did not come from a page of this site, or from an old one."),
        _("Nothing was changed."), _("Go back, load the page anew, and send it again."),
    )  # fmt: skip


def not_this_name(request: HttpRequest) -> HttpResponse:
    """Called by a name that is not this site's; the page shows nothing of it."""
    return _bare(
        400, _("This site is not called by this name."),
        _("Nothing was shown and nothing was changed."),
        _("Use an address that bedwright serve printed. One behind a name of its own is let in "
          "by BEDWRIGHT_HOSTS."),
    )  # fmt: skip


def too_large(request: HttpRequest) -> HttpResponse:
    """More bytes than we take."""
    return _bare(
        413, _("What was sent is too large."),
        _("Nothing was changed."),
        _("Go back and send less at once, or a smaller file."),
    )  # fmt: skip


def not_signed_in(request: HttpRequest) -> HttpResponse:
    """A form, or what a script sent, from a browser that is not signed in (any more)."""
    return _bare(
        401, _("You are not signed in, or no longer."),
        _("What you just sent is not saved. It still stands in the form that you came from."),
        _("Sign in in another tab, then go back and send it again."),
    )  # fmt: skip


def not_printed(request: HttpRequest, fault: Exception) -> HttpResponse:
    """A bed sheet that the typesetter would not set as it should be."""
    _log.error("%s %s: %s", request.method, request.path, fault)
    return _fault(
        request, 500, _("The bed sheet cannot be printed."),
        _("Nothing was changed; the bed's page says the same."),
        _("bedwright.log in the site's folder tells more."),
    )  # fmt: skip


def own_fault(request: HttpRequest) -> HttpResponse:
    """A fault of ours; one of the database or the disk outside of a view comes here too."""
    fault = sys.exc_info()[1]
    if isinstance(fault, DatabaseError | OSError):
        _log.error("%s %s", request.method, request.path, exc_info=True)
        return not_written(request, fault)
    return _bare(
        500, _("bedwright made a fault of its own."),
        _("What was saved before is safe. What you just sent may not be saved."),
        _("Go back and try once more. bedwright.log in the site's folder tells more."),
    )  # fmt: skip


def not_written(request: HttpRequest, fault: Exception) -> HttpResponse:
    """The disk is full, or the database can't be written now."""
    code = getattr(fault.__cause__, "sqlite_errorcode", 0) & 0xFF
    if code == sqlite3.SQLITE_FULL or getattr(fault, "errno", None) in _NO_ROOM or (
        getattr(fault.__cause__, "sqlstate", None) == "53100"
    ):  # fmt: skip
        return _bare(
            507, _("The disk is full."),
            _("What was saved before is safe. What you just sent is not saved."),
            _("Make room on the disk, then go back and send it again."),
        )  # fmt: skip
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        answer = _bare(
            503, _("The database is busy."),
            _("What was saved before is safe. What you just sent is not saved."),
            _("Wait some seconds, then go back and send it again."),
        )  # fmt: skip
        answer["Retry-After"] = "5"
        return answer
    return _bare(
        500, _("The database or a file could not be read or written."),
        _("What was saved before is safe as far as we can tell. What you just sent may not be "
          "saved."),
        _("bedwright.log in the site's folder tells more; a backup can be restored."),
    )  # fmt: skip


def _bare(status: int, what: str, safe: str, do: str) -> HttpResponse:
    """A page that asks neither database nor session, which may be what is broken."""
    words = {"what": what, "safe": safe, "do": do, "bare": True}
    return HttpResponse(render_to_string("web/fault.html", words), status=status)
