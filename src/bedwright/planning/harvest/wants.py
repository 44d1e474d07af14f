"""Which want of the document a planting answers, and the crop that shares its bed."""

from __future__ import annotations

from bedwright.garden import Document
from bedwright.planning.assignment.model import Candidate
from bedwright.planning.work.bed_days import Grown
from bedwright.reference import Library
from bedwright.reference.library import fold


def want_at(document: Document, grown: Grown) -> int:
    """The place of a planting's want in the document. Raises LookupError for none."""
    at = grown.prescription.at
    if at < len(document.garden.want) and grown.bed in document.garden.want[at].beds:
        return at
    raise LookupError(f"nothing is wanted of bed {grown.bed!r}")


def companion_at(document: Document, library: Library, at: int) -> Candidate:
    """The crop that shares the bed of a want, which names one."""
    key = document.key("want", at, "companion")
    row = library.crop(key)
    own = document.cultivars.get(("want", at, "companion"))
    stated = None if own is None else document.garden.crop[own]
    if stated is None or stated.like is None:
        name = row["name"] if stated is None else stated.name or row["name"]
        return Candidate(key, key, own, name, row["family"], "annual")
    name = stated.name or stated.crop
    return Candidate(f"own:{fold(stated.crop)}", key, own, name, row["family"], "annual")
