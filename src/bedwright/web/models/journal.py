"""The journal: entries under ids made where they were written, their history, photographs."""

from __future__ import annotations

from typing import Any, ClassVar

from django.conf import settings
from django.db import models

from bedwright.web.models.garden import Garden


class Entry(models.Model):
    """One entry. ``data`` holds the fields of its kind; ``revision`` counts its changes."""

    id = models.UUIDField(primary_key=True, editable=False)
    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="entries")
    kind = models.CharField(max_length=12)
    bed = models.CharField(max_length=40, blank=True)
    on = models.DateField()
    data = models.JSONField(default=dict)
    revision = models.PositiveIntegerField(default=1)
    made_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL
    )
    voided_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """Newest first within a garden."""

        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["garden", "-on"], name="entries_by_day"),
            models.Index(fields=["garden", "bed", "-on"], name="entries_by_bed"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.bed} {self.on}".replace("  ", " ")

    def plain(self) -> dict[str, Any]:
        """The entry as plain data that ``bedwright.journal.read_entry`` reads."""
        found = {"id": str(self.id), "kind": self.kind, "on": self.on.isoformat(), **self.data}
        return {**found, "bed": self.bed} if self.bed else found


class EntryHistory(models.Model):
    """A change of an entry: what, when, by whom, and how it stood before."""

    class What(models.TextChoices):
        """What was done to the entry."""

        MADE = "made"
        CHANGED = "changed"
        UNDONE = "undone"
        RESTORED = "restored"

    entry = models.ForeignKey(Entry, on_delete=models.CASCADE, related_name="history")
    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="+")
    revision = models.PositiveIntegerField()
    what = models.CharField(max_length=10, choices=What.choices)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL
    )
    before = models.JSONField(null=True, blank=True)

    class Meta:
        """In the order in which it happened."""

        ordering: ClassVar[list[str]] = ["pk"]

    def __str__(self) -> str:
        return f"{self.entry}: {self.what}"


class Photograph(models.Model):
    """A photograph as it is kept: resized, encoded anew, named by the digest of its bytes."""

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="photographs")
    digest = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    size = models.PositiveIntegerField()
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        """One photograph once in each garden."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "digest"], name="one_photograph_once")
        ]

    def __str__(self) -> str:
        return self.digest[:12]
