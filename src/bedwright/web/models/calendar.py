"""The calendar of a garden as it was last sent, and the secret address that it is read at."""

from __future__ import annotations

import secrets
import uuid

from django.db import models

from bedwright.web.models.garden import Garden


class GardenCalendar(models.Model):
    """A garden's calendar. Whoever knows ``token`` may read it; without one nobody may.

    ``identity`` is what the ids of its events are made of: it stays when the address is made anew
    or the garden is named anew. ``text`` is what was sent last, kept so that the next one can
    go on from it; ``made_of`` names the plan, the work and the language that it was made of.
    """

    garden = models.OneToOneField(Garden, on_delete=models.CASCADE, related_name="calendar")
    identity = models.UUIDField(default=uuid.uuid4)
    token = models.CharField(max_length=64, unique=True, null=True, blank=True)
    language = models.CharField(max_length=5, default="en")
    text = models.TextField(blank=True)
    made_of = models.CharField(max_length=64, blank=True)
    made_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"{self.garden}: calendar"

    def renew(self) -> None:
        """Give it a new secret address; the old one is dead from then on."""
        self.token = secrets.token_urlsafe(32)
        self.save(update_fields=["token"])

    def close(self) -> None:
        """Let nobody ask for it any more."""
        self.token = None
        self.save(update_fields=["token"])
