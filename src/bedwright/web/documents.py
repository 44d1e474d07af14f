"""Changing a garden's document: checked whole, saved as a revision, never over another's change."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.db.models import Max

from bedwright.garden import Fault, GardenError
from bedwright.web.models import Garden, Revision
from bedwright.web.plain_names import plain_name
from bedwright.web.standing import read, today


@dataclass(frozen=True)
class Conflict(Exception):
    """Somebody saved another revision while this change was being written."""

    standing: Revision


def make_garden(text: str, name: str, user: Any, *, files: dict[str, bytes] | None = None,
                invented: bool = False, change: str) -> Garden:  # fmt: skip
    """A new garden from a document's text and the files it names. Raises GardenError."""
    with transaction.atomic():
        check_file_names(files or {})
        garden = Garden.objects.create(name=name, invented=invented)
        for file, content in (files or {}).items():
            garden.files.create(name=file, content=content)
        document = read(garden, text, today())
        garden.name = document.garden.garden.name[:200]
        garden.standing = garden.revisions.create(
            number=1, text=text, change=change, made_by=_known(user)
        )
        garden.save()
    return garden


def check_file_names(names: Iterable[str]) -> None:
    """Raise GardenError for names that a file of a garden can't bear: paths, odd signs."""
    faults = [
        Fault(repr(each), 0, "", "this is not a plain name of a file", "Rename it.")
        for each in names
        if not plain_name(each)
    ]
    if faults:
        raise GardenError(faults)


def save_revision(garden: Garden, text: str, *, read_from: int, change: str, user: Any) -> Revision:
    """Save a document's text as the standing revision.

    ``read_from`` is the key of the revision that the writer had before them. Raises GardenError
    where the text has faults, Conflict where another revision stands meanwhile; nothing is
    saved then.
    """
    document = read(garden, text, today())
    with transaction.atomic():
        held = Garden.objects.select_for_update().get(pk=garden.pk)
        standing = held.standing
        if standing is not None and standing.pk != read_from:
            raise Conflict(standing)
        if standing is not None and standing.text == text:
            return standing
        last = held.revisions.aggregate(last=Max("number"))["last"] or 0
        made = held.revisions.create(
            number=last + 1, text=text, change=change[:300], made_by=_known(user), parent=standing
        )
        held.standing = made
        held.name = document.garden.garden.name[:200]
        held.save()
    garden.refresh_from_db()
    return made


_MOST_TRIALS = 20  # kept open in one garden; the oldest go first


def try_revision(
    garden: Garden, text: str, *, parent: Revision, change: str, user: Any
) -> Revision:
    """Keep a changed text beside the standing revision, to be kept or dropped later.

    Raises GardenError where the text has faults.
    """
    read(garden, text, today())
    for old in garden.revisions.filter(number=None).order_by("-made_at")[_MOST_TRIALS - 1 :]:
        old.delete()
    return garden.revisions.create(
        text=text, change=change[:300], parent=parent, made_by=_known(user)
    )


def fault_words(error: GardenError) -> list[str]:
    """The faults of a document as sentences for a page, without file and line."""
    return [f"{each.problem}. {each.remedy}".strip() for each in error.faults]


def _known(user: Any) -> Any:
    return user if getattr(user, "is_authenticated", False) else None
