"""A comparison of the garden found by its name, with what the journal tells of it."""

from __future__ import annotations

from django.http import Http404

from bedwright.journal import Entry as Written
from bedwright.journal import EntryError, read_entry
from bedwright.planning.compare.analysis import comparisons
from bedwright.planning.compare.model import Compared
from bedwright.web.journal_counted import own_library
from bedwright.web.models import Entry
from bedwright.web.standing import Standing


def comparison_of(standing: Standing, name: str) -> tuple[int, Compared]:
    """A comparison by its id and its place in the document. Raises Http404 for none."""
    library = own_library(standing.document, standing.library)
    found = comparisons(standing.document, library, entries_of(standing))
    for at, each in enumerate(found):
        if each.stated.id == name:
            return at, each
    raise Http404


def entries_of(standing: Standing) -> list[Written]:
    """The journal's entries up to today that can be read."""
    found = []
    for each in Entry.objects.filter(garden=standing.garden, voided_at=None):
        try:
            entry = read_entry(each.plain())
        except EntryError:
            continue  # the journal's own page tells of it
        if entry.on <= standing.as_of:
            found.append(entry)
    return found
