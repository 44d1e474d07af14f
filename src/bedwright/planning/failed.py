"""Plantings that were lost: what is to be said of them, and what they leave to be done."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.garden import Document
from bedwright.garden.failed import failed_wants
from bedwright.planning.findings import Finding, finding
from bedwright.planning.second_crops import bed_wants
from bedwright.reference import Library


def failed_said(document: Document, library: Library) -> tuple[Finding, ...]:
    """That a planting is lost, and whether something follows it on its bed, in the document's
    order."""
    return tuple(each for _, each in _lost(document, library))


def failed_by_want(document: Document, library: Library) -> dict[int, tuple[Finding, ...]]:
    """As :func:`failed_said`, by the place of the want."""
    found: dict[int, tuple[Finding, ...]] = {}
    for at, each in _lost(document, library):
        found[at] = (*found.get(at, ()), each)
    return found


def _lost(document: Document, library: Library) -> Iterator[tuple[int, Finding]]:
    follows: dict[str, str] = {}
    for each in bed_wants(document):
        follows.setdefault(each.bed.id, library.crop(document.key("want", each.at, "crop"))["name"])
    for (at, bed), on in failed_wants(document.garden).items():
        crop, day = library.crop(document.key("want", at, "crop"))["name"].lower(), on.isoformat()
        if bed in follows:
            yield (
                at,
                finding("planting_failed_followed", "note", bed=bed, crop=crop, on=day,
                        next=follows[bed].lower()),
            )  # fmt: skip
        else:
            yield at, finding("planting_failed", "act", bed=bed, crop=crop, on=day)
