"""Soil reports as the soil page tells them: each line as printed, and what it was taken to mean."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

from bedwright.garden import ReadResult
from bedwright.garden.model import SoilReport
from bedwright.planning.evidence import Evidence, evidence
from bedwright.planning.findings import finding
from bedwright.planning.nutrients import WIDER_GROUP
from bedwright.reference import Library
from bedwright.reports import fill
from bedwright.reports.reading_words import ReadingWords, reading_words
from bedwright.soil.interpretation import NoTable, read_class
from bedwright.units import UnitSystem
from bedwright.web.standing import Standing

_ANY = "any_crop"


@dataclass(frozen=True)
class ReadLine:
    """A line of a report: as printed, by which method, and its class for a crop, if any."""

    analyte: str
    printed: str
    method: str
    told: ReadingWords | None
    doubts: tuple[str, ...]


@dataclass(frozen=True)
class ReadReport:
    """A report with its lines; ``crop`` is the one that its classes are for, or nothing.

    ``in_use`` are the beds for which it is the newest.
    """

    report: SoilReport
    lines: tuple[ReadLine, ...]
    crop: str
    in_use: tuple[str, ...]


def read_reports(standing: Standing) -> list[ReadReport]:
    """The reports, newest first."""
    garden = standing.stated.garden
    newest: dict[str, SoilReport] = {}
    for each in sorted(garden.soil_report, key=lambda one: one.sampled):
        newest.update(dict.fromkeys(each.beds, each))
    ordered = sorted(garden.soil_report, key=lambda one: one.sampled, reverse=True)
    return [_report(standing, each, newest) for each in ordered]


def _report(standing: Standing, report: SoilReport, newest: dict[str, SoilReport]) -> ReadReport:
    document, library = standing.stated, standing.library
    bed = next(each for each in document.garden.bed if each.id == report.beds[0])
    alone = document.garden.model_copy(update={"soil_report": [report]})
    known = evidence(dataclasses.replace(document, garden=alone), bed, library)
    crop = next(
        (document.key("want", at, "crop") for at, want in enumerate(document.garden.want)
         if bed.id in want.beds),
        "",
    )  # fmt: skip
    row = library.crop(crop) if crop else None
    lines = tuple(
        _line(each, known, row["test_group"] if row is not None else _ANY, library, standing.system)
        for each in document.soil[report.id]
    )
    in_use = tuple(each for each in report.beds if newest[each] is report)
    return ReadReport(report, lines, row["name"].lower() if row is not None else "", in_use)


def _line(
    read: ReadResult, known: Evidence, group: str, library: Library, system: UnitSystem
) -> ReadLine:
    """One result; its class where its analyte and method have a table."""
    method = read.extractant and _name(library, "extractant", read.extractant)
    name = _name(library, "analyte", read.analyte)
    measured = next(
        (each for key, each in known.measured.items()
         if key[1] == read.extractant and _came_from(each.figure, read)),
        None,
    )  # fmt: skip
    told: ReadingWords | None = None
    doubts: tuple[str, ...] = ()
    if measured is not None and (read.extractant or measured.analyte != "organic_matter"):
        try:
            reading = read_class(
                library, measured, group, WIDER_GROUP.get(group, _ANY), known.ground
            )
        except NoTable:
            reading = None
        if reading is not None:
            told = reading_words(reading, library)
            doubts = tuple(
                fill.sentence(
                    finding(f"doubt_{code}", "doubt", analyte=measured.analyte,
                            extractant=measured.extractant),
                    system,
                )
                for code in reading.doubts
            )  # fmt: skip
    return ReadLine(name, read.text, method, told, doubts)


def _came_from(figure: object, read: ReadResult) -> bool:
    """Whether a measurement was made of this result: by its name, or by the one behind it."""
    name, inputs = getattr(figure, "name", ""), getattr(figure, "inputs", ())
    return name == read.analyte or any(_came_from(each, read) for each in inputs)


def _name(library: Library, what: str, key: str) -> str:
    return next(row["name"] for row in library.rows(f"{what}s") if row[what] == key)
