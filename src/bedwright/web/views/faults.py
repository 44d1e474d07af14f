"""Pages for what went wrong: what happened, what is safe, what to do."""

from __future__ import annotations

import errno
from typing import Any

from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _


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


def own_fault(request: HttpRequest) -> HttpResponse:
    """A fault of ours."""
    return _fault(
        request, 500, _("bedwright made a fault of its own."),
        _("What was saved before is safe. What you just sent may not be saved."),
        _("Go back and try once more. bedwright.log in the site's folder tells more."),
    )  # fmt: skip


def not_written(request: HttpRequest, fault: Exception) -> HttpResponse:
    """The disk is full, or the database can't be written now."""
    text = str(fault).lower()
    full = "full" in text or getattr(fault, "errno", None) in (errno.ENOSPC, errno.EDQUOT)
    if full:
        return _fault(
            request, 507, _("The disk is full."),
            _("What was saved before is safe. What you just sent is not saved."),
            _("Make room on the disk, then go back and send it again."),
        )  # fmt: skip
    if isinstance(fault, DatabaseError) and "locked" in text:
        return _fault(
            request, 503, _("The database is busy."),
            _("What was saved before is safe. What you just sent is not saved."),
            _("Wait some seconds, then go back and send it again."),
        )  # fmt: skip
    return _fault(
        request, 500, _("The database or a file could not be read or written."),
        _("What was saved before is safe as far as we can tell."),
        _("bedwright.log in the site's folder tells more; a backup can be restored."),
    )  # fmt: skip
