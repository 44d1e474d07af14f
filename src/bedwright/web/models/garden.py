"""Gardens: one whole document per revision, and the files that a document names."""

from __future__ import annotations

import hashlib
from typing import ClassVar

from django.conf import settings
from django.db import models

from bedwright.web.plain_names import plain_name


class Garden(models.Model):
    """A garden. ``standing`` is the revision that the pages show."""

    name = models.CharField(max_length=200)
    made_at = models.DateTimeField(auto_now_add=True)
    standing = models.ForeignKey(
        "Revision", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    invented = models.BooleanField(default=False)  # the demo garden

    def __str__(self) -> str:
        return self.name


class Revision(models.Model):
    """A garden document as it stood once, whole, with who changed what and when.

    A trial is a what-if: it has no number in the row of revisions until it is kept.
    """

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField(null=True, blank=True)
    text = models.TextField()
    change = models.CharField(max_length=300)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL
    )
    parent = models.ForeignKey("self", null=True, blank=True, on_delete=models.SET_NULL)

    class Meta:
        """One number once in each garden."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "number"], name="one_number_once")
        ]

    def __str__(self) -> str:
        return f"{self.garden}: {self.number or 'what if'}"

    @property
    def trial(self) -> bool:
        """Whether this is a what-if."""
        return self.number is None


class GardenFile(models.Model):
    """A file that the document names: a laboratory's CSV, a weather record. Whole, by content."""

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="files")
    name = models.CharField(max_length=200)
    content = models.BinaryField()
    digest = models.CharField(max_length=64, editable=False)
    made_at = models.DateTimeField(auto_now=True)

    class Meta:
        """One file of a name in each garden."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "name"], name="one_file_of_a_name")
        ]

    def __str__(self) -> str:
        return self.name

    def save(self, *args: object, **kwargs: object) -> None:
        """Save with the digest of the content. Raises ValueError for a name that is a path."""
        if not plain_name(self.name):
            raise ValueError(f"{self.name!r} is not a plain name of a file")
        self.digest = hashlib.sha256(bytes(self.content)).hexdigest()
        super().save(*args, **kwargs)  # type: ignore[arg-type]
