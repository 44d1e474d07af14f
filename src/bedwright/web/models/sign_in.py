"""Tries to sign in that failed, counted so that guessing is slow."""

from __future__ import annotations

from django.db import models


class SignInTry(models.Model):
    """How often signing in failed of late, for a name from an address, or for one of the two.

    ``key`` is a keyed digest: what was typed as a name may have been a password by mistake.
    """

    key = models.CharField(max_length=64, unique=True)
    failures = models.PositiveIntegerField(default=0)
    last_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.failures} failures"
