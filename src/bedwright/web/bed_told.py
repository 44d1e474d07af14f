"""What a bed's page says, as sentences whose numbers are doors; no markup."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.planning.prescription import Line
from bedwright.reports import words
from bedwright.reports.bed_beside import (
    habit_sentence,
    label_sentence,
    left_out,
    manure_notes,
    missing_sentences,
    said_together,
)
from bedwright.reports.bed_why import note_sentences, reason_sentences
from bedwright.reports.dates_text import want_lines
from bedwright.reports.fill import figure, sentence_parts
from bedwright.reports.nitrogen_text import cleared_before, nitrogen_findings
from bedwright.reports.parts import Number, Sentence
from bedwright.reports.reading_words import ReadingWords, method_said, reading_words
from bedwright.reports.spreading_text import amount_words, into_words, near_stems, worked_in
from bedwright.reports.text import SAID_ONCE
from bedwright.reports.urgent import urgent
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.season import BedPlan, SeasonPlan
from bedwright.sheets.days import Day, dressing_days, sheet_days, spread_day
from bedwright.units import UnitSystem
from bedwright.web.figures import Doors, bed_doors, each_dressing, volume
from bedwright.working import Figure


@dataclass(frozen=True)
class Amount:
    """One material to spread: the mass and how a hand measures it are doors."""

    cautions: str
    mass: Number
    material: str
    measure: Number | str
    into: str


@dataclass(frozen=True)
class BedTold:
    """The page of a planned bed. Cautions stand before amounts, doubts after reasons."""

    doors: Doors
    texture: str
    warnings: tuple[Sentence, ...]
    of_the_plan: tuple[Sentence, ...]
    spread_by: date | None
    before: tuple[Amount, ...]
    dressings: int
    dressing_days: tuple[date, ...]
    near: str
    later: tuple[Amount, ...]
    later_notes: tuple[Sentence, ...]
    days: tuple[Day, ...]
    dates: tuple[str, ...]
    odds: tuple[Number, ...]
    why: tuple[Sentence, ...]
    notes: tuple[Sentence, ...]
    left_out: tuple[tuple[str, str], ...]
    manure: tuple[Sentence, ...]
    habits: tuple[Sentence, ...]
    labels: tuple[Sentence, ...]
    missing: tuple[str, ...]
    readings: tuple[ReadingWords, ...]
    unread: tuple[tuple[str, str, Figure], ...]
    nitrogen: tuple[Sentence, ...]
    doubts: tuple[Sentence, ...]
    assumed: tuple[Sentence, ...]


def bed_told(plan: SeasonPlan, bed: BedPlan, system: UnitSystem) -> BedTold:
    """All that is told of a planned bed."""
    prescribed = bed.prescription
    now, later, of_plan = urgent(bed.findings)
    count = max(prescribed.nitrogen.side_dressings, 1)
    before = [each for each in prescribed.lines if each.preplant.value > 0]
    # What goes deep first: it would bury what is only raked in.
    before.sort(key=lambda each: not worked_in(each))
    dates = (
        want_lines(bed.dates, system, planned=True, spread=cleared_before(bed))
        if bed.dates and bed.dates.turns
        else []
    )
    weights: dict[str, list[Sentence]] = {
        weight: said_together(
            (each for each in bed.findings
             if each.weight == weight and each.code not in SAID_ONCE), system
        )
        for weight in ("doubt", "assumed")
    }  # fmt: skip
    doors = bed_doors(bed)
    read = {id(each.measurement.figure) for each in prescribed.read.values()}
    return BedTold(
        doors=doors,
        texture=named(prescribed.evidence.texture.replace("_", " ")),
        warnings=_said(now, system),
        of_the_plan=_said(of_plan, system),
        spread_by=spread_day(bed),
        before=tuple(
            _amount(each, each.preplant, into_words(each, prescribed, system), system)
            for each in before
        ),
        dressings=count,
        dressing_days=dressing_days(bed),
        near=near_stems(system),
        later=tuple(
            _amount(each, each.later if count == 1 else each_dressing(each, count), "", system)
            for each in prescribed.lines
            if each.later.value > 0
        ),
        later_notes=_said(later, system),
        days=sheet_days(bed, SHEET_WORDS, plan.layout_of(bed), plan.planting_days_of(bed)),
        dates=tuple(dates),
        odds=_odds(doors, system),
        why=tuple(reason_sentences(prescribed, system)),
        notes=tuple(note_sentences(prescribed, system)),
        left_out=tuple(left_out(bed)),
        manure=tuple(manure_notes(bed, system)),
        habits=tuple(habit_sentence(each, system) for each in bed.habits),
        labels=tuple(label_sentence(each, system) for each in bed.labels),
        missing=tuple(missing_sentences(bed.missing)),
        readings=tuple(reading_words(each, plan.library) for each in prescribed.read.values()),
        unread=_unread(bed, read),
        nitrogen=tuple(sentence_parts(each, system) for each in nitrogen_findings(bed.nitrogen)),
        doubts=tuple(weights["doubt"]),
        assumed=tuple(weights["assumed"]),
    )


def _said(findings: list[Finding], system: UnitSystem) -> tuple[Sentence, ...]:
    return tuple(dict.fromkeys(sentence_parts(each, system) for each in findings))


def _amount(line: Line, mass: Figure, into: str, system: UnitSystem) -> Amount:
    said = amount_words(line, mass.value, system, into)
    room = volume(line, mass)
    measured = said.measure.rstrip(".")
    by_scale = room is None or line.material.measure == "weight_only"
    return Amount(
        said.cautions,
        Number(said.mass, mass),
        said.material,
        measured if by_scale or room is None else Number(measured, room),
        said.into,
    )


def _odds(doors: Doors, system: UnitSystem) -> tuple[Number, ...]:
    return tuple(
        Number(figure(each, system), each)
        for key, each in doors.by_key.items()
        if key.startswith("odds-")
    )


def _unread(bed: BedPlan, read: set[int]) -> tuple[tuple[str, str, Figure], ...]:
    """What was measured and has no class table: analyte, method, figure."""
    return tuple(
        (words.ANALYTES.get(analyte, analyte.replace("_", " ")), method_said(method),
         each.figure)
        for (analyte, method), each in bed.prescription.evidence.measured.items()
        if id(each.figure) not in read
    )  # fmt: skip
