"""Long work: asked for by a page, done by the worker, stopped by a touch."""

from __future__ import annotations

import uuid

from django.db import models

from bedwright.web.models.garden import Garden


class Job(models.Model):
    """A piece of long work. ``key`` names its result, so that nobody asks twice for the same."""

    class State(models.TextChoices):
        """Where a job stands."""

        WAITING = "waiting"
        RUNNING = "running"
        DONE = "done"
        FAILED = "failed"
        STOPPED = "stopped"

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    garden = models.ForeignKey(Garden, on_delete=models.CASCADE)
    kind = models.CharField(max_length=40)
    key = models.CharField(max_length=120, db_index=True)
    asked = models.JSONField(default=dict)
    state = models.CharField(max_length=10, choices=State.choices, default=State.WAITING)
    step = models.CharField(max_length=120, blank=True)
    stop_asked = models.BooleanField(default=False)
    fault = models.TextField(blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"{self.kind} ({self.state})"

    @property
    def open(self) -> bool:
        """Whether it waits or runs."""
        return self.state in (self.State.WAITING, self.State.RUNNING)
