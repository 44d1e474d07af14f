"""The people who may sign in: by name and password, all with the same rights."""

from __future__ import annotations

import re

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

USUAL_NAME = "gardener"
ON_THIS_MACHINE = "here"  # the user of the site on this machine, who has no password
_NAME = re.compile(r"[\w.@+-]{1,60}", re.ASCII)


class UserError(ValueError):
    """A name or password that is not taken, with the reason in words."""


def somebody_may_sign_in() -> bool:
    """Whether anybody has a password."""
    known = get_user_model().objects.filter(is_active=True)
    return any(each.has_usable_password() for each in known)


def is_known(name: str) -> bool:
    """Whether somebody of this name may sign in."""
    found = get_user_model().objects.filter(username__iexact=name, is_active=True).first()
    return found is not None and found.has_usable_password()


def check_name(name: str, *, also_own: bool = False) -> None:
    """Raise UserError for a name that nobody can bear; the site's own is one unless it is told."""
    if not _NAME.fullmatch(name):
        raise UserError(
            _("A name has at most 60 letters, digits and . - _ + @, and no space; choose another.")
        )
    if not also_own and name.casefold() == ON_THIS_MACHINE:
        raise UserError(_("This name is the site's own; choose another."))


def set_password(name: str, password: str) -> User:
    """Give somebody a password, and make them where they are new. Raises UserError.

    Whoever was signed in under the name is signed out by it.
    """
    check_name(name)
    found = get_user_model().objects.filter(username__iexact=name).first() or User(username=name)
    try:
        validate_password(password, found)
    except ValidationError as error:
        raise UserError(" ".join(error.messages)) from None
    found.set_password(password)
    found.is_active = True
    found.save()
    return found
