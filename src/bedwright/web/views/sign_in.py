"""Signing in and out, where the site answers to other machines; changing one's password."""

from __future__ import annotations

from datetime import UTC, datetime

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import (
    authenticate,
    get_user_model,
    login,
    logout,
    update_session_auth_hash,
)
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from bedwright.web import sign_in_limit
from bedwright.web.users import ON_THIS_MACHINE, UserError, set_password

_MOST = 1_000  # characters of a name or password that are looked at


@sensitive_post_parameters("password")
def sign_in(request: HttpRequest) -> HttpResponse:
    """The name and the password, each try counted before it is looked at."""
    target = _own_page(request, request.POST.get("next") or request.GET.get("next") or "")
    if not settings.LAN:
        return redirect(target)
    if request.method != "POST":
        return render(request, "web/sign_in.html", {"next": target})
    name = request.POST.get("username", "")[:_MOST].replace("\0", "").strip()
    shown = {"next": target, "name": name}
    address = str(request.META.get("REMOTE_ADDR", ""))
    left = sign_in_limit.begin(name, address, datetime.now(UTC))
    if left:
        return _wait(request, "web/sign_in.html", shown, left)
    password = request.POST.get("password", "")[:_MOST]
    user = authenticate(request, username=_as_known(name), password=password)
    if user is None or user.get_username() == ON_THIS_MACHINE:
        shown["said"] = _("Name or password is not right.")
        return render(request, "web/sign_in.html", shown, status=422)
    sign_in_limit.succeeded(name, address)
    login(request, user)  # the session gets a new key here
    return redirect(target)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Forget this browser."""
    logout(request)
    return redirect("sign-in")


@sensitive_post_parameters("old", "new", "again")
def password(request: HttpRequest) -> HttpResponse:
    """Change one's own password; every other browser signed in under the name is signed out."""
    if request.method != "POST" or not settings.LAN:
        return render(request, "web/password.html", {"local": not settings.LAN})
    old, new, again = (request.POST.get(each, "")[:_MOST] for each in ("old", "new", "again"))
    name, address = request.user.get_username(), str(request.META.get("REMOTE_ADDR", ""))
    left = sign_in_limit.begin(name, address, datetime.now(UTC))
    if left:
        return _wait(request, "web/password.html", {}, left)
    if authenticate(request, username=name, password=old) is None:
        wrong = {"old": _("This is not your password.")}
        return render(request, "web/password.html", {"wrong": wrong}, status=422)
    sign_in_limit.succeeded(name, address)
    try:
        if new != again:
            raise UserError(_("The two new passwords differ."))
        user = set_password(name, new)
    except UserError as error:
        wrong = {"new": str(error)}
        return render(request, "web/password.html", {"wrong": wrong}, status=422)
    update_session_auth_hash(request, user)
    messages.success(request, _("The new password holds from now on."))
    return redirect("safekeeping")


def in_words(seconds: int) -> str:
    """A wait as one would say it: ``20 seconds``, ``3 minutes``."""
    if seconds < 90:
        return ngettext("%(n)d second", "%(n)d seconds", seconds) % {"n": seconds}
    minutes = -(-seconds // 60)
    return ngettext("%(n)d minute", "%(n)d minutes", minutes) % {"n": minutes}


def _wait(request: HttpRequest, template: str, shown: dict[str, str], left: int) -> HttpResponse:
    said = _("Too many tries that were not right. Wait %(wait)s, then try again.")
    shown["said"] = said % {"wait": in_words(left)}
    answer = render(request, template, shown, status=429)
    answer["Retry-After"] = str(left)
    return answer


def _own_page(request: HttpRequest, target: str) -> str:
    """The page to go on to; the first one where another site's address was slipped in."""
    safe = url_has_allowed_host_and_scheme(
        target, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return target if safe and target.startswith("/") else reverse("today")


def _as_known(name: str) -> str:
    """The name as it was given when it was made: a telephone likes to begin with a capital."""
    found = get_user_model().objects.filter(username__iexact=name)[:2]
    return found[0].get_username() if len(found) == 1 else name


URLS = [
    path("sign-in/", sign_in, name="sign-in"),
    path("sign-out/", sign_out, name="sign-out"),
    path("password/", password, name="password"),
]
