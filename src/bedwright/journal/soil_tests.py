"""What the journal measured: soil tests as soil reports, nights of the own thermometer."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.garden import Document, ReadResult
from bedwright.garden.model import SoilReport
from bedwright.garden.model_weather import Reading, Weather
from bedwright.garden.results import ResultError, needs_method, read_result
from bedwright.journal.entries import Measured
from bedwright.journal.notes import Note, note
from bedwright.reference import Library


def results_of(entry: Measured, library: Library) -> tuple[ReadResult, ...]:
    """The results of a soil test, understood. Raises ResultError for one that can't be."""
    found: list[ReadResult] = []
    for each in entry.results:
        read = read_result(
            library, each.analyte, each.value, each.unit, each.method, f"journal, {entry.on}"
        )
        if not read.extractant and needs_method(library, read.analyte):
            raise ResultError(
                "method", f"{each.analyte} has no method", "Name it as the report prints it."
            )
        if any((r.analyte, r.extractant, r.kind) == (read.analyte, read.extractant, read.kind)
               for r in found):  # fmt: skip
            raise ResultError("analyte", f"{each.analyte} stands twice", "Leave one out.")
        found.append(read)
    return tuple(found)


def reports_with(
    document: Document, tests: Sequence[Measured], library: Library
) -> tuple[list[SoilReport], dict[str, tuple[ReadResult, ...]], list[Note]]:
    """The document's soil reports and after them the journal's, with what all results mean.

    A report of the document on the same bed and day is the same test: the journal's counts for
    that bed. Of two tests of one bed and day in the journal the one with more results counts.
    """
    reports = list(document.garden.soil_report)
    soil = dict(document.soil)
    said: list[Note] = []
    standing: set[tuple[str, object]] = set()
    for entry in sorted(tests, key=lambda each: (each.on, -len(each.results), str(each.id))):
        assert entry.bed is not None and entry.depth is not None
        if (entry.bed, entry.on) in standing:
            said.append(note("soil_test_twice", entry.id, bed=entry.bed, on=entry.on))
            continue
        try:
            read = results_of(entry, library)
        except ResultError:
            said.append(note("soil_test_not_read", entry.id, bed=entry.bed, on=entry.on))
            continue
        standing.add((entry.bed, entry.on))
        for at, report in enumerate(reports):
            if report.sampled == entry.on and entry.bed in report.beds:
                rest = [bed for bed in report.beds if bed != entry.bed]
                reports[at] = report.model_copy(update={"beds": rest})
                said.append(note("soil_test_one", entry.id, bed=entry.bed, report=report.id,
                                 on=entry.on))  # fmt: skip
        name = f"journal {entry.bed} {entry.on} {str(entry.id)[:8]}"
        reports.append(
            SoilReport.model_construct(
                id=name, beds=[entry.bed], sampled=entry.on, depth=entry.depth, lab=entry.lab,
                texture=None, bulk_density=None, file=None, results=list(entry.results),
                note=None,
            )
        )  # fmt: skip
        soil[name] = read
    return reports, soil, said


def weather_with(
    document: Document, nights: Sequence[Measured]
) -> tuple[Weather | None, list[Note]]:
    """The document's weather with the journal's nights beside its own readings.

    A reading of the document of the same day is the same night: the journal's counts. Of two in
    the journal the lower counts, for it is a minimum. Without a station's file there is nothing
    to compare nights with, and they only stand in the journal.
    """
    stated = document.garden.weather
    if not nights:
        return stated, []
    if stated is None or stated.file is None:
        return stated, [note("nights_without_station", *(each.id for each in nights),
                             nights=len(nights))]  # fmt: skip
    said: list[Note] = []
    lowest: dict[object, Measured] = {}
    for entry in sorted(nights, key=lambda each: (each.on, str(each.id))):
        assert entry.minimum is not None
        held = lowest.get(entry.on)
        if held is not None and held.minimum is not None:
            said.append(note("night_twice", held.id, entry.id, on=entry.on))
            if held.minimum.si <= entry.minimum.si:
                continue
        lowest[entry.on] = entry
    readings = list(stated.reading)
    for at, each in enumerate(readings):
        entry_of = lowest.pop(each.on, None)
        if entry_of is not None and entry_of.minimum is not None:
            readings[at] = Reading(on=each.on, minimum=entry_of.minimum)
            said.append(note("night_one", entry_of.id, on=each.on))
    readings += [
        Reading(on=each.on, minimum=each.minimum)
        for each in lowest.values()
        if each.minimum is not None
    ]
    return stated.model_copy(update={"reading": readings}), said
